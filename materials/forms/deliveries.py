from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from django import forms
from django.core.exceptions import ValidationError
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from materials.deliveries import Counted
from materials.forms.fields import MaterialChoiceField, SheetNumbersField, typed_material
from materials.models import Delivery, Material, OrderLine, Supplier
from workshop import clock
from workshop.forms import CountField, DayField, Form, MoneyField, PhotosField, PriceField, QuantityField

UNORDERED_ROWS = 3
COUNTS = {
    "good": gettext_lazy("Counted good"),
    "damaged": gettext_lazy("Damaged, kept"),
    "refused": gettext_lazy("Refused"),
    "short": gettext_lazy("Short"),
}


class DeliveryForm(Form):
    """What can be told while the driver waits."""

    supplier = forms.ModelChoiceField(Supplier.objects.all(), label=gettext_lazy("Supplier"))
    slip_number = forms.CharField(label=gettext_lazy("Packing slip number"), max_length=40)
    bundles = CountField(label=gettext_lazy("Bundles"), min_value=0, max_value=999, initial=1)
    arrived_on = DayField(label=gettext_lazy("Arrived on"))
    damage = forms.CharField(
        label=gettext_lazy("Damage seen at the truck"),
        max_length=300,
        required=False,
        help_text=gettext_lazy("Write it on the driver's copy too, before he leaves."),
    )
    pictures = PhotosField()

    def __init__(self, *args: object, **options: object) -> None:
        super().__init__(*args, **options)
        self.initial.setdefault("arrived_on", clock.today())
        self.fields["damage"].wide = True
        if self.files:
            self.fields["pictures"].help_text = _("Choose the photos again: a page that comes back has none.")


class PhotosForm(Form):
    """Further photos of a delivery."""

    pictures = PhotosField(required=True)


@dataclass
class CountRow:
    """One row of the count: its fields, and the order line it is about where there is one."""

    name: str
    line: OrderLine | None
    fields: dict[str, forms.BoundField]
    material: Material | None = None


class CountForm(Form):
    """A row for each line still to come, and a few for what came without an order.

    Freight, prices and what is billed are asked of the owner only.
    """

    freight_minor = MoneyField(
        label=gettext_lazy("Freight and charges of this delivery"),
        required=False,
        help_text=gettext_lazy("Left empty, it is what the orders quote that come with it for the first time."),
    )

    def __init__(
        self,
        *args: object,
        delivery: Delivery,
        lines: Sequence[OrderLine],
        sees_money: bool,
        **options: object,
    ) -> None:
        super().__init__(*args, **options)
        self.lines, self.sees_money, self.currency = lines, sees_money, delivery.currency
        self.fields["freight_minor"].use(delivery.currency)
        if not sees_money:
            del self.fields["freight_minor"]
        for line in lines:
            self._add_counts(f"{line.pk}", line.material, COUNTS)
            self._add_rest(f"{line.pk}", line.material)
        choices = Material.objects.exclude(kind=Material.Kind.SERVICE)
        for place in range(1, UNORDERED_ROWS + 1):
            self._add_unordered(f"x{place}", choices)

    def _add_counts(self, row: str, material: Material | None, names: Sequence[str]) -> None:
        for name in names:
            field = QuantityField(label=COUNTS[name], required=False, positive=False)
            if material:
                field.use(material.bought_unit)
                field.whole = material.is_bought_whole
            else:
                field.unit = ""
            self.fields[f"{name}_{row}"] = field
        if self.sees_money and "refused" in names:
            self.fields[f"billed_{row}"] = forms.BooleanField(
                label=gettext_lazy("Refused and short ones are billed"), required=False
            )

    def _add_rest(self, row: str, material: Material) -> None:
        """What only some rows are asked: which sheets are damaged, the batch of a finish, whether too many stay."""
        if material.is_sheet:
            hint = _("The numbers on the backs, as 3, 17. Left empty, the last ones.")
            field = SheetNumbersField(label=_("Damaged sheets"), required=False, help_text=hint)
            field.wide = True
            self.fields[f"numbers_{row}"] = field
        if material.kind == Material.Kind.FINISH:
            self.fields[f"batch_{row}"] = forms.CharField(label=_("Batch number"), max_length=40, required=False)
            self.fields[f"use_by_{row}"] = DayField(label=_("Use by"), required=False)
        label = _("More than ordered, and they stay")
        self.fields[f"over_{row}"] = forms.BooleanField(label=label, required=False)

    def _add_unordered(self, row: str, choices: object) -> None:
        self.fields[f"material_{row}"] = MaterialChoiceField(
            choices, label=gettext_lazy("Material"), required=False, empty_label=gettext_lazy("None")
        )
        chosen = typed_material(self.data.get(self.add_prefix(f"material_{row}"))) if self.is_bound else None
        self._add_counts(row, chosen, ["good", "damaged"])
        if self.sees_money:
            field = PriceField(label=gettext_lazy("Price of one"), currency=self.currency, required=False)
            self.fields[f"price_{row}"] = field

    @property
    def ordered(self) -> Iterator[CountRow]:
        for line in self.lines:
            yield CountRow(f"{line.pk}", line, self._bound(f"{line.pk}"), line.material)

    @property
    def unordered(self) -> Iterator[CountRow]:
        for place in range(1, UNORDERED_ROWS + 1):
            yield CountRow(f"x{place}", None, self._bound(f"x{place}"))

    def _bound(self, row: str) -> dict[str, forms.BoundField]:
        names = ["material", *COUNTS, "numbers", "batch", "use_by", "billed", "price"]
        over = f"over_{row}"
        if self.is_bound and (over in self.errors or self.cleaned_data.get(over)):
            names.append("over")
        return {name: self[f"{name}_{row}"] for name in names if f"{name}_{row}" in self.fields}

    def clean(self) -> dict[str, object]:
        cleaned = super().clean()
        for row in self.unordered:
            counted = cleaned.get(f"good_{row.name}") or cleaned.get(f"damaged_{row.name}")
            if counted and not cleaned.get(f"material_{row.name}") and f"material_{row.name}" not in self.errors:
                self.add_error(f"material_{row.name}", ValidationError(_("Choose what was counted here.")))
            if cleaned.get(f"material_{row.name}") and not counted and f"good_{row.name}" not in self.errors:
                self.add_error(f"good_{row.name}", ValidationError(_("Type how many came, or choose no material.")))
        return cleaned

    def counted(self) -> list[Counted]:
        """The rows as the rule takes them."""
        known = [(row.name, row.material, row.line) for row in self.ordered]
        known += [(row.name, self.cleaned_data.get(f"material_{row.name}"), None) for row in self.unordered]
        return [self._counted(name, material, line) for name, material, line in known if material]

    def _counted(self, row: str, material: Material, line: OrderLine | None) -> Counted:
        counts = {f"{name}_micro": self.cleaned_data.get(f"{name}_{row}") or 0 for name in COUNTS}
        return Counted(
            name=row,
            material=material,
            order_line=line,
            is_billed=bool(self.cleaned_data.get(f"billed_{row}")),
            price_micro=self.cleaned_data.get(f"price_{row}"),
            damaged_numbers=self.cleaned_data.get(f"numbers_{row}") or (),
            keeps_over=bool(self.cleaned_data.get(f"over_{row}")),
            batch_number=self.cleaned_data.get(f"batch_{row}") or "",
            use_by_on=self.cleaned_data.get(f"use_by_{row}"),
            **counts,
        )
