"""The shop's calendar: weekends, public holidays and its own closed days.

Moving off a closed day to the next open day, or to the one before, are the Following and Preceding
conventions that money markets use for business days. Days before 1900 and after 2199 are refused, so that
no slip of the key ends in a date that cannot be told.
"""

from bisect import bisect_right
from dataclasses import dataclass
from datetime import date, timedelta
from functools import cached_property

FIRST_DAY = date(1900, 1, 1)
LAST_DAY = date(2199, 12, 31)
WEEKEND = frozenset({5, 6})

_ONE_DAY = timedelta(days=1)
_LONGEST_WALK_DAYS = 40 * 366


class DayOutOfRange(ValueError):
    """A day so far away that it is a slip of the key."""

    def __init__(self, day: date) -> None:
        self.day, self.first, self.last = day, FIRST_DAY, LAST_DAY
        super().__init__(
            f"{day.isoformat()} is too far away to plan with: "
            f"write a day from {FIRST_DAY.isoformat()} on, up to {LAST_DAY.isoformat()}."
        )


class NoOpenDay(ValueError):
    """A calendar with too few open days to get anywhere."""

    def __init__(self, near: date | None = None) -> None:
        self.near = near
        where = f" near {near.isoformat()}" if near else ""
        super().__init__(
            f"The calendar has no open day{where}: open one day of the week, or take out some closed days."
        )


@dataclass(frozen=True)
class Calendar:
    """The shop's open days: the weekend as weekdays (Monday is 0), holidays and own closed days as dates."""

    weekend: frozenset[int] = WEEKEND
    closed: frozenset[date] = frozenset()

    def __post_init__(self) -> None:
        if self.weekend >= frozenset(range(7)):
            raise NoOpenDay

    def is_open(self, day: date) -> bool:
        return day.weekday() not in self.weekend and day not in self.closed

    def next_open(self, day: date) -> date:
        """The day itself if it is open, else the next open day after it."""
        return day if self.is_open(day) else self.add_working_days(day, 1)

    def open_before(self, day: date) -> date:
        """The day itself if it is open, else the open day before it."""
        return day if self.is_open(day) else self.add_working_days(day, -1)

    def add_working_days(self, day: date, count: int) -> date:
        """The open day that many working days after the day given (before it for a negative count).

        The day given is day 0, open or not; a count of 0 gives it back as it is.
        """
        if not FIRST_DAY <= day <= LAST_DAY + timedelta(days=_LONGEST_WALK_DAYS):
            raise DayOutOfRange(day)
        step = _ONE_DAY if count > 0 else -_ONE_DAY
        reached, left = day, abs(count)
        for _ in range(_LONGEST_WALK_DAYS):
            if not left:
                return reached
            reached += step
            left -= self.is_open(reached)
        raise NoOpenDay(day)

    def working_days_between(self, start: date, end: date) -> int:
        """The working days after the start up to and including the end; negative when the end comes first."""
        if end < start:
            return -self.working_days_between(end, start)
        weeks, rest = divmod((end - start).days, 7)
        count = weeks * (7 - len(self.weekend))
        count += sum((start.weekday() + i) % 7 not in self.weekend for i in range(1, rest + 1))
        return count - (bisect_right(self._closed_weekdays, end) - bisect_right(self._closed_weekdays, start))

    @cached_property
    def _closed_weekdays(self) -> list[date]:
        return sorted(day for day in self.closed if day.weekday() not in self.weekend)


def check_day(day: date) -> None:
    """Refuse a day that is too far away to plan with.

    Args:
        day: any day [-]

    Raises:
        DayOutOfRange: the day is before 1900 or after 2199.

    Example:

        >>> check_day(date(2026, 12, 4))
    """
    if not FIRST_DAY <= day <= LAST_DAY:
        raise DayOutOfRange(day)
