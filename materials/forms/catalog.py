from django.utils.translation import gettext_lazy as _

from materials.forms.fields import ColorField
from materials.models import Material, Price, Supplier, ToneGroup
from materials.tones import MOST_GROUPS
from workshop import clock
from workshop.calculations.units import UNITS
from workshop.forms import CountField, DayField, PriceField, QuantityField, RowForm
from workshop.models import Shop


class PriceForm(RowForm):
    price_micro = PriceField(label=_("Price"))
    from_on = DayField(label=_("From"))
    minimum_micro = QuantityField(
        label=_("Least quantity"), required=False, help_text=_("The least this supplier sells of it.")
    )
    pack_micro = QuantityField(
        label=_("Sold in packs of"), required=False, help_text=_("Orders are in whole packs then.")
    )

    class Meta:
        model = Price
        fields = ["supplier", "price_micro", "from_on", "minimum_micro", "pack_micro"]

    def __init__(self, *args: object, material: Material, shop: Shop, **options: object) -> None:
        super().__init__(*args, **options)
        self.fields["supplier"].queryset = Supplier.objects.all()
        self.fields["price_micro"].use(shop.currency)
        unit = UNITS[material.bought_unit].one
        self.fields["price_micro"].label = _("Price of one %(unit)s") % {"unit": unit}
        for name in ("minimum_micro", "pack_micro"):
            self.fields[name].use(material.bought_unit)
            self.fields[name].whole = material.is_bought_whole
        self.initial.setdefault("supplier", material.usual_supplier_id)
        self.initial.setdefault("from_on", clock.today())


class ToneGroupForm(RowForm):
    """A tone group; only one that is there already can be moved."""

    color = ColorField(label=_("Swatch"), help_text=_("Bare wood. Pick the color, or type it beside, as #dfcca9."))
    place = CountField(label=_("Place from light to dark"), min_value=1, max_value=MOST_GROUPS)

    class Meta:
        model = ToneGroup
        fields = ["name", "color", "place"]

    def __init__(self, *args: object, **options: object) -> None:
        super().__init__(*args, **options)
        if not self.instance.pk:
            del self.fields["place"]
