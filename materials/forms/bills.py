from collections.abc import Iterator
from dataclasses import dataclass

from django import forms
from django.core.exceptions import ValidationError
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from materials.bills import BillLine
from materials.forms.fields import SheetNumbersField
from materials.landing import Figures, LineFigures
from materials.models import Bill, Delivery, Sheet
from workshop import clock
from workshop.forms import DayField, Form, MoneyField, RowForm
from workshop.templatetags.figures import amount


@dataclass(frozen=True)
class BillRow:
    """The fields of one line of the delivery."""

    line: LineFigures
    fields: list[forms.BoundField]


class BillForm(Form):
    """What an invoice or a credit note says otherwise than the slip; what is left empty stays as it was."""

    number = forms.CharField(label=gettext_lazy("Number"), max_length=40)
    dated_on = DayField(label=gettext_lazy("Dated"))
    note = forms.CharField(label=gettext_lazy("Note"), max_length=200, required=False)

    def __init__(self, *args: object, delivery: Delivery, kind: str, figures: Figures, **options: object) -> None:
        super().__init__(*args, **options)
        self.delivery, self.kind, self.figures = delivery, kind, figures
        self.initial.setdefault("dated_on", clock.today())
        self.is_credit = kind == Bill.Kind.CREDIT
        for each in figures.lines:
            self._add_line(each)
        label = _("Credit on freight and charges") if self.is_credit else _("Freight and charges")
        self.fields["charges"] = self._money(label, self._now(figures.quoted_charges_minor))

    def _add_line(self, each: LineFigures) -> None:
        pk, is_sheets = each.line.pk, bool(each.line.lot) and each.line.material.is_sheet
        label = _("Credit on the whole line") if self.is_credit else _("Invoiced")
        self.fields[f"line_{pk}"] = self._money(label, self._now(each.quoted_minor))
        if self.is_credit and is_sheets:
            hint = _("The numbers on the backs, as 3, 17.")
            self.fields[f"sheets_{pk}"] = SheetNumbersField(
                label=_("For single sheets"), required=False, help_text=hint
            )
            self.fields[f"each_{pk}"] = self._money(_("Credit for each of them"), "")

    def _now(self, quoted_minor: int) -> str:
        return _("On the slip: %(amount)s") % {"amount": amount(quoted_minor, self.delivery.currency)}

    def _money(self, label: str, hint: str) -> MoneyField:
        return MoneyField(label=label, currency=self.delivery.currency, required=False, help_text=hint)

    @property
    def rows(self) -> Iterator[BillRow]:
        for each in self.figures.lines:
            names = (f"{name}_{each.line.pk}" for name in ("line", "sheets", "each"))
            yield BillRow(each, [self[name] for name in names if name in self.fields])

    def clean(self) -> dict[str, object]:
        cleaned = super().clean()
        self.sheets = {}
        for each in self.figures.lines:
            pk = each.line.pk
            numbers, credit = cleaned.get(f"sheets_{pk}"), cleaned.get(f"each_{pk}")
            if numbers and credit is None and f"each_{pk}" not in self.errors:
                self.add_error(f"each_{pk}", _("Type what is credited for each, or name no sheets."))
            if credit is not None and not numbers and f"sheets_{pk}" not in self.errors:
                self.add_error(f"sheets_{pk}", _("Name the sheets, as 3, 17, or type no credit for each."))
            if numbers:
                self._find(each, numbers)
        return cleaned

    def _find(self, each: LineFigures, numbers: list[int]) -> None:
        found = {s.number: s for s in Sheet.objects.filter(lot=each.line.lot, number__in=numbers).select_related("lot")}
        if missing := [number for number in numbers if number not in found]:
            message = _("There is no sheet %(number)s in lot %(lot)s. Name others, as 3, 17.")
            words = {"number": missing[0], "lot": each.line.lot.number}
            self.add_error(f"sheets_{each.line.pk}", ValidationError(message, params=words))
        self.sheets[each.line.pk] = list(found.values())

    def lines(self) -> list[BillLine]:
        """What was typed, as the rule takes it."""
        typed = self.cleaned_data
        said = []
        for each in self.figures.lines:
            pk = each.line.pk
            if typed.get(f"line_{pk}") is not None:
                said.append(BillLine(f"line_{pk}", typed[f"line_{pk}"], each.line))
            for sheet in self.sheets.get(pk, ()):
                said.append(BillLine(f"each_{pk}", typed[f"each_{pk}"], each.line, sheet))
        if typed.get("charges") is not None:
            said.append(BillLine("charges", typed["charges"]))
        return said


class BillChangeForm(RowForm):
    amount_minor = MoneyField(label=gettext_lazy("Amount"))

    class Meta:
        model = Bill
        fields = ["number", "dated_on", "amount_minor", "note"]

    def __init__(self, *args: object, **options: object) -> None:
        super().__init__(*args, **options)
        self.fields["amount_minor"].use(self.instance.delivery.currency)
