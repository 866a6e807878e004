from django import forms
from django.utils.translation import gettext_lazy as _

from materials.forms.fields import MaterialChoiceField, typed_material
from materials.forms.suppliers import LONGEST_LEAD
from materials.models import Material, Order, OrderLine, Supplier
from workshop import clock
from workshop.forms import CountField, DayField, Form, MoneyField, PriceField, QuantityField, RowForm
from workshop.models.shop import LEAD_UNITS

PRICE_HINT = _("Left empty, it is the supplier's last price.")
CHARGES_HINT = _("For instance a pallet, cutting, a fuel surcharge.")
NOTE_HINT = _("It is printed on the order.")
LEAD_HINT = _("Left empty, it is the supplier's usual one.")


class OrderForm(Form):
    """An order with its first line, in one step."""

    supplier = forms.ModelChoiceField(Supplier.objects.all(), label=_("Supplier"))
    material = MaterialChoiceField(Material.objects.all(), label=_("Material"))
    quantity_micro = QuantityField(label=_("Quantity"))
    price_micro = PriceField(label=_("Price"), required=False, help_text=PRICE_HINT)
    lead_count = CountField(label=_("Lead time quoted"), required=False, max_value=LONGEST_LEAD, help_text=LEAD_HINT)
    lead_unit = forms.ChoiceField(label=_("Counted in"), choices=[("", "–"), *LEAD_UNITS], required=False)
    promised_on = DayField(
        label=_("Promised for"),
        required=False,
        help_text=_("The supplier's own date. Left empty, it follows from the lead time."),
    )
    freight_minor = MoneyField(label=_("Freight"), required=False)
    charges_minor = MoneyField(label=_("Other charges"), required=False)
    charges_what = forms.CharField(label=_("What for"), max_length=80, required=False, help_text=CHARGES_HINT)
    note = forms.CharField(label=_("Note"), max_length=2000, required=False, widget=forms.Textarea, help_text=NOTE_HINT)

    def __init__(self, *args: object, currency: str, **options: object) -> None:
        super().__init__(*args, **options)
        for name in ("price_micro", "freight_minor", "charges_minor"):
            self.fields[name].use(currency)
        _use_unit_of(self)

    def clean_freight_minor(self) -> int:
        return self.cleaned_data["freight_minor"] or 0

    def clean_charges_minor(self) -> int:
        return self.cleaned_data["charges_minor"] or 0


class OrderChangeForm(RowForm):
    """What is agreed with the supplier; the promise is asked only while the order is not placed."""

    lead_count = CountField(label=_("Lead time quoted"), max_value=LONGEST_LEAD)
    promised_on = DayField(
        label=_("Promised for"),
        required=False,
        help_text=_("The supplier's own date. Left empty, it follows from the lead time."),
    )
    freight_minor = MoneyField(label=_("Freight"), required=False)
    charges_minor = MoneyField(label=_("Other charges"), required=False)

    class Meta:
        model = Order
        fields = ["lead_count", "lead_unit", "promised_on", "freight_minor", "charges_minor", "charges_what", "note"]

    def __init__(self, *args: object, **options: object) -> None:
        super().__init__(*args, **options)
        for name in ("freight_minor", "charges_minor"):
            self.fields[name].use(self.instance.currency)
        self.fields["charges_what"].help_text = CHARGES_HINT
        self.fields["note"].help_text = NOTE_HINT
        if self.instance.placed_on:
            del self.fields["promised_on"]

    def clean_freight_minor(self) -> int:
        return self.cleaned_data["freight_minor"] or 0

    def clean_charges_minor(self) -> int:
        return self.cleaned_data["charges_minor"] or 0


class OrderLineForm(Form):
    material = MaterialChoiceField(Material.objects.all(), label=_("Material"))
    quantity_micro = QuantityField(label=_("Quantity"))
    price_micro = PriceField(label=_("Price"), required=False, help_text=PRICE_HINT)

    def __init__(self, *args: object, currency: str, **options: object) -> None:
        super().__init__(*args, **options)
        self.fields["price_micro"].use(currency)
        _use_unit_of(self)


class OrderLineChangeForm(RowForm):
    quantity_micro = QuantityField(label=_("Quantity"))
    price_micro = PriceField(label=_("Price"))
    is_closed = forms.BooleanField(
        label=_("The rest will not come"),
        required=False,
        help_text=_("The order waits for nothing more of it."),
    )

    class Meta:
        model = OrderLine
        fields = ["quantity_micro", "price_micro"]

    def __init__(self, *args: object, **options: object) -> None:
        super().__init__(*args, **options)
        material = self.instance.material
        self.fields["quantity_micro"].use(material.bought_unit)
        self.fields["quantity_micro"].whole = material.is_bought_whole
        self.fields["price_micro"].use(self.instance.order.currency)
        self.initial["is_closed"] = self.instance.closed_on is not None


class PlaceForm(Form):
    placed_on = DayField(label=_("Placed on"))

    def __init__(self, *args: object, **options: object) -> None:
        super().__init__(*args, **options)
        self.initial["placed_on"] = clock.today()


class PromiseForm(Form):
    promised_on = DayField(label=_("Promised for"))
    told_on = DayField(label=_("Told on"))
    note = forms.CharField(label=_("Reason given"), max_length=200, required=False)

    def __init__(self, *args: object, **options: object) -> None:
        super().__init__(*args, **options)
        self.initial["told_on"] = clock.today()


class CancelForm(Form):
    why = forms.CharField(label=_("Why it is cancelled"), max_length=200)


def _use_unit_of(form: Form) -> None:
    """Set the unit beside the quantity once a material is chosen; before that there is none to show."""
    field = form.fields["quantity_micro"]
    material = typed_material(form.data.get("material") if form.is_bound else form.initial.get("material"))
    if material:
        field.use(material.bought_unit)
        field.whole = material.is_bought_whole
    else:
        field.unit = ""
        field.help_text = _("In the unit that stands beside the material.")
