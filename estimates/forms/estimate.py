from datetime import date

from django import forms
from django.core.exceptions import ValidationError
from django.utils.translation import gettext_lazy as _

from estimates.models import Estimate, EstimateLine
from jobs.models import Job
from workshop import clock
from workshop.calculations.units import UNITS
from workshop.forms import MoneyField, PercentField, PriceField, QuantityField, RowForm

LINE_UNITS = [
    "hour",
    "sheet",
    "board_foot",
    "foot",
    "meter",
    "square_foot",
    "square_meter",
    "gallon",
    "liter",
    "piece",
    "box",
    "hole",
    "board",
    "pound",
    "kilogram",
    "cubic_meter",
    "square_foot_coat",
    "square_meter_coat",
    "minute",
    "quart",
    "lump",
]


class LineForm(RowForm):
    quantity_micro = QuantityField(label=_("Quantity"))
    price_micro = PriceField(label=_("Rate"))
    unit = forms.ChoiceField(label=_("Unit"), choices=[(code, UNITS[code].many) for code in LINE_UNITS])
    price_unit = forms.ChoiceField(label=_("Rate is per"), choices=[(code, UNITS[code].one) for code in LINE_UNITS])

    class Meta:
        model = EstimateLine
        fields = ["room", "klass", "description", "quantity_micro", "unit", "price_micro", "price_unit"]

    def __init__(self, *args: object, job: Job, **options: object) -> None:
        super().__init__(*args, **options)
        self.fields["room"].queryset = job.rooms.all()
        self.fields["room"].empty_label = _("The whole job")
        self.fields["price_micro"].use(job.currency)
        typed = str(self.data.get("unit", "")) if self.is_bound else self.instance.unit
        if typed in LINE_UNITS:
            self.fields["quantity_micro"].use(typed)
        self.fields["quantity_micro"].unit = ""


class TermsForm(RowForm):
    waste_ppm = PercentField(
        label=_("Waste on materials"),
        below=1_000_000,
        help_text=_("Written as lines of its own when you fill anew."),
    )
    overhead_ppm = PercentField(label=_("Overhead on cost"), below=10_000_000)
    contingency_ppm = PercentField(label=_("Contingency on cost and overhead"), below=10_000_000)
    profit_ppm = PercentField(label=_("Profit"), below=10_000_000)
    tax_ppm = PercentField(label=_("Sales tax"), below=1_000_000)
    discount_minor = MoneyField(label=_("Discount"))

    class Meta:
        model = Estimate
        fields = [
            "waste_ppm",
            "overhead_ppm",
            "contingency_ppm",
            "profit_ppm",
            "profit_way",
            "discount_minor",
            "tax_ppm",
            "is_material_taxed",
            "is_labor_taxed",
            "is_other_taxed",
            "is_tax_inside",
            "valid_until",
            "exclusions",
            "notes",
        ]

    def __init__(self, *args: object, job: Job, **options: object) -> None:
        super().__init__(*args, **options)
        self.fields["discount_minor"].use(job.currency)
        # An estimate that is not there yet is version 0: who opens one meanwhile is not written over.
        self.fields.setdefault("version", forms.CharField(widget=forms.HiddenInput, required=False))

    def clean_valid_until(self) -> date | None:
        day = self.cleaned_data["valid_until"]
        if day and "valid_until" in self.changed_data and day < clock.today():
            message = _("%(day)s is past. Choose today or a later day, or leave it empty.")
            raise ValidationError(message, params={"day": clock.day_text(day)})
        return day
