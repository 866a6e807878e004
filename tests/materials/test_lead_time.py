"""Lead times: when an order is due, the last day to order, days in hand, a supplier's record.

Sources: Michael Kay, XSLT 2.0 and XPath 2.0 Programmer's Reference, on adding months (read); W3C XML Schema
Part 2, appendix E (from memory); rules of the shop: house rule, see DEVELOPERS.md.
"""

from datetime import date, timedelta
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from materials.calculations.lead_time import (
    LONGEST_LEAD,
    DaysToPrepareOutOfRange,
    LeadTime,
    LeadTimeOutOfRange,
    UnknownLeadUnit,
    days_in_hand,
    days_out,
    expected_on,
    last_day_to_order,
    lead_statistics,
    material_needed_on,
)
from materials.calculations.open_days import Calendar, DayOutOfRange

WEEKDAYS = Calendar()
ALL_DAYS = Calendar(weekend=frozenset())
THANKSGIVING = date(2026, 11, 26)
TWO_WEEKS_SHUT = frozenset(date(2026, 12, 21) + timedelta(days=i) for i in range(14))

calendars = st.builds(
    Calendar,
    weekend=st.frozensets(st.integers(0, 6), max_size=6),
    closed=st.frozensets(st.dates(date(2027, 11, 1), date(2028, 6, 30)), max_size=40),
)
leads = st.one_of(
    st.builds(LeadTime, st.integers(0, 60), st.just("working_days")),
    st.builds(LeadTime, st.integers(0, 120), st.just("days")),
    st.builds(LeadTime, st.integers(0, 16), st.just("weeks")),
    st.builds(LeadTime, st.integers(0, 14), st.just("months")),
)
days = st.dates(date(2027, 12, 1), date(2028, 5, 31))


# Kay: 31 January plus one month is 28 February, or 29 in a leap year; the last two: XML Schema, appendix E
@pytest.mark.parametrize(
    ("placed", "months", "due"),
    [
        (date(2027, 1, 31), 1, date(2027, 2, 28)),
        (date(2028, 1, 31), 1, date(2028, 2, 29)),
        (date(2000, 3, 31), 1, date(2000, 4, 30)),
        (date(2000, 1, 12), 15, date(2001, 4, 12)),
    ],
)
def test_a_month_later_is_the_same_day_or_the_last_of_a_shorter_month(placed: date, months: int, due: date) -> None:
    assert expected_on(placed, LeadTime(months, "months"), ALL_DAYS) == due


# house rule, see DEVELOPERS.md; counted by hand on a wall calendar
@pytest.mark.parametrize(
    ("placed", "lead", "closed", "due"),
    [
        pytest.param("2026-11-06", (10, "working_days"), set(), "2026-11-20", id="placed on a Friday"),
        pytest.param("2026-11-13", (10, "working_days"), {THANKSGIVING}, "2026-11-30", id="over a holiday"),
        pytest.param("2026-11-07", (1, "working_days"), set(), "2026-11-09", id="a Saturday is day 0 too"),
        pytest.param("2026-10-08", (7, "weeks"), {THANKSGIVING}, "2026-11-27", id="promised on a holiday"),
        pytest.param("2026-11-23", (5, "days"), set(), "2026-11-30", id="promised on a Saturday"),
        pytest.param("2026-12-07", (2, "weeks"), TWO_WEEKS_SHUT, "2027-01-04", id="shut for two weeks"),
        pytest.param("2026-12-18", (1, "working_days"), TWO_WEEKS_SHUT, "2027-01-04", id="shut next day"),
        pytest.param("2028-02-28", (1, "days"), set(), "2028-02-29", id="into the leap day"),
        pytest.param("2028-02-29", (12, "months"), set(), "2029-02-28", id="a year from a leap day"),
        pytest.param("2026-11-30", (3, "months"), set(), "2027-03-01", id="February 28 is a Sunday"),
        pytest.param("2026-11-06", (0, "days"), set(), "2026-11-06", id="off the shelf"),
        pytest.param("2026-11-08", (0, "working_days"), set(), "2026-11-09", id="off the shelf on a Sunday"),
    ],
)
def test_an_order_is_due_on(placed: str, lead: tuple[int, str], closed: set[date], due: str) -> None:
    calendar = Calendar(closed=frozenset(closed))

    day = expected_on(date.fromisoformat(placed), LeadTime(*lead), calendar)

    assert day == date.fromisoformat(due)


def test_a_shop_that_works_saturdays_takes_a_promise_on_saturday() -> None:
    calendar = Calendar(weekend=frozenset({6}))

    due = expected_on(date(2026, 11, 23), LeadTime(5, "days"), calendar)

    assert due == date(2026, 11, 28)


@pytest.mark.parametrize(
    ("first_stage", "prepare", "closed", "needed"),
    [
        pytest.param(date(2026, 12, 1), 0, set(), date(2026, 12, 1), id="nothing to prepare"),
        pytest.param(date(2026, 12, 4), 3, set(), date(2026, 12, 1), id="three calendar days"),
        pytest.param(date(2026, 12, 7), 3, set(), date(2026, 12, 4), id="the weekend counts"),
        pytest.param(date(2026, 12, 7), 2, set(), date(2026, 12, 4), id="a Saturday means the Friday"),
        pytest.param(date(2027, 1, 4), 1, TWO_WEEKS_SHUT, date(2026, 12, 18), id="before two weeks shut"),
    ],
)
def test_material_is_needed_days_before_its_first_stage(
    first_stage: date, prepare: int, closed: set[date], needed: date
) -> None:
    calendar = Calendar(closed=frozenset(closed))

    assert material_needed_on(first_stage, prepare, calendar) == needed


@pytest.mark.parametrize(
    ("needed", "lead", "prepare", "closed", "last"),
    [
        pytest.param("2026-11-20", (10, "working_days"), 0, set(), "2026-11-06", id="two weeks"),
        pytest.param("2026-12-01", (49, "days"), 2, set(), "2026-10-09", id="a Sunday, so Friday"),
        pytest.param("2026-11-26", (1, "days"), 0, {THANKSGIVING}, "2026-11-24", id="needed on a holiday"),
        pytest.param("2027-01-04", (1, "weeks"), 0, TWO_WEEKS_SHUT, "2026-12-18", id="shut for two weeks"),
        pytest.param("2028-03-31", (1, "months"), 0, set(), "2028-02-29", id="the leap day's month"),
        pytest.param("2027-02-28", (1, "months"), 0, set(), "2027-01-26", id="a Sunday, so due Feb 26"),
        pytest.param("2028-02-29", (1, "months"), 0, set(), "2028-01-31", id="late January days alike"),
    ],
)
def test_the_last_day_to_order_is(
    needed: str, lead: tuple[int, str], prepare: int, closed: set[date], last: str
) -> None:
    calendar = Calendar(closed=frozenset(closed))

    day = last_day_to_order(date.fromisoformat(needed), LeadTime(*lead), calendar, prepare)

    assert day == date.fromisoformat(last)


@given(needed=days, lead=leads, calendar=calendars, prepare=st.integers(0, 20))
def test_ordering_on_the_last_day_is_in_time_and_on_the_next_open_day_is_not(
    needed: date, lead: LeadTime, calendar: Calendar, prepare: int
) -> None:
    in_time = needed - timedelta(days=prepare)

    last = last_day_to_order(needed, lead, calendar, prepare)

    assert calendar.is_open(last)
    assert expected_on(last, lead, calendar) <= in_time
    assert expected_on(calendar.add_working_days(last, 1), lead, calendar) > in_time


@given(placed=days, lead=leads, calendar=calendars)
def test_an_order_is_due_on_an_open_day_and_never_sooner_when_placed_later(
    placed: date, lead: LeadTime, calendar: Calendar
) -> None:
    due = expected_on(placed, lead, calendar)

    assert calendar.is_open(due)
    assert placed <= due <= expected_on(placed + timedelta(days=1), lead, calendar)


@pytest.mark.parametrize(
    ("expected", "needed", "in_hand", "working"),
    [
        pytest.param(date(2026, 12, 4), date(2026, 12, 1), -3, -3, id="3 days late"),
        pytest.param(date(2026, 12, 7), date(2026, 12, 4), -3, -1, id="3 days late over a weekend"),
        pytest.param(date(2026, 12, 7), date(2026, 12, 14), 7, 5, id="7 days in hand"),
        pytest.param(date(2026, 12, 1), date(2026, 12, 1), 0, 0, id="in time on the day itself"),
    ],
)
def test_late_is_told_in_calendar_days_with_working_days_beside(
    expected: date, needed: date, in_hand: int, working: int
) -> None:
    assert days_in_hand(expected, needed) == in_hand
    assert WEEKDAYS.working_days_between(expected, needed) == working


def test_an_order_placed_today_is_out_for_no_day() -> None:
    assert days_out(date(2026, 11, 25), date(2026, 11, 25)) == 0


def test_the_median_of_an_even_count_is_the_mean_of_the_middle_two() -> None:
    record = lead_statistics([(49, 58), (49, 81), (42, 51), (56, 44)])

    assert (record.count, record.quoted_median, record.median, record.worst) == (4, 49, Fraction(109, 2), 81)


def test_the_median_of_an_odd_count_is_the_middle_one() -> None:
    record = lead_statistics([(14, 17), (14, 12), (14, 14)])

    assert (record.count, record.median, record.worst) == (3, 14, 17)


def test_a_supplier_without_arrived_orders_has_no_record() -> None:
    record = lead_statistics([])

    assert (record.count, record.quoted_median, record.median, record.worst) == (0, None, None, None)


@pytest.mark.parametrize(
    ("unit", "most", "words"),
    [
        ("working_days", 783, "working days"),
        ("days", 1096, "days"),
        ("weeks", 156, "weeks"),
        ("months", 36, "months"),
    ],
)
def test_a_lead_time_over_three_years_is_refused_with_what_would_do(unit: str, most: int, words: str) -> None:
    assert LeadTime(most, unit).count == most

    with pytest.raises(
        LeadTimeOutOfRange,
        match=rf"lead time of {most + 1} {words} .* write 0 to {most} {words}, or leave it open",
    ) as refused:
        LeadTime(most + 1, unit)

    assert (refused.value.count, refused.value.unit, refused.value.most) == (most + 1, unit, most)


@pytest.mark.parametrize("count", [-1, 10**30, -(10**30)])
@pytest.mark.parametrize("unit", list(LONGEST_LEAD))
def test_a_huge_or_negative_lead_time_is_refused_before_any_date_is_reckoned(count: int, unit: str) -> None:
    with pytest.raises(LeadTimeOutOfRange, match=f"lead time of {count} "):
        LeadTime(count, unit)


def test_a_lead_time_in_an_unknown_unit_is_refused() -> None:
    with pytest.raises(UnknownLeadUnit, match=r"'years' is no unit .* use days or weeks"):
        LeadTime(1, "years")


@pytest.mark.parametrize("prepare", [-1, 366, 10**30])
def test_days_to_prepare_below_none_or_over_a_year_are_refused(prepare: int) -> None:
    with pytest.raises(DaysToPrepareOutOfRange, match=f"{prepare} days .* write 0 for none, or up to 365"):
        material_needed_on(date(2026, 12, 7), prepare, WEEKDAYS)


@pytest.mark.parametrize("day", [date.min, date(1899, 12, 31), date(2200, 1, 1), date.max])
def test_a_day_too_far_away_is_refused_not_run_past_the_end_of_the_calendar(day: date) -> None:
    lead = LeadTime(36, "months")
    words = f"{day.isoformat()} is too far away .* 1900-01-01 on, up to 2199-12-31"

    with pytest.raises(DayOutOfRange, match=words):
        expected_on(day, lead, WEEKDAYS)
    with pytest.raises(DayOutOfRange, match=words):
        last_day_to_order(day, lead, WEEKDAYS)


@pytest.mark.parametrize("unit", list(LONGEST_LEAD))
def test_the_longest_lead_from_the_last_day_is_still_a_date(unit: str) -> None:
    lead = LeadTime(LONGEST_LEAD[unit], unit)

    due = expected_on(date(2199, 12, 31), lead, Calendar(weekend=frozenset(range(6))))

    assert due.weekday() == 6


def test_a_last_day_to_order_before_1900_is_refused() -> None:
    with pytest.raises(DayOutOfRange, match="1899-12-22 is too far away"):
        last_day_to_order(date(1900, 1, 5), LeadTime(2, "weeks"), WEEKDAYS)
