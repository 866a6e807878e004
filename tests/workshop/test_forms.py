"""Forms carry a key and a version, keep what was typed, and put every refusal where it arose."""

import re
from collections.abc import Callable
from datetime import date

import pytest
from django import forms
from django.core.exceptions import ValidationError
from django.test import Client as Browser
from django.urls import reverse

from jobs.models import Client, Room
from tests import hostile
from tests.makers import hand, make_client, make_room, post
from workshop import people, shop
from workshop.actions import new_key
from workshop.forms import ActionForm, Form, LengthField, RowForm, initial_from
from workshop.models import Action, Person, Shop
from workshop.templatetags.figures import suggestions

pytestmark = pytest.mark.django_db
GOOD_CLIENT = {"name": "Elm Street Music School", "contact": "", "phone": "", "email": "", "address": ""}


@pytest.fixture
def new_client() -> str:
    return reverse("jobs:client_new")


def key_in(page: str) -> str:
    return re.search(r'name="key" value="([0-9a-f]{32})"[^>]*>\s*<div class="fields"', page)[1]


def value_in(page: str, name: str) -> str:
    return re.search(rf'name="{name}"[^>]*value="([^"]*)"', page)[1]


# The key


@pytest.mark.parametrize(
    "key",
    ["", "short", "g" * 32, "A" * 32, "a" * 31 + "\0", "a" * 33, hostile.LONG, hostile.MARKUP],
    ids=["none", "short", "letters", "capitals", "nul", "long", "very long", "markup"],
)
def test_a_key_that_is_none_is_refused_at_the_top_with_a_new_one_and_nothing_stored(
    owner_client: Browser, new_client: str, key: str
) -> None:
    answer = owner_client.post(new_client, GOOD_CLIENT | {"key": key})

    page = answer.content.decode()
    assert answer.status_code == 422
    assert "This page was not read whole. Look at it again, then send it once more." in page
    assert hostile.MARKUP not in page
    assert not Client.objects.exists()
    assert post(owner_client, new_client, **GOOD_CLIENT, key=key_in(page)).status_code == 303


def test_a_form_without_the_field_of_the_key_is_refused(owner_client: Browser, new_client: str) -> None:
    answer = owner_client.post(new_client, GOOD_CLIENT)

    assert answer.status_code == 422
    assert not Client.objects.exists()


def test_a_refused_form_keeps_its_key_for_the_next_send(owner_client: Browser, new_client: str) -> None:
    key = new_key()

    answer = post(owner_client, new_client, **GOOD_CLIENT | {"name": ""}, key=key)

    assert key_in(answer.content.decode()) == key


def test_every_page_opened_has_a_key_of_its_own(owner_client: Browser, new_client: str) -> None:
    keys = {key_in(owner_client.get(new_client).content.decode()) for _time in range(3)}

    assert len(keys) == 3


def test_a_button_alone_carries_nothing_but_the_key() -> None:
    assert list(ActionForm().fields) == ["key"]
    assert ActionForm({"key": new_key()}).is_valid()
    assert not ActionForm({}).is_valid()


# Refusals


def test_what_was_typed_is_kept_and_markup_stays_text(owner_client: Browser, new_client: str) -> None:
    answer = post(owner_client, new_client, **GOOD_CLIENT | {"email": "no", "name": hostile.MARKUP})

    page = answer.content.decode()
    assert value_in(page, "email") == "no"
    assert "&lt;script&gt;alert(&quot;ash&quot;)&lt;/script&gt;" in value_in(page, "name")
    assert hostile.MARKUP not in page


def test_the_note_counts_what_is_to_be_checked_and_leads_to_it(owner_client: Browser, new_client: str) -> None:
    answer = post(owner_client, new_client, **GOOD_CLIENT | {"email": "no", "name": ""})

    page = answer.content.decode()
    assert "Not saved: 2 fields to check." in page
    assert '<a href="#id_name">Name</a>, <a href="#id_email">Email</a>' in page
    assert 'aria-invalid="true"' in page


def test_a_rules_refusal_stands_at_the_field_it_names(owner_client: Browser, new_client: str) -> None:
    make_client(name=GOOD_CLIENT["name"])

    answer = post(owner_client, new_client, **GOOD_CLIENT)

    form = answer.context["form"]
    assert form.errors["name"] == [f"There is a client named {GOOD_CLIENT['name']}. Add what tells them apart."]
    assert answer.status_code == 422


@pytest.mark.parametrize("error", [{"nothing_here": "No."}, "No.", ["No."], {"__all__": ["No."]}])
def test_a_rules_refusal_of_nothing_on_the_form_stands_at_the_top(error: object) -> None:
    form = ActionForm({"key": new_key()})
    form.is_valid()

    form.refuse(ValidationError(error))

    assert form.non_field_errors() == ["No."]


class Panel(Form):
    width = LengthField(label="Width")


def test_what_would_do_is_offered_as_buttons_that_fill_it_in() -> None:
    form = Panel({"key": new_key(), "width": "21-2"})

    page = str(form)

    assert suggestions(form["width"]) == ["21′-2″", "21 1/2″"]
    assert 'data-fill="21′-2″" data-for="id_width"' in page
    assert "21-2 cannot be read as a size" in page


def test_a_field_that_was_read_offers_nothing() -> None:
    assert suggestions(Panel({"key": new_key(), "width": "21 1/2"})["width"]) == []


# Rows


class RoomDays(RowForm):
    class Meta:
        model = Room
        fields = ["name", "starts_on", "wanted_on"]


def test_days_of_a_row_keep_the_labels_and_hints_of_their_columns() -> None:
    field = RoomDays().fields["starts_on"]

    assert type(field).__name__ == "DayField"
    assert (field.label, field.required) == ("Work starts", False)
    assert field.help_text == "The first day this room's material is worked on."


def test_a_form_of_a_row_changes_nothing_in_the_row_it_was_given() -> None:
    room = make_room(name="Practice 1")

    form = RoomDays({"name": "Recital room", "key": new_key(), "version": "1"}, instance=room)

    assert form.is_valid()
    assert room.name == "Practice 1"


def test_values_are_what_was_typed_without_key_and_version() -> None:
    data = {"name": "Lobby", "starts_on": "2026-11-30", "key": new_key(), "version": "1"}
    form = RoomDays(data, instance=make_room())

    form.is_valid()

    assert form.values() == {"name": "Lobby", "starts_on": date(2026, 11, 30), "wanted_on": None}
    assert form.values("name") == {"starts_on": date(2026, 11, 30), "wanted_on": None}
    assert form.version == 1


def test_a_stale_form_shows_both_values_and_the_second_send_wins(owner_client: Browser, owner: Person) -> None:
    client = make_client(name="Elm Street", contact="Ms. Vogel")
    url = reverse("jobs:client", args=[client.pk])
    typed = GOOD_CLIENT | {"name": "Elm Street", "contact": "Mr. Sand", "version": "1"}
    post(owner_client, url, **typed | {"contact": "Mr. Vogel"})

    answer = post(owner_client, url, **typed)

    page = answer.content.decode()
    assert answer.status_code == 422
    assert "R. M. saved this meanwhile." in page
    assert "Stored now: Mr. Vogel" in page
    assert value_in(page, "contact") == "Mr. Sand"
    assert page.count("Stored now") == 1
    assert Client.objects.get().contact == "Mr. Vogel"
    again = post(owner_client, url, **typed | {"version": value_in(page, "version")})
    assert (again.status_code, Client.objects.get().contact) == (303, "Mr. Sand")


@pytest.mark.parametrize("version", ["", "0", "7", "-1", "x", "1.5", str(10**30), "\0", hostile.LONG])
def test_a_version_that_is_none_counts_as_past(owner_client: Browser, version: str) -> None:
    client = make_client(name="Elm Street")
    url = reverse("jobs:client", args=[client.pk])

    answer = post(owner_client, url, **GOOD_CLIENT | {"version": version})

    assert answer.status_code == 422
    assert "Somebody saved this meanwhile." in answer.content.decode()
    assert value_in(answer.content.decode(), "version") == "1"
    assert Client.objects.get().name == "Elm Street"


def test_a_stale_account_shows_no_password(owner_client: Browser, owner: Person) -> None:
    person = people.add(
        by=hand(owner), username="mira", name="Mira Sand", role="staff", password="a dozen letters or more"
    )
    url = reverse("front:person", args=[person.pk])
    typed = {"name": "Mira Sander", "username": "mira", "role": "staff", "is_active": "on", "password": ""}

    answer = post(owner_client, url, **typed, version="0")

    assert answer.context["form"].errors.as_data().keys() == {"__all__", "name"}
    assert person.password not in answer.content.decode()


def test_a_stale_figure_is_shown_as_it_is_typed(owner: Person, owner_client: Browser) -> None:
    shop.change(shop=Shop.get(), by=hand(owner), version=1, hour_price_micro=65_500_000, paper="a4")
    typed = {
        "currency": "USD",
        "unit_system": "us",
        "paper": "letter",
        "days_to_prepare": "3",
        "hour_price_micro": "70",
        "overhead_ppm": "0",
        "profit_ppm": "0",
        "tax_ppm": "0",
    }

    answer = post(owner_client, reverse("front:shop"), **typed, version="1")

    errors = answer.context["form"].errors
    assert errors["hour_price_micro"] == ["Stored now: 65.50"]
    assert errors["paper"] == ["Stored now: A4"]
    assert "tax_ppm" not in errors


# Hostile values, one field at a time


@pytest.mark.parametrize("text", hostile.NO_NUMBER.values(), ids=hostile.NO_NUMBER)
@pytest.mark.parametrize("name", GOOD_CLIENT)
def test_no_text_of_a_client_breaks_the_form(owner_client: Browser, new_client: str, name: str, text: str) -> None:
    answer = post(owner_client, new_client, **GOOD_CLIENT | {name: text.encode(errors="replace").decode()})

    assert answer.status_code in (303, 422)
    assert Client.objects.count() == (answer.status_code == 303)
    assert Action.objects.count() == Client.objects.count()


@pytest.mark.parametrize("text", [hostile.LONG, hostile.NUL], ids=["long", "nul"])
@pytest.mark.parametrize("name", ["name", "contact", "phone", "address", "email"])
def test_a_refused_text_is_kept_as_it_was_typed(owner_client: Browser, new_client: str, name: str, text: str) -> None:
    answer = post(owner_client, new_client, **GOOD_CLIENT | {name: text})

    assert answer.status_code == 422
    assert answer.context["form"][name].value() == text


def test_first_values_come_from_the_address_as_they_stand_there(rf: Callable) -> None:
    request = rf.get("/orders/new/?material=3&quantity=12%00")

    assert initial_from(request, {"material": "material", "note": "note"}) == {"material": "3"}


def test_a_form_with_a_field_wrong_and_no_key_says_both() -> None:
    class Named(Form):
        name = forms.CharField()

    form = Named({"key": "x", "name": ""})

    assert form.errors == {
        "name": ["This is empty. Fill it in."],
        "__all__": ["This page was not read whole. Look at it again, then send it once more."],
    }
