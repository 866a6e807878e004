from django import forms
from django.utils.translation import gettext_lazy as _

from materials.models import OrderPayment
from workshop.forms import DayField, MoneyField, RowForm


class PaymentForm(RowForm):
    """A payment that is due; once it is there, the day it was paid too."""

    amount_minor = MoneyField(label=_("Amount"))
    due_on = DayField(label=_("Due on"))
    paid_on = DayField(label=_("Paid on"), required=False)

    class Meta:
        model = OrderPayment
        fields = ["what", "amount_minor", "due_on", "paid_on"]

    def __init__(self, *args: object, currency: str, **options: object) -> None:
        super().__init__(*args, **options)
        self.fields["what"].help_text = _("For instance Deposit, or Balance.")
        self.fields["amount_minor"].use(currency)
        if not self.instance.pk:
            del self.fields["paid_on"]

    def clean_amount_minor(self) -> int:
        amount = self.cleaned_data["amount_minor"]
        if amount == 0:
            raise forms.ValidationError(_("This is 0. Type an amount, or add no payment."))
        return amount
