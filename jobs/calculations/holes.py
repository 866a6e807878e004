"""Holes for screws: rows that run through a room, edge and field, and what each panel bears on.

Heights are counted from the room's level line. Edge rows and field rows are two sets, each with its own greatest
spacing. Positions are exact fractions of a nanometer; they are rounded where they are shown.

Source: house rules, common practice, no source; fastener patterns of a code or a maker go before them.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from enum import StrEnum
from fractions import Fraction

from workshop.calculations.lengths import show_length

NM = Fraction | int


class Set(StrEnum):
    """Which set a hole belongs to."""

    EDGE = "edge"
    FIELD = "field"


class HoleError(ValueError):
    """A spacing or distance that leaves no place for a row."""

    def __init__(self, what: str, nm: NM, would_do: tuple[str, str]) -> None:
        self.what, self.nm, self.would_do = what, nm, would_do
        super().__init__(f"{what} of {show_length(round(nm))}; {would_do[0]}, or {would_do[1]}, would do")


@dataclass(frozen=True)
class Spacing:
    """How rows lie.

    Attributes:
        end_nm: of the first and the last row from the ends of a panel
        side_nm: of an edge row from the side of a panel
        most_edge_nm: greatest spacing along an edge
        most_field_nm: greatest spacing in the field
    """

    end_nm: int
    side_nm: int
    most_edge_nm: int
    most_field_nm: int


def equal_rows(length_nm: int, end_nm: int, most_nm: int) -> tuple[Fraction, ...]:
    """Rows at equal spacing between the end distances, alike from both ends.

    Args:
        length_nm: of the panel or the edge [nm]
        end_nm: of the first and the last row from the ends [nm]
        most_nm: greatest spacing [nm]

    Returns:
        from one end, the fewest that keep to the spacing [nm]

    Raises:
        HoleError: the end distances meet, or a spacing of zero or less

    Example:
        96 in, 1 1/2 in from the ends and at most 16 in apart: seven rows, 15 1/2 in apart.

        >>> inch = 25_400_000
        >>> [float(row / inch) for row in equal_rows(96 * inch, inch * 3 // 2, 16 * inch)][:3]
        [1.5, 17.0, 32.5]
    """
    if most_nm <= 0:
        raise HoleError("a greatest spacing", most_nm, ("16 in", "12 in"))
    between = length_nm - 2 * end_nm
    if end_nm < 0 or between < 0:
        raise HoleError("an end distance", end_nm, ("a smaller distance", "a longer panel"))
    if between == 0:
        return (Fraction(end_nm),)
    spaces = -(-between // most_nm)
    return tuple(end_nm + Fraction(between * place, spaces) for place in range(spaces + 1))


def room_rows(foot_nm: NM, top_nm: NM, end_nm: int, most_nm: int) -> tuple[Fraction, ...]:
    """The rows of a room, through every panel: those of a panel of full height.

    Args:
        foot_nm: of a panel of full height, from the room's level line [nm]
        top_nm: of a panel of full height, from the room's level line [nm]
        end_nm: of the first and the last row from its ends [nm]
        most_nm: greatest spacing [nm]

    Returns:
        heights from the level line [nm]

    Raises:
        HoleError: as `equal_rows` does

    Example:
        Panels from 4 to 100 in: the first row at 5 1/2 in.

        >>> inch = 25_400_000
        >>> float(room_rows(4 * inch, 100 * inch, inch * 3 // 2, 16 * inch)[0] / inch)
        5.5
    """
    return tuple(foot_nm + row for row in equal_rows(top_nm - foot_nm, end_nm, most_nm))


def panel_rows(rows_nm: Sequence[NM], foot_nm: NM, top_nm: NM, end_nm: int) -> tuple[Fraction, ...]:
    """The rows of a panel: the room's that fall on it, and one more at an end where none is at its end distance.

    Args:
        rows_nm: of the room, from its level line [nm]
        foot_nm: of the panel, from the level line [nm]
        top_nm: of the panel, from the level line [nm]
        end_nm: end distance; a row of the room nearer to an end than this is left out [nm]

    Returns:
        heights from the level line [nm]

    Raises:
        HoleError: the end distances meet

    Example:
        A panel above a door, from 84 to 100 in, keeps the row at 98 1/2 in and the one at 87, and adds one at 85 1/2.

        >>> inch = 25_400_000
        >>> rows = [inch * half // 2 for half in (11, 174, 197)]
        >>> [float(row / inch) for row in panel_rows(rows, 84 * inch, 100 * inch, inch * 3 // 2)]
        [85.5, 87.0, 98.5]
    """
    low, high = Fraction(foot_nm) + end_nm, Fraction(top_nm) - end_nm
    if end_nm < 0 or low > high:
        raise HoleError("an end distance", end_nm, ("a smaller distance", "clips or adhesive for this panel"))
    return tuple(sorted({low, high, *(Fraction(row) for row in rows_nm if low <= row <= high)}))


@dataclass(frozen=True)
class Hole:
    """A hole: from the panel's left side and from the room's level line, and its set."""

    x_nm: Fraction
    y_nm: Fraction
    set: Set


@dataclass(frozen=True)
class OnPanel:
    """Where a panel lies: its sides from the left end of the wall, foot and top from the level line."""

    name: str
    left_nm: NM
    right_nm: NM
    foot_nm: NM
    top_nm: NM


def panel_holes(
    panel: OnPanel, spacing: Spacing, edge_rows_nm: Sequence[NM], field_rows_nm: Sequence[NM], studs_nm: Sequence[NM]
) -> tuple[Hole, ...]:
    """The holes of a panel: a column along each side, and one on every stud or batten between them.

    Args:
        panel: where it lies [nm]
        spacing: end and side distances [nm]
        edge_rows_nm: of the room for edges, from the level line [nm]
        field_rows_nm: of the room for the field, from the level line [nm]
        studs_nm: centers of studs or battens, from the left end of the wall [nm]

    Returns:
        column by column from the left, each from the foot up [nm]

    Raises:
        HoleError: the side distances meet, or the end distances

    Example:
        A panel of 24 in with a stud in its middle has three columns.

        >>> inch = 25_400_000
        >>> panel = OnPanel("1", 0, 24 * inch, 0, 96 * inch)
        >>> given = Spacing(inch, inch, 8 * inch, 16 * inch)
        >>> rows = [room_rows(0, 96 * inch, inch, most) for most in (8 * inch, 16 * inch)]
        >>> found = panel_holes(panel, given, *rows, [12 * inch])
        >>> len({hole.x_nm for hole in found}), len(found)
        (3, 33)
    """
    left, right = Fraction(panel.left_nm), Fraction(panel.right_nm)
    if left + spacing.side_nm > right - spacing.side_nm:
        raise HoleError("a side distance", spacing.side_nm, ("a smaller distance", "clips or adhesive for this panel"))
    sides = sorted({Fraction(spacing.side_nm), right - left - spacing.side_nm})
    field = sorted({stud - left for stud in studs_nm if left + spacing.side_nm < stud < right - spacing.side_nm})
    found = []
    for kind, columns, rows in ((Set.EDGE, sides, edge_rows_nm), (Set.FIELD, field, field_rows_nm)):
        heights = panel_rows(rows, panel.foot_nm, panel.top_nm, spacing.end_nm)
        found += [Hole(Fraction(x), y, kind) for x in columns for y in heights]
    return tuple(sorted(found, key=lambda hole: (hole.x_nm, hole.y_nm)))


def bearing(stud_nm: int, reveal_nm: int) -> Fraction:
    """How much of a stud or batten each panel has to bear on at a joint.

    Args:
        stud_nm: face of the stud [nm]
        reveal_nm: between the panels [nm]

    Returns:
        stud less reveal, halved; below zero where the reveal is wider [nm]

    Example:
        1 1/2 in with a reveal of 3/16 in: 21/32 in.

        >>> bearing(38_100_000, 4_762_500) / 25_400_000
        Fraction(21, 32)
    """
    return Fraction(stud_nm - reveal_nm, 2)


@dataclass(frozen=True)
class Caution:
    """An edge distance or bearing that is smaller than the chosen rule: what it is of, what there is, what is asked."""

    of: str
    is_nm: Fraction
    asked_nm: int

    def __str__(self) -> str:
        return f"{self.of} is {show_length(round(self.is_nm))}; {show_length(self.asked_nm)} is asked for."


def bearing_caution(joint: str, stud_nm: int, reveal_nm: int, side_nm: int) -> Caution | None:
    """A caution where a joint's bearing is smaller than the side distance of its screws.

    Args:
        joint: its name [-]
        stud_nm: face of the stud [nm]
        reveal_nm: between the panels [nm]
        side_nm: of the screws from the side of the panel [nm]

    Returns:
        none where the screws meet the stud [-]

    Example:
        A bearing of 21/32 in does for screws at 3/8 in, and not at 3/4 in.

        >>> bearing_caution("Joint 3", 38_100_000, 4_762_500, 9_525_000) is None
        True
        >>> bearing_caution("Joint 3", 38_100_000, 4_762_500, 19_050_000).asked_nm
        19050000
    """
    borne = bearing(stud_nm, reveal_nm)
    return Caution(f"The bearing at {joint}", borne, side_nm) if borne < side_nm else None
