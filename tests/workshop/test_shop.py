"""What the shop settles once."""

import pytest
from django.db import IntegrityError, transaction
from django.test import Client as Browser
from django.urls import reverse

from tests.makers import hand, make_job, post
from tests.typed import NUMBERS, TEXTS
from workshop import actions, shop
from workshop.models import Action, Person, Shop

pytestmark = pytest.mark.django_db
GOOD = {
    "name": "Corner Wood Shop",
    "trade": "Fitted interiors",
    "address": "12 Mill Lane",
    "phone": "555 0100",
    "email": "office@example.com",
    "unit_system": "metric",
    "currency": "EUR",
    "paper": "a4",
    "days_to_prepare": "5",
    "hour_price_micro": "65.50",
    "overhead_ppm": "12.5",
    "profit_ppm": "20",
    "tax_ppm": "8.25",
    "version": "1",
}
FIGURES = ["days_to_prepare", "hour_price_micro", "overhead_ppm", "profit_ppm", "tax_ppm"]


@pytest.fixture
def url() -> str:
    return reverse("front:shop")


def test_what_the_owner_settles_is_kept_exactly(owner_client: Browser, url: str) -> None:
    post(owner_client, url, **GOOD)

    kept = Shop.objects.get()
    assert (kept.hour_price_micro, kept.overhead_ppm, kept.tax_ppm) == (65_500_000, 125_000, 82_500)
    assert (kept.currency, kept.paper, kept.unit_system, kept.days_to_prepare) == ("EUR", "a4", "metric", 5)
    assert actions.sentence_of(Action.objects.get()) == "Shop settings changed"


def test_a_new_shop_is_led_on_to_its_first_job_and_a_working_one_stays_on_the_page(
    owner_client: Browser, url: str
) -> None:
    first = post(owner_client, url, **GOOD)
    make_job()

    later = post(owner_client, url, **GOOD | {"version": "2", "paper": "letter"})

    assert [(answer.status_code, answer.headers["Location"]) for answer in (first, later)] == [(303, "/"), (303, url)]


def test_the_page_shows_what_is_kept_as_it_would_be_typed(owner_client: Browser, url: str) -> None:
    post(owner_client, url, **GOOD)

    form = owner_client.get(url).context["form"]

    assert {name: form[name].value() for name in FIGURES} == {
        "days_to_prepare": 5,
        "hour_price_micro": "65.50",
        "overhead_ppm": "12.5",
        "profit_ppm": "20",
        "tax_ppm": "8.25",
    }


@pytest.mark.parametrize("typed", NUMBERS)
@pytest.mark.parametrize("field", FIGURES)
def test_hostile_figures_are_refused_at_their_field_and_kept(
    owner_client: Browser, url: str, field: str, typed: str
) -> None:
    answer = post(owner_client, url, **GOOD | {field: typed})

    assert answer.status_code == 422
    assert list(answer.context["form"].errors) == [field]
    assert answer.context["form"][field].value() == typed
    assert Shop.get().name == ""


@pytest.mark.parametrize("typed", TEXTS)
@pytest.mark.parametrize("field", ["name", "trade", "address", "phone", "email", "unit_system", "currency", "paper"])
def test_hostile_texts_are_refused_at_their_field(owner_client: Browser, url: str, field: str, typed: str) -> None:
    answer = post(owner_client, url, **GOOD | {field: typed})

    assert answer.status_code == 422
    assert list(answer.context["form"].errors) == [field]
    assert Shop.get().version == 1


@pytest.mark.parametrize(
    ("field", "typed", "words"),
    [
        ("days_to_prepare", "61", "61 is too much here. Type 60 or less."),
        ("tax_ppm", "100", "100 is too much here. Type less than 100%."),
        ("overhead_ppm", "1000", "1000 is too much here. Type less than 1,000%."),
        ("email", "office", "This is not an email address. Write it as name@example.com, or leave it out."),
        ("currency", "XAU", "This is not one of the choices. Choose one from the list."),
    ],
)
def test_what_is_out_of_range_is_told_with_the_range(
    owner_client: Browser, url: str, field: str, typed: str, words: str
) -> None:
    answer = post(owner_client, url, **GOOD | {field: typed})

    assert answer.context["form"].errors[field] == [words]


def test_what_may_stay_empty_may(owner_client: Browser, url: str) -> None:
    empty = dict.fromkeys(["name", "trade", "address", "phone", "email"], "")

    assert post(owner_client, url, **GOOD | empty).status_code == 303


def test_settings_saved_meanwhile_show_both_values(owner_client: Browser, owner: Person, url: str) -> None:
    shop.change(shop=Shop.get(), by=hand(owner), version=1, phone="555 0199")

    answer = post(owner_client, url, **GOOD)

    assert answer.status_code == 422
    assert answer.context["form"].errors["phone"] == ["Stored now: 555 0199"]
    assert answer.context["form"]["phone"].value() == "555 0100"
    assert Shop.get().phone == "555 0199"


def test_the_same_settings_sent_twice_are_saved_once(owner_client: Browser, url: str) -> None:
    for _time in range(2):
        answer = post(owner_client, url, **GOOD, key="a" * 32)

    assert answer.status_code == 303
    assert Shop.get().version == 2


def test_settings_are_taken_back_from_the_page_they_were_saved_on(owner_client: Browser, url: str) -> None:
    post(owner_client, url, **GOOD)

    answer = post(owner_client, reverse("front:undo", args=[Action.objects.get().pk]))

    assert answer.headers["Location"] == url
    assert (Shop.get().name, Shop.get().hour_price_micro, Shop.get().currency) == ("", 0, "USD")


def test_staff_neither_see_nor_change_what_the_shop_settled(staff_client: Browser, url: str) -> None:
    assert staff_client.get(url).status_code == 403
    assert post(staff_client, url, **GOOD).status_code == 403
    assert not Shop.objects.exists() or Shop.get().name == ""


def test_the_database_holds_one_shop() -> None:
    Shop.get()

    with pytest.raises(IntegrityError), transaction.atomic():
        Shop.objects.create(pk=2)


def test_a_shop_without_a_name_is_called_your_shop() -> None:
    assert str(Shop.get()) == "Your shop"
