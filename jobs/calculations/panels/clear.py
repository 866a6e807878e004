"""Joints and openings along one line: which joints are clear of the openings, and how a field is made so that all are.

At an opening a joint falls on its edge, its reveal in one with the opening's, or at least the least width away from it,
measured from the opening's reveal. First the field is shifted as little as that takes, of two equal shifts to the left;
else panels are made equal between the openings; else each opening gets a notch or a joint, as it was set.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

from jobs.calculations.panels.fields import Joints, at_phase, columns, equal_panels
from jobs.calculations.panels.wishes import AtOpening, Wish
from jobs.calculations.surfaces.exact import Exact, whole


@dataclass(frozen=True)
class Gap:
    """An opening along the line: where the panels end beside it, its reveal included."""

    name: str
    start: Exact
    end: Exact


@dataclass(frozen=True)
class Leg:
    """A joint that is not clear of an opening.

    Attributes:
        gap: the opening
        at_start: whether it is at the start of the opening, else at its end
        joint: where the joint begins
        width: of the narrow leg, or tongue over the opening; none where the joint stands across the opening's edge
        done: notch or joint
    """

    gap: Gap
    at_start: bool
    joint: Exact
    width: Exact | None
    done: AtOpening = AtOpening.NOTCH


@dataclass(frozen=True)
class Cleared:
    """A field with openings.

    Attributes:
        joints: where the joints begin
        shift: how far the field was shifted, below zero to the left
        equal: whether panels are equal between the openings
        legs: what is still not clear, and what was done there
    """

    joints: Joints
    shift: Exact = 0
    equal: bool = False
    legs: tuple[Leg, ...] = ()


def not_clear(joints: Joints, gaps: Sequence[Gap], width: Exact, reveal: int, least: int) -> tuple[Leg, ...]:
    """The joints that are neither on the edge of an opening nor the least width away from it.

    Args:
        joints: where the joints begin [nm]
        gaps: the openings [nm]
        width: the whole width [nm]
        reveal: width of a joint [nm]
        least: the least width of a panel or a leg [nm]

    Returns:
        each with its leg [nm]

    Example:
        An opening from 50 on, joints 1 wide, least width 6: a joint at 45 leaves a leg of 4, at 43 one of 6; at 50 it
        is on the edge.
    """
    found = []
    for gap in gaps:
        for joint in joints:
            if gap.start > 0 and joint != gap.start:
                leg = joint - gap.start if joint > gap.start else gap.start - joint - reveal
                found += _too_narrow(gap, True, joint, leg, least)
            if gap.end < width and joint + reveal != gap.end:
                leg = gap.end - joint - reveal if joint + reveal < gap.end else joint - gap.end
                found += _too_narrow(gap, False, joint, leg, least)
    return tuple(found)


def _too_narrow(gap: Gap, at_start: bool, joint: Exact, leg: Exact, least: int) -> list[Leg]:
    """The leg, where it is less than the least width; below zero the joint stands across the opening's edge."""
    return [Leg(gap, at_start, joint, whole(leg) if leg > 0 else None)] if leg < least or leg < 0 else []


def cleared(joints: Joints, gaps: Sequence[Gap], width: Exact, wish: Wish) -> Cleared:
    """The field made clear of the openings, as far as that can be done.

    Args:
        joints: where the joints of the field begin [nm]
        gaps: the openings [nm]
        width: the whole width [nm]
        wish: module, reveal, least width, grid and what is done at openings [nm]

    Returns:
        the joints, and what was done [nm]

    Example:
        Panels of 23 13/16 in and a door 30 in from the left end: the field is shifted until a joint falls on its edge.

    Source:
        House rule, DEVELOPERS.md "Panels".
    """
    reveal, least = wish.reveal_nm, wish.least_nm
    if not joints or not not_clear(joints, gaps, width, reveal, least):
        return Cleared(joints)
    shift = _smallest_shift(joints, gaps, width, wish)
    if shift is not None:
        return Cleared(at_phase(width, joints[0] + shift, wish.module_nm, reveal), shift)
    equal = _equal_between(gaps, width, wish)
    if equal is not None:
        return Cleared(equal, equal=True)
    return _opening_by_opening(joints, gaps, width, wish)


def _smallest_shift(joints: Joints, gaps: Sequence[Gap], width: Exact, wish: Wish) -> Exact | None:
    """Allowed are closed stretches of shifts; the smallest lies at one of their ends, all of which are tried."""
    module, reveal, least = wish.module_nm, wish.reveal_nm, wish.least_nm
    least_end = max(least, wish.grid_nm)
    places = {least_end, wish.panel_nm, width - reveal - least_end, width - module}
    for gap in gaps:
        places |= {gap.start, gap.start - least - reveal, gap.start + least}
        places |= {gap.end - reveal, gap.end - reveal - least, gap.end + least}
    shifts = set()
    for place in places:
        right = (place - joints[0]) % module
        shifts |= {right, right - module}
    for shift in sorted(shifts, key=lambda each: (abs(each), each)):
        moved = at_phase(width, joints[0] + shift, module, reveal)
        if moved is None or not_clear(moved, gaps, width, reveal, least):
            continue
        panels = columns(width, moved, reveal)
        if min(panels[0].width, panels[-1].width) >= least_end:
            return whole(shift)
    return None


def _equal_between(gaps: Sequence[Gap], width: Exact, wish: Wish) -> Joints | None:
    """Equal panels in each stretch beside, between and over the openings, or none where one is too narrow."""
    reveal, joints = wish.reveal_nm, []
    place: Exact = 0
    for start, end in _merged(gaps, reveal):
        if start > place:
            joints += _divided(place, start, wish)
            if start < width:
                joints.append(start)
        inner_start = start + reveal if start > 0 else 0
        inner_end = end - reveal if end < width else width
        joints += _divided(inner_start, inner_end, wish)
        if end < width:
            joints.append(end - reveal)
        place = end
    joints += _divided(place, width, wish) if place < width else []
    made = tuple(whole(joint) for joint in joints)
    if any(b - a < reveal for a, b in pairwise(made)):
        return None
    widths = [panel.width for panel in columns(width, made, reveal)]
    if min(widths) < max(wish.least_nm, 1) or max(widths) > wish.panel_nm:
        return None
    return None if not_clear(made, gaps, width, reveal, wish.least_nm) else made


def _divided(start: Exact, end: Exact, wish: Wish) -> list[Exact]:
    if end <= start:
        return []
    return [start + joint for joint in equal_panels(end - start, wish.panel_nm, wish.reveal_nm, wish.grid_nm)]


def _merged(gaps: Sequence[Gap], reveal: int) -> list[tuple[Exact, Exact]]:
    """Openings that lie over each other along the line, or side by side without room for a panel, taken as one."""
    merged: list[tuple[Exact, Exact]] = []
    for gap in sorted(gaps, key=lambda each: (each.start, each.end)):
        if merged and gap.start <= merged[-1][1]:
            merged[-1] = (merged[-1][0], max(merged[-1][1], gap.end))
        else:
            merged.append((gap.start, gap.end))
    return merged


def _opening_by_opening(joints: Joints, gaps: Sequence[Gap], width: Exact, wish: Wish) -> Cleared:
    """A joint is added at the opening's edge where that was set and there is room for it; else the panel is notched."""
    reveal, made, legs = wish.reveal_nm, set(joints), []
    for leg in not_clear(joints, gaps, width, reveal, wish.least_nm):
        wanted = wish.at_openings.get(leg.gap.name, AtOpening.NOTCH)
        place = leg.gap.start if leg.at_start else leg.gap.end - reveal
        free = all(abs(place - joint) > reveal for joint in made - {place}) and 0 < place < width - reveal
        done = AtOpening.JOINT if wanted is AtOpening.JOINT and free else AtOpening.NOTCH
        if done is AtOpening.JOINT:
            made.add(place)
        legs.append(Leg(leg.gap, leg.at_start, leg.joint, leg.width, done))
    return Cleared(tuple(sorted(made)), legs=tuple(legs))
