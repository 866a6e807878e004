import re

from django import forms
from django.db.models import QuerySet
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from materials.forms.fields import SheetNumbersField
from materials.models import Lot, SheetReturn
from workshop import clock
from workshop.forms import DayField, Form, MoneyField

KEY = re.compile(r"[0-9]{1,18}", re.ASCII)


class ReturnForm(Form):
    """Sheets that go back; the credit expected is asked of the owner only."""

    numbers = SheetNumbersField(
        label=gettext_lazy("Sheets"), help_text=gettext_lazy("The numbers on the backs, as 3, 17 or 20-24.")
    )
    asked_on = DayField(label=gettext_lazy("Told the supplier on"))
    why = forms.CharField(label=gettext_lazy("Why"), max_length=200)
    credit_expected_minor = MoneyField(
        label=gettext_lazy("Credit expected for each"),
        required=False,
        help_text=gettext_lazy("Left empty, its price on the slip."),
    )

    def __init__(self, *args: object, lot: Lot, sees_money: bool, **options: object) -> None:
        super().__init__(*args, **options)
        self.initial.setdefault("asked_on", clock.today())
        self.fields["credit_expected_minor"].use(lot.currency)
        if not sees_money:
            del self.fields["credit_expected_minor"]

    def clean_numbers(self) -> list[int]:
        if not self.cleaned_data["numbers"]:
            raise forms.ValidationError(_("This is empty. Name the sheets, as 3, 17."))
        return self.cleaned_data["numbers"]


class _ReturnsField(forms.ModelMultipleChoiceField):
    """Returns by their keys; a key longer than any database has is none."""

    def clean(self, value: list[str] | None) -> QuerySet[SheetReturn]:
        for key in value or ():
            if not KEY.fullmatch(str(key)):
                raise forms.ValidationError(self.error_messages["invalid_pk_value"], code="invalid_pk_value")
        return super().clean(value)


class CollectForm(Form):
    """The sheets a driver took."""

    rows = _ReturnsField(SheetReturn.objects.none(), label=gettext_lazy("Sheets"), required=False)
    collected_on = DayField(label=gettext_lazy("Collected on"))

    def __init__(self, *args: object, **options: object) -> None:
        super().__init__(*args, **options)
        self.initial.setdefault("collected_on", clock.today())
        self.fields["rows"].queryset = SheetReturn.objects.all()

    @property
    def chosen(self) -> set[str]:
        """The keys that are marked, as they were sent."""
        return set(self.data.getlist("rows")) if self.is_bound else set()


class CreditForm(Form):
    """The credit note for one sheet."""

    number = forms.CharField(label=gettext_lazy("Number of the credit note"), max_length=40)
    dated_on = DayField(label=gettext_lazy("Dated"))
    amount_minor = MoneyField(label=gettext_lazy("Credit received"))

    def __init__(self, *args: object, row: SheetReturn, **options: object) -> None:
        super().__init__(*args, **options)
        self.initial.setdefault("dated_on", clock.today())
        self.fields["amount_minor"].use(row.sheet.lot.currency)
        if row.credit_expected_minor:
            self.initial.setdefault("amount_minor", row.credit_expected_minor)
