"""Layouts along one line: figures by hand, and what holds for every width."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from jobs.calculations.panels import Centers, Start, Wish
from jobs.calculations.panels.fields import columns, equal_panels, field_of, off_center
from jobs.calculations.surfaces import LayoutRefused, LeastWidthNotKept
from tests.jobs.calculations.surfaces.making import inch
from workshop.calculations.lengths import GRID_NM

MM = 1_000_000
MODULE, REVEAL = inch(24), inch("3/16")


def wish(start: Start = Start.BALANCED, least: str | int = 0, **more: object) -> Wish:
    return Wish(MODULE, REVEAL, start=start, least_nm=inch(least), **more)


def widths(width: str | int, asked: Wish) -> list[int]:
    joints = field_of(inch(width), asked, "B")
    return [column.width for column in columns(inch(width), joints, asked.reveal_nm)]


def inches(*texts: str) -> list[int]:
    return [inch(text) for text in texts]


def test_a_module_of_24_with_a_reveal_of_3_16_has_panels_of_23_13_16() -> None:
    """24 less 3/16 (by hand)."""
    assert wish().panel_nm == inch("23 13/16")


def test_a_balanced_wall_of_18_ft_6() -> None:
    """Joint at the center: 111 - 3/32 = 110 29/32, less 4 x 24 = 14 29/32. Panel at the center: 2 29/32 (by hand)."""
    assert widths(222, wish()) == [inch("14 29/32"), *inches("23 13/16") * 8, inch("14 29/32")]


def test_the_panel_at_the_center_is_taken_where_its_ends_are_wider() -> None:
    """Width 120. Panel: (120 - 23 13/16) / 2 - 3/16 = 47 29/32, less 24 = 23 29/32, wider than a panel.
    Joint: 60 - 3/32 = 59 29/32, less 48 = 11 29/32. So the joint (by hand). At 116 it is the panel:
    (116 - 23 13/16) / 2 - 3/16 - 24 = 21 29/32 against 58 - 3/32 - 48 = 9 29/32."""
    assert widths(120, wish())[0] == inch("11 29/32")
    assert widths(116, wish()) == inches("21 29/32", "23 13/16", "23 13/16", "23 13/16", "21 29/32")


def test_where_two_ends_cannot_be_equal_the_earlier_is_rounded_down() -> None:
    """222 1/64 in: the two ends share 29 53/64 in, 14 58/64 and 14 59/64 on the grid (by hand)."""
    made = widths("222 1/64", wish())

    assert (made[0], made[-1]) == (inch("14 29/32"), inch("14 59/64"))


def test_a_metric_grid_is_a_tenth_of_a_millimeter() -> None:
    """2400.1 mm, module 600, reveal 5: joint at the center leaves 1197.55 less 600 = 597.55, wider than 595 mm.
    Panel at the center: (2400.1 - 595) / 2 - 5 - 600 = 297.55, so 297.5 and 297.6 (by hand)."""
    asked = Wish(600 * MM, 5 * MM, grid_nm=MM // 10)
    joints = field_of(24001 * MM // 10, asked, "B")

    made = columns(24001 * MM // 10, joints, asked.reveal_nm)

    assert [column.width for column in made] == [2975 * MM // 10, *[595 * MM] * 3, 2976 * MM // 10]


@pytest.mark.parametrize(
    ("width", "made"),
    [
        ("95 13/16", ["23 13/16"] * 4),
        (96, [*["23 13/16"] * 3, "24"]),
        (100, [*["23 13/16"] * 4, "4"]),
        ("23 13/16", ["23 13/16"]),
        (24, ["24"]),
        (10, ["10"]),
    ],
)
def test_from_the_left_end_the_last_panel_takes_the_rest(width: str | int, made: list[str]) -> None:
    """96 in: four panels and three reveals are 95 13/16, and the rest of 3/16 goes to the last (by hand)."""
    assert widths(width, wish(Start.LEFT)) == inches(*made)
    assert widths(width, wish(Start.RIGHT)) == inches(*made)[::-1]


@pytest.mark.parametrize(
    ("start", "width", "made"),
    [
        (Start.JOINT, 60, ["5 29/32", "23 13/16", "23 13/16", "5 29/32"]),
        (Start.PANEL, 60, ["17 29/32", "23 13/16", "17 29/32"]),
        (Start.JOINT, 48, ["23 29/32", "23 29/32"]),
        (Start.PANEL, 24, ["24"]),
        (Start.JOINT, 24, ["11 29/32", "11 29/32"]),
    ],
)
def test_a_layout_is_centered_as_it_was_asked(start: Start, width: int, made: list[str]) -> None:
    """60 in, joint: 30 - 3/32 - 24; panel: (60 - 23 13/16) / 2 - 3/16 (by hand)."""
    assert widths(width, wish(start)) == inches(*made)


def test_a_balanced_wall_narrower_than_a_panel_is_one_panel() -> None:
    assert widths(20, wish()) == [inch(20)]


def test_neither_balanced_layout_keeps_the_least_width_and_two_ways_out_are_offered() -> None:
    """222 in: ends of 14 29/32 or 2 29/32. From one end nine modules are 216, the last panel is 6 (by hand)."""
    with pytest.raises(LeastWidthNotKept) as refused:
        widths(222, wish(least=16))

    assert (refused.value.largest_least_nm, refused.value.last_panel_nm) == (inch("14 29/32"), inch(6))
    assert str(refused.value) == (
        "B: no balanced layout keeps a least width of 1′-4″; "
        "a least width of 1′-2 29/32″ or the layout from one end, its last panel 6″ would do"
    )
    assert widths(222, wish(least="14 29/32"))[0] == inch("14 29/32")
    assert widths(222, wish(Start.LEFT, least=16))[-1] == inch(6)


def test_a_module_that_gives_hundreds_of_panels_is_refused() -> None:
    with pytest.raises(LayoutRefused, match="the module gives more than 500 panels; a module of 27′-9″ or"):
        field_of(inch(2664), Wish(inch(5), inch("1/8")), "B")


def test_joints_fall_on_centers_where_the_module_agrees_with_them() -> None:
    """Studs at 24 in from 3 in on: the first joint is centered at 27 - 24 = 3 or at 27; at 3 it leaves 2 29/32."""
    asked = wish(Start.CENTERS, centers=Centers(inch(24), inch(3)))

    joints = field_of(inch(222), asked, "B")

    assert [off_center(joint, asked, 0) for joint in joints] == [0] * len(joints)
    assert joints[0] == inch("2 29/32")


def test_on_centers_the_layout_with_the_fewest_misses_and_the_widest_ends_is_taken() -> None:
    """Studs at 16 in from 0 on, module 24: every other joint misses by 8 in. Of the phases 16 and 8 (a stud at 32, one
    module back) the first has the wider ends: 16 - 3/32 at the left, 222 - 208 - 3/32 at the right (by hand)."""
    asked = wish(Start.CENTERS, least=4, centers=Centers(inch(16), 0))

    joints = field_of(inch(222), asked, "B")

    assert joints[0] == inch("15 29/32")
    assert {off_center(joint, asked, 0) for joint in joints} == {0, inch(8)}


@pytest.mark.parametrize(
    ("width", "made"),
    [
        (48, ["15 7/8"] * 3),
        ("47 13/16", ["23 13/16"] * 2),
        ("40 1/64", ["19 29/32", "19 59/64"]),
        (20, ["20"]),
    ],
)
def test_equal_panels_are_the_fewest_and_the_last_takes_the_difference(width: str | int, made: list[str]) -> None:
    """48 less two reveals, over three; 40 1/64 less 3/16 is 39 53/64, half of it 19 58/64 and 19 59/64 (by hand)."""
    joints = equal_panels(inch(width), inch("23 13/16"), REVEAL, GRID_NM)

    assert [column.width for column in columns(inch(width), joints, REVEAL)] == inches(*made)


sizes = st.integers(64, 64 * 400).map(lambda number: number * GRID_NM)


@given(
    width=sizes,
    module=st.integers(64 * 4, 64 * 48).map(lambda number: number * GRID_NM),
    reveal=st.integers(0, 64).map(lambda number: number * GRID_NM),
    start=st.sampled_from([start for start in Start if start is not Start.CENTERS]),
)
@settings(deadline=None, max_examples=300)
def test_panels_and_reveals_add_up_and_none_is_wider_than_the_modules(
    width: int, module: int, reveal: int, start: Start
) -> None:
    asked = Wish(module, reveal, start=start)

    made = columns(width, field_of(width, asked, "B"), reveal)

    assert sum(column.width for column in made) + (len(made) - 1) * reveal == width
    assert all(column.width > 0 for column in made)
    assert min(made[0].width, made[-1].width) < GRID_NM or all(column.width % GRID_NM == 0 for column in made)
    assert all(column.width == asked.panel_nm for column in made[1:-1])
    rest = max(made[0].width, made[-1].width) - asked.panel_nm
    rests = 2 if start is Start.PANEL and len(made) == 1 else 1
    assert rest <= (0 if start is Start.BALANCED else rests * reveal)


@given(width=sizes, module=st.integers(64 * 4, 64 * 48).map(lambda number: number * GRID_NM))
@settings(deadline=None, max_examples=150)
def test_a_balanced_layout_has_alike_ends_no_narrower_than_those_of_either_centered_one(
    width: int, module: int
) -> None:
    asked = Wish(module, REVEAL)
    ends = []
    for start in (Start.JOINT, Start.PANEL):
        made = columns(width, field_of(width, Wish(module, REVEAL, start=start), "B"), REVEAL)
        if max(made[0].width, made[-1].width) <= asked.panel_nm:
            ends.append(made[0].width)

    balanced = columns(width, field_of(width, asked, "B"), REVEAL)

    assert balanced[0].width == max(ends)
    assert 0 <= balanced[-1].width - balanced[0].width <= GRID_NM
