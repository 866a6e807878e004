"""Fields that read lengths, money, quantities, hours and days as the shop types them, into exact whole numbers."""

import re
from datetime import date
from fractions import Fraction

from django import forms
from django.core.exceptions import ValidationError
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from workshop import clock
from workshop.calculations import lengths, money, units
from workshop.calculations.numerals import TypedError
from workshop.language import decimal_mark, locale

FIRST_DAY, LAST_DAY = date(1990, 1, 1), date(2100, 12, 31)
COUNT = re.compile(r"[+-]?[0-9]{1,40}(\.0*)?")
CLOCKED = re.compile(r"([0-9]{1,4}):([0-5][0-9])")
IN_HOURS_AND_MINUTES = re.compile(r"([0-9]{1,4}) ?h(?:ours?|rs?)? ?([0-5]?[0-9]) ?(?:m|min|minutes?)?", re.IGNORECASE)
TWO_NUMBERS = re.compile(r"([0-9]{1,4}) ([0-5][0-9])")
CURRENCIES = ["USD", "CAD", "EUR", "GBP", "CHF", "AUD", "NZD", "SEK", "NOK", "DKK", "PLN", "JPY", "MXN", "KWD"]


class _ReadField(forms.CharField):
    """A field whose text is read into an exact integer; errors carry what would do."""

    unit = ""

    def __init__(self, **options: object) -> None:
        options.setdefault("max_length", 40)
        super().__init__(**options)

    def widget_attrs(self, widget: forms.Widget) -> dict[str, object]:
        return {"inputmode": "text", "autocomplete": "off", "spellcheck": "false"}

    def read(self, text: str) -> int:
        raise NotImplementedError

    def show(self, value: int) -> str:
        raise NotImplementedError

    def to_python(self, value: object) -> int | None:
        text = super().to_python(value)
        if not text:
            return None
        if "\0" in text or len(text) > self.max_length:
            raise ValidationError(
                _("This is too long, or has a sign that cannot be typed. At most %(count)s letters do."),
                params={"count": self.max_length},
            )
        try:
            return self.read(text)
        except TypedError as error:
            raise _told(error) from error

    def run_validators(self, value: object) -> None:
        """The text was checked while reading; the number needs no text validators."""

    def prepare_value(self, value: object) -> object:
        return self.show(value) if isinstance(value, int) and not isinstance(value, bool) else value

    def has_changed(self, initial: object, data: object) -> bool:
        try:
            return self.to_python(data) != initial
        except ValidationError:
            return True


def _told(error: TypedError) -> ValidationError:
    one, two = error.would_do
    return ValidationError(
        _("%(typed)s cannot be read as %(what)s: %(reason)s. Type %(one)s or %(two)s."),
        code="unread",
        params={
            "typed": error.typed or _("An empty field"),
            "what": _(error.what),
            "reason": _(error.reason),
            "one": one,
            "two": two,
            "would_do": [one, two],
        },
    )


class LengthField(_ReadField):
    """A length in nanometers, typed as the shop writes it. `size=True` refuses zero and less."""

    def __init__(self, *, system: str = "us", unit: str = "", size: bool = True, **options: object) -> None:
        self.size = size
        self.use(system, unit)
        super().__init__(**options)

    def use(self, system: str, unit: str = "") -> None:
        self.system, self.unit = system, unit or ("mm" if system == "metric" else "in")

    def read(self, text: str) -> int:
        return lengths.read_length(text, unit=self.unit, decimal_mark=decimal_mark(), size=self.size)

    def show(self, value: int) -> str:
        return lengths.edit_length(value, self.system, decimal_mark(), unit=self.unit)


class QuantityField(_ReadField):
    """An amount of a unit, kept in millionths. The unit can be set per form with `use`."""

    def __init__(self, *, code: str = "piece", positive: bool = True, whole: bool = False, **options: object) -> None:
        self.positive, self.whole = positive, whole
        self.use(code)
        super().__init__(**options)

    def use(self, code: str) -> None:
        self.code = code
        self.unit = units.UNITS[code].many

    def read(self, text: str) -> int:
        try:
            amount = units.read_quantity(text, self.code, decimal_mark())
        except TypedError as error:
            if self.whole:
                error.would_do = tuple([each for each in error.would_do if each.isdecimal()] + ["5", "12"])[:2]
            raise
        if self.positive and amount <= 0:
            raise ValidationError(_("This is 0. Type 1 or more, or leave the line out."))
        if self.whole and amount.denominator != 1:
            raise ValidationError(
                _("%(typed)s is not a whole number. Type %(less)s or %(more)s."),
                params={"typed": text, "less": amount.__floor__(), "more": amount.__ceil__()},
            )
        return units.to_micro(amount)

    def show(self, value: int) -> str:
        return units.edit_quantity(units.from_micro(value), self.code, decimal_mark())


class MoneyField(_ReadField):
    """An amount in minor units of a currency."""

    def __init__(self, *, currency: str = "USD", negative: bool = False, **options: object) -> None:
        self.negative = negative
        self.use(currency)
        super().__init__(**options)

    def use(self, currency: str) -> None:
        self.currency = self.unit = currency

    def read(self, text: str) -> int:
        amount = money.read_money(text, self.currency, decimal_mark(), negative=self.negative)
        return money.to_minor(amount, self.currency)

    def show(self, value: int) -> str:
        return money.plain_money(value, self.currency, decimal_mark())


class PriceField(MoneyField):
    """A unit price in millionths of the currency."""

    def read(self, text: str) -> int:
        return money.amount_to_micro(money.read_price(text, self.currency, decimal_mark()))

    def show(self, value: int) -> str:
        return money.plain_price(value, self.currency, decimal_mark())


class PercentField(_ReadField):
    """A per cent in parts per million: 8.25 % is 82,500."""

    unit = "%"

    def __init__(self, *, below: int | None = None, **options: object) -> None:
        self.below = below
        super().__init__(**options)

    def read(self, text: str) -> int:
        ppm = money.read_percent(text, decimal_mark())
        if self.below is not None and ppm >= self.below:
            raise ValidationError(
                _("%(typed)s is too much here. Type less than %(below)s."),
                params={"typed": text, "below": money.show_percent(self.below, locale())},
            )
        return ppm

    def show(self, value: int) -> str:
        return money.plain_percent(value, decimal_mark())


class HoursField(_ReadField):
    """Minutes, typed as 1.5, 1:30, 1 1/2, 1 h 30 or 90 min."""

    unit = gettext_lazy("h")

    def __init__(self, *, most_minutes: int = 24 * 60, zero: bool = False, **options: object) -> None:
        self.most_minutes, self.zero = most_minutes, zero
        super().__init__(**options)

    def read(self, text: str) -> int:
        minutes = self._minutes(text)
        if minutes < (0 if self.zero else 1) or minutes > self.most_minutes:
            raise ValidationError(
                _("%(typed)s is outside what this takes: up to %(most)s hours. Type 1.5 or 1:30."),
                params={"typed": text, "most": self.most_minutes // 60, "would_do": ["1.5", "1:30"]},
            )
        return minutes

    @staticmethod
    def _minutes(text: str) -> int:
        if found := CLOCKED.fullmatch(text) or IN_HOURS_AND_MINUTES.fullmatch(text):
            return int(found[1]) * 60 + int(found[2])
        if found := re.fullmatch(r"([0-9]{1,5}) ?min", text):
            return int(found[1])
        try:
            amount = units.read_quantity(text, "hour", decimal_mark())
        except TypedError as error:
            if found := TWO_NUMBERS.fullmatch(text):
                error.would_do = (f"{found[1]}:{found[2]}", f"{found[1]} h {found[2]}")
            raise
        return money.round_half_up(amount * 60)

    def show(self, value: int) -> str:
        return (
            f"{value // 60}:{value % 60:02}"
            if value % 15
            else units.edit_quantity(Fraction(value, 60), "hour", decimal_mark())
        )


class DayField(forms.DateField):
    def __init__(self, **options: object) -> None:
        options.setdefault("widget", forms.DateInput(format="%Y-%m-%d", attrs={"type": "date"}))
        options.setdefault("input_formats", ["%Y-%m-%d"])
        super().__init__(**options)

    def to_python(self, value: object) -> date | None:
        try:
            return super().to_python(value)
        except ValidationError as error:
            like = clock.today().isoformat()
            raise ValidationError(
                _("There is no such day. Write it as %(like)s."), code="invalid", params={"like": like}
            ) from error

    def validate(self, value: date | None) -> None:
        super().validate(value)
        if value and not FIRST_DAY <= value <= LAST_DAY:
            raise ValidationError(
                _("%(day)s is too far away. A day from %(first)s to %(last)s does."),
                params={"day": value, "first": FIRST_DAY, "last": LAST_DAY},
            )


class CountField(forms.IntegerField):
    """A whole number of things, from `min_value` to `max_value`."""

    def __init__(self, *, unit: str = "", **options: object) -> None:
        self.unit = unit
        options.setdefault("min_value", 0)
        options.setdefault("max_value", 9999)
        super().__init__(**options)

    def to_python(self, value: object) -> int | None:
        text = str(value).strip() if value is not None else ""
        if text and not COUNT.fullmatch(text):
            raise ValidationError(self.error_messages["invalid"], code="invalid")
        return super().to_python(text)


class CurrencyField(forms.ChoiceField):
    def __init__(self, **options: object) -> None:
        options.setdefault("label", gettext_lazy("Currency"))
        super().__init__(choices=[(code, code) for code in CURRENCIES], **options)
