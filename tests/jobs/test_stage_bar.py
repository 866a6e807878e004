"""The stage bar: two lanes that meet on site, widths by planned hours (house rule, see DEVELOPERS.md)."""

from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from jobs.calculations.progress import Stage
from jobs.calculations.stage_bar import Span, StageWeight, stage_bar, stage_lanes

PANELS = [StageWeight(f"panels {i}", "panels", hours) for i, hours in enumerate((10, 5, 6, 8, 10))]
TRIM = [StageWeight(f"trim {i}", "trim", hours) for i, hours in enumerate((9, 6, 7, 4, 5, 8))]
SITE = [StageWeight(f"site {i}", "site", hours) for i, hours in enumerate((4, 10, 14, 20, 10, 3))]

some_weights = st.lists(
    st.tuples(st.sampled_from(["panels", "trim", "site"]), st.integers(0, 6000)), min_size=1, max_size=18
).map(lambda pairs: [StageWeight(i, stream, minutes) for i, (stream, minutes) in enumerate(pairs)])


def test_widths_are_shares_of_the_planned_hours() -> None:
    places = stage_lanes(PANELS + TRIM + SITE)

    # 39 hours in each of the two lanes and 61 on site: one hour is one per cent
    assert [place.span.width for place in places] == [
        *(100, 50, 60, 80, 100),
        *(90, 60, 70, 40, 50, 80),
        *(40, 100, 140, 200, 100, 30),
    ]


def test_panels_lie_above_trim_below_and_both_meet_where_the_site_begins() -> None:
    places = stage_lanes(PANELS + TRIM + SITE)

    lanes = {place.stream: (place.lane, place.y) for place in places}
    assert lanes == {"panels": ("upper", 10), "trim": ("lower", 28), "site": ("middle", 19)}
    assert places[4].span.end == places[10].span.end == places[11].span.x == 390


def test_the_shorter_lane_is_stretched_to_meet_the_longer_one() -> None:
    places = stage_lanes(
        [StageWeight("cut", "panels", 300), StageWeight("mill", "trim", 60), StageWeight("hang", "site", 300)]
    )

    assert [place.span for place in places] == [Span(0, 500), Span(0, 500), Span(500, 500)]


def test_without_trim_there_is_one_lane() -> None:
    places = stage_lanes(PANELS + SITE)

    assert {place.lane for place in places} == {"middle"}


def test_without_planned_time_all_stages_are_alike_wide() -> None:
    places = stage_lanes([StageWeight(i, "panels", 0) for i in range(2)] + [StageWeight(2, "site", 0)])

    assert [place.span for place in places] == [Span(0, 333), Span(333, 334), Span(667, 333)]


def test_a_stage_without_planned_time_can_still_be_seen() -> None:
    cut, load = stage_lanes([StageWeight("cut", "panels", 600), StageWeight("load", "site", 0)])

    assert (cut.span, load.span) == (Span(0, 500), Span(500, 500))


def test_a_job_without_stages_has_no_bar() -> None:
    assert stage_lanes([]) == ()


@given(weights=some_weights)
def test_neighbors_touch_and_both_lanes_run_to_the_site(weights: list[StageWeight]) -> None:
    places = stage_lanes(weights)

    lanes = {stream: [place.span for place in places if place.stream == stream] for stream in ("panels", "trim")}
    site = [place.span for place in places if place.stream == "site"]
    meet = site[0].x if site else 1000
    for lane in filter(None, lanes.values()):
        assert (lane[0].x, lane[-1].end) == (0, meet)
    for lane in (*lanes.values(), site):
        assert all(left.end == right.x for left, right in pairwise(lane))
    assert max(place.span.end for place in places) == 1000


@pytest.mark.parametrize(
    ("stage", "late", "state", "solid", "hatched"),
    [
        (Stage(60, 34, 34, "cut"), False, "done", Span(0, 500), None),
        (Stage(60, 34, 12, "cut"), False, "in_work", Span(0, 176), Span(176, 324)),
        (Stage(60, 9999, 1, "cut"), False, "in_work", Span(0, 1), Span(1, 499)),
        (Stage(60, 9999, 9998, "cut"), False, "in_work", Span(0, 499), Span(499, 1)),
        (Stage(60, 34, 0, "cut"), False, "not_started", None, None),
        (Stage(60, 34, 0, "cut"), True, "late", None, None),
        (Stage(60, 34, 1, "cut"), True, "in_work", Span(0, 14), Span(14, 486)),
        (Stage(0, 0, 0, "cut"), False, "absent", None, None),
        (Stage(60, 34, 34, "another"), False, "absent", None, None),
    ],
)
def test_a_stage_is_drawn_by_its_count(
    stage: Stage, late: bool, state: str, solid: Span | None, hatched: Span | None
) -> None:
    places = stage_lanes([StageWeight("cut", "panels", 60), StageWeight("hang", "site", 60)])

    cut, _hang = stage_bar(places, [stage], frozenset({"cut"}) if late else frozenset())

    assert (cut.state, cut.solid, cut.hatched) == (state, solid, hatched)


def test_every_room_has_a_part_for_every_stage_of_the_job() -> None:
    places = stage_lanes(PANELS + TRIM + SITE)

    parts = stage_bar(places, [Stage(60, 1, 1, "panels 0")])

    assert [part.place for part in parts] == list(places)
