"""The app's today and now: the shop's date, fixed for trials by FLITCHBOOK_TODAY."""

from collections.abc import Iterator
from contextlib import contextmanager
from contextvars import ContextVar
from datetime import date, datetime
from functools import lru_cache

from django.conf import settings
from django.utils import timezone
from django.utils.dateformat import format as date_format
from django.utils.translation import get_language

_as_if: ContextVar[date | None] = ContextVar("as_if", default=None)


def _fixed() -> date | None:
    return _as_if.get() or settings.FIXED_TODAY


def today() -> date:
    return _fixed() or timezone.localdate()


def now() -> datetime:
    """The time now, on the fixed date where one is set."""
    moment = timezone.now()
    if day := _fixed():
        return timezone.make_aware(datetime.combine(day, timezone.localtime(moment).time()))
    return moment


@contextmanager
def as_if(day: date) -> Iterator[None]:
    """Do something as if it were another day, as the demo's past was made."""
    before = _as_if.set(day)
    try:
        yield
    finally:
        _as_if.reset(before)


def day_text(day: date) -> str:
    """A day as it is said: "Wed, Nov 25", with the year only when it is not this one."""
    pattern = "D, M j" if day.year == today().year else "D, M j, Y"
    return _written(day, pattern, get_language())


@lru_cache(maxsize=4096)
def _written(day: date, pattern: str, _language: str | None) -> str:
    return date_format(day, pattern)
