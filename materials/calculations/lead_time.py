"""When an order will be here, and the last day it can be placed.

Rules (house rule, see DEVELOPERS.md): the day of order is day 0. Working days skip weekends and closed
days. A month later is the same day, or the last of a shorter month. A promise on a closed day means the
next open day; a last day to order on a closed day means the open day before. Material that arrives on the
day it is needed is in time. Late is told in calendar days, with working days beside.

The end of a shorter month is that of W3C XML Schema Part 2, appendix E (adding durations to dates).
"""

import statistics
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from fractions import Fraction
from typing import Literal

from materials.calculations.open_days import Calendar, check_day

Unit = Literal["working_days", "days", "weeks", "months"]

# Three years, told in each unit: 3 x 365.25 days rounded up, 3 x 261 working days.
LONGEST_LEAD: dict[Unit, int] = {"working_days": 783, "days": 1096, "weeks": 156, "months": 36}
UNIT_WORDS: dict[Unit, str] = {
    "working_days": "working days",
    "days": "days",
    "weeks": "weeks",
    "months": "months",
}
MOST_DAYS_TO_PREPARE = 365

_ONE_DAY = timedelta(days=1)


class LeadTimeOutOfRange(ValueError):
    """A lead time below nothing or over three years."""

    def __init__(self, count: int, unit: Unit) -> None:
        self.count, self.unit, self.most = count, unit, LONGEST_LEAD[unit]
        super().__init__(
            f"A lead time of {count} {UNIT_WORDS[unit]} cannot be planned: "
            f"write 0 to {self.most} {UNIT_WORDS[unit]}, or leave it open and write the date promised."
        )


class UnknownLeadUnit(ValueError):
    """A unit that is none of working days, days, weeks, months."""

    def __init__(self, unit: object) -> None:
        self.unit = unit
        super().__init__(f"{unit!r} is no unit of a lead time: use days or weeks, working_days or months.")


class DaysToPrepareOutOfRange(ValueError):
    """Days to count, sort and acclimatize below nothing or over a year."""

    def __init__(self, days: int) -> None:
        self.days, self.most = days, MOST_DAYS_TO_PREPARE
        super().__init__(
            f"{days} days to count, sort and acclimatize cannot be planned: "
            f"write 0 for none, or up to {MOST_DAYS_TO_PREPARE} days."
        )


@dataclass(frozen=True)
class LeadTime:
    """A lead time as the supplier quotes it: 7 weeks, 10 working days."""

    count: int
    unit: Unit

    def __post_init__(self) -> None:
        if self.unit not in LONGEST_LEAD:
            raise UnknownLeadUnit(self.unit)
        if not 0 <= self.count <= LONGEST_LEAD[self.unit]:
            raise LeadTimeOutOfRange(self.count, self.unit)


@dataclass(frozen=True)
class LeadStatistics:
    """What a supplier quoted and what came of it, in calendar days; None where there is nothing to tell."""

    count: int
    quoted_median: Fraction | None
    median: Fraction | None
    worst: int | None


def expected_on(placed_on: date, lead: LeadTime, calendar: Calendar) -> date:
    """Return the open day on which an order placed on the day given is due.

    Args:
        placed_on: the day of order, day 0; it may be a closed day [-]
        lead: the lead time quoted [-]
        calendar: the shop's open days [-]

    Returns:
        A day on which the shop is open; the day of order itself for a lead of nothing on an open day.

    Raises:
        DayOutOfRange: the day of order is before 1900 or after 2199.
        NoOpenDay: the calendar is closed for so long that the day cannot be found.

    Example: a Friday and 10 working days is the Friday two weeks on.

        >>> expected_on(date(2026, 11, 6), LeadTime(10, "working_days"), Calendar())
        datetime.date(2026, 11, 20)

    Source: house rule, see DEVELOPERS.md.
    """
    check_day(placed_on)
    if lead.unit == "working_days":
        due = calendar.add_working_days(placed_on, lead.count)
    elif lead.unit == "months":
        due = _months_later(placed_on, lead.count)
    else:
        due = placed_on + timedelta(days=lead.count * (7 if lead.unit == "weeks" else 1))
    return calendar.next_open(due)


def material_needed_on(first_stage_on: date, prepare_days: int, calendar: Calendar) -> date:
    """Return the last day on which material may arrive for a stage; arriving that day is in time.

    The days to count, sort and acclimatize are calendar days, since wood takes up the moisture of the room
    on a weekend too. Where they end on a closed day nobody can take the delivery in, so the open day before
    is meant. Buying and the plan both ask this function.

    Args:
        first_stage_on: the day of the first stage that uses the material [-]
        prepare_days: days to count, sort and acclimatize, 0 to 365 [day]
        calendar: the shop's open days [-]

    Returns:
        An open day, the day of the stage or earlier.

    Raises:
        DaysToPrepareOutOfRange: fewer than 0 or more than 365 days.
        DayOutOfRange: the day is before 1900 or after 2199.
        NoOpenDay: the calendar has no open day before it.

    Example: panels are cut on Monday, December 7; two days before is a Saturday, so Friday.

        >>> material_needed_on(date(2026, 12, 7), 2, Calendar())
        datetime.date(2026, 12, 4)

    Source: house rule, see DEVELOPERS.md.
    """
    check_day(first_stage_on)
    if not 0 <= prepare_days <= MOST_DAYS_TO_PREPARE:
        raise DaysToPrepareOutOfRange(prepare_days)
    earliest = first_stage_on - timedelta(days=prepare_days)
    check_day(earliest)
    return calendar.open_before(earliest)


def last_day_to_order(needed_on: date, lead: LeadTime, calendar: Calendar, days_to_prepare: int = 0) -> date:
    """Return the latest open day on which an order can be placed and still be in time.

    This undoes expected_on exactly: an order on the day returned is due in time, one on the next open day
    is not.

    Args:
        needed_on: the day of the first stage that uses the material [-]
        lead: the lead time quoted [-]
        calendar: the shop's open days [-]
        days_to_prepare: days to count, sort and acclimatize, as in material_needed_on [day]

    Returns:
        An open day; it may lie before today.

    Raises:
        DaysToPrepareOutOfRange: fewer than 0 or more than 365 days to prepare.
        DayOutOfRange: the day, or the day to order, is before 1900 or after 2199.
        NoOpenDay: the calendar is closed for so long that the day cannot be found.

    Example: needed Tuesday, December 1, seven weeks out.

        >>> last_day_to_order(date(2026, 12, 1), LeadTime(7, "weeks"), Calendar())
        datetime.date(2026, 10, 13)

    Source: house rule, see DEVELOPERS.md.
    """
    due = material_needed_on(needed_on, days_to_prepare, calendar)
    if lead.unit == "working_days":
        last = calendar.add_working_days(due, -lead.count)
    elif lead.unit == "months":
        last = _last_day_months_before(due, lead.count)
    else:
        last = due - timedelta(days=lead.count * (7 if lead.unit == "weeks" else 1))
    check_day(last)
    return calendar.open_before(last)


def days_out(placed_on: date, today: date) -> int:
    """Return for how many calendar days an order has been out; the day of order is day 0.

    Args:
        placed_on: the day of order [-]
        today: the day asked about [-]

    Example:

        >>> days_out(date(2026, 10, 26), date(2026, 11, 25))
        30
    """
    return (today - placed_on).days


def days_in_hand(expected_on: date, needed_on: date) -> int:
    """Return the calendar days between the day expected and the day needed: 0 is in time, below 0 is late.

    The working days to show beside it are calendar.working_days_between(expected_on, needed_on), same sign.

    Args:
        expected_on: the day the material is expected [-]
        needed_on: the last day it may arrive, from material_needed_on [-]

    Example: promised Friday, December 4, needed Tuesday, December 1: three days late.

        >>> days_in_hand(date(2026, 12, 4), date(2026, 12, 1))
        -3

    Source: house rule, see DEVELOPERS.md.
    """
    return (needed_on - expected_on).days


def lead_statistics(quoted_and_actual: Sequence[tuple[int, int]]) -> LeadStatistics:
    """Return how a supplier's deliveries compare with what was quoted: count, medians, worst.

    Args:
        quoted_and_actual: for each arrived order the days quoted and the days it took, any order [day]

    Returns:
        The count, the median quoted, the median and the longest taken. The median of an even count is the
        mean of the middle two, exact.

    Example: four orders quoted at four weeks.

        >>> lead_statistics([(28, 30), (28, 41), (28, 33), (28, 28)]).median
        Fraction(63, 2)

    Source: house rule, see DEVELOPERS.md.
    """
    if not quoted_and_actual:
        return LeadStatistics(0, None, None, None)
    quoted = [Fraction(days) for days, _ in quoted_and_actual]
    actual = [Fraction(days) for _, days in quoted_and_actual]
    return LeadStatistics(
        count=len(actual),
        quoted_median=statistics.median(quoted),
        median=statistics.median(actual),
        worst=int(max(actual)),
    )


def _month(day: date, months: int) -> tuple[int, int, int]:
    """Year, month and number of its days, that many months away."""
    year, month0 = divmod(day.year * 12 + day.month - 1 + months, 12)
    following = date(year + (month0 == 11), (month0 + 1) % 12 + 1, 1)
    return year, month0 + 1, (following - _ONE_DAY).day


def _months_later(day: date, months: int) -> date:
    year, month, days = _month(day, months)
    return date(year, month, min(day.day, days))


def _last_day_months_before(day: date, months: int) -> date:
    """The latest day whose date that many months later is the day given or earlier."""
    year, month, days = _month(day, -months)
    is_last_of_month = (day + _ONE_DAY).month != day.month
    return date(year, month, days if is_last_of_month else min(day.day, days))
