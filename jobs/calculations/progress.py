"""How far a room is, weighted by planned hours, and what is next.

A stage is counted (12 of 34 panels) or ticked (1 of 1). Stages run in two streams in the shop, panels and
trim, and one on site. House rules, see DEVELOPERS.md; weighting by planned hours is common practice, no
source.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from typing import Literal

Stream = Literal["panels", "trim", "site"]

STREAMS: tuple[Stream, ...] = ("panels", "trim", "site")


class StageCountWrong(ValueError):
    """A count below nothing, or more done than there is."""

    def __init__(self, done: int, total: int) -> None:
        self.done, self.total = done, total
        super().__init__(
            f"{done} of {total} cannot be done: write from 0 to {max(total, 0)}, or raise how many there are."
        )


class PlannedTimeWrong(ValueError):
    """Planned time below nothing."""

    def __init__(self, minutes: int) -> None:
        self.minutes = minutes
        super().__init__(f"{minutes} minutes cannot be planned: write 0 for no time, or more.")


@dataclass(frozen=True)
class Stage:
    """One stage of one room: its planned time, and how many of how many pieces are through it (0 or 1 of 1).

    A stage with nothing to count and no time planned is not in this room: it weighs nothing and is never
    next.
    """

    planned_minutes: int
    total: int = 1
    done: int = 0
    key: int | str = ""
    stream: Stream = "site"

    def __post_init__(self) -> None:
        if self.planned_minutes < 0:
            raise PlannedTimeWrong(self.planned_minutes)
        if not 0 <= self.done <= self.total:
            raise StageCountWrong(self.done, self.total)

    @property
    def is_needed(self) -> bool:
        return self.total > 0 or self.planned_minutes > 0

    @property
    def is_done(self) -> bool:
        return self.is_needed and self.done == self.total > 0

    @property
    def left(self) -> int:
        return self.total - self.done

    @property
    def share(self) -> Fraction:
        return Fraction(self.done, self.total) if self.total else Fraction(0)


@dataclass(frozen=True)
class Progress:
    """How far a room or job is, in figures to put into words.

    next_stages holds the first stage not done of each stream, in the order panels, trim, site.
    """

    share: Fraction
    percent: int
    planned_minutes: int
    earned_minutes: Fraction
    stages: int
    stages_done: int
    next_stages: tuple[Stage, ...]

    @property
    def is_done(self) -> bool:
        return 0 < self.stages == self.stages_done


def share_done(stages: Sequence[Stage]) -> Fraction:
    """Return the share that is done, each stage weighted by its planned time.

    Where no stage has planned time, all count alike; where only some have, the others weigh nothing. For a
    whole job give the stages of all its rooms.

    Args:
        stages: the stages of a room or job, any order [-]

    Returns:
        0 to 1, exact; 0 without stages.

    Example: a 6 hour stage 12 of 34 through, and a 2 hour one done.

        >>> share_done([Stage(360, total=34, done=12), Stage(120, done=1)])
        Fraction(35, 68)

    Source: common practice, no source.
    """
    needed = [stage for stage in stages if stage.is_needed]
    weights = [stage.planned_minutes for stage in needed]
    if not any(weights):
        weights = [1] * len(needed)
    whole = sum(weights)
    if not whole:
        return Fraction(0)
    earned: dict[int, int] = {}
    for weight, stage in zip(weights, needed, strict=True):
        earned[stage.total] = earned.get(stage.total, 0) + weight * stage.done
    return sum((Fraction(minutes, total) for total, minutes in earned.items() if total), Fraction(0)) / whole


def percent(share: Fraction) -> int:
    """Return a share as whole per cent that is never 100 before all is done nor 0 once something is.

    Rounded half up, then held between 1 and 99 for every share between nothing and all.

    Args:
        share: the share done, 0 to 1 [-]

    Example:

        >>> [percent(Fraction(done, 1000)) for done in (0, 1, 125, 995, 1000)]
        [0, 1, 13, 99, 100]

    Source: house rule, see DEVELOPERS.md.
    """
    if share <= 0:
        return 0
    if share >= 1:
        return 100
    return min(99, max(1, int(share * 100 + Fraction(1, 2))))


def progress(stages: Sequence[Stage]) -> Progress:
    """Return how far a room is: share, per cent, time earned, stages done, and what is next in each stream.

    A stage without planned time beside others that have some does not move the share, but 100 per cent
    still waits for it, and one such stage done still shows 1 per cent.

    Args:
        stages: the stages of a room in their order [-]

    Example:

        >>> cut, edge = Stage(60, 10, 10, "cut", "panels"), Stage(60, 10, 4, "edge", "panels")
        >>> now = progress([cut, edge, Stage(0, key="load")])
        >>> now.percent, [(stage.key, stage.left) for stage in now.next_stages]
        (70, [('edge', 6), ('load', 1)])

    Source: house rule, see DEVELOPERS.md.
    """
    needed = [stage for stage in stages if stage.is_needed]
    done = [stage for stage in needed if stage.is_done]
    share = share_done(needed)
    shown = percent(share)
    if any(stage.done for stage in needed):
        shown = max(1, shown)
    if len(done) < len(needed):
        shown = min(99, shown)
    planned = sum(stage.planned_minutes for stage in needed)
    return Progress(share, shown, planned, share * planned, len(needed), len(done), next_stages(needed))


def next_stages(stages: Sequence[Stage]) -> tuple[Stage, ...]:
    """Return the first stage not done of each stream, in the order panels, trim, site.

    Args:
        stages: the stages of a room in their order [-]

    Returns:
        At most one stage for each stream; none for a stream that is done or not in this room.

    Example:

        >>> [stage.key for stage in next_stages([Stage(0, key="mill", stream="trim"), Stage(0, key="load")])]
        ['mill', 'load']
    """
    first: dict[Stream, Stage] = {}
    for stage in stages:
        if stage.is_needed and not stage.is_done:
            first.setdefault(stage.stream, stage)
    return tuple(first[stream] for stream in STREAMS if stream in first)
