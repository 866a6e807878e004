"""Where the stages of a job lie on its stage bars, and how the bar of one room is drawn.

A bar is a dimension line: its stages are as wide as their share of the job's planned time, so that the bars
of all rooms line up under one ruler of names. Places are whole per mille of the width.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from typing import Literal

from jobs.calculations.progress import STREAMS, Stage, Stream

Lane = Literal["upper", "middle", "lower"]
State = Literal["done", "in_work", "not_started", "late", "absent"]

# Middle line of each lane, 18 px between the two outer ones.
LANE_Y_PX: dict[Lane, int] = {"upper": 10, "middle": 19, "lower": 28}


@dataclass(frozen=True)
class Span:
    """A stretch of a drawing [per mille of its width]."""

    x: int
    width: int

    @property
    def end(self) -> int:
        return self.x + self.width


@dataclass(frozen=True)
class StageWeight:
    """One stage of a job with its planned time summed over all rooms."""

    key: int | str
    stream: Stream
    planned_minutes: int


@dataclass(frozen=True)
class StagePlace:
    """Where a stage lies on the stage bars of a job, the same in every room."""

    key: int | str
    stream: Stream
    lane: Lane
    span: Span

    @property
    def y(self) -> int:
        return LANE_Y_PX[self.lane]


@dataclass(frozen=True)
class StagePart:
    """A stage of one room as drawn: solid up to the counted share, hatched for the rest while in work.

    A stage not started is a bare line over the whole place; late is that line dashed in red; a stage that is
    absent is not in this room and not drawn.
    """

    place: StagePlace
    state: State
    solid: Span | None
    hatched: Span | None


def stage_lanes(stages: Sequence[StageWeight]) -> tuple[StagePlace, ...]:
    """Return where each stage of a job lies on its stage bars: panels above, trim below, one lane on site.

    Widths are shares of the job's planned time, so that all rooms line up. The longer of the two upper and
    lower lanes is drawn to the same scale as the site; the shorter is stretched to its length, so that both
    meet where the work goes on site. Without the one or the other there is one lane in the middle. A stage
    without planned time is drawn like the shortest that has some, so that it can be seen.

    Args:
        stages: the stages of the job with time summed over its rooms, in their order [-]

    Returns:
        One place for each stage in the same order. Neighbors touch, the last ends at 1000 per mille.

    Example: panels and trim of 39 hours each, then 61 hours on site.

        >>> lanes = stage_lanes([StageWeight("cut", "panels", 39), StageWeight("mill", "trim", 39),
        ...                      StageWeight("hang", "site", 61)])
        >>> [(place.key, place.lane, place.span.x, place.span.width) for place in lanes]
        [('cut', 'upper', 0, 390), ('mill', 'lower', 0, 390), ('hang', 'middle', 390, 610)]

    Source: house rule, see DEVELOPERS.md.
    """
    weights: dict[Stream, list[int]] = {stream: [] for stream in STREAMS}
    for stage, weight in zip(stages, _weights(stages), strict=True):
        weights[stage.stream].append(weight)
    longer = max(sum(weights["panels"]), sum(weights["trim"]))
    meet = Fraction(longer, (longer + sum(weights["site"])) or 1)
    spans = {
        "panels": iter(_spans(weights["panels"], Fraction(0), meet)),
        "trim": iter(_spans(weights["trim"], Fraction(0), meet)),
        "site": iter(_spans(weights["site"], meet, Fraction(1))),
    }
    lanes: dict[Stream, Lane] = dict.fromkeys(STREAMS, "middle")
    if weights["panels"] and weights["trim"]:
        lanes |= {"panels": "upper", "trim": "lower"}
    return tuple(
        StagePlace(stage.key, stage.stream, lanes[stage.stream], next(spans[stage.stream])) for stage in stages
    )


def stage_bar(
    places: Sequence[StagePlace], stages: Sequence[Stage], late: frozenset[int | str] = frozenset()
) -> tuple[StagePart, ...]:
    """Return the stage bar of one room, one part for each place.

    Args:
        places: the places of the job's stages, from stage_lanes [-]
        stages: the stages of the room, found by their key, any order [-]
        late: keys of the stages that wait for material that is late; shown until they are begun [-]

    Returns:
        The parts in the order of the places.

    Example: 12 of 24 cut.

        >>> places = stage_lanes([StageWeight("cut", "panels", 60), StageWeight("hang", "site", 180)])
        >>> cut, hang = stage_bar(places, [Stage(60, 24, 12, "cut"), Stage(180, 24, 0, "hang")])
        >>> cut.state, cut.solid, cut.hatched, hang.state
        ('in_work', Span(x=0, width=125), Span(x=125, width=125), 'not_started')

    Source: house rule, see DEVELOPERS.md.
    """
    by_key = {stage.key: stage for stage in stages if stage.is_needed}
    return tuple(_part(place, by_key.get(place.key), place.key in late) for place in places)


def _part(place: StagePlace, stage: Stage | None, is_late: bool) -> StagePart:
    if stage is None:
        return StagePart(place, "absent", None, None)
    if stage.is_done:
        return StagePart(place, "done", place.span, None)
    if not stage.done:
        return StagePart(place, "late" if is_late else "not_started", None, None)
    x, width = place.span.x, place.span.width
    solid = min(width, max(1, int(width * stage.share)))
    return StagePart(place, "in_work", _span(x, solid), _span(x + solid, width - solid))


def _span(x: int, width: int) -> Span | None:
    return Span(x, width) if width else None


def _weights(stages: Sequence[StageWeight]) -> list[int]:
    shortest = min((stage.planned_minutes for stage in stages if stage.planned_minutes), default=1)
    return [stage.planned_minutes or shortest for stage in stages]


def _spans(weights: Sequence[int], start: Fraction, end: Fraction) -> list[Span]:
    whole, spans, before = sum(weights), [], 0
    left = _per_mille(start)
    for weight in weights:
        before += weight
        right = _per_mille(start + (end - start) * Fraction(before, whole))
        spans.append(Span(left, right - left))
        left = right
    return spans


def _per_mille(share: Fraction) -> int:
    return int(share * 1000 + Fraction(1, 2))
