"""What a room takes of each material."""

import pytest
from django.test import Client as Browser
from django.urls import reverse

from jobs.models import Need, Room
from materials.models import Material
from tests.makers import hand, make_material, make_need, make_room, post
from workshop import actions
from workshop.models import Action, Person


def new_url(room: Room) -> str:
    return reverse("jobs:need_new", args=[room.pk])


def edit_url(need: Need) -> str:
    return reverse("jobs:need", args=[need.pk])


def make_ash(**fields: object) -> Material:
    return make_material(kind="lumber", name="Solid ash 8/4", **fields)


def test_sheets_are_needed_in_halves(owner_client: Browser) -> None:
    room, plywood = make_room(), make_material()

    answer = post(owner_client, new_url(room), material=plywood.pk, quantity_micro="2 1/2")

    assert Need.objects.get().quantity_micro == 2_500_000
    assert answer.url == reverse("jobs:room", args=[room.pk])


@pytest.mark.parametrize(
    ("kind", "unit", "typed", "micro"),
    [
        ("lumber", "board_foot", "48", 48_000_000),
        ("lumber", "board_foot", "48.5", 48_500_000),
        ("trim", "foot", "24", 24_000_000),
        ("trim", "foot", "3 m", 9_842_520),  # NIST Handbook 44: 1 ft is 0.3048 m
        ("finish", "gallon", "20 L", 5_283_441),  # NIST Handbook 44: 1 gal is 3.785411784 L
        ("sheet", "sheet", "5 sheets", 5_000_000),
    ],
)
def test_the_number_is_read_in_the_unit_of_the_material(
    owner_client: Browser, kind: str, unit: str, typed: str, micro: int
) -> None:
    material = make_material(kind=kind, unit=unit)

    post(owner_client, new_url(make_room()), material=material.pk, quantity_micro=typed)

    assert Need.objects.get().quantity_micro == micro


def test_the_list_of_materials_names_their_units(owner_client: Browser) -> None:
    make_ash()

    page = owner_client.get(new_url(make_room())).content.decode()

    assert "Solid ash 8/4 (bd ft)" in page


def test_add_and_next_comes_back_without_the_material_just_listed(owner_client: Browser) -> None:
    room, plywood, ash = make_room(), make_material(), make_ash()

    answer = post(owner_client, new_url(room), material=plywood.pk, quantity_micro="5", then="next")

    assert answer.url == new_url(room)
    assert list(owner_client.get(answer.url).context["form"].fields["material"].queryset) == [ash]


def test_a_material_in_the_address_is_chosen(owner_client: Browser) -> None:
    ash = make_ash()

    page = owner_client.get(new_url(make_room()), {"material": ash.pk})

    assert f'<option value="{ash.pk}" selected>' in page.content.decode()
    assert page.context["form"].fields["quantity_micro"].unit == "bd ft"


@pytest.mark.parametrize("asked", ["", "x", "999", "9" * 40, "-1"])
def test_a_strange_material_in_the_address_chooses_nothing(owner_client: Browser, asked: str) -> None:
    make_ash()

    assert owner_client.get(new_url(make_room()), {"material": asked}).status_code == 200


@pytest.mark.parametrize(
    ("typed", "message"),
    [
        ("", "This is empty. Fill it in."),
        ("0", "This is 0."),
        ("-1", "-1"),
        ("NaN", "NaN"),
        ("1e400", "1e400"),
        ("10" + "0" * 30, "1"),
        ("x" * 100_000, "At most 40 letters do."),
        ("1\0", "a sign that cannot be typed"),
        ("<b>", "&lt;b&gt;"),
        ("2.3", "2.3 sheets cannot be counted out: sheets go in halves. Type 2 or 2 1/2."),
        ("0.2", "sheets go in halves. Type 1/2 or 1."),
        ("1000001", "is more than a room takes."),
        ("3 gal", "3 gal"),
    ],
)
def test_what_cannot_be_a_number_of_sheets_is_refused(owner_client: Browser, typed: str, message: str) -> None:
    answer = post(owner_client, new_url(make_room()), material=make_material().pk, quantity_micro=typed)

    assert answer.status_code == 422
    assert message in answer.content.decode()
    assert Need.objects.count() == 0


@pytest.mark.parametrize("chosen", ["", "999", "x", "\0", "1" * 40])
def test_a_material_that_is_not_there_is_refused(owner_client: Browser, chosen: str) -> None:
    make_material()

    answer = post(owner_client, new_url(make_room()), material=chosen, quantity_micro="5")

    assert answer.status_code == 422
    assert Need.objects.count() == 0


def test_a_material_on_the_list_is_not_listed_twice(owner_client: Browser) -> None:
    need = make_need()

    answer = post(owner_client, new_url(need.room), material=need.material_id, quantity_micro="5")

    assert answer.status_code == 422 or Need.objects.count() == 1
    assert Need.objects.count() == 1


def test_the_trace_of_the_room_says_what_it_needs(owner_client: Browser) -> None:
    room, ash = make_room(name="Lobby"), make_ash()

    post(owner_client, new_url(room), material=ash.pk, quantity_micro="48")

    assert [actions.sentence_of(a) for a in actions.trace(room)] == ["Lobby needs 48 bd ft of Solid ash 8/4"]


def test_a_need_is_changed_and_undone(owner_client: Browser, owner: Person) -> None:
    need = make_need()

    post(owner_client, edit_url(need), material=need.material_id, quantity_micro="6", version=1)

    need.refresh_from_db()
    assert need.quantity_micro == 6_000_000
    actions.undo(action=Action.objects.first(), by=hand(owner))
    need.refresh_from_db()
    assert need.quantity_micro == 5_000_000


def test_a_stale_need_shows_both_values(owner_client: Browser) -> None:
    need = make_need()
    post(owner_client, edit_url(need), material=need.material_id, quantity_micro="6", version=1)

    answer = post(owner_client, edit_url(need), material=need.material_id, quantity_micro="7", version=1)

    assert answer.status_code == 422
    assert "Stored now: 6" in answer.content.decode()


def test_the_same_key_twice_lists_one_need(owner_client: Browser) -> None:
    room, plywood, key = make_room(), make_material(), actions.new_key()

    post(owner_client, new_url(room), key=key, material=plywood.pk, quantity_micro="5")
    again = post(owner_client, new_url(room), key=key, material=plywood.pk, quantity_micro="5")

    assert Need.objects.count() == 1
    assert again.status_code == 303


def test_a_need_is_taken_off_the_list_and_put_back(owner_client: Browser, owner: Person) -> None:
    need = make_need()

    answer = post(owner_client, reverse("jobs:need_remove", args=[need.pk]))

    assert answer.url == reverse("jobs:room", args=[need.room_id])
    assert Need.objects.count() == 0
    actions.undo(action=Action.objects.first(), by=hand(owner))
    assert Need.objects.get().quantity_micro == 5_000_000


def test_a_need_is_taken_off_by_post_only(owner_client: Browser) -> None:
    assert owner_client.get(reverse("jobs:need_remove", args=[make_need().pk])).status_code == 405


def test_without_materials_the_page_leads_to_the_first(owner_client: Browser) -> None:
    page = owner_client.get(new_url(make_room())).content.decode()

    assert "Add the first material" in page
    assert reverse("materials:material_new") in page
