"""Fields of materials alone: thicknesses of lumber, colors of tone groups, choices with their unit."""

import re

from django import forms
from django.core.exceptions import ValidationError
from django.utils.translation import gettext as _

from materials import describing
from materials.calculations.sheet_numbers import SheetNumbersError, read_sheet_numbers
from materials.models import Material
from workshop.calculations.lengths import QUARTER_NM, read_nominal_thickness, show_nominal_thickness
from workshop.calculations.units import UNITS
from workshop.forms import LengthField

COLOR = re.compile(r"#?([0-9a-fA-F]{6})\Z")


class NominalThicknessField(LengthField):
    """A thickness of lumber, typed as 4/4 or 8/4, kept as the nanometers of the rough board."""

    def use(self, system: str, unit: str = "") -> None:
        super().use(system, unit)
        self.unit = ""

    def read(self, text: str) -> int:
        return read_nominal_thickness(text) * QUARTER_NM

    def show(self, value: int) -> str:
        return show_nominal_thickness(value // QUARTER_NM)


class ColorWidget(forms.MultiWidget):
    """A color picker with a text beside it; what is typed counts before what is picked."""

    use_fieldset = False

    def __init__(self) -> None:
        typed = {"maxlength": 7, "size": 8, "autocomplete": "off", "spellcheck": "false"}
        super().__init__([forms.TextInput(attrs={"type": "color"}), forms.TextInput(attrs=typed)])

    def id_for_label(self, id_: str) -> str:
        return f"{id_}_0"

    def decompress(self, value: str | None) -> list[str]:
        return [value or "#d1b487", ""]

    def get_context(self, name: str, value: object, attrs: dict | None) -> dict[str, object]:
        context = super().get_context(name, value, attrs)
        words = [_("Pick the color"), _("Or type the color, as #dfcca9")]
        for part, label in zip(context["widget"]["subwidgets"], words, strict=True):
            part["attrs"]["aria-label"] = label
        return context


class ColorField(forms.MultiValueField):
    """A color as #dfcca9, picked or typed."""

    widget = ColorWidget

    def __init__(self, **options: object) -> None:
        fields = [forms.CharField(max_length=20, required=False) for _part in range(2)]
        super().__init__(fields=fields, require_all_fields=False, **options)

    def compress(self, values: list[str]) -> str:
        picked, typed = [*values, "", ""][:2]
        text = (typed or picked or "").strip()
        found = COLOR.match(text)
        if not found:
            message = _("%(typed)s is not a color. Write #dfcca9, or pick one.")
            raise ValidationError(message, params={"typed": text[:20]})
        return f"#{found[1].lower()}"


class MaterialChoiceField(forms.ModelChoiceField):
    """A material, told with the unit it is bought in."""

    def label_from_instance(self, material: Material) -> str:
        how = describing.bought_as(material) or _("in %(units)s") % {"units": UNITS[material.unit].many}
        return f"{material.name}, {how}"


class SheetNumbersField(forms.CharField):
    """Sheets by the numbers on their backs, as 3, 17, 20-24; an empty list where none is typed."""

    def __init__(self, **options: object) -> None:
        options.setdefault("max_length", 400)
        super().__init__(**options)

    def to_python(self, value: object) -> list[int]:
        text = super().to_python(value)
        if not text:
            return []
        try:
            return read_sheet_numbers(text)
        except SheetNumbersError as error:
            one, two = error.would_do
            words = {"typed": error.typed, "reason": _(error.reason), "one": one, "two": two, "would_do": [one, two]}
            message = _("%(typed)s %(reason)s. Type %(one)s or %(two)s.")
            raise ValidationError(message, params=words) from error

    def run_validators(self, value: list[int]) -> None:
        """The text was checked while reading."""


def typed_material(text: object) -> Material | None:
    """The material a form names so far, for the unit beside its quantity."""
    digits = str(text or "")
    if not (digits.isascii() and digits.isdigit() and len(digits) < 19):
        return None
    return Material.objects.filter(pk=int(digits)).first()
