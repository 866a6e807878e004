"""Joints and openings: figures by hand, and every shift tried one by one on a small grid."""

from dataclasses import replace

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from jobs.calculations.panels import AtOpening, Start, Wish
from jobs.calculations.panels.clear import Gap, cleared, not_clear
from jobs.calculations.panels.fields import columns, field_of
from tests.jobs.calculations.surfaces.making import inch

MODULE, REVEAL, PANEL = 24, 2, 22


def small(least: int = 0, start: Start = Start.LEFT, **more: object) -> Wish:
    """In whole units without a name: module 24, reveal 2, grid 1."""
    return Wish(MODULE, REVEAL, start=start, least_nm=least, grid_nm=1, **more)


def tried(phase: int, gaps: list[Gap], width: int, least: int) -> int | None:
    """The smallest shift, found by trying every whole one; of two equal ones the left."""
    for shift in sorted(range(-MODULE, MODULE), key=lambda each: (abs(each), each)):
        strips = [phase + shift + MODULE * number for number in range(-20, 20)]
        strips = [start for start in strips if -REVEAL < start < width]
        inside = [start for start in strips if start > 0 and start + REVEAL < width]
        if len(inside) < len(strips) or not inside:
            continue
        if min(inside[0], width - inside[-1] - REVEAL) < max(least, 1):
            continue
        if all(_good(start, gap, width, least) for start in inside for gap in gaps):
            return shift
    return None


def _good(start: int, gap: Gap, width: int, least: int) -> bool:
    end = start + REVEAL
    at_left = gap.start == 0 or start == gap.start or end + least <= gap.start or start - least >= gap.start
    at_right = gap.end == width or end == gap.end or end + least <= gap.end or start - least >= gap.end
    return at_left and at_right


gaps_of_100 = st.lists(st.tuples(st.integers(0, 90), st.integers(8, 50)), min_size=1, max_size=3)


@given(st.integers(60, 160), gaps_of_100, st.integers(0, 9), st.sampled_from([Start.LEFT, Start.JOINT, Start.PANEL]))
@settings(deadline=None, max_examples=400)
def test_the_field_is_shifted_as_little_as_clears_all_openings(
    width: int, places: list[tuple[int, int]], least: int, start: Start
) -> None:
    gaps = [Gap(str(i), left, min(left + size, width)) for i, (left, size) in enumerate(places) if left + 4 < width]
    asked = small(least, start)
    joints = field_of(width, asked, "B")
    assume(all(isinstance(joint, int) for joint in joints))
    assume(joints and gaps and not_clear(joints, gaps, width, REVEAL, least))

    made = cleared(joints, gaps, width, asked)

    expected = tried(joints[0], gaps, width, least)
    assert (made.shift or None) == expected
    panels = columns(width, made.joints, REVEAL)
    assert sum(panel.width for panel in panels) + REVEAL * len(made.joints) == width
    assert all(panel.width > 0 for panel in panels)
    if expected is not None or made.equal:
        assert all(_good(joint, gap, width, least) for joint in made.joints for gap in gaps)
        assert all(max(least, 1) <= panel.width <= PANEL for panel in panels)
    else:
        assert made.legs


def test_a_field_that_is_clear_stays() -> None:
    joints = field_of(120, small(), "B")

    made = cleared(joints, [Gap("door", 46, 72)], 120, small(6))

    assert (made.joints, made.shift, made.equal, made.legs) == (joints, 0, False, ())


@pytest.mark.parametrize(
    ("door", "is_clear"),
    [
        pytest.param((46, 72), True, id="both edges in a joint"),
        pytest.param((48, 72), False, id="the left edge where a joint ends"),
        pytest.param((46, 70), False, id="the right edge where a joint begins"),
        pytest.param((47, 72), False, id="the left edge inside a joint"),
        pytest.param((54, 88), True, id="the least width from both joints beside it"),
        pytest.param((55, 88), True, id="more than the least width"),
        pytest.param((53, 88), False, id="less than the least width"),
    ],
)
def test_a_joint_falls_on_an_edge_or_the_least_width_away_from_it(door: tuple[int, int], is_clear: bool) -> None:
    """Joints from 22, 46, 70 on, each 2 wide, least width 6; the door's figures are those of its reveal."""
    legs = not_clear((22, 46, 70), (Gap("door", *door),), 120, REVEAL, 6)

    assert (legs == ()) is is_clear


def test_of_two_equal_shifts_the_left_one_is_taken() -> None:
    """Joints from 14, 38 and 62 on in a width of 80, a door from 42 to the right end, least width 6: the joint at 38
    leaves 2. 4 to the left it leaves 6, 4 to the right it falls on the edge (by hand)."""
    made = cleared((14, 38, 62), [Gap("door", 42, 80)], 80, small(6))

    assert (made.shift, made.joints) == (-4, (10, 34, 58))


def test_where_no_shift_does_panels_are_equal_between_the_openings() -> None:
    """Width 222, door from 99 13/16 to 136 3/16, window from 149 13/16 to 180 3/16, least width 8: beside the door
    5 panels of (99 13/16 - 3/4) / 5 = 19 13/16; over it (36 3/8 - 3/8 - 3/16) / 2 = 17 29/32; between 13 5/8; over the
    window (30 3/8 - 3/8 - 3/16) / 2 = 14 29/32; right of it (41 13/16 - 3/16) / 2 = 20 13/16 (by hand)."""
    asked = Wish(inch(24), inch("3/16"), least_nm=inch(8))
    gaps = [Gap("door", inch("99 13/16"), inch("136 3/16")), Gap("window", inch("149 13/16"), inch("180 3/16"))]

    made = cleared(field_of(inch(222), asked, "B"), gaps, inch(222), asked)

    assert made.equal
    assert [column.width for column in columns(inch(222), made.joints, inch("3/16"))] == [
        *[inch("19 13/16")] * 5,
        *[inch("17 29/32")] * 2,
        inch("13 5/8"),
        *[inch("14 29/32")] * 2,
        *[inch("20 13/16")] * 2,
    ]


def crowded() -> tuple[list[Gap], Wish]:
    """Openings 4 apart, least width 10: no joint may begin from 40 to 64, more than a module, and no panel
    stands between them (by hand)."""
    return [Gap("one", 27, 51), Gap("other", 55, 83)], small(10, Start.JOINT)


def test_where_that_fails_panels_are_notched_and_the_legs_listed() -> None:
    gaps, asked = crowded()
    joints = field_of(110, asked, "B")

    made = cleared(joints, gaps, 110, asked)

    assert made.joints == joints == (6, 30, 54, 78, 102)
    assert {leg.done for leg in made.legs} == {AtOpening.NOTCH}
    assert [(leg.gap.name, leg.joint, leg.width) for leg in made.legs] == [
        ("one", 30, 3),
        ("one", 54, 3),
        ("other", 54, None),
        ("other", 78, 3),
    ]


def test_a_joint_at_the_opening_is_made_where_it_was_set() -> None:
    """At the left edge of `one` (27) a tongue of 3 lies before the joint from 30 on; a joint from 27 to 29 cuts it off.
    At its right edge one from 49 to 51 cuts off the leg of 3 (by hand)."""
    gaps, asked = crowded()
    asked = replace(asked, at_openings={"one": AtOpening.JOINT, "other": AtOpening.NOTCH})
    joints = field_of(110, asked, "B")

    made = cleared(joints, gaps, 110, asked)

    assert made.joints == (6, 27, 30, 49, 54, 78, 102)
    assert {(leg.gap.name, leg.done) for leg in made.legs} == {
        ("one", AtOpening.JOINT),
        ("other", AtOpening.NOTCH),
    }
