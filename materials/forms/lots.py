from django import forms
from django.core.exceptions import ValidationError
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from materials.forms.fields import SheetNumbersField
from materials.models import Lot
from materials.veneer import MOST_NUMBER
from workshop.forms import CountField, Form, RowForm

UP, DOWN = "up", "down"


class VeneerForm(Form):
    """What the veneer mill says of a run of sheets."""

    numbers = SheetNumbersField(label=gettext_lazy("Sheets"), help_text=gettext_lazy("By the shop's numbers, as 1-12."))
    flitch = forms.CharField(label=gettext_lazy("Flitch"), max_length=30, required=False)
    set_name = forms.CharField(label=gettext_lazy("Set"), max_length=30, required=False)
    first_number = CountField(
        label=gettext_lazy("Number in the set of the first"), min_value=1, max_value=MOST_NUMBER, required=False
    )
    direction = forms.ChoiceField(
        label=gettext_lazy("From there the numbers go"),
        choices=[(UP, gettext_lazy("up")), (DOWN, gettext_lazy("down"))],
        initial=UP,
    )
    is_top_marked = forms.BooleanField(label=gettext_lazy("The top end is marked"), required=False)

    def clean_numbers(self) -> list[int]:
        if not self.cleaned_data["numbers"]:
            raise ValidationError(_("This is empty. Name the sheets, as 1-12."))
        return self.cleaned_data["numbers"]

    def told(self) -> dict[str, object]:
        """What was typed, as the rule takes it."""
        values = self.values("direction")
        return {**values, "goes_down": self.cleaned_data["direction"] == DOWN}


class BatchForm(RowForm):
    class Meta:
        model = Lot
        fields = ["batch_number", "use_by_on"]
