"""One layout along one line: where the joints lie in a width, before any opening is looked at.

A field is the places of its joints from the start of the width, each the end of the panel before it; every joint is a
reveal wide. Widths add up exactly: nothing is rounded but where two ends share what the grid does not halve.
"""

from collections.abc import Callable
from dataclasses import dataclass
from fractions import Fraction

from jobs.calculations.panels.wishes import Start, Wish
from jobs.calculations.surfaces.errors import LayoutRefused, LeastWidthNotKept, Told
from jobs.calculations.surfaces.exact import Exact, whole

MOST_PANELS = 500
TOO_MANY = "the module gives more than 500 panels"
MODULE_OF = "a module of %(length)s"
NOT_BALANCED = "no balanced layout keeps a least width of %(least)s"
LEAST_OF = "a least width of %(length)s"
FROM_ONE_END = "the layout from one end, its last panel %(length)s"

Joints = tuple[Exact, ...]


@dataclass(frozen=True)
class Column:
    """Where one panel lies along the width."""

    start: Exact
    end: Exact

    @property
    def width(self) -> Exact:
        """From its start to its end."""
        return self.end - self.start


def columns(width: Exact, joints: Joints, reveal_nm: int) -> tuple[Column, ...]:
    """The panels between the joints.

    Args:
        width: the whole width [nm]
        joints: where the joints begin, in their order [nm]
        reveal_nm: width of a joint [nm]

    Returns:
        the panels from the start to the end [nm]

    Example:
        48 with a joint of 1 at 20 has panels from 0 to 20 and from 21 to 48.
    """
    starts = (0, *(joint + reveal_nm for joint in joints))
    return tuple(Column(whole(a), whole(b)) for a, b in zip(starts, (*joints, width), strict=True))


def field_of(width: Exact, wish: Wish, of: str, centers_from: Exact = 0) -> Joints:
    """The joints of the layout that was asked for.

    Args:
        width: the whole width [nm]
        wish: module, reveal, start, least width, grid [nm]
        of: the name of the surface, for the message [-]
        centers_from: where the width starts, from where the centers are told [nm]

    Returns:
        where the joints begin [nm]

    Raises:
        LeastWidthNotKept: balanced, and neither candidate keeps the least width
        LayoutRefused: more than 500 panels

    Example:
        222 in, module 24 in, reveal 3/16 in, balanced: ends of 14 29/32 in, eight panels of 23 13/16 in between them.

    Source:
        House rule, DEVELOPERS.md "Panels".
    """
    module, reveal, grid = wish.module_nm, wish.reveal_nm, wish.grid_nm
    if width > MOST_PANELS * module:
        would_do = Told(MODULE_OF, {"length": int(width // 8)}), Told(MODULE_OF, {"length": int(width // 16)})
        raise LayoutRefused("module_nm", of, Told(TOO_MANY), would_do)
    if wish.start is Start.LEFT:
        return from_left(width, module, reveal)
    if wish.start is Start.RIGHT:
        return tuple(whole(width - joint - reveal) for joint in reversed(from_left(width, module, reveal)))
    if wish.start is Start.CENTERS and (found := _on_centers(width, wish, centers_from)) is not None:
        return found
    candidates = {Start.JOINT: _joint_centered(width, wish), Start.PANEL: _panel_centered(width, wish)}
    if wish.start in candidates:
        ends = candidates[wish.start]
        return _with_ends(width, ends, module, reveal, grid) if ends is not None else ()
    fields = [_with_ends(width, ends, module, reveal, grid) for ends in candidates.values() if ends is not None]
    kept = [each for each in fields if max(_ends(width, each, reveal)) <= wish.panel_nm]
    best = max(kept or fields, key=lambda each: min(_ends(width, each, reveal)))
    if (least := min(_ends(width, best, reveal))) < wish.least_nm:
        raise _not_balanced(width, wish, of, int(least // 1))
    return best


def from_left(width: Exact, module: int, reveal: int) -> Joints:
    """Full panels from the start; the last takes what is left, with a rest no wider than a reveal beside it.

    Args:
        width: the whole width [nm]
        module: panel and reveal [nm]
        reveal: width of a joint [nm]

    Returns:
        where the joints begin [nm]

    Example:
        96 in in modules of 24 in, reveal 3/16 in: joints begin at 23 13/16, 47 13/16, 71 13/16; the last panel is 24.
    """
    count = -(-width // module) - 1
    return tuple(module * number - reveal for number in range(1, int(count) + 1))


def at_phase(width: Exact, phase: Exact, module: int, reveal: int) -> Joints | None:
    """The joints of an endless field that has one at `phase`, or none where a joint would lie at an end.

    Args:
        width: the whole width [nm]
        phase: where any joint begins, also outside the width [nm]
        module: panel and reveal [nm]
        reveal: width of a joint [nm]

    Returns:
        where the joints begin; None where one would stand in an end, so that its panel is wider than a full one [nm]

    Example:
        40 wide, module 24, reveal 1, phase 30: joints at 6 and 30.
    """
    first = phase % module or module
    if first > module - reveal:
        return None
    joints = []
    while first < width:
        if first + reveal >= width:
            return None
        joints.append(whole(first))
        first += module
    return tuple(joints)


def equal_panels(width: Exact, panel: int, reveal: int, grid: int) -> Joints:
    """The fewest equal panels, none wider than a full one; the last takes what the grid does not divide.

    Args:
        width: the whole width [nm]
        panel: width of a full panel [nm]
        reveal: width of a joint [nm]
        grid: what the shop measures to [nm]

    Returns:
        where the joints begin [nm]

    Example:
        48 in, full panels of 23 13/16 in, reveals of 3/16 in: three of 15 7/8 in (48 less 3/8, over 3, by hand).
    """
    count = int(max(1, -(-(width + reveal) // (panel + reveal))))
    exactly = (width - (count - 1) * reveal) / Fraction(count)
    each = exactly // grid * grid or exactly
    if width - (count - 1) * (each + reveal) > panel:
        each = exactly
    return tuple(whole(each * number + reveal * (number - 1)) for number in range(1, count))


def _ends(width: Exact, joints: Joints, reveal: int) -> tuple[Exact, Exact]:
    panels = columns(width, joints, reveal)
    return panels[0].width, panels[-1].width


def _rest(length: Exact, module: int) -> Exact:
    """What is left of a length after whole modules, more than zero."""
    return length - (-(-length // module) - 1) * module


def _joint_centered(width: Exact, wish: Wish) -> Exact | None:
    half = Fraction(width - wish.reveal_nm) / 2
    return _rest(half, wish.module_nm) if half > 0 else None


def _panel_centered(width: Exact, wish: Wish) -> Exact | None:
    """The width of both end panels; the whole width where one panel is enough, also with a rest beside it."""
    beside = Fraction(width - wish.panel_nm) / 2 - wish.reveal_nm
    return _rest(beside, wish.module_nm) if beside > 0 else width


def _with_ends(width: Exact, end: Exact, module: int, reveal: int, grid: int) -> Joints:
    """The field with two alike ends: the earlier rounded down to the grid, the later with the difference."""
    if end == width:
        return ()
    first = end if end < grid else end // grid * grid
    count = (width - 2 * end + module - reveal) // module
    return tuple(whole(first + module * number) for number in range(int(count)))


def _on_centers(width: Exact, wish: Wish, centers_from: Exact) -> Joints | None:
    """The field with a joint on a center, fewest joints off the centers, then the widest ends."""
    centers = wish.centers
    fields = []
    for number in range(-(-wish.module_nm // centers.spacing_nm) + 1):
        middle = centers.first_nm - centers_from + number * centers.spacing_nm
        joints = at_phase(width, middle - Fraction(wish.reveal_nm, 2), wish.module_nm, wish.reveal_nm)
        if joints is not None:
            fields.append(joints)
    rank: Callable[[Joints], tuple] = lambda joints: (  # noqa: E731
        min(_ends(width, joints, wish.reveal_nm)) < wish.least_nm,
        sum(bool(off_center(joint, wish, centers_from)) for joint in joints),
        -min(_ends(width, joints, wish.reveal_nm)),
        joints,
    )
    return min(fields, key=rank, default=None)


def off_center(joint: Exact, wish: Wish, centers_from: Exact) -> Exact:
    """How far the middle of a joint lies from the nearest center.

    Args:
        joint: where the joint begins [nm]
        wish: with its centers and its reveal [nm]
        centers_from: where the width starts, from where the centers are told [nm]

    Returns:
        the distance, 0 where it falls on one [nm]

    Example:
        A joint of 2 that begins at 15 falls on a center at 16.
    """
    spacing = wish.centers.spacing_nm
    beyond = (joint + Fraction(wish.reveal_nm, 2) + centers_from - wish.centers.first_nm) % spacing
    return whole(min(beyond, spacing - beyond))


def _not_balanced(width: Exact, wish: Wish, of: str, largest: int) -> LeastWidthNotKept:
    joints = from_left(width, wish.module_nm, wish.reveal_nm)
    last = int(_ends(width, joints, wish.reveal_nm)[1] // 1)
    would_do = Told(LEAST_OF, {"length": largest}), Told(FROM_ONE_END, {"length": last})
    return LeastWidthNotKept(of, Told(NOT_BALANCED, {"least": wish.least_nm}), would_do, largest, last)
