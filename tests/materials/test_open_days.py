"""The shop's calendar: open days, moving off closed ones, counting working days.

Sources: LibreOffice Help, WORKDAY function; quantunet.com, "The WORKDAY function" (both read); numpy
documentation, busday_offset and busday_count (from memory).
"""

from datetime import date, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from materials.calculations.open_days import Calendar, DayOutOfRange, NoOpenDay

WEEKDAYS = Calendar()

calendars = st.builds(
    Calendar,
    weekend=st.frozensets(st.integers(0, 6), max_size=6),
    closed=st.frozensets(st.dates(date(2027, 11, 1), date(2028, 6, 30)), max_size=40),
)
days = st.dates(date(2027, 12, 1), date(2028, 5, 31))


@pytest.mark.parametrize(
    ("start", "count", "closed", "reached"),
    [
        # LibreOffice Help, WORKDAY: Christmas and New Year, from a Saturday
        (
            date(2001, 12, 1),
            17,
            {date(2001, 12, d) for d in (24, 25, 26, 31)} | {date(2002, 1, 1)},
            date(2001, 12, 28),
        ),
        # quantunet.com, WORKDAY: a shipment over Memorial Day
        (date(2007, 5, 6), 30, {date(2007, 5, 28)}, date(2007, 6, 18)),
        # numpy, busday_offset: the last working day of February 2012
        (date(2012, 3, 1), -1, set(), date(2012, 2, 29)),
    ],
)
def test_working_days_are_counted_as_published_examples_count_them(
    start: date, count: int, closed: set[date], reached: date
) -> None:
    calendar = Calendar(closed=frozenset(closed))

    day = calendar.add_working_days(start, count)

    assert day == reached


# numpy documentation, busday_count: weekdays of January 2011 and of 2011 (first day in, last day out)
@pytest.mark.parametrize(
    ("first", "after_last", "count"),
    [(date(2011, 1, 1), date(2011, 2, 1), 21), (date(2011, 1, 1), date(2012, 1, 1), 260)],
)
def test_working_days_between_agree_with_published_counts(first: date, after_last: date, count: int) -> None:
    day_before, last = first - timedelta(days=1), after_last - timedelta(days=1)

    assert WEEKDAYS.working_days_between(day_before, last) == count


@given(start=days, end=days, calendar=calendars)
def test_working_days_between_are_the_open_days_counted_one_by_one(start: date, end: date, calendar: Calendar) -> None:
    first, last = sorted((start, end))
    one_by_one = sum(calendar.is_open(first + timedelta(days=i)) for i in range(1, (last - first).days + 1))

    assert calendar.working_days_between(start, end) == (one_by_one if start <= end else -one_by_one)


@pytest.mark.parametrize(("day", "count"), [(date.max, 1), (date.min, -1)])
def test_a_calendar_is_not_walked_past_the_end_of_all_dates(day: date, count: int) -> None:
    with pytest.raises(DayOutOfRange, match=f"{day.isoformat()} is too far away"):
        WEEKDAYS.add_working_days(day, count)


def test_a_week_without_an_open_day_is_refused() -> None:
    with pytest.raises(NoOpenDay, match="no open day: open one day of the week, or take out some closed"):
        Calendar(weekend=frozenset(range(7)))


def test_a_calendar_closed_for_forty_years_is_refused_not_walked_for_ever() -> None:
    start = date(2026, 1, 1)
    calendar = Calendar(closed=frozenset(start + timedelta(days=i) for i in range(41 * 366)))

    with pytest.raises(NoOpenDay, match="no open day near 2026-01-01"):
        calendar.next_open(start)


# numpy, busday_offset with roll: Sunday, March 20, 2011 rolls forward to Monday (from memory)
def test_a_closed_day_moves_to_the_open_day_after_or_before() -> None:
    sunday = date(2011, 3, 20)

    assert WEEKDAYS.next_open(sunday) == date(2011, 3, 21)
    assert WEEKDAYS.open_before(sunday) == date(2011, 3, 18)


def test_an_open_day_stays_where_it_is() -> None:
    tuesday = date(2011, 3, 22)

    assert WEEKDAYS.next_open(tuesday) == WEEKDAYS.open_before(tuesday) == tuesday
