"""Two raked panels out of one rectangle."""

from dataclasses import dataclass
from fractions import Fraction

from jobs.calculations.panels.pieces import Panel
from jobs.calculations.surfaces import exact
from jobs.calculations.surfaces.exact import Exact, ceiling


@dataclass(frozen=True)
class Pair:
    """Two panels cut from one rectangle by one raked cut, the second turned end for end."""

    first: str
    second: str
    width_nm: int
    length_nm: int


def paired(one: Panel, other: Panel, kerf_nm: int) -> Pair | None:
    """The rectangle that two raked panels are cut from together, the second turned end for end.

    Args:
        one: a panel with square corners at its foot and one rake right across its top [nm]
        other: another [nm]
        kerf_nm: of the saw, measured square to the cut [nm]

    Returns:
        the rectangle; none where one may not be turned, or where width, slope or shape do not agree [nm]

    Example:
        Two panels 40 wide, 60 and 90 high at their sides, kerf 1/4 in: 40 by 150 5/16 in (3-4-5 triangle).

    Source:
        House rule, DEVELOPERS.md "Panels".
    """
    if not (one.may_turn and other.may_turn):
        return None
    first, second = _heights(one), _heights(other)
    if first is None or second is None or one.run is not other.run or one.cut_size_nm[0] != other.cut_size_nm[0]:
        return None
    if first[1] - first[0] != second[1] - second[0]:
        return None
    rise, run = first[1] - first[0], one.cut_size_nm[0]
    upright = exact.root(Fraction(kerf_nm * kerf_nm * (run * run + rise * rise)) / (run * run))
    return Pair(one.name, other.name, run, ceiling(first[0] + second[1] + upright))


def _heights(panel: Panel) -> tuple[Exact, Exact] | None:
    """Height at the left and at the right of a panel that is a rectangle but for one rake across its top."""
    if len(panel.cut_shape) != 1 or len(panel.cut_shape[0]) != 4 or len(panel.raked_cuts) != 1 or panel.cut_outs:
        return None
    points = panel.cut_shape[0]
    left, foot, right, _ = exact.bounds(points)
    if {(left, foot), (right, foot)} - set(points):
        return None
    tops = {x: y - foot for x, y in points if y != foot}
    return (tops[left], tops[right]) if set(tops) == {left, right} else None
