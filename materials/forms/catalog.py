from django import forms
from django.utils.translation import gettext_lazy as _

from materials.forms.fields import ColorField, NominalThicknessField
from materials.models import Material, Price, Supplier, ToneGroup
from materials.tones import MOST_GROUPS
from workshop import clock
from workshop.calculations.units import UNITS
from workshop.forms import CountField, DayField, LengthField, PriceField, RowForm
from workshop.models import Shop

Kind = Material.Kind
SIZES_OF_KIND = {
    Kind.SHEET: ["thickness_nm", "width_nm", "length_nm"],
    Kind.LUMBER: ["thickness_nm"],
    Kind.TRIM: ["thickness_nm", "width_nm", "length_nm"],
    Kind.FASTENER: ["length_nm"],
    Kind.OTHER: ["thickness_nm", "width_nm", "length_nm"],
}
WITH_SPECIES = {Kind.SHEET, Kind.LUMBER, Kind.TRIM}
HINTS = {
    Kind.SHEET: {
        "name": _("As the supplier calls it, for instance Ash-veneered plywood."),
        "width_nm": _("As ordered: 49 or 1220 mm."),
    },
    Kind.LUMBER: {
        "name": _("For instance Solid ash."),
        "thickness_nm": _("Rough, in quarters: 4/4, 5/4, 8/4."),
    },
}


class MaterialForm(RowForm):
    """A material of one kind: the kind says which sizes and units there are."""

    unit = forms.ChoiceField(label=_("Counted in"))
    thickness_nm = LengthField(label=_("Thickness"), required=False)
    width_nm = LengthField(label=_("Width"), required=False)
    length_nm = LengthField(label=_("Length"), required=False)

    class Meta:
        model = Material
        fields = [
            "name",
            "species",
            "unit",
            "thickness_nm",
            "width_nm",
            "length_nm",
            "usual_supplier",
            "note",
        ]

    def __init__(self, *args: object, kind: str, shop: Shop, **options: object) -> None:
        super().__init__(*args, **options)
        units = Material.UNITS_OF_KIND[kind]
        self.fields["unit"].choices = [(unit, UNITS[unit].many) for unit in units]
        unused = {"thickness_nm", "width_nm", "length_nm"} - set(SIZES_OF_KIND.get(kind, []))
        unused |= set() if kind in WITH_SPECIES else {"species"}
        unused |= {"unit"} if len(units) == 1 else set()
        for name in unused:
            del self.fields[name]
        if kind == Kind.LUMBER:
            self.fields["thickness_nm"] = NominalThicknessField(label=_("Thickness"), required=False)
        for name in SIZES_OF_KIND.get(kind, []):
            self.fields[name].use(shop.unit_system)
        if kind == Kind.SHEET:
            self.fields["width_nm"].required = self.fields["length_nm"].required = True
        for name, hint in HINTS.get(kind, {}).items():
            self.fields[name].help_text = hint


class PriceForm(RowForm):
    price_micro = PriceField(label=_("Price"))
    from_on = DayField(label=_("From"))

    class Meta:
        model = Price
        fields = ["supplier", "price_micro", "from_on"]

    def __init__(self, *args: object, material: Material, shop: Shop, **options: object) -> None:
        super().__init__(*args, **options)
        self.fields["supplier"].queryset = Supplier.objects.all()
        self.fields["price_micro"].use(shop.currency)
        unit = UNITS[material.unit].one
        self.fields["price_micro"].label = _("Price of one %(unit)s") % {"unit": unit}
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
