from datetime import date
from fractions import Fraction

from django import forms
from django.core.exceptions import ValidationError
from django.http import QueryDict
from django.utils.translation import gettext
from django.utils.translation import gettext_lazy as _

from estimates.models import Estimate, EstimateLine
from jobs.models import Job
from workshop import clock
from workshop.calculations import money
from workshop.calculations.numerals import decimal_text
from workshop.calculations.units import UNITS
from workshop.forms import MoneyField, PercentField, PriceField, QuantityField, RowForm
from workshop.language import decimal_mark, locale

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
    "load",
    "lump",
]


DELIVERY = {
    "klass": EstimateLine.Klass.OTHER,
    "description": _("Delivery to site"),
    "quantity_micro": 1_000_000,
    "unit": "load",
    "price_unit": "load",
}
"""A delivery is priced by the load: how many, and what one costs."""


class LineForm(RowForm):
    quantity_micro = QuantityField(label=_("Quantity"))
    price_micro = PriceField(label=_("Rate"))
    unit = forms.ChoiceField(label=_("Unit"), choices=[(code, UNITS[code].many) for code in LINE_UNITS])
    price_unit = forms.ChoiceField(label=_("Rate is per"), choices=[(code, UNITS[code].one) for code in LINE_UNITS])

    class Meta:
        model = EstimateLine
        fields = ["room", "klass", "description", "quantity_micro", "unit", "price_micro", "price_unit"]

    @staticmethod
    def asked(query: QueryDict) -> dict[str, object]:
        """First values as the address asks for them: a room, or a delivery."""
        first = {"room": query.get("room", "")}
        return first | DELIVERY if query.get("what") == "delivery" else first

    def __init__(self, *args: object, job: Job, **options: object) -> None:
        super().__init__(*args, **options)
        self.fields["room"].queryset = job.rooms.all()
        self.fields["room"].empty_label = _("The whole job")
        self.fields["price_micro"].use(job.currency)
        typed = str(self.data.get("unit", "")) if self.is_bound else self.instance.unit
        if typed in LINE_UNITS:
            self.fields["quantity_micro"].use(typed)
        self.fields["quantity_micro"].unit = ""


HUNDRED_MINOR = 100_00
PROFIT_WAYS = [
    (Estimate.ProfitWay.MARKUP, _("a markup: put on top of cost, overhead and contingency")),
    (Estimate.ProfitWay.MARGIN, _("a margin: a part of the price, before discount and tax")),
]
TAXES = {
    "is_material_taxed": _("Materials are taxed"),
    "is_labor_taxed": _("Labor is taxed"),
    "is_other_taxed": _("Other lines are taxed"),
    "is_tax_inside": _("The prices include the tax"),
}
TAX_HINTS = {
    "is_material_taxed": _(
        "Tax is worked out on the price of what is ticked, with its share of overhead, profit and discount. "
        "What is taxed differs from place to place; your tax office or accountant knows."
    ),
    "is_other_taxed": _("Delivery, bought services and what else is neither material nor labor."),
    "is_tax_inside": _("Ticked: the total stays, and the tax in it is told. Not ticked: the tax is added."),
}


class TermsForm(RowForm):
    waste_ppm = PercentField(
        label=_("Waste on materials"),
        below=1_000_000,
        help_text=_("Written as lines of its own when you fill anew."),
    )
    overhead_ppm = PercentField(label=_("Overhead, part of the cost"), below=10_000_000)
    overhead_hour_micro = PriceField(label=_("Overhead, for each hour of labor"))
    contingency_ppm = PercentField(label=_("Contingency on cost and overhead"), below=10_000_000)
    profit_ppm = PercentField(label=_("Profit"), below=10_000_000)
    profit_way = forms.ChoiceField(label=_("Profit is"), choices=PROFIT_WAYS)
    tax_ppm = PercentField(label=_("Sales tax"), below=1_000_000)
    discount_minor = MoneyField(label=_("Discount, an amount"))
    discount_ppm = PercentField(label=_("Discount, per cent"), below=1_000_001, help_text=_("One of the two is 0."))

    class Meta:
        model = Estimate
        fields = [
            "waste_ppm",
            "contingency_ppm",
            "overhead_way",
            "overhead_ppm",
            "overhead_hour_micro",
            "profit_ppm",
            "profit_way",
            "discount_minor",
            "discount_ppm",
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
        self.fields["overhead_hour_micro"].use(job.currency)
        self.fields["overhead_way"].wide = self.fields["tax_ppm"].wide = True
        self.fields["profit_ppm"].help_text = _what_profit_makes(self.instance.profit_ppm)
        for name, label in TAXES.items():
            self.fields[name].label = label
            self.fields[name].help_text = TAX_HINTS.get(name, "")
        if job.tax_ppm is not None:
            own = money.show_percent(job.tax_ppm, locale())
            self.fields["tax_ppm"].help_text = gettext("%(rate)s is set for this job.") % {"rate": own}
        # An estimate that is not there yet is version 0: who opens one meanwhile is not written over.
        self.fields.setdefault("version", forms.CharField(widget=forms.HiddenInput, required=False))

    def clean_valid_until(self) -> date | None:
        day = self.cleaned_data["valid_until"]
        if day and "valid_until" in self.changed_data and day < clock.today():
            message = _("%(day)s is past. Choose today or a later day, or leave it empty.")
            raise ValidationError(message, params={"day": clock.day_text(day)})
        return day


def _what_profit_makes(ppm: int) -> str:
    """The price either way makes of a cost of 100, so that the two are not confused."""
    words = {"rate": money.show_percent(ppm, locale()), "markup": _plain(money.markup_price(HUNDRED_MINOR, ppm))}
    if ppm >= money.PPM:
        return gettext("A cost of 100 becomes %(markup)s with %(rate)s as a markup.") % words
    words["margin"] = _plain(money.margin_price(HUNDRED_MINOR, ppm))
    return (
        gettext("A cost of 100 becomes %(markup)s with %(rate)s as a markup, %(margin)s with %(rate)s as a margin.")
        % words
    )


def _plain(minor: int) -> str:
    return decimal_text(Fraction(minor, 100), 2, decimal_mark())
