"""Figures as people read them: money, lengths, quantities, days, hours, and the parts of a form field."""

from collections.abc import Sequence
from datetime import date, datetime
from fractions import Fraction
from functools import lru_cache

from django import forms, template
from django.utils import timezone
from django.utils.html import format_html
from django.utils.safestring import SafeString
from django.utils.translation import gettext as _
from django.utils.translation import ngettext

from workshop import actions, clock
from workshop.calculations import lengths, money, units
from workshop.calculations.numerals import decimal_text
from workshop.forms import unread
from workshop.language import decimal_mark, locale

register = template.Library()

# A list says the same few figures row after row.
_show_money = lru_cache(maxsize=4096)(money.show_money)
_show_price = lru_cache(maxsize=4096)(money.show_price)


@lru_cache(maxsize=4096)
def _show_quantity(micro: int, code: str, mark: str) -> str:
    return units.show_quantity(units.from_micro(micro), code, mark)


@lru_cache(maxsize=4096)
def _hours(minutes: int, mark: str) -> str:
    return units.edit_quantity(Fraction(minutes, 60), "hour", mark)


@register.filter
def unit(field: forms.BoundField) -> str:
    return getattr(field.field, "unit", "")


@register.filter
def suggestions(field: forms.BoundField) -> Sequence[str]:
    return unread(field)


@register.filter
def amount(minor: int, currency: str) -> str:
    """An amount with the currency's sign: $3,318.00."""
    return _show_money(minor, currency, locale())


@register.filter
def bare_amount(minor: int, currency: str) -> str:
    """An amount without sign, where the currency is named once: 3,318.00."""
    return _show_money(minor, currency, locale(), symbol=False)


@register.filter
def price(micro: int, currency: str) -> str:
    return _show_price(micro, currency, locale())


@register.filter
def percent(ppm: int) -> str:
    return money.show_percent(ppm, locale())


@register.filter
def quantity(micro: int, code: str) -> str:
    """An amount with its unit: 12 1/2 bd ft, 5 sheets."""
    return _show_quantity(micro, code, decimal_mark())


@register.filter
def unit_name(code: str) -> str:
    return units.UNITS[code].many


@register.filter
def dimension(nm: int, job: object) -> str:
    """A length in the job's (or the shop's) system and to its precision."""
    system = getattr(job, "unit_system", "us")
    precision = getattr(job, "precision_nm", None) or (1_000_000 if system == "metric" else 1_587_500)
    return lengths.show_length(nm, system, precision, decimal_mark=decimal_mark())


@register.filter
def day(value: date | None) -> str:
    if value is None:
        return "–"
    return clock.day_text(timezone.localtime(value).date() if isinstance(value, datetime) else value)


@register.filter
def hours(minutes: int | None) -> str:
    """Minutes as hours: 46 h, 2.5 h, 0:20 h."""
    minutes = minutes or 0
    if minutes % 15:
        return _("%(hours)s h") % {"hours": f"{minutes // 60}:{minutes % 60:02}"}
    return _("%(hours)s h") % {"hours": _hours(minutes, decimal_mark())}


@register.simple_tag
def key() -> SafeString:
    """The hidden field that keeps a form from being done twice."""
    return format_html('<input type="hidden" name="key" value="{}">', actions.new_key())


@register.filter
def days(count: Fraction | int | None) -> str:
    """A number of days: 58 d, 31.5 d."""
    return "–" if count is None else _("%(count)s d") % {"count": decimal_text(Fraction(count), 1, decimal_mark())}


@register.filter
def lead(count: int, unit: str) -> str:
    """A lead time as it is quoted: 4 weeks, 1 month, 3 working days."""
    if count == 0:
        return _("the same day")
    words = {
        "working_days": ngettext("%(count)s working day", "%(count)s working days", count),
        "days": ngettext("%(count)s calendar day", "%(count)s calendar days", count),
        "weeks": ngettext("%(count)s week", "%(count)s weeks", count),
        "months": ngettext("%(count)s month", "%(count)s months", count),
    }
    return words[unit] % {"count": count}


@register.filter
def bare_quantity(micro: int, code: str) -> str:
    """An amount without its unit, as it stands beside it: 12 1/2."""
    return units.edit_quantity(units.from_micro(micro), code, decimal_mark())


@register.filter
def one_unit(code: str) -> str:
    """The unit beside a rate: sheet, bd ft, h."""
    return units.UNITS[code].one
