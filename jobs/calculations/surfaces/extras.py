"""What every shape of surface can be given beside its sizes."""

from typing import TypedDict

from jobs.calculations.surfaces.edges import Conditions
from jobs.calculations.surfaces.openings import AccessMark, CutOut, Opening
from jobs.calculations.surfaces.surface import SurfaceKind


class Extras(TypedDict, total=False):
    """As the attributes of Surface."""

    kind: SurfaceKind
    conditions: Conditions
    openings: tuple[Opening, ...]
    cut_outs: tuple[CutOut, ...]
    marks: tuple[AccessMark, ...]
    level_nm: int
