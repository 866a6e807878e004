"""What was and what is, as sentences, from the rows an action noted."""

from datetime import date

from django.apps import apps
from django.db import models
from django.utils.translation import gettext as _

from workshop import actions, clock
from workshop.calculations import lengths, money, units
from workshop.calculations.numerals import decimal_text
from workshop.language import decimal_mark, locale
from workshop.models import Action, Shop

MOST_LINES = 12
MONEY = ("_minor", "price_micro", "_ppm")
LEVELS_UP = 2


class Teller:
    """Tells changes for one page: to the owner with money, to staff without. Rows are looked up once."""

    def __init__(self, *, with_money: bool) -> None:
        self.with_money = with_money
        self._shop = Shop.get()
        self._names: dict[tuple[type[models.Model], object], str] = {}
        self._action = 0
        self._currencies: dict[tuple[int, str], str] = {}

    def changed_values(self, action: Action) -> list[str]:
        """One sentence a changed value, the same one once: "Promised for: was Mon, Nov 23, is Fri, Dec 4"."""
        lines: list[str] = []
        self._action = action.pk
        for before, after in zip(action.before, action.after, strict=True):
            if before["fields"] is not None and after["fields"] is not None:
                lines += self._lines(after["row"], before["fields"], after["fields"])
        return list(dict.fromkeys(lines))[:MOST_LINES]

    def _lines(self, thing: str, before: dict, after: dict) -> list[str]:
        fields = _fields(thing)
        lines = []
        for column, value in after.items():
            field = fields.get(column)
            if field is None or (not self.with_money and column.endswith(MONEY)):
                continue
            label = str(field.verbose_name)
            words = {
                "what": label[:1].upper() + label[1:],
                "was": self._said(field, before[column], thing),
                "now": self._said(field, value, thing),
            }
            lines.append(_("%(what)s: was %(was)s, is %(now)s") % words)
        return lines

    def _said(self, field: models.Field, value: object, thing: str) -> str:
        if value is None or value == "":
            return _("empty")
        if isinstance(field, models.ForeignKey):
            return self._name(field.related_model, value)
        if field.choices:
            return str(dict(field.flatchoices).get(value, value))
        if isinstance(field, models.BooleanField):
            return _("yes") if value else _("no")
        if isinstance(field, models.DateField) and not isinstance(field, models.DateTimeField):
            return clock.day_text(date.fromisoformat(value))
        return self._figure(field.name, value, thing)

    def _figure(self, name: str, value: object, thing: str) -> str:
        if name.endswith("_nm"):
            system = self._shop.unit_system
            exactness = 100_000 if system == "metric" else 396_875
            return lengths.show_length(value, system, exactness, decimal_mark=decimal_mark())
        if name.endswith("_minor"):
            return money.show_money(value, self._currency(thing), locale())
        if name.endswith("price_micro"):
            return money.show_price(value, self._currency(thing), locale())
        if name.endswith("_micro"):
            return decimal_text(units.from_micro(value), 6, decimal_mark())
        if name.endswith("_ppm"):
            return money.show_percent(value, locale())
        if name.endswith("minutes"):
            return _("%(hours)s h") % {"hours": f"{value // 60}:{value % 60:02}"}
        return str(value)

    def _name(self, model: type[models.Model], pk: object) -> str:
        if (model, pk) not in self._names:
            row = model._base_manager.filter(pk=pk).first()
            self._names[model, pk] = str(row) if row else _("gone")
        return self._names[model, pk]

    def _currency(self, thing: str) -> str:
        """The currency of a row; all rows of one kind in an action have the same."""
        kind = self._action, thing.split(":")[0]
        if kind not in self._currencies:
            self._currencies[kind] = _currency_of(actions.row_of(thing)) or self._shop.currency
        return self._currencies[kind]


def _fields(thing: str) -> dict[str, models.Field]:
    """The columns of a thing's table as they are now; none where an older version had such things."""
    try:
        model = apps.get_model(thing.split(":")[0])
    except LookupError:
        return {}
    return {field.attname: field for field in model._meta.concrete_fields}


def _currency_of(row: models.Model | None, levels: int = LEVELS_UP) -> str:
    """The currency of a row, or of what it belongs to."""
    if row is None or hasattr(row, "currency"):
        return getattr(row, "currency", "")
    owners = [f.name for f in row._meta.concrete_fields if f.is_relation] if levels else []
    return next(filter(None, (_currency_of(getattr(row, name), levels - 1) for name in owners)), "")
