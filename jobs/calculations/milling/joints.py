"""Where a run of trim that is longer than its boards is joined.

The rules, in this order: no piece longer than the longest that can be milled; no joint nearer to an end or a corner
than the least distance, off what is solid, or nearer than the stagger to a joint of the parallel run; no piece shorter
than the least; then the fewest joints; then pieces as equal as can be, or the longest first.

Source: house rule, common practice, no source.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from enum import StrEnum
from itertools import pairwise

from workshop.calculations.lengths import GRID_NM, show_length


class Share(StrEnum):
    """How a run is shared among the fewest pieces."""

    EQUAL = "equal pieces"
    LONGEST_FIRST = "longest first"


class JointError(ValueError):
    """A run that cannot be made up of pieces under the rules."""

    def __init__(self, length_nm: int, longest_nm: int, why: str, would_do: tuple[str, str]) -> None:
        self.length_nm, self.longest_nm, self.why, self.would_do = length_nm, longest_nm, why, would_do
        super().__init__(
            f"a run of {show_length(length_nm)} in pieces of at most {show_length(longest_nm)}: {why}; "
            f"{would_do[0]}, or {would_do[1]}, would do"
        )


@dataclass(frozen=True)
class JointRules:
    """What joints keep to.

    Attributes:
        longest_nm: the longest piece; `longest_finished` works it out of the boards
        from_end_nm: least distance of a joint from an end of the run or a corner
        stagger_nm: least distance from a joint of the parallel run
        least_piece_nm: no piece is shorter
        share: how the pieces share the run
        grid_nm: joints lie on this grid from the run's start, rounded down
    """

    longest_nm: int
    from_end_nm: int = 0
    stagger_nm: int = 0
    least_piece_nm: int = 0
    share: Share = Share.EQUAL
    grid_nm: int = GRID_NM


def longest_finished(
    board_nm: int, end_cut_off_nm: int, allowance_nm: int, millable_nm: int | None = None, passes_nm: int | None = None
) -> int:
    """The longest finished piece out of a board.

    Args:
        board_nm: the longest board [nm]
        end_cut_off_nm: what is cut off each end [nm]
        allowance_nm: by how much a rough piece is longer than the finished one [nm]
        millable_nm: the longest rough piece that can be milled, none for no limit [nm]
        passes_nm: the longest finished piece that passes the site's door, stair and lift, none for no limit [nm]

    Returns:
        the length; 0 where nothing is left [nm]

    Example:
        14 ft, 1 in off each end and 1 in of allowance: 165 in. Where the shop mills 13 ft at most: 155 in.

        >>> from workshop.calculations.lengths import INCH_NM
        >>> longest_finished(168 * INCH_NM, INCH_NM, INCH_NM) // INCH_NM
        165
        >>> longest_finished(168 * INCH_NM, INCH_NM, INCH_NM, millable_nm=156 * INCH_NM) // INCH_NM
        155
    """
    rough = board_nm - 2 * end_cut_off_nm
    if millable_nm is not None:
        rough = min(rough, millable_nm)
    finished = max(0, rough - allowance_nm)
    return finished if passes_nm is None else min(finished, passes_nm)


def joints(
    length_nm: int, rules: JointRules, solid_nm: Sequence[int] | None = None, parallel_nm: Sequence[int] = ()
) -> tuple[int, ...]:
    """Where a run is joined, from its start.

    Args:
        length_nm: the run [nm]
        rules: what joints keep to [nm]
        solid_nm: where there is something solid to join over, from the run's start; none for anywhere [nm]
        parallel_nm: joints of the parallel run of the same kind on the same wall, from this run's start [nm]

    Returns:
        the joints from the start on; nothing where one piece does [nm]

    Raises:
        JointError: no joints keep to the rules

    Example:
        22 ft out of pieces of at most 165 in: one joint, in the middle.

        >>> from workshop.calculations.lengths import INCH_NM
        >>> [joint // INCH_NM for joint in joints(264 * INCH_NM, JointRules(165 * INCH_NM, 24 * INCH_NM))]
        [132]
    """
    if length_nm <= 0 or rules.longest_nm <= 0:
        raise JointError(length_nm, rules.longest_nm, "a size is zero or less", ("a length", "a longer board"))
    if length_nm <= rules.longest_nm:
        return ()
    stretches = _stretches(length_nm, rules, parallel_nm)
    if solid_nm is None:
        places = _places(length_nm, rules, stretches)
    else:
        places = sorted({at for at in solid_nm if any(low <= at <= high for low, high in stretches)})
    found = _fewest(length_nm, rules, places)
    if found is None:
        over = "" if solid_nm is None else " over something solid"
        raise JointError(
            length_nm,
            rules.longest_nm,
            f"no joints{over} keep {show_length(rules.from_end_nm)} from the ends and "
            f"{show_length(rules.stagger_nm)} from the parallel run",
            ("longer boards", "more to join over" if solid_nm is not None else "a smaller distance or stagger"),
        )
    return found


def pieces_between(length_nm: int, joints_nm: Iterable[int]) -> tuple[int, ...]:
    """The lengths of the pieces between joints.

    Args:
        length_nm: the run [nm]
        joints_nm: its joints in their order [nm]

    Returns:
        from the start on; they add up to the run [nm]

    Example:
        264 joined at 132: two of 132.

        >>> pieces_between(264, (132,))
        (132, 132)
    """
    ends = [0, *joints_nm, length_nm]
    return tuple(end - start for start, end in pairwise(ends))


def _stretches(length: int, rules: JointRules, parallel: Sequence[int]) -> list[tuple[int, int]]:
    """Where a joint may lie, solid or not."""
    least = max(rules.from_end_nm, rules.least_piece_nm)
    stretches, start, last = [], max(1, least), length - max(1, least)
    for at in sorted(parallel):
        if rules.stagger_nm and at - rules.stagger_nm < last and at + rules.stagger_nm > start:
            if at - rules.stagger_nm >= start:
                stretches.append((start, at - rules.stagger_nm))
            start = max(start, at + rules.stagger_nm)
    if start <= last:
        stretches.append((start, last))
    return stretches


def _places(length: int, rules: JointRules, stretches: list[tuple[int, int]]) -> list[int]:
    """Places enough to hold a best answer: the ends of where joints may lie, whole pieces from there, equal shares."""
    grid, longest = rules.grid_nm, rules.longest_nm
    fewest = -(-length // longest)
    found = {length * part // pieces for pieces in range(fewest, 2 * fewest + 2) for part in range(1, pieces)}
    ends = [0, length, *(end for stretch in stretches for end in stretch)]
    sizes = [longest, *([rules.least_piece_nm] if rules.least_piece_nm else [])]
    for end in ends:
        found |= {end + way * count * size for size in sizes for way in (1, -1) for count in range(fewest + 2)}
    low_or_high = {at // grid * grid for at in found} | {-(-at // grid) * grid for at in found}
    places = {at for at in low_or_high if any(low <= at <= high for low, high in stretches)}
    return sorted(places)


def _fewest(length: int, rules: JointRules, places: list[int]) -> tuple[int, ...] | None:
    """The fewest joints, of these the best share."""
    at = [0, *places, length]
    best: list[dict[int, tuple[tuple[int, ...], tuple[int, ...]]]] = [{0: ((), ())}]
    while True:
        after: dict[int, tuple[tuple[int, ...], tuple[int, ...]]] = {}
        for place, (_, way) in best[-1].items():
            for then in range(place + 1, len(at)):
                piece = at[then] - at[place]
                if piece > rules.longest_nm:
                    break
                if piece < rules.least_piece_nm:
                    continue
                made = (*way, piece)
                rank = _rank(made, rules.share)
                if then not in after or rank < after[then][0]:
                    after[then] = rank, made
        if len(at) - 1 in after:
            pieces = after[len(at) - 1][1]
            return tuple(sum(pieces[: count + 1]) for count in range(len(pieces) - 1))
        if not after or len(best) > len(at):
            return None
        best.append(after)


def _rank(pieces: tuple[int, ...], share: Share) -> tuple[int, ...]:
    """Less is better: the sum of squares is least where pieces are equal; of equals the longer piece comes last."""
    if share is Share.EQUAL:
        return (sum(piece * piece for piece in pieces), *pieces)
    return tuple(-piece for piece in pieces)
