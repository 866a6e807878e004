"""The jig for the holes along the edges of panels, and how many screws to order.

Source: house rules, common practice, no source.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from math import ceil

from jobs.calculations.holes import NM, OnPanel, Spacing, panel_rows


@dataclass(frozen=True)
class Stop:
    """A hole of the jig: from either end."""

    from_foot_nm: Fraction
    from_top_nm: Fraction


@dataclass(frozen=True)
class Jig:
    """A jig for one length of panel and one column of holes.

    Attributes:
        length_nm: of the panel
        side_nm: of the holes from the edge that the jig's fence lies against
        stops: from the foot up
        turns: whether it is alike from both ends, so that one end stop does for both edges
        panels: names of the panels drilled with it
    """

    length_nm: Fraction
    side_nm: int
    stops: tuple[Stop, ...]
    turns: bool
    panels: tuple[str, ...]


def jigs(
    panels: Sequence[OnPanel], spacing: Spacing, edge_rows_nm: Sequence[NM], by_hand: Sequence[str] = ()
) -> tuple[Jig, ...]:
    """The jigs for the edges of panels, one for each length and way the rows fall.

    Args:
        panels: where they lie [nm]
        spacing: end and side distances [nm]
        edge_rows_nm: of the room for edges, from the level line [nm]
        by_hand: names of the panels drilled without a jig [-]

    Returns:
        the jig for most panels first [nm]

    Raises:
        HoleError: the end distances meet

    Example:
        Two panels alike share a jig.

        >>> from jobs.calculations.holes import room_rows
        >>> inch = 25_400_000
        >>> given = Spacing(inch, inch, 8 * inch, 16 * inch)
        >>> rows = room_rows(0, 96 * inch, inch, 8 * inch)
        >>> made = jigs([OnPanel(name, 0, 24 * inch, 0, 96 * inch) for name in "AB"], given, rows)
        >>> len(made), made[0].panels, made[0].turns
        (1, ('A', 'B'), True)
    """
    found: dict[tuple, list[str]] = {}
    for panel in panels:
        if panel.name not in by_hand:
            heights = panel_rows(edge_rows_nm, panel.foot_nm, panel.top_nm, spacing.end_nm)
            stops = tuple(Stop(height - panel.foot_nm, panel.top_nm - height) for height in heights)
            found.setdefault((Fraction(panel.top_nm - panel.foot_nm), stops), []).append(panel.name)
    return tuple(
        Jig(length, spacing.side_nm, stops, _turns(stops), tuple(names))
        for (length, stops), names in sorted(found.items(), key=lambda each: -len(each[1]))
    )


def _turns(stops: Sequence[Stop]) -> bool:
    return [stop.from_foot_nm for stop in stops] == sorted(stop.from_top_nm for stop in stops)


@dataclass(frozen=True)
class Screws:
    """Screws of a job: holes, spare, boxes, and what the boxes hold beyond both."""

    holes: int
    spare: int
    boxes: int
    over: int


def screws(holes: int, spare_percent: Fraction | int, in_a_box: int) -> Screws:
    """The screws to order for a job, in whole boxes.

    Args:
        holes: of all panels, those drilled by hand too [-]
        spare_percent: spare screws in per cent, rounded up [-]
        in_a_box: screws in a box [-]

    Returns:
        boxes for the job [-]

    Raises:
        ValueError: a count below zero, or no screw in a box

    Example:
        960 holes and 5 % spare are 1,008 screws: three boxes of 500.

        >>> screws(960, 5, 500)
        Screws(holes=960, spare=48, boxes=3, over=492)
    """
    if holes < 0 or spare_percent < 0 or in_a_box <= 0:
        raise ValueError(f"{holes} holes, {spare_percent} % spare, {in_a_box} in a box; 960, 5 and 500 would do")
    spare = ceil(holes * Fraction(spare_percent) / 100)
    boxes = -(-(holes + spare) // in_a_box)
    return Screws(holes, spare, boxes, boxes * in_a_box - holes - spare)
