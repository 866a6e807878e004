"""Walls and ceilings of a room: worked out before they are kept, changed, mirrored, measured, taken back."""

import pytest
from django.core.exceptions import ValidationError
from django.test import Client as Browser
from django.urls import reverse

from jobs import drawing_list, rooms
from jobs.models import Cutout, Edge, Measure, Opening, Room, Surface
from jobs.surfaces import drawn, holes, writing
from tests.makers import hand, make_drawing, make_material, make_revision, make_room, post
from tests.queries import queries_of
from workshop import actions
from workshop.models import Action, Person

INCH = 25_400_000
WALL = {"name": "B", "width_nm": 222 * INCH, "height_nm": 96 * INCH}
PANELED = {**WALL, "module_nm": 24 * INCH, "reveal_nm": INCH * 3 // 16, "least_nm": 6 * INCH}
DOOR = {"kind": "door", "left_nm": 100 * INCH, "foot_nm": 0, "width_nm": 36 * INCH, "height_nm": 80 * INCH}
BOX = {"kind": "box", "center_nm": 40 * INCH, "center_height_nm": 20 * INCH}
BOX |= {"width_nm": 4 * INCH, "height_nm": 4 * INCH}
TYPED = {"name": "B", "kind": "wall", "shape": "rectangle", "width_nm": "18'-6\"", "height_nm": "96", "module_nm": "24"}
TYPED |= {"reveal_nm": "3/16", "start": "balanced", "runs": "up"}


@pytest.fixture
def room(db: None) -> Room:
    return make_room(name="Practice 1")


def wall(room: Room, by: Person, **fields: object) -> Surface:
    return writing.add(room=room, by=hand(by), **{**PANELED, **fields})


def sizes(surface: Surface) -> list[str]:
    return [row.size for row in drawn.of_surface(Surface.objects.get(pk=surface.pk)).panels]


def told() -> str:
    return actions.sentence_of(Action.objects.first())


# Adding and the layout


def test_a_wall_comes_with_its_panels_laid_out(room: Room, staff: Person) -> None:
    surface = wall(room, staff)

    # By hand: 222 less nine reveals of 3/16 and eight panels of 23 13/16 leaves 29 13/16, half of it at each end.
    assert sizes(surface) == ["14 29/32 × 96", *["23 13/16 × 96"] * 8, "14 29/32 × 96"]
    assert told() == "Practice 1: B added"


def test_a_wall_without_a_module_has_no_panels_yet(room: Room, staff: Person) -> None:
    assert sizes(writing.add(room=room, by=hand(staff), **WALL)) == []


def test_panels_wider_than_the_sheet_are_refused_at_the_module(room: Room, staff: Person) -> None:
    narrow = make_material(name="Ash 18 in", width_nm=18 * INCH, length_nm=97 * INCH)

    with pytest.raises(ValidationError, match="wider than the sheet gives") as caught:
        wall(room, staff, material=narrow)

    assert list(caught.value.message_dict) == ["module_nm"]
    assert not Surface.objects.exists()


def test_a_least_width_no_layout_keeps_is_refused_with_two_that_would_do(room: Room, staff: Person) -> None:
    with pytest.raises(ValidationError) as caught:
        wall(room, staff, width_nm=50 * INCH, least_nm=20 * INCH)

    assert list(caught.value.message_dict) == ["least_nm"]
    assert "would do, or" in caught.value.message_dict["least_nm"][0]


def test_one_room_has_one_wall_of_a_name(room: Room, staff: Person) -> None:
    wall(room, staff)

    with pytest.raises(ValidationError, match="Choose another letter"):
        wall(room, staff)


def test_a_plain_room_is_four_walls_and_a_ceiling(room: Room, staff: Person) -> None:
    made = writing.plain(room=room, by=hand(staff), length_nm=222 * INCH, width_nm=144 * INCH, height_nm=96 * INCH)

    assert [(each.name, each.width_nm // INCH) for each in made] == [
        ("A", 222),
        ("B", 144),
        ("C", 222),
        ("D", 144),
        ("CL", 222),
    ]
    with pytest.raises(ValidationError, match="has walls already"):
        writing.plain(room=room, by=hand(staff), length_nm=INCH, width_nm=INCH, height_nm=INCH)


def test_the_wall_that_butts_loses_the_build_up_of_the_other(room: Room, staff: Person) -> None:
    ash = make_material(name="Ash", thickness_nm=3 * INCH // 4)
    built = {"material": ash, "battens_nm": 3 * INCH // 4, "module_nm": None}
    for name in ("A", "B"):
        wall(room, staff, name=name, width_nm=100 * INCH, **built)
    surface = Surface.objects.get(name="B")
    surface.module_nm = 200 * INCH
    surface.save()

    # By hand: 100 less battens of 3/4 and panels of 3/4 of the wall at its left, hung first.
    assert sizes(surface) == ["98 1/2 × 96"]


@pytest.mark.parametrize(("width", "told"), [(222, "148 sq ft"), (100, "≈ 66.7 sq ft")])
def test_an_area_that_is_rounded_says_so(room: Room, staff: Person, width: int, told: str) -> None:
    # By hand: 222 by 96 in are 148 square feet, 100 by 96 in are 66 2/3.
    surface = writing.add(room=room, by=hand(staff), **{**WALL, "width_nm": width * INCH})

    assert drawn.of_surface(surface).gross == told


# What is in it


def test_joints_keep_clear_of_a_door(room: Room, staff: Person) -> None:
    surface = wall(room, staff)

    holes.add(surface=surface, model=Opening, by=hand(staff), **DOOR)

    shown = drawn.of_surface(Surface.objects.get(pk=surface.pk))
    assert any("clear of" in line for line in shown.told)
    assert [each.get_kind_display() for each in shown.openings] == ["Door"]
    assert told() == "Practice 1, B: door added"


@pytest.mark.parametrize(
    ("model", "fields", "at"),
    [
        pytest.param(Opening, {**DOOR, "left_nm": 200 * INCH}, "width_nm", id="an opening beyond the end"),
        pytest.param(Opening, {**DOOR, "height_nm": 97 * INCH}, "height_nm", id="an opening higher than the wall"),
        pytest.param(Cutout, {**BOX, "depth_nm": 2 * INCH, "center_nm": INCH}, "center_nm", id="a box over the end"),
    ],
)
def test_what_does_not_fit_is_refused_at_its_field(
    room: Room, staff: Person, model: type, fields: dict, at: str
) -> None:
    surface = wall(room, staff)

    with pytest.raises(ValidationError) as caught:
        holes.add(surface=surface, model=model, by=hand(staff), **fields)

    assert list(caught.value.message_dict) == [at]
    assert not model.objects.exists()


def test_two_openings_in_one_place_are_refused(room: Room, staff: Person) -> None:
    surface = wall(room, staff)
    holes.add(surface=surface, model=Opening, by=hand(staff), **DOOR)

    with pytest.raises(ValidationError, match="door"):
        holes.add(surface=surface, model=Opening, by=hand(staff), **{**DOOR, "left_nm": 120 * INCH})


def test_a_wall_is_not_made_smaller_than_what_is_in_it(room: Room, staff: Person) -> None:
    surface = wall(room, staff)
    holes.add(surface=surface, model=Opening, by=hand(staff), **DOOR)

    with pytest.raises(ValidationError):
        writing.change(surface=surface, by=hand(staff), version=1, edges=[], **{**PANELED, "width_nm": 120 * INCH})

    assert Surface.objects.get().width_nm == 222 * INCH


def test_a_box_stands_in_its_panel_from_that_panels_side_and_foot(room: Room, staff: Person) -> None:
    surface = wall(room, staff)

    holes.add(surface=surface, model=Cutout, by=hand(staff), depth_nm=2 * INCH, **{**BOX, "center_nm": 27 * INCH})

    # By hand: B2 begins at 14 29/32 + 3/16 = 15 3/32; the center lies 11 29/32 from there.
    told_of = {row.name: row.more for row in drawn.of_surface(Surface.objects.get(pk=surface.pk)).panels}
    assert told_of["B2"] == "electrical box 1 at 11 29/32 from its left side, 20 from its foot"


# Copying, measuring, releasing


def test_a_mirrored_wall_has_left_and_right_exchanged(room: Room, staff: Person) -> None:
    edges = [{"side": "left", "condition": "reveal", "amount_nm": INCH // 2, "is_first": False}]
    surface = writing.add(room=room, by=hand(staff), edges=edges, **{**PANELED, "start": "left"})
    holes.add(surface=surface, model=Opening, by=hand(staff), **{**DOOR, "left_nm": 20 * INCH})

    made = writing.copy(surface=surface, by=hand(staff), name="D", mirror=True)

    assert made.start == "right"
    assert made.openings.get().left_nm == (222 - 20 - 36) * INCH
    assert (made.edges.get().side, made.edges.get().amount_nm) == (Edge.Side.RIGHT, INCH // 2)


def test_panels_follow_the_least_measured_width(room: Room, staff: Person) -> None:
    surface = wall(room, staff)

    measured = {"width_top_nm": 222 * INCH, "width_middle_nm": 221 * INCH, "height_left_nm": 95 * INCH}
    writing.measure(surface=surface, by=hand(staff), measured_on="2026-11-25", **measured)

    # By hand: an inch less is half an inch less at each end.
    shown = drawn.of_surface(Surface.objects.get(pk=surface.pk))
    assert (shown.panels[0].size, shown.panels[-1].size) == ("14 13/32 × 95", "14 13/32 × 95")
    assert any("the widths differ by" in line for line in shown.told)


def test_sizes_no_wall_can_have_are_refused(room: Room, staff: Person) -> None:
    surface = wall(room, staff)

    with pytest.raises(ValidationError, match="diagonal"):
        writing.measure(
            surface=surface,
            by=hand(staff),
            measured_on="2026-11-25",
            width_foot_nm=222 * INCH,
            height_left_nm=96 * INCH,
            diagonal_up_nm=100 * INCH,
        )

    assert not Measure.objects.exists()


def test_a_wall_nobody_can_measure_is_released_by_name_once(room: Room, staff: Person) -> None:
    surface = wall(room, staff)

    writing.release(surface=surface, by=hand(staff))

    assert drawn.of_surface(Surface.objects.get(pk=surface.pk)).state.startswith("Released by")
    with pytest.raises(ValidationError, match="released already"):
        writing.release(surface=surface, by=hand(staff))


def test_a_wall_taken_out_comes_back_whole_by_undo(room: Room, staff: Person) -> None:
    surface = wall(room, staff)
    holes.add(surface=surface, model=Opening, by=hand(staff), **DOOR)

    writing.remove(surface=surface, by=hand(staff))
    assert not Surface.objects.exists()
    actions.undo(action=Action.objects.first(), by=hand(staff))

    assert Surface.objects.get().openings.get().width_nm == 36 * INCH


def test_a_room_with_walls_is_not_taken_out(room: Room, staff: Person) -> None:
    wall(room, staff)

    with pytest.raises(ValidationError, match="holds 1 wall or ceiling"):
        rooms.remove(room=room, by=hand(staff))


def test_a_revision_a_wall_is_drawn_to_stays(room: Room, staff: Person) -> None:
    revision = make_revision(drawing=make_drawing(job=room.job))
    wall(room, staff, revision=revision)

    for take_out in (
        lambda: drawing_list.remove_revision(revision=revision, by=hand(staff)),
        lambda: drawing_list.remove(drawing=revision.drawing, by=hand(staff)),
    ):
        with pytest.raises(ValidationError, match="is named at Practice 1, B"):
            take_out()


# Pages


def test_a_wall_is_typed_as_the_shop_writes_it(staff_client: Browser, room: Room) -> None:
    answer = post(staff_client, reverse("jobs:surface_new", args=[room.pk]), **TYPED)

    surface = Surface.objects.get()
    assert (answer.status_code, answer.url) == (303, reverse("jobs:surface", args=[surface.pk]))
    assert surface.width_nm == 222 * INCH


def test_the_drawing_comes_as_the_sizes_are_typed(staff_client: Browser, room: Room) -> None:
    url = reverse("jobs:surface_sketch", args=[room.pk])

    nothing = staff_client.get(url, {"name": "B"}, headers={"HX-Request": "true"}).content.decode()
    drawn_now = staff_client.get(url, TYPED).content.decode()
    refused = staff_client.get(url, {**TYPED, "least_nm": "23", "width_nm": "50"}).content.decode()

    assert 'id="surface_sketch"' in nothing and "comes as you type" in nothing
    assert "<svg" in drawn_now and "23 13/16" in drawn_now
    assert "would do, or" in refused


def test_a_refused_wall_keeps_what_was_typed(staff_client: Browser, room: Room) -> None:
    answer = post(staff_client, reverse("jobs:surface_new", args=[room.pk]), **{**TYPED, "width_nm": "12-3"})

    assert answer.status_code == 422
    assert 'value="12-3"' in answer.content.decode()
    assert not Surface.objects.exists()


def test_the_list_of_a_room_costs_the_same_for_one_wall_and_for_twelve(
    staff_client: Browser, room: Room, staff: Person
) -> None:
    url = reverse("jobs:surfaces", args=[room.pk])
    wall(room, staff, name="A")
    one = queries_of(staff_client, url)
    for name in "BCDEFGHIJKL":
        writing.release(surface=wall(room, staff, name=name), by=hand(staff))

    assert queries_of(staff_client, url) == one
