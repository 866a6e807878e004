"""Pieces of trim out of runs: each with its length between long points and how its two ends are cut.

A run is told along the edge it follows: base by its foot, crown by its top, casing by its long points.

Source: common practice, no source; lengths by geometry.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction
from math import atan, degrees

from jobs.calculations.milling.ends import EndCut, Hand, PieceEnd, rake_tenths, reach
from jobs.calculations.milling.joints import JointRules, joints, pieces_between
from jobs.calculations.takeoff.trim import EndKind, TrimKind, TrimRun

SQUARE_CORNER = 450


@dataclass(frozen=True)
class Profile:
    """A trim as it is milled, and how its ends are made.

    Attributes:
        thickness_nm: from the wall to its face
        width_nm: on the wall
        coped: whether inside corners are coped, a left end over the square right end before it; else mitered
        scarf_tenths: bevel of the joints in a run, in tenths of a degree from square; 0 for butted
    """

    thickness_nm: int
    width_nm: int
    coped: bool = True
    scarf_tenths: int = 0


@dataclass(frozen=True)
class MadePiece:
    """One piece: the run it belongs to, its number in it from the left or the foot, its length and its ends."""

    run: TrimRun
    number: int
    length_nm: int
    left: PieceEnd
    right: PieceEnd


def pieces_of(
    run: TrimRun,
    profile: Profile,
    rules: JointRules,
    solid_nm: Sequence[int] | None = None,
    parallel_nm: Sequence[int] = (),
    beside: Sequence[TrimRun] = (),
) -> tuple[MadePiece, ...]:
    """The pieces that a run is made up of.

    Args:
        run: the run [nm]
        profile: what it is made of [nm]
        rules: what joints keep to [nm]
        solid_nm: where there is something solid to join over, from the run's start; none for anywhere [nm]
        parallel_nm: joints of the parallel run, from this run's start [nm]
        beside: runs of the same surface, for the bend where one goes on into the next [nm]

    Returns:
        from the left or the foot, each as long as it is cut from long point to long point [nm]

    Raises:
        JointError: no joints keep to the rules

    Example:
        A base of 264 in between two inside corners, out of pieces of at most 165 in, is two of 132 in, the left one
        coped at its left end.

        >>> inch = 25_400_000
        >>> corner = EndKind.INSIDE
        >>> run = TrimRun(TrimKind.BASE, "N", "foot", (0, 0), (264 * inch, 0), corner, corner, 264 * inch)
        >>> made = pieces_of(run, Profile(inch * 3 // 4, 5 * inch), JointRules(165 * inch))
        >>> [(piece.length_nm // inch, piece.left.cut.value, piece.right.cut.value) for piece in made]
        [(132, 'cope', 'square'), (132, 'square', 'square')]
    """
    left, at_left = _end(run, Hand.LEFT, profile, beside)
    right, at_right = _end(run, Hand.RIGHT, profile, beside)
    scarf = reach(profile.thickness_nm, profile.scarf_tenths)
    allowed = JointRules(
        rules.longest_nm - at_left - at_right - scarf,
        rules.from_end_nm,
        rules.stagger_nm,
        rules.least_piece_nm,
        rules.share,
        rules.grid_nm,
    )
    length = run.length_nm
    if length + at_left + at_right <= rules.longest_nm:
        return (MadePiece(run, 1, length + at_left + at_right, left, right),)
    found = pieces_between(length, joints(length, allowed, solid_nm, parallel_nm))
    joint = EndCut.BEVEL if profile.scarf_tenths else EndCut.SQUARE
    made = []
    for number, piece in enumerate(found, start=1):
        is_first, is_last = number == 1, number == len(found)
        extra = (at_left if is_first else 0) + (at_right if is_last else scarf)
        begins = left if is_first else PieceEnd(joint, Hand.LEFT, profile.scarf_tenths)
        ends = right if is_last else PieceEnd(joint, Hand.RIGHT, profile.scarf_tenths)
        made.append(MadePiece(run, number, piece + extra, begins, ends))
    return tuple(made)


def room_pieces(
    runs: Sequence[TrimRun],
    profiles: Mapping[TrimKind, Profile],
    rules: JointRules,
    solid_nm: Mapping[TrimRun, Sequence[int]] | None = None,
) -> tuple[MadePiece, ...]:
    """The pieces of all runs of a room, joints staggered against the run before of the same kind on the same wall.

    Args:
        runs: of the room [nm]
        profiles: by kind; runs without one are left out [-]
        rules: what joints keep to [nm]
        solid_nm: by run, where there is something solid to join over; none for anywhere [nm]

    Returns:
        run by run [nm]

    Raises:
        JointError: no joints of a run keep to the rules

    Example:
        A room without crown leaves out its crown where no profile is given for it.
    """
    made: list[MadePiece] = []
    before: dict[tuple[TrimKind, str, Fraction | None], list[Fraction | int]] = {}
    for run in runs:
        if run.kind not in profiles:
            continue
        beside = [other for other in runs if other.surface == run.surface and other.kind is run.kind]
        key, start = (run.kind, run.surface, run.slope), run.start[0]
        parallel = [round(at - start) for at in before.get(key, ()) if run.slope is not None]
        solid = None if solid_nm is None else solid_nm.get(run)
        pieces = pieces_of(run, profiles[run.kind], rules, solid, parallel, beside)
        made += pieces
        at = start
        for piece in pieces[:-1]:
            at += piece.length_nm
            before.setdefault(key, []).append(at)
    return tuple(made)


def _end(run: TrimRun, hand: Hand, profile: Profile, beside: Sequence[TrimRun]) -> tuple[PieceEnd, int]:
    """How an end is cut, and how far its long point lies beyond the end of the run."""
    kind = run.starts_at if hand is Hand.LEFT else run.ends_at
    if run.kind is TrimKind.CASING:
        return (
            PieceEnd(EndCut.MITER, hand, SQUARE_CORNER) if kind is EndKind.RUN else PieceEnd(EndCut.SQUARE, hand)
        ), 0
    if kind is EndKind.RUN:
        return _bend(run, hand, profile, beside)
    rake = rake_tenths(run.slope) if run.slope else 0
    beyond = reach(profile.width_nm, rake) if rake and _other_edge_is_long(run, hand) else 0
    if kind is EndKind.OUTSIDE:
        return PieceEnd(EndCut.MITER, hand, SQUARE_CORNER), beyond + reach(profile.thickness_nm, SQUARE_CORNER)
    if kind is EndKind.INSIDE and not profile.coped:
        return PieceEnd(EndCut.MITER, hand, SQUARE_CORNER), beyond
    if kind is EndKind.INSIDE and hand is Hand.LEFT:
        return PieceEnd(EndCut.COPE, hand, rake), beyond
    return PieceEnd(EndCut.MITER if rake else EndCut.SQUARE, hand, rake), beyond


def _other_edge_is_long(run: TrimRun, hand: Hand) -> bool:
    """Whether, cut plumb on a rake, the edge that the run does not follow reaches farther at this end."""
    rises = run.slope > 0
    if run.kind is TrimKind.CROWN:
        return rises is (hand is Hand.LEFT)
    return rises is (hand is Hand.RIGHT)


def _bend(run: TrimRun, hand: Hand, profile: Profile, beside: Sequence[TrimRun]) -> tuple[PieceEnd, int]:
    """Where a run goes on into the next at another slope: mitered in two halves."""
    near = run.start if hand is Hand.LEFT else run.end
    for other in beside:
        if other is not run and near in (other.start, other.end) and None not in (run.slope, other.slope):
            first, second = (other, run) if hand is Hand.LEFT else (run, other)
            turn = degrees(atan(second.slope)) - degrees(atan(first.slope))
            half = round(abs(turn) * 5)
            is_long = (turn > 0) is (run.kind is TrimKind.CROWN)
            return PieceEnd(EndCut.MITER, hand, half), reach(profile.width_nm, half) if is_long and half else 0
    return PieceEnd(EndCut.MITER, hand, 0), 0
