"""Cross joints, lined up round a room. Figures by hand."""

import pytest

from jobs.calculations.panels import About, Courses, Run, Start, Stock, Wish, cross_joints, lay_out, lay_out_room
from jobs.calculations.surfaces import LayoutRefused, Room, alone
from tests.jobs.calculations.surfaces.making import door, inch, wall

SHEET = Stock(inch(49), inch(97), inch("1/2"))


def wish(**more: object) -> Wish:
    return Wish(inch(24), inch("3/16"), **{"start": Start.LEFT, "stock": SHEET, **more})


def test_walls_no_higher_than_a_sheet_have_no_cross_joint() -> None:
    assert cross_joints([alone(wall(96, 96))], wish()) == ()


def test_full_sheets_stand_on_the_foot() -> None:
    assert cross_joints([alone(wall(96, 108))], wish()) == (inch(96),)


def test_equal_courses_share_the_height() -> None:
    """108 less 3/16, halved: 53 29/32 and 53 29/32."""
    assert cross_joints([alone(wall(96, 108))], wish(), Courses.EQUAL) == (inch("53 29/32"),)


def test_where_full_sheets_leave_less_than_the_least_width_courses_are_equal() -> None:
    """98 in: 96 and a rest of 1 13/16; with a least width of 4 both courses are (98 - 3/16) / 2 = 48 29/32."""
    assert cross_joints([alone(wall(96, 98))], wish(least_nm=inch(4))) == (inch("48 29/32"),)
    assert cross_joints([alone(wall(96, 98))], wish()) == (inch(96),)


def test_heights_are_told_from_the_level_line_and_line_up_round_the_room() -> None:
    """The level line is 40 in over the floor of A and 42 in over that of C, which lies 2 in lower."""
    one, other = wall(96, 108, name="A", level_nm=inch(40)), wall(96, 110, name="C", level_nm=inch(42))

    heights = cross_joints([alone(one), alone(other)], wish())

    assert heights == (inch(54),)
    layouts = [lay_out(alone(each), wish(cross_nm=heights)) for each in (one, other)]
    assert [layout.panels[0].size_nm[1] for layout in layouts] == [inch(94), inch(96)]
    assert [layout.panels[1].size_nm[1] for layout in layouts] == [inch("13 13/16")] * 2


def test_pieces_of_a_place_are_numbered_from_the_foot_up() -> None:
    layout = lay_out(alone(wall(48, 108)), wish(cross_nm=(inch(96),)))

    assert [panel.name for panel in layout.panels] == ["B1.1", "B1.2", "B2.1", "B2.2"]


def test_a_rest_over_a_cross_joint_no_wider_than_a_reveal_stays_on_the_panel() -> None:
    layout = lay_out(alone(wall(48, "96 3/16")), wish(cross_nm=(inch(96),)))

    assert [panel.size_nm[1] for panel in layout.panels] == [inch("96 3/16")] * 2
    assert layout.cross_nm == ()


def test_panels_across_are_parted_along_the_wall() -> None:
    asked = wish(run=Run.ACROSS)

    assert cross_joints([alone(wall(222, 90))], asked) == (inch(96), inch("192 3/16"))


def test_a_cross_joint_close_to_the_head_of_a_door_is_told() -> None:
    """The door's reveal ends at 84 3/16, 3 13/16 below a joint at 88; the least width is 6."""
    surface = wall(96, 108, openings=(door(30),))

    layout = lay_out(alone(surface), wish(least_nm=inch(6), cross_nm=(inch(88),), start=Start.JOINT))

    told = [str(finding.told) for finding in layout.findings if finding.about is About.CROSS]
    assert told == ["the cross joint at 7′-4″ lies 3 13/16″ from the edge of door"]


def test_without_a_sheet_nothing_is_known_of_cross_joints() -> None:
    with pytest.raises(LayoutRefused, match="a sheet with its length or heights of the cross joints would do"):
        cross_joints([alone(wall(96, 108))], wish(stock=None))


def test_the_walls_of_a_room_share_their_cross_joints() -> None:
    """A of 108, B of 110 that begins 2 lower: the lowest foot decides, 96 over it is 94 over the floor of A."""
    walls = [
        wall(96, 108, name="A", level_nm=inch(40)),
        wall(96, 110, name="B", level_nm=inch(42)),
        wall(96, 92, name="C", level_nm=inch(40)),
    ]
    room = Room(tuple(walls))

    layouts = lay_out_room(room, {name: wish() for name in "ABC"})

    assert {name: layout.cross_nm for name, layout in layouts.items()} == {"A": (inch(94),), "B": (inch(96),), "C": ()}
