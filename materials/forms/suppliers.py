from django.utils.translation import gettext_lazy as _

from materials.models import Supplier
from workshop.forms import CountField, RowForm

LONGEST_LEAD = 1096


class SupplierForm(RowForm):
    lead_count = CountField(
        label=_("Usual lead time"),
        max_value=LONGEST_LEAD,
        initial=2,
        help_text=_("What this supplier quotes when nothing else is said."),
    )

    class Meta:
        model = Supplier
        fields = ["name", "contact", "phone", "email", "lead_count", "lead_unit", "address", "note"]
