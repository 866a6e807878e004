"""The price of an hour of each operation: set from a day on, and what an hour costs without."""

from datetime import date

import pytest
from django.test import Client as Browser
from django.urls import reverse
from pytest_django import Settings

from estimates import operation_rates, rates
from estimates.models import OperationRate
from jobs.models import Stage
from tests import typed
from tests.makers import hand, make_job, make_room_stage, post
from workshop import actions
from workshop.models import Action, Person, Shop

TODAY, YESTERDAY, TOMORROW = date(2026, 11, 25), date(2026, 11, 24), date(2026, 11, 26)
CUT, MILL = ("panels", "Cut"), ("trim", "Mill")


@pytest.fixture(autouse=True)
def shop(settings: Settings, db: None) -> Shop:
    settings.FIXED_TODAY = TODAY
    return Shop.objects.create(pk=1, hour_price_micro=65_000_000)


def set_rate(micro: int | None, day: date, operation: tuple[str, str] = CUT) -> OperationRate:
    return OperationRate.objects.create(lane=operation[0], name=operation[1], price_micro=micro, from_on=day)


def hour_of(operation: tuple[str, str], currency: str = "USD") -> int:
    return rates.of_hours(currency).of(Stage(lane=operation[0], name=operation[1])).price_micro


def url() -> str:
    return reverse("estimates:rates")


def name(operation: tuple[str, str]) -> str:
    return f"price_micro_{operation_rates.Operation(*operation).number}"


def sent(prices: dict[tuple[str, str], str], was: dict[tuple[str, str], str] | None = None, **more: str) -> dict:
    data = {name(operation): text for operation, text in prices.items()}
    data |= {f"was_{name(operation)}": (was or {}).get(operation, "") for operation in prices}
    return {"from_on": "2026-11-25", **data, **more}


def words_of(answer: object) -> str:
    return " ".join(answer.content.decode().split())


def test_an_operation_costs_its_own_rate_and_another_the_shops_price() -> None:
    set_rate(80_000_000, YESTERDAY)

    assert (hour_of(CUT), hour_of(MILL), hour_of(("trim", "Cut"))) == (80_000_000, 65_000_000, 65_000_000)


def test_the_latest_rate_counts_and_one_of_days_to_come_does_not_yet() -> None:
    set_rate(70_000_000, YESTERDAY)
    set_rate(80_000_000, TODAY)
    set_rate(90_000_000, TOMORROW)

    assert hour_of(CUT) == 80_000_000


def test_an_operation_given_back_costs_the_shops_price_again() -> None:
    set_rate(70_000_000, YESTERDAY)
    set_rate(None, TODAY)

    assert hour_of(CUT) == 65_000_000


def test_hours_have_no_rate_in_another_currency() -> None:
    set_rate(70_000_000, YESTERDAY)

    assert (hour_of(CUT, "JPY"), hour_of(MILL, "JPY")) == (0, 0)


def test_the_page_offers_the_stages_the_shops_jobs_use_in_the_order_of_the_work(owner_client: Browser) -> None:
    for lane, stage in [("site", "Walls"), ("trim", "Mill"), ("panels", "Cut"), ("panels", "Edge")]:
        make_room_stage(lane=lane, name=stage)
    make_room_stage(lane="panels", name="Cut")

    assert [(one.lane, one.name) for one in operation_rates.operations()] == [
        CUT,
        ("panels", "Edge"),
        MILL,
        ("site", "Walls"),
    ]
    assert owner_client.get(url()).status_code == 200


def test_a_shop_without_jobs_is_offered_the_stages_of_the_trade(owner_client: Browser) -> None:
    assert CUT in [one.key for one in operation_rates.operations()]
    assert "Punch list" in words_of(owner_client.get(url()))


def test_rates_are_set_from_a_day_on_and_told_without_money(owner_client: Browser, staff_client: Browser) -> None:
    answer = post(owner_client, url(), **sent({CUT: "72.50", MILL: ""}))

    row = OperationRate.objects.get()
    assert (answer.status_code, answer.url) == (303, url())
    assert (row.lane, row.name, row.price_micro, row.from_on) == ("panels", "Cut", 72_500_000, TODAY)
    assert actions.sentence_of(Action.objects.get()) == "Rates of operations: Cut panels"
    trace = words_of(staff_client.get(reverse("front:trace", args=["workshop.shop:1"])))
    assert "Rates of operations: Cut panels" in trace
    assert "72" not in trace


def test_a_rate_of_the_same_day_is_changed_in_place(owner_client: Browser) -> None:
    set_rate(70_000_000, TODAY)

    post(owner_client, url(), **sent({CUT: "72.50"}, {CUT: "70000000"}))

    assert OperationRate.objects.get().price_micro == 72_500_000


def test_an_empty_field_gives_the_operation_back_to_the_shops_price(owner_client: Browser) -> None:
    set_rate(70_000_000, YESTERDAY)

    post(owner_client, url(), **sent({CUT: ""}, {CUT: "70000000"}))

    assert (OperationRate.objects.count(), hour_of(CUT)) == (2, 65_000_000)


def test_rates_left_as_they_were_are_not_touched(owner_client: Browser) -> None:
    set_rate(70_000_000, YESTERDAY)

    answer = post(owner_client, url(), **sent({CUT: "70"}, {CUT: "70000000"}))

    assert (answer.status_code, OperationRate.objects.count(), Action.objects.count()) == (303, 1, 0)


def test_a_field_that_is_not_sent_leaves_its_rate_alone(owner_client: Browser) -> None:
    set_rate(70_000_000, YESTERDAY)

    post(owner_client, url(), **sent({MILL: "60"}))

    assert (hour_of(CUT), hour_of(MILL)) == (70_000_000, 60_000_000)


def test_a_day_before_a_rate_that_holds_is_refused_at_its_field(owner_client: Browser) -> None:
    set_rate(70_000_000, TODAY)

    answer = post(owner_client, url(), **sent({CUT: "72"}, {CUT: "70000000"}, from_on="2026-11-24"))

    assert answer.status_code == 422
    assert "Cut panels has a rate from Wed, Nov 25 already." in words_of(answer)
    assert OperationRate.objects.get().price_micro == 70_000_000


def test_a_rate_to_come_is_shown_with_its_day(owner_client: Browser) -> None:
    post(owner_client, url(), **sent({CUT: "72"}, from_on="2026-11-26"))

    assert hour_of(CUT) == 65_000_000
    assert "$72.00 from Thu, Nov 26" in words_of(owner_client.get(url()))


def test_a_rate_set_meanwhile_shows_both_values(owner_client: Browser) -> None:
    set_rate(70_000_000, TODAY)

    answer = post(owner_client, url(), **sent({CUT: "72"}))

    html = words_of(answer)
    assert answer.status_code == 422
    assert f'name="{name(CUT)}" value="72"' in html
    assert "Stored now: 70.00" in html
    again = sent({CUT: "72"}, {CUT: "70000000"})
    assert post(owner_client, url(), **again).status_code == 303


@pytest.mark.parametrize("text", [text for text in typed.NUMBERS if getattr(text, "id", "") != "nothing"])
def test_a_strange_rate_is_refused_at_its_field(owner_client: Browser, text: str) -> None:
    answer = post(owner_client, url(), **sent({CUT: text}))

    assert answer.status_code == 422
    assert name(CUT) in answer.context["form"].errors
    assert (OperationRate.objects.count(), Action.objects.count()) == (0, 0)


@pytest.mark.parametrize("text", ["", *typed.DAYS])
def test_a_strange_day_is_refused_at_its_field(owner_client: Browser, text: str) -> None:
    answer = post(owner_client, url(), **sent({CUT: "70"}, from_on=text))

    assert (answer.status_code, "from_on" in answer.context["form"].errors) == (422, True)
    assert OperationRate.objects.count() == 0


@pytest.mark.parametrize("text", typed.NUMBERS)
def test_a_strange_value_of_before_sets_nothing_that_was_set_meanwhile(owner_client: Browser, text: str) -> None:
    set_rate(70_000_000, TODAY)

    answer = post(owner_client, url(), **sent({CUT: "72"}, {CUT: text}))

    assert (answer.status_code, OperationRate.objects.get().price_micro) == (422, 70_000_000)


def test_the_same_rates_sent_twice_are_stored_once(owner_client: Browser) -> None:
    key = actions.new_key()

    answers = [post(owner_client, url(), key=key, **sent({CUT: "70"})) for _time in range(2)]

    assert [answer.status_code for answer in answers] == [303, 303]
    assert (OperationRate.objects.count(), Action.objects.count()) == (1, 1)


def test_undo_puts_rates_back(owner_client: Browser, owner: Person) -> None:
    set_rate(70_000_000, TODAY)
    post(owner_client, url(), **sent({CUT: "72", MILL: "60"}, {CUT: "70000000"}))

    actions.undo(action=Action.objects.get(), by=hand(owner))

    assert (hour_of(CUT), hour_of(MILL)) == (70_000_000, 65_000_000)


def test_staff_get_no_rates(staff_client: Browser) -> None:
    assert staff_client.get(url()).status_code == 403
    assert post(staff_client, url(), **sent({CUT: "70"})).status_code == 403
    assert OperationRate.objects.count() == 0


def test_many_jobs_cost_the_queries_of_one(owner_client: Browser, django_assert_max_num_queries: object) -> None:
    for _number in range(20):
        make_room_stage(room=None, lane="panels", name="Cut")
    make_job()
    owner_client.get(url())

    with django_assert_max_num_queries(12):
        owner_client.get(url())
