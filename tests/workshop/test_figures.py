"""Figures as people read them on the page."""

import re
from datetime import UTC, date, datetime
from fractions import Fraction
from types import SimpleNamespace

import pytest
from django.template import Context, Template
from django.utils import timezone

from workshop import clock
from workshop.forms import ActionForm, CountField, Form
from workshop.templatetags import figures

METRIC = SimpleNamespace(unit_system="metric", precision_nm=500_000)
SIXTEENTHS = SimpleNamespace(unit_system="us", precision_nm=1_587_500)


@pytest.mark.parametrize(
    ("said", "shown"),
    [
        (figures.amount(331_800, "USD"), "$3,318.00"),
        (figures.amount(-5, "USD"), "-$0.05"),
        (figures.amount(10**13, "USD"), "$100,000,000,000.00"),
        (figures.amount(3318, "JPY"), "¥3,318"),
        (figures.bare_amount(331_800, "USD"), "3,318.00"),
        (figures.price(71_500_000, "USD"), "$71.50"),
        (figures.price(1, "USD"), "$0.000001"),
        (figures.percent(82_500), "8.25%"),
        (figures.percent(0), "0%"),
        (figures.quantity(12_500_000, "board_foot"), "12 1/2 bd ft"),
        (figures.quantity(1_000_000, "sheet"), "1 sheet"),
        (figures.quantity(0, "sheet"), "0 sheets"),
        (figures.bare_quantity(12_500_000, "board_foot"), "12 1/2"),
        (figures.unit_name("board_foot"), "bd ft"),
        (figures.unit_name("sheet"), "sheets"),
        (figures.one_unit("sheet"), "sheet"),
        (figures.dimension(3_746_500_000, None), "12′-3 1/2″"),
        (figures.dimension(3_746_500_001, SIXTEENTHS), "≈ 12′-3 1/2″"),
        (figures.dimension(19_000_000, METRIC), "19 mm"),
        (figures.hours(None), "0 h"),
        (figures.hours(0), "0 h"),
        (figures.hours(2760), "46 h"),
        (figures.hours(150), "2.5 h"),
        (figures.hours(20), "0:20 h"),
        (figures.hours(61), "1:01 h"),
        (figures.days(None), "–"),
        (figures.days(58), "58 d"),
        (figures.days(Fraction(63, 2)), "31.5 d"),
    ],
)
def test_a_figure_is_shown_with_its_sign_and_unit(said: object, shown: object) -> None:
    assert said == shown


@pytest.mark.parametrize(
    ("value", "shown"),
    [
        (None, "–"),
        (date(2026, 11, 25), "Wed, Nov 25"),
        (date(2027, 1, 4), "Mon, Jan 4, 2027"),
        (datetime(2026, 11, 26, 3, 0, tzinfo=UTC), "Wed, Nov 25"),
    ],
    ids=["none", "this year", "another year", "a moment, in the shop's time"],
)
def test_a_day_is_said_with_its_weekday_and_the_year_where_it_is_another(value: object, shown: str) -> None:
    with clock.as_if(date(2026, 11, 2)), timezone.override("America/Chicago"):
        assert figures.day(value) == shown


class Prepare(Form):
    days = CountField(unit="days")


def test_a_field_tells_its_unit_and_others_have_none() -> None:
    form = Prepare()

    assert (figures.unit(form["days"]), figures.unit(ActionForm()["key"])) == ("days", "")


def test_a_form_written_by_hand_carries_a_key_of_its_own_each_time() -> None:
    page = Template("{% key %}{% key %}").render(Context())

    keys = re.findall(r'<input type="hidden" name="key" value="([0-9a-f]{32})">', page)
    assert len(set(keys)) == 2
