"""The ladder of tone groups: added, renamed, recolored, moved, removed while it is not used."""

import pytest
from django.test import Client as Browser
from django.urls import reverse

from materials.models import Material, ToneGroup
from tests.makers import hand, make_ladder, make_lot, make_material, make_sheets, post
from workshop import actions
from workshop.actions import undo
from workshop.models import Action, Person


def ladder(material: Material) -> list[tuple[int, str]]:
    return list(material.tone_groups.order_by("place").values_list("place", "name"))


def group_url(group: ToneGroup) -> str:
    return reverse("materials:tone", args=[group.pk])


def test_a_group_is_added_at_the_dark_end(staff_client: Browser) -> None:
    material = make_material()
    make_ladder(material)

    post(staff_client, reverse("materials:tones", args=[material.pk]), name="Smoked", color_0="#836443", color_1="")

    assert ladder(material)[-1] == (5, "Smoked")
    assert material.tone_groups.get(place=5).color == "#836443"


@pytest.mark.parametrize(
    ("picked", "typed", "kept"),
    [("#836443", "", "#836443"), ("#836443", "#9C7B54", "#9c7b54"), ("#836443", "9c7b54", "#9c7b54")],
)
def test_a_typed_color_counts_before_the_picked_one(staff_client: Browser, picked: str, typed: str, kept: str) -> None:
    material = make_material()

    post(staff_client, reverse("materials:tones", args=[material.pk]), name="Smoked", color_0=picked, color_1=typed)

    assert material.tone_groups.get().color == kept


@pytest.mark.parametrize("typed", ["brown", "#12345", "#1234567", "#12345g", "a" * 100_000, "#12\x00456"])
def test_what_is_no_color_is_refused(staff_client: Browser, typed: str) -> None:
    material = make_material()
    url = reverse("materials:tones", args=[material.pk])

    answer = post(staff_client, url, name="Smoked", color_0="#836443", color_1=typed)

    assert answer.status_code == 422
    assert answer.context["form"].errors["color"]
    assert not material.tone_groups.exists()


def test_a_ladder_has_at_most_twelve_groups(staff_client: Browser) -> None:
    material = make_material()
    for place in range(1, 13):
        ToneGroup.objects.create(material=material, place=place, name=f"Step {place}", color="#dfcca9")

    answer = post(staff_client, reverse("materials:tones", args=[material.pk]), name="More", color_0="#836443")

    assert answer.status_code == 422
    assert "A ladder has at most 12 groups." in answer.content.decode()
    assert material.tone_groups.count() == 12


@pytest.mark.parametrize(
    ("name", "place", "order"),
    [
        ("Pale", 3, ["Cream", "Honey", "Pale", "Brown"]),
        ("Brown", 1, ["Brown", "Pale", "Cream", "Honey"]),
        ("Cream", 4, ["Pale", "Honey", "Brown", "Cream"]),
        ("Honey", 3, ["Pale", "Cream", "Honey", "Brown"]),
    ],
)
def test_a_group_moves_and_the_others_close_up(staff_client: Browser, name: str, place: int, order: list[str]) -> None:
    material = make_material()
    make_ladder(material)
    group = material.tone_groups.get(name=name)

    post(staff_client, group_url(group), name=name, color_0=group.color, place=place, version="1")

    assert ladder(material) == list(enumerate(order, 1))


def test_a_move_is_taken_back(staff_client: Browser, owner: Person) -> None:
    material = make_material()
    group = make_ladder(material)[0]
    post(staff_client, group_url(group), name="Palest", color_0="#eadfc9", place=4, version="1")

    undo(action=Action.objects.get(), by=hand(owner))

    assert ladder(material) == list(enumerate(["Pale", "Cream", "Honey", "Brown"], 1))


def test_a_place_past_the_end_is_refused(staff_client: Browser) -> None:
    group = make_ladder(make_material())[0]

    answer = post(staff_client, group_url(group), name="Pale", color_0="#eadfc9", place=5, version="1")

    assert answer.status_code == 422
    assert "The ladder has 4 groups." in answer.content.decode()


def test_two_groups_of_one_name_are_refused(staff_client: Browser) -> None:
    group = make_ladder(make_material())[0]

    answer = post(staff_client, group_url(group), name="Cream", color_0="#eadfc9", place=1, version="1")

    assert answer.status_code == 422
    assert "There is a tone group named Cream. Choose another name." in answer.content.decode()


def test_a_group_changed_meanwhile_shows_both_names(staff_client: Browser) -> None:
    group = make_ladder(make_material())[0]
    post(staff_client, group_url(group), name="Palest", color_0="#eadfc9", place=1, version="1")

    answer = post(staff_client, group_url(group), name="Whitest", color_0="#eadfc9", place=1, version="1")

    assert answer.status_code == 422
    assert "Stored now: Palest" in answer.content.decode()
    assert "Whitest" in answer.content.decode()


def test_an_unused_group_is_removed_and_can_come_back(staff_client: Browser, owner: Person) -> None:
    material = make_material()
    group = make_ladder(material)[1]

    post(staff_client, reverse("materials:tone_remove", args=[group.pk]))

    assert ladder(material) == list(enumerate(["Pale", "Honey", "Brown"], 1))
    undo(action=Action.objects.get(), by=hand(owner))
    assert ladder(material) == list(enumerate(["Pale", "Cream", "Honey", "Brown"], 1))


def test_a_group_with_sheets_stays(staff_client: Browser) -> None:
    material = make_material()
    group = make_ladder(material)[0]
    make_sheets(make_lot(material=material), 1, tone_group=group, place=1)

    answer = post(staff_client, reverse("materials:tone_remove", args=[group.pk]))

    assert answer.status_code == 422
    assert "Sheets are sorted to Pale." in answer.content.decode()
    assert material.tone_groups.count() == 4


def test_the_trace_of_the_material_tells_it(staff_client: Browser) -> None:
    material = make_material(name="Ash-veneered plywood")
    group = make_ladder(material)[0]

    post(staff_client, group_url(group), name="Palest", color_0="#eadfc9", place=1, version="1")

    told = actions.sentence_of(actions.trace(material).first())
    assert told == "Ash-veneered plywood: tone group Palest changed"


def test_removing_asks_for_a_post(staff_client: Browser) -> None:
    group = make_ladder(make_material())[0]

    assert staff_client.get(reverse("materials:tone_remove", args=[group.pk])).status_code == 405
