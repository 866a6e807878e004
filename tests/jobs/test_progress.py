"""How far a room is, weighted by planned hours.

Weighting by planned hours: common practice, no source. The rest: house rule, see DEVELOPERS.md. Figures by
hand.
"""

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from jobs.calculations.progress import (
    PlannedTimeWrong,
    Stage,
    StageCountWrong,
    next_stages,
    percent,
    progress,
    share_done,
)

CUT = Stage(600, total=34, done=34, key="cut", stream="panels")
EDGE = Stage(300, total=34, done=12, key="edge", stream="panels")
SAND = Stage(480, total=34, done=0, key="sand", stream="panels")
MILL = Stage(540, total=11, done=11, key="mill", stream="trim")
LOAD = Stage(120, key="load", stream="site")

some_stage = st.integers(0, 12).flatmap(
    lambda total: st.builds(
        Stage, planned_minutes=st.integers(0, 6000), total=st.just(total), done=st.integers(0, total)
    )
)


def test_a_counted_stage_moves_the_share_by_its_planned_time() -> None:
    # (600 + 300 x 12/34) of 1380 minutes
    assert share_done([CUT, EDGE, SAND]) == (600 + Fraction(3600, 34)) / 1380


def test_a_ticked_stage_is_one_of_one() -> None:
    assert share_done([Stage(60, done=1), Stage(180)]) == Fraction(1, 4)


def test_the_share_of_a_job_weighs_its_rooms_by_their_hours() -> None:
    small_room, large_room = [Stage(600, done=1)], [Stage(5400)]

    assert share_done(small_room + large_room) == Fraction(1, 10)


def test_without_planned_time_all_stages_count_alike() -> None:
    assert share_done([Stage(0, done=1), Stage(0, total=4, done=2), Stage(0)]) == Fraction(1, 2)


def test_a_stage_without_time_beside_others_with_time_weighs_nothing() -> None:
    assert share_done([Stage(60, done=1), Stage(0)]) == 1


def test_without_stages_nothing_is_done() -> None:
    assert share_done([]) == 0
    assert progress([]).percent == 0
    assert not progress([]).is_done


def test_a_stage_with_nothing_to_count_and_no_time_is_not_in_this_room() -> None:
    no_trim = Stage(0, total=0, key="mill", stream="trim")

    room = progress([CUT, no_trim])

    assert (room.share, room.stages, room.is_done, room.next_stages) == (1, 1, True, ())


def test_a_stage_planned_before_its_pieces_are_counted_is_not_done() -> None:
    planned = Stage(480, total=0, key="sand", stream="panels")

    room = progress([planned])

    assert (room.percent, room.is_done, room.next_stages) == (0, False, (planned,))


@pytest.mark.parametrize(
    ("share", "shown"),
    [
        (Fraction(0), 0),
        (Fraction(1, 10**9), 1),
        (Fraction(14, 1000), 1),
        (Fraction(15, 1000), 2),
        (Fraction(1, 8), 13),
        (Fraction(989, 1000), 99),
        (Fraction(999, 1000), 99),
        (Fraction(1), 100),
    ],
)
def test_per_cent_round_half_up_but_never_to_nothing_or_all(share: Fraction, shown: int) -> None:
    assert percent(share) == shown


def test_a_room_shows_99_while_a_stage_without_planned_time_is_open() -> None:
    assert progress([Stage(60, done=1), Stage(0)]).percent == 99


def test_a_room_shows_1_when_only_a_stage_without_planned_time_is_done() -> None:
    assert progress([Stage(60), Stage(0, done=1)]).percent == 1


def test_a_room_tells_the_time_earned_of_the_time_planned() -> None:
    room = progress([Stage(600, total=4, done=1), Stage(120, done=1)])

    assert (room.earned_minutes, room.planned_minutes) == (270, 720)
    assert (room.stages_done, room.stages) == (1, 2)


def test_next_is_the_first_stage_not_done_of_each_stream() -> None:
    following = next_stages([MILL, LOAD, CUT, EDGE, SAND])

    assert [(stage.key, stage.done, stage.left) for stage in following] == [("edge", 12, 22), ("load", 0, 1)]


def test_a_finished_room_has_nothing_next() -> None:
    assert next_stages([CUT, MILL]) == ()


@given(stages=st.lists(some_stage, max_size=8))
def test_100_per_cent_means_all_done_and_0_means_nothing_begun(stages: list[Stage]) -> None:
    room = progress(stages)

    assert 0 <= room.share <= 1
    assert (room.percent == 100) == room.is_done
    assert (room.percent == 0) == (not any(stage.done for stage in stages))


@given(stages=st.lists(some_stage, min_size=1, max_size=8), index=st.integers(0, 7))
def test_one_more_piece_never_lowers_the_share(stages: list[Stage], index: int) -> None:
    stage = stages[index % len(stages)]
    more = Stage(stage.planned_minutes, stage.total, min(stage.total, stage.done + 1))

    after = [more if other is stage else other for other in stages]

    assert share_done(after) >= share_done(stages)


@pytest.mark.parametrize(("done", "total"), [(13, 12), (-1, 12), (1, 0)])
def test_more_done_than_there_is_is_refused(done: int, total: int) -> None:
    with pytest.raises(StageCountWrong, match=f"{done} of {total} cannot be done: write from 0 to {total}"):
        Stage(60, total=total, done=done)


def test_planned_time_below_nothing_is_refused() -> None:
    with pytest.raises(PlannedTimeWrong, match="-30 minutes cannot be planned: write 0"):
        Stage(-30)
