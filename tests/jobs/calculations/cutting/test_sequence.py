"""The order of work, what is kept, and spoiled parts."""

from fractions import Fraction

import pytest

from jobs.calculations.cutting.offcuts import Replacement, Shortage, UsableOffcut, cut_again, usable_offcuts
from jobs.calculations.cutting.plan import CuttingPlan
from jobs.calculations.cutting.problem import CuttingProblem, Part, Saw, StockSheet
from jobs.calculations.cutting.sequence import TwoPassesDoNotFit, fence_settings, rough_strips, sequence
from jobs.calculations.cutting.solve import first_answer


def sixteenths(inches: str) -> int:
    return int(sum(Fraction(word) for word in inches.split()) * 16)


PANELS = CuttingProblem(
    (StockSheet(sixteenths("97"), sixteenths("49"), name="ash"),),
    (
        Part(sixteenths("95"), sixteenths("23 13/16"), 3, name="P1", room="Practice 1"),
        Part(sixteenths("47"), sixteenths("23 13/16"), 2, name="P2", room="Practice 2"),
    ),
    Saw(kerf=2, trim=sixteenths("1/4"), rips_first=True),
)


@pytest.fixture(scope="module")
def panels() -> CuttingPlan:
    return first_answer(PANELS).plan


def test_all_strips_of_one_setting_are_ripped_together_over_rooms(panels: CuttingPlan) -> None:
    steps = sequence(PANELS, panels)

    rips = [step for step in steps if step.kind == "rip"]
    assert [step.setting for step in rips] == [sixteenths("23 13/16")]
    assert {room for cut in rips[0].cuts for room in cut.rooms} == {"Practice 1", "Practice 2"}
    assert {cut.sheet for cut in rips[0].cuts} == {0, 1}


def test_rips_come_before_cross_cuts_and_clean_up_before_both(panels: CuttingPlan) -> None:
    kinds = [step.kind for step in sequence(PANELS, panels)]

    assert kinds == sorted(kinds, key=["clean up", "rip", "cross cut"].index)
    assert kinds[0] == "clean up"


def test_a_setting_is_listed_once_for_each_time_the_fence_is_moved(panels: CuttingPlan) -> None:
    settings = fence_settings(sequence(PANELS, panels))

    assert len(settings) == len(set(settings))
    assert ("rip", sixteenths("23 13/16")) in settings


def test_two_passes_rip_49_in_into_strips_of_24_7_16_and_each_to_23_13_16_after_a_rest(panels: CuttingPlan) -> None:
    """The example of the house rule on ripping twice."""
    steps = sequence(PANELS, panels, two_passes=True)

    rips = [(step.strips, step.setting, len(step.cuts), step.rest_before) for step in steps if step.kind == "rip"]
    assert rips == [
        ("rough", sixteenths("24 7/16"), 2, False),
        ("final", sixteenths("23 13/16"), 4, True),
    ]


def test_rough_strips_and_their_kerfs_add_up_to_the_sheet() -> None:
    strips = rough_strips(1_000, [300, 200, 100], 3)

    assert sum(strips) + 2 * 3 == 1_000


def test_strips_that_leave_nothing_for_a_second_pass_are_told() -> None:
    problem = CuttingProblem((StockSheet(96, 49),), (Part(96, 24, 2),), Saw(kerf=1))

    with pytest.raises(TwoPassesDoNotFit, match="sheet 1 has 0 to spare for each strip and a second pass takes 1"):
        sequence(problem, first_answer(problem).plan, two_passes=True)


def test_every_part_comes_off_by_a_cut_or_is_what_is_left() -> None:
    parts = tuple(Part(20 + 3 * n, 10 + n, 2, True, name=str(n)) for n in range(8))
    problem = CuttingProblem((StockSheet(96, 48),), parts, Saw(kerf=1))
    plan = first_answer(problem).plan

    cuts = sum(len(step.cuts) for step in sequence(problem, plan))

    pieces = [piece for sheet in plan.sheets for piece in sheet.usable.below()]
    left = sum(bool(piece.pieces) for piece in pieces)
    assert len(pieces) - len(plan.sheets) - left <= cuts <= len(pieces) - len(plan.sheets)


def test_a_strip_thinner_than_the_kerf_that_falls_off_is_a_caution() -> None:
    problem = CuttingProblem((StockSheet(96, 48),), (Part(96, 43),), Saw(kerf=3))

    steps = sequence(problem, first_answer(problem).plan)

    assert [(step.setting, step.cuts[0].thin) for step in steps] == [(43, True)]


def test_a_rest_as_thin_as_the_kerf_is_eaten() -> None:
    problem = CuttingProblem((StockSheet(96, 48),), (Part(96, 45),), Saw(kerf=3))
    plan = first_answer(problem).plan

    assert plan.sheets[0].rests == ()
    assert len(sequence(problem, plan)) == 1


@pytest.mark.parametrize(("least_length", "least_width", "kept"), [(96, 24, 1), (97, 10, 0), (20, 25, 0)])
def test_offcuts_are_kept_from_the_least_size_on(least_length: int, least_width: int, kept: int) -> None:
    problem = CuttingProblem((StockSheet(96, 48),), (Part(96, 23),), Saw(kerf=1))

    assert len(usable_offcuts(first_answer(problem).plan, least_length, least_width)) == kept


TONES = CuttingProblem(
    (StockSheet(96, 48, name="light"), StockSheet(96, 48, name="dark")),
    (Part(40, 20, stock=frozenset({0}), name="P1"),),
    Saw(kerf=1, trim=1),
)


@pytest.mark.parametrize(
    ("offcuts", "sheets", "expected"),
    [
        ((UsableOffcut(0, 0, 90, 24), UsableOffcut(1, 0, 41, 21), UsableOffcut(2, 1, 40, 20)), {0: 1}, (1, None)),
        ((UsableOffcut(2, 1, 40, 20),), {0: 1, 1: 5}, (None, 0)),
        ((UsableOffcut(2, 0, 20, 40),), {0: 1}, (None, 0)),
    ],
)
def test_a_spoiled_part_comes_from_the_best_offcut_of_its_tone_else_from_a_sheet_of_it(
    offcuts: tuple[UsableOffcut, ...], sheets: dict[int, int], expected: tuple
) -> None:
    again = cut_again(TONES, 0, offcuts, sheets)

    assert isinstance(again, Replacement)
    assert (again.offcut, again.stock) == expected


def test_a_shortage_is_told_where_no_offcut_and_no_sheet_of_the_tone_is_left() -> None:
    again = cut_again(TONES, 0, (UsableOffcut(0, 1, 90, 40),), {0: 0, 1: 9})

    assert again == Shortage(TONES.parts[0], (0,))


def test_the_rests_beside_a_part_cut_again_do_not_overlap_it_nor_each_other() -> None:
    again = cut_again(TONES, 0, (UsableOffcut(0, 0, 60, 30),), {})

    assert [(rest.x, rest.y, rest.length, rest.width) for rest in again.rests] in (
        [(0, 21, 60, 9), (41, 0, 19, 20)],
        [(41, 0, 19, 30), (0, 21, 40, 9)],
    )
