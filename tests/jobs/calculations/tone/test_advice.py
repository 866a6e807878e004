"""What one sheet does, what a delivery can do, repairs, and groups."""

from collections import Counter
from dataclasses import replace

import pytest

from jobs.calculations.tone import feasibility, mending
from jobs.calculations.tone.advice import Remedy, influences, proposals
from jobs.calculations.tone.feasibility import rooms_within, smallest_doorway_limit, smallest_room_limit
from jobs.calculations.tone.groups import proposed_groups
from jobs.calculations.tone.mending import fewest_moves, moved, repairs
from jobs.calculations.tone.plan import faults, plan
from jobs.calculations.tone.problem import Doorway, Problem, Room
from tests.jobs.calculations.tone.small import every_plan, small_problem


def lot(tones: list[int], *rooms: Room, **asked: object) -> Problem:
    return Problem(differences=[[abs(a - b) for a in tones] for b in tones], rooms=rooms, **asked)


# One sheet


def test_a_sheet_that_alone_makes_its_room_plain_is_named_first() -> None:
    problem = lot([10_000, 16_000, 22_000, 41_000], Room(4))

    first = influences(problem, plan(problem, ((0, 1, 2, 3),)))[0]

    assert (first.sheet, first.range_now, first.range_without, first.gain) == (3, 31_000, 12_000, 19_000)


def test_a_sheet_inside_the_range_of_its_room_is_not_named() -> None:
    problem = lot([0, 5, 9], Room(3))

    assert [one.sheet for one in influences(problem, plan(problem, ((0, 1, 2),)))] == [0, 2]


def test_a_spare_a_change_with_another_room_and_hiding_are_told_with_what_they_gain() -> None:
    problem = lot([0, 2, 40, 39, 41, 3], Room(3), Room(2))
    given = plan(problem, ((0, 1, 2), (3, 4)))

    found = proposals(problem, given, sheet=2, room=0)

    assert {(one.remedy, one.other, one.range_after) for one in found} == {
        (Remedy.HIDE, None, 2),
        (Remedy.REJECT, 5, 3),
        (Remedy.SWAP, 3, 39),
    }
    assert all(faults(problem, one.after.rooms) == [] for one in found)


def test_two_sheets_that_each_spoil_the_others_room_change_places() -> None:
    problem = lot([0, 2, 41, 40, 42, 1], Room(3), Room(3))
    given = plan(problem, ((0, 1, 2), (3, 4, 5)))

    change = next(one for one in proposals(problem, given, sheet=2, room=0) if one.remedy is Remedy.SWAP)

    assert (change.other, change.after.ranges) == (5, (2, 2))


def test_a_fixed_sheet_can_only_be_hidden() -> None:
    problem = lot([0, 2, 40, 3], Room(3), fixed=((2, 0, 1),))

    found = proposals(problem, plan(problem, ((0, 1, 2),)), sheet=2, room=0)

    assert [one.remedy for one in found] == [Remedy.HIDE]


# A delivery


@pytest.mark.parametrize("seed", range(16))
def test_no_plan_keeps_more_rooms_within_a_limit_than_is_told(seed: int) -> None:
    problem = small_problem(seed)
    good = [plan(problem, rooms) for rooms in every_plan(problem) if not faults(problem, rooms)]
    most = max((sum(span <= 15 for span in one.ranges) for one in good), default=0)

    told = rooms_within(problem, 15, 20)

    assert (told.number, told.at_most) == (most, most)


def test_without_the_solver_it_is_not_told_that_no_room_can_be_kept(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(feasibility, "open_solver", lambda: None)

    told = rooms_within(lot([1, 1, 1], Room(3)), 15, 20)

    assert (told.number, told.at_most, told.proven) == (0, 1, False)


def test_of_a_doorway_that_cannot_be_kept_the_smallest_limit_is_told() -> None:
    problem = lot([0, 4, 30, 37], Room(2, limit=10), Room(2, limit=10), doorways=(Doorway(0, 1, 20),))

    told = smallest_doorway_limit(problem, 0, 20)

    assert (told.limit, told.at_least, told.proven) == (37, 37, True)
    assert faults(replace(problem, doorways=(Doorway(0, 1, 37),)), told.plan.rooms) == []


def test_of_a_room_whose_limit_cannot_be_kept_the_smallest_is_told() -> None:
    problem = lot([0, 6, 9, 30], Room(3, limit=4), Room(1))

    told = smallest_room_limit(problem, 0, 20)

    assert (told.limit, told.proven, told.plan.rooms[0]) == (9, True, (0, 1, 2))


# Repairs


def test_a_spare_takes_the_place_of_a_spoiled_sheet_before_anything_moves() -> None:
    problem = lot([0, 1, 2, 20, 21, 8], Room(3), Room(2), rejected=frozenset({1}))

    found = repairs(problem, ((0, 1, 2), (3, 4)), 20)

    assert (found[0].moved, found[0].plan.rooms, found[0].proven) == (0, ((0, 2, 5), (3, 4)), True)


@pytest.mark.parametrize("seed", range(16))
def test_no_repair_moves_fewer_sheets_or_is_better_with_as_few(seed: int) -> None:
    problem = replace(small_problem(seed), together=())
    good = [rooms for rooms in every_plan(problem) if not faults(problem, rooms)]
    if not good:
        return
    spoiled = next((sheet for sheet in good[0][0] if not any(held[sheet] for held in problem.held)), None)
    if spoiled is None or problem.need + problem.pieces > problem.usable:
        return
    problem, before = replace(problem, rejected=problem.rejected | {spoiled}), good[0]
    left = [rooms for rooms in every_plan(problem) if not faults(problem, rooms)]

    found = repairs(problem, before, 20)

    assert bool(found) == bool(left)
    for one in found:
        within = [plan(problem, rooms).value[:2] for rooms in left if moved(before, rooms, problem) <= one.moved]
        assert (one.plan.value[:2], one.proven) == (min(within), True)
    if found:
        assert found[0].moved == min(moved(before, rooms, problem) for rooms in left)


def test_without_the_solver_a_spare_still_fills_the_gap(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(mending, "open_solver", lambda: None)
    problem = lot([0, 1, 2, 20, 21, 8], Room(3), Room(2), rejected=frozenset({1}))

    found = repairs(problem, ((0, 1, 2), (3, 4)), 20)

    assert [(one.moved, one.plan.rooms, one.proven) for one in found] == [(0, ((0, 2, 5), (3, 4)), False)]


def test_of_plans_as_good_the_one_with_the_fewest_moves_is_taken() -> None:
    problem = lot([5, 5, 5, 5], Room(2), Room(2))
    before = ((0, 1), (2, 3))

    kept = fewest_moves(problem, plan(problem, ((2, 3), (0, 1))), before, 20)

    assert moved(before, kept.rooms, problem) == 0


# Groups


def test_a_lot_of_two_batches_falls_into_two_groups() -> None:
    tones = [80_000, 81_000, 80_500, 50_000, 79_500, 51_000]

    found = proposed_groups([[abs(a - b) for a in tones] for b in tones], range(6))

    assert found.groups == ((0, 1, 2, 4), (3, 5))
    assert found.ranges == (1_500, 1_000)
    assert found.between[0][1] > 28_000
    assert found.silhouette > 0.9


def test_sheets_that_all_look_accepted_beside_each_other_are_one_group() -> None:
    tones = [0, 1_000, 17_000, 18_000]

    assert len(proposed_groups([[abs(a - b) for a in tones] for b in tones], range(4)).groups) == 1


def test_a_lot_without_sheets_has_no_group() -> None:
    assert proposed_groups([], []).groups == ()


def test_every_sheet_lies_in_one_group_whatever_their_order() -> None:
    problem = small_problem(2)

    there, back = (proposed_groups(problem.differences, way) for way in (problem.sheets, problem.sheets[::-1]))

    assert there == back
    assert Counter(sheet for group in there.groups for sheet in group) == Counter(problem.sheets)
