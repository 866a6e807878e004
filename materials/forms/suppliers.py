from django.utils.translation import gettext_lazy as _

from materials.models import Supplier
from workshop.forms import CountField, RowForm

LONGEST_LEAD = 1096
LONGEST_INSPECTION = 366


class SupplierForm(RowForm):
    lead_count = CountField(
        label=_("Usual lead time"),
        max_value=LONGEST_LEAD,
        initial=2,
        help_text=_("What this supplier quotes when nothing else is said. 0: it comes the same day."),
    )

    inspect_days = CountField(
        label=_("Days to tell a fault"),
        max_value=LONGEST_INSPECTION,
        required=False,
        help_text=_("From the day of arrival, as agreed with this supplier. Empty: nothing is agreed."),
    )

    class Meta:
        model = Supplier
        fields = ["name", "contact", "phone", "email", "lead_count", "lead_unit", "inspect_days", "address", "note"]
