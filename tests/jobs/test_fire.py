"""Fire classes: a material against what a room requires, on paper and on the pages where it is seen before ordering.

The order of the classes is that of ASTM E84 as the International Building Code, 803.1.2, groups its indexes, and of
EN 13501-1 (both from memory). That two standards are not compared, and that an unstated class is told, are the
house's own rules (DEVELOPERS.md, "Fire class").
"""

from datetime import date

import pytest
from django.test import Client as Browser
from django.urls import reverse

from jobs import fire, lead_times, rooms, standing
from jobs.calculations.fire import BEST_FIRST, FireClassUnknown, check, standard_of
from jobs.models import LineShare, Room
from materials.models import Material
from materials.models.catalog import FIRE_CLASSES
from tests.makers import hand, make_job, make_material, make_need, make_order, make_room, post
from tests.typed import KEYS
from workshop import actions
from workshop.models import Action, Person

TODAY = date(2026, 11, 25)


@pytest.fixture(autouse=True)
def today(settings) -> None:
    settings.FIXED_TODAY = TODAY


# The calculation


@pytest.mark.parametrize(("standard", "classes"), BEST_FIRST.items())
def test_a_class_meets_itself_and_all_below_it_of_its_standard(standard: str, classes: tuple[str, ...]) -> None:
    for at, required in enumerate(classes):
        found = [check(required, stated).outcome for stated in classes]
        assert found == ["meets"] * (at + 1) + ["lower"] * (len(classes) - at - 1)
        assert check(required, required).required_by == standard


def test_classes_of_two_standards_are_not_compared() -> None:
    outcomes = {check(us, eu).outcome for us in BEST_FIRST["ASTM E84"] for eu in BEST_FIRST["EN 13501-1"]}

    assert outcomes == {"other standard"}
    assert check("A", "A1").stated_by == "EN 13501-1"


@pytest.mark.parametrize(("required", "outcome"), [("A", "not stated"), ("eD", "not stated"), ("", "meets")])
def test_what_is_not_stated_meets_nothing_that_is_required(required: str, outcome: str) -> None:
    assert check(required, "").outcome == outcome


@pytest.mark.parametrize("pair", [("A", "F"), ("F", "A"), ("a", ""), ("A", "B ")])
def test_a_class_of_neither_standard_is_refused(pair: tuple[str, str]) -> None:
    with pytest.raises(FireClassUnknown, match="is no fire class: use A, B or C of ASTM E84, or A1 to eE"):
        check(*pair)


def test_every_class_the_catalog_has_is_of_a_standard_and_named_by_it() -> None:
    assert {code: standard_of(code) in str(name) for code, name in FIRE_CLASSES} == dict.fromkeys(
        [*BEST_FIRST["ASTM E84"], *BEST_FIRST["EN 13501-1"]], True
    )


# In words


@pytest.mark.parametrize(
    ("required", "stated", "words"),
    [
        ("A", "C", "Class A (ASTM E84) is required; it is Class C (ASTM E84)"),
        ("A", "", "Class A (ASTM E84) is required; no class is stated for it"),
        ("A", "eB", "Class A (ASTM E84) is required; it states B (EN 13501-1), and the two cannot be compared"),
        ("C", "A", ""),
        ("", "C", ""),
    ],
)
def test_what_a_sheet_material_lacks_is_said(required: str, stated: str, words: str) -> None:
    assert fire.caution(required, Material(kind="sheet", fire_class=stated)) == words


@pytest.mark.parametrize(
    ("kind", "is_told"),
    [("sheet", True), ("lumber", True), ("trim", True), ("finish", False), ("fastener", False), ("light", False)],
)
def test_only_of_what_walls_are_made_of_a_class_must_be_stated(kind: str, is_told: bool) -> None:
    assert bool(fire.caution("A", Material(kind=kind))) is is_told


def test_rooms_are_named_up_to_four_and_then_counted(db: None) -> None:
    job = make_job()
    found = [make_room(job=job, name=f"Practice {at}", fire_class="A") for at in range(1, 7)]
    material = make_material(fire_class="C")

    (few,), (many,) = fire.cautions(material, found[:4]), fire.cautions(material, found)

    assert few.startswith("Fire class, Practice 1, Practice 2, Practice 3, Practice 4: Class A")
    assert many.startswith("Fire class, Practice 1, Practice 2, Practice 3 and 3 more rooms: Class A")


def test_rooms_of_two_jobs_carry_their_jobs_number(db: None) -> None:
    found = [make_room(job=make_job(number=n), name="Lobby", fire_class="A") for n in (12, 13)]

    (words,) = fire.cautions(make_material(fire_class="B"), found)

    assert words.startswith("Fire class, 12 Lobby, 13 Lobby:")


# On the pages


@pytest.fixture
def plywood(db: None) -> Material:
    return make_material(name="Ash-veneered plywood", fire_class="C")


@pytest.fixture
def lobby(plywood: Material) -> Room:
    room = make_room(job=make_job(number=12), name="Lobby", fire_class="A")
    make_need(room=room, material=plywood)
    return room


CAUTION = "Class A (ASTM E84) is required; it is Class C (ASTM E84)"


def test_a_room_is_given_its_fire_class_with_a_trace(staff_client: Browser, staff: Person, db: None) -> None:
    room = make_room(name="Lobby")
    url = reverse("jobs:room_edit", args=[room.pk])

    post(staff_client, url, name="Lobby", place="1", fire_class="eB", version=1)

    room.refresh_from_db()
    assert room.fire_class == "eB"
    assert actions.sentence_of(Action.objects.first()) == "Room Lobby changed"
    actions.undo(action=Action.objects.first(), by=hand(staff))
    room.refresh_from_db()
    assert room.fire_class == ""


def test_a_new_room_can_have_its_fire_class_at_once(staff_client: Browser, db: None) -> None:
    job = make_job()

    post(staff_client, reverse("jobs:room_new", args=[job.pk]), name="Lobby", fire_class="A")

    assert job.rooms.get().fire_class == "A"


@pytest.mark.parametrize("typed", [case for case in KEYS if case.id != "nothing"])
def test_a_fire_class_that_is_none_is_refused(staff_client: Browser, lobby: Room, typed: str) -> None:
    url = reverse("jobs:room_edit", args=[lobby.pk])

    answer = post(staff_client, url, name="Lobby", place="1", fire_class=typed, version=1)

    lobby.refresh_from_db()
    assert (answer.status_code, lobby.fire_class) == (422, "A")


def test_the_needs_of_a_room_say_what_does_not_meet_its_class(staff_client: Browser, lobby: Room) -> None:
    html = staff_client.get(reverse("jobs:room", args=[lobby.pk])).content.decode()

    assert CAUTION in html
    assert "The building official decides." in html


def test_a_room_whose_materials_meet_its_class_says_nothing(staff_client: Browser, lobby: Room) -> None:
    rooms.change(room=lobby, by=hand(None), version=1, name="Lobby", place=1, fire_class="C")

    html = staff_client.get(reverse("jobs:room", args=[lobby.pk])).content.decode()

    assert [row.caution for row in standing.needs_of(Room.objects.get(pk=lobby.pk))] == [""]
    assert "The building official decides." not in html


def test_what_is_not_ordered_yet_is_told_with_the_rooms(staff_client: Browser, lobby: Room) -> None:
    (row,) = lead_times.outlook(TODAY).to_order

    assert row.cautions == [f"Fire class, Lobby: {CAUTION}"]
    html = staff_client.get(reverse("jobs:lead_times")).content.decode()
    assert f"Fire class, Lobby: {CAUTION}" in html
    assert "The building official decides." in html


@pytest.mark.parametrize("seen_by", ["owner_client", "staff_client"])
def test_the_order_tells_it_before_it_is_placed(
    request: pytest.FixtureRequest, seen_by: str, lobby: Room, plywood: Material
) -> None:
    order = make_order(material=plywood)

    html = request.getfixturevalue(seen_by).get(reverse("materials:order", args=[order.pk])).content.decode()

    assert f"Fire class, Lobby: {CAUTION}" in html


def test_a_closed_job_asks_nothing_of_an_order(lobby: Room, plywood: Material) -> None:
    lobby.job.closed_on = TODAY
    lobby.job.save()

    line = make_order(material=plywood).lines.select_related("material").get()

    assert fire.of_lines([line]) == {line.pk: []}


def test_a_line_that_is_for_one_job_is_held_against_its_rooms_alone(lobby: Room, plywood: Material) -> None:
    line = make_order(material=plywood).lines.select_related("material").get()
    LineShare.objects.create(line=line, job=make_job(), quantity_micro=1_000_000)
    assert fire.of_lines([line]) == {line.pk: []}

    LineShare.objects.create(line=line, job=lobby.job, quantity_micro=1_000_000)

    assert [note.text for note in fire.of_lines([line])[line.pk]] == [f"Fire class, Lobby: {CAUTION}"]


def test_ten_lines_cost_the_queries_of_one(lobby: Room, plywood: Material, django_assert_num_queries) -> None:
    order = make_order(material=plywood)
    for _at in range(9):
        order.lines.create(material=plywood, quantity_micro=1_000_000, price_micro=0)
    lines = list(order.lines.select_related("material"))

    with django_assert_num_queries(2):
        assert len(fire.of_lines(lines)) == 10
