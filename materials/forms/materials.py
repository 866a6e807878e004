"""A material of one kind: the kind says which sizes, units and attributes there are."""

from collections.abc import Iterator

from django import forms
from django.utils.translation import gettext_lazy as _

from materials.forms.fields import NominalThicknessField
from materials.models import Material
from workshop.calculations.units import MICRO, UNITS
from workshop.forms import LengthField, QuantityField, RowForm
from workshop.models import Shop

Kind = Material.Kind
SIZES = ["thickness_nm", "width_nm", "length_nm"]
VENEER = ["real_thickness_nm", "cut", "match", "face_grade", "back_grade", "core", "is_bought_finished"]
LUMBER = ["lumber_grade", "surface", "dryness", "tally"]
ATTRIBUTES = [*VENEER, *LUMBER, "fire_class", "emission_class"]
FIELDS_OF_KIND = {
    Kind.SHEET: ["species", *SIZES],
    Kind.LUMBER: ["species", "thickness_nm", "unit"],
    Kind.TRIM: ["species", *SIZES, "unit"],
    Kind.FINISH: ["unit"],
    Kind.FASTENER: ["length_nm", "unit"],
    Kind.LIGHT: ["unit"],
    Kind.SERVICE: ["unit"],
    Kind.OTHER: [*SIZES, "unit"],
}
MORE_OF_KIND = {
    Kind.SHEET: [*VENEER, "fire_class", "emission_class"],
    Kind.LUMBER: [*LUMBER, "fire_class"],
    Kind.TRIM: ["is_bought_finished", "fire_class", "emission_class"],
    Kind.OTHER: ["fire_class", "emission_class"],
}
BUYING = ["buy_unit", "buy_contains_micro"]
HINTS = {
    Kind.SHEET: {
        "name": _("As the supplier calls it, for instance Ash-veneered plywood."),
        "thickness_nm": _("As it is called: 3/4."),
        "width_nm": _("As ordered: 49 or 1220 mm."),
        "core": _("For instance veneer, MDF, particleboard."),
        "face_grade": _("As the supplier grades: AA, A, B."),
        "back_grade": _("As the supplier grades: 1, 2, 3."),
        "emission_class": _("For instance TSCA Title VI, or E1."),
    },
    Kind.LUMBER: {
        "name": _("For instance Solid ash."),
        "thickness_nm": _("Rough, in quarters: 4/4, 5/4, 8/4."),
        "tally": _(
            "Gross is measured before drying, net after it. Kiln-dried lumber on gross tally is some 7 in 100 short."
        ),
    },
}


class MaterialForm(RowForm):
    unit = forms.ChoiceField(label=_("Counted in"))
    thickness_nm = LengthField(label=_("Thickness"), required=False)
    width_nm = LengthField(label=_("Width"), required=False)
    length_nm = LengthField(label=_("Length"), required=False)
    real_thickness_nm = LengthField(
        label=_("Real thickness"), required=False, help_text=_("As measured: 23/32 or 18.2 mm.")
    )
    buy_unit = forms.ChoiceField(label=_("Bought in"), required=False)
    buy_contains_micro = QuantityField(
        label=_("One holds"), required=False, help_text=_("In the unit it is counted in: a box of screws holds 500.")
    )

    class Meta:
        model = Material
        fields = [
            "name",
            "species",
            "thickness_nm",
            "width_nm",
            "length_nm",
            "unit",
            "buy_unit",
            "buy_contains_micro",
            "usual_supplier",
            *ATTRIBUTES,
            "note",
        ]

    def __init__(self, *args: object, kind: str, shop: Shop, **options: object) -> None:
        super().__init__(*args, **options)
        self.more_names = [*MORE_OF_KIND.get(kind, []), "note"]
        used = {"name", "usual_supplier", *FIELDS_OF_KIND[kind], *self.more_names}
        used |= set(BUYING) if kind in Material.BUY_UNITS_OF_KIND else set()
        for name in [n for n in self.Meta.fields if n not in used]:
            del self.fields[name]
        if kind == Kind.LUMBER:
            self.fields["thickness_nm"] = NominalThicknessField(label=_("Thickness"), required=False)
        if kind == Kind.SHEET:
            self.fields["width_nm"].required = self.fields["length_nm"].required = True
        for name, hint in HINTS.get(kind, {}).items():
            self.fields[name].help_text = hint
        self._use(kind, shop)

    def _use(self, kind: str, shop: Shop) -> None:
        self.fields["usual_supplier"].empty_label = _("None")
        for field in self.fields.values():
            if isinstance(field, LengthField):
                field.use(shop.unit_system)
            if isinstance(field, forms.TypedChoiceField) and not field.required:
                field.choices = [("", "–"), *(each for each in field.choices if each[0])]
        if "unit" in self.fields:
            self.fields["unit"].choices = [(unit, UNITS[unit].many) for unit in Material.UNITS_OF_KIND[kind]]
        if "buy_unit" in self.fields:
            units = [(unit, UNITS[unit].many) for unit in Material.BUY_UNITS_OF_KIND[kind]]
            self.fields["buy_unit"].choices = [("", _("the same unit")), *units]
            self._use_counted(Material.UNITS_OF_KIND[kind])

    def _use_counted(self, units: list[str]) -> None:
        """The unit beside what one holds: as it is counted now, or as was just typed."""
        holds = self.fields["buy_contains_micro"]
        typed = self.data.get(self.add_prefix("unit")) if self.is_bound else self.instance.unit
        if typed in units:
            holds.use(typed)
        else:
            holds.unit = ""
        if not self.instance.buy_unit:
            self.initial["buy_contains_micro"] = None

    def clean(self) -> dict[str, object]:
        cleaned = super().clean()
        if "buy_unit" in self.fields and not cleaned.get("buy_unit") and "buy_contains_micro" not in self.errors:
            cleaned["buy_contains_micro"] = MICRO
        return cleaned

    @property
    def main(self) -> Iterator[forms.BoundField]:
        return (field for field in self.visible_fields() if field.name not in self.more_names)

    @property
    def more(self) -> Iterator[forms.BoundField]:
        """What not every material has; it folds away where there is more of it than a note."""
        return (field for field in self.visible_fields() if field.name in self.more_names)

    @property
    def is_more_open(self) -> bool:
        """Whether something of it is filled in or refused, so that it must be seen."""
        return len(self.more_names) < 3 or any(field.errors or field.value() for field in self.more)
