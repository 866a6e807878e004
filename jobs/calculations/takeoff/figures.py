"""Figures of a take-off, each with the surface and the place it comes from."""

from collections.abc import Iterable
from dataclasses import dataclass
from enum import StrEnum

from jobs.calculations.surfaces.exact import Exact, whole


class Unit(StrEnum):
    """What a figure counts."""

    AREA = "square nanometers"
    LENGTH = "nanometers"
    COUNT = "pieces"


class Kind(StrEnum):
    """What a figure is of."""

    GROSS = "gross area"
    OPENINGS = "area of openings"
    NET = "net area"
    PANELLED = "panelled area"
    EDGE = "edge"
    INSIDE_CORNER = "inside corner"
    OUTSIDE_CORNER = "outside corner"
    BATTENS = "battens"
    PACKERS = "packers"
    BLOCKING = "blocking behind cross joints"
    BACKING = "dark backing behind open reveals"
    EDGE_BAND = "edge band"

    @property
    def unit(self) -> Unit:
        """What its figures count."""
        if self in (Kind.GROSS, Kind.OPENINGS, Kind.NET, Kind.PANELLED):
            return Unit.AREA
        return Unit.COUNT if self is Kind.PACKERS else Unit.LENGTH


@dataclass(frozen=True)
class Figure:
    """One figure.

    Attributes:
        kind: what it is of
        surface: the wall or ceiling it comes from
        place: where on it: an edge, an opening, a panel, or a row
        amount: in the kind's unit
        of: what tells figures of a kind apart: how an edge ends, what it meets
        at_nm: how high the row or joint lies, from the foot or the left end; none for others
    """

    kind: Kind
    surface: str
    place: str
    amount: Exact
    of: str = ""
    at_nm: Exact | None = None


def total(figures: Iterable[Figure], kind: Kind, *, surface: str | None = None, of: str | None = None) -> Exact:
    """The sum of the figures of a kind.

    Args:
        figures: any figures [-]
        kind: what is summed [-]
        surface: of this surface alone, or none for all [-]
        of: of this sort alone, or none for all [-]

    Returns:
        the sum in the kind's unit [-]

    Example:
        Two walls of 100 and 80 square feet have 180.
    """
    return whole(
        sum(
            figure.amount
            for figure in figures
            if figure.kind is kind and surface in (None, figure.surface) and of in (None, figure.of)
        )
    )
