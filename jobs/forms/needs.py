from django import forms
from django.utils.translation import gettext_lazy

from jobs.models import Need, Room
from materials.models import Material
from workshop.calculations import units
from workshop.forms import QuantityField, RowForm


class MaterialChoice(forms.ModelChoiceField):
    """Materials by name, each with the unit it is counted in."""

    def label_from_instance(self, material: Material) -> str:
        return f"{material.name} ({units.UNITS[material.unit].many})"


class NeedForm(RowForm):
    """A material and how much of it: the number is read in the unit of the material chosen."""

    material = MaterialChoice(
        Material.objects.none(),
        label=gettext_lazy("Material"),
        empty_label=gettext_lazy("Choose a material"),
    )
    quantity_micro = QuantityField(
        label=gettext_lazy("Quantity"),
        help_text=gettext_lazy("In the unit behind the material's name. Sheets in halves: 5, 2 1/2."),
    )

    class Meta:
        model = Need
        fields = ["material", "quantity_micro"]

    def __init__(self, *args: object, room: Room, **options: object) -> None:
        super().__init__(*args, **options)
        listed = room.needs.exclude(pk=self.instance.pk).values("material")
        self.fields["material"].queryset = Material.objects.exclude(pk__in=listed)
        self.fields["material"].wide = True
        if not self.is_bound and not self.instance.pk:
            self.fields["material"].widget.attrs["autofocus"] = True
        quantity = self.fields["quantity_micro"]
        material = self._material()
        if material:
            quantity.use(material.unit)
        else:
            quantity.unit = ""

    def _material(self) -> Material | None:
        """The material whose unit the number is in: the one chosen, or the row's."""
        chosen = self["material"].value()
        try:
            return self.fields["material"].to_python(chosen)
        except forms.ValidationError:
            return None
