from collections.abc import Mapping

from django import forms
from django.core.exceptions import ValidationError
from django.forms import BoundField
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from estimates import operation_rates
from estimates.operation_rates import Operation
from jobs.models import Stage
from workshop import clock
from workshop.forms import DayField, Form, PriceField
from workshop.models import Shop

Prices = Mapping[tuple[str, str], int | None]


class RatesForm(Form):
    """A price of an hour for each operation, and beside it, hidden, what it was when the page was opened."""

    from_on = DayField(label=gettext_lazy("From"), help_text=gettext_lazy("What you change holds from this day on."))

    def __init__(self, *args: object, **options: object) -> None:
        super().__init__(*args, **options)
        self.initial["from_on"] = clock.today()
        currency = Shop.get().currency
        self.operations = [one for one in operation_rates.operations() if not self.is_bound or _name(one) in self.data]
        for one in self.operations:
            label = _("%(operation)s, price of an hour") % {"operation": one.full_name}
            self.fields[_name(one)] = PriceField(label=label, currency=currency, required=False)
            self.fields[f"was_{_name(one)}"] = forms.CharField(widget=forms.HiddenInput, required=False, max_length=40)
            self.initial[_name(one)] = one.price_micro
            self.initial[f"was_{_name(one)}"] = _plain(one.price_micro)

    def prices(self) -> Prices:
        return {one.key: self.cleaned_data[_name(one)] for one in self.operations}

    def was(self) -> Prices:
        """What the page showed; -1, which no rate is, for what no page of ours says."""
        return {one.key: _read(self.cleaned_data[f"was_{_name(one)}"]) for one in self.operations}

    def stale(self) -> None:
        """Somebody set rates meanwhile: show both values, and let the next send mean it."""
        message = _("This was changed meanwhile. What you typed stands. Send it again to keep yours.")
        self.add_error(None, ValidationError(message))
        for one in self.operations:
            name = _name(one)
            if _plain(one.price_micro) == self.data.get(f"was_{name}"):
                continue
            self._rewrite(**{f"was_{name}": _plain(one.price_micro)})
            if self.cleaned_data.get(name) != one.price_micro:
                stored = "–" if one.price_micro is None else self.fields[name].show(one.price_micro)
                self.add_error(name, ValidationError(_("Stored now: %(value)s"), params={"value": stored}))

    def lanes(self) -> list[tuple[str, list[tuple[Operation, BoundField]]]]:
        return [
            (lane.label, [(one, self[_name(one)]) for one in self.operations if one.lane == lane])
            for lane in Stage.Lane
        ]


def _name(one: Operation) -> str:
    return f"price_micro_{one.number}"


def _plain(micro: int | None) -> str:
    return "" if micro is None else str(micro)


def _read(text: str) -> int | None:
    if not text:
        return None
    return int(text) if text.isascii() and text.isdigit() and len(text) < 20 else -1
