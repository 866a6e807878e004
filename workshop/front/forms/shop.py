from django.utils.translation import gettext_lazy as _

from workshop.forms import CountField, CurrencyField, PercentField, PriceField, RowForm
from workshop.models import Shop


class ShopForm(RowForm):
    hour_price_micro = PriceField(label=_("Price of an hour"))
    overhead_ppm = PercentField(
        label=_("Overhead on cost"), below=10_000_000, help_text=_("Rent, power, office: put on the cost of every job.")
    )
    profit_ppm = PercentField(
        label=_("Profit, as a markup"),
        below=10_000_000,
        help_text=_("Put on top of cost and overhead: 20 % makes 120 of 100. An estimate can have a margin instead."),
    )
    tax_ppm = PercentField(
        label=_("Sales tax"),
        below=1_000_000,
        help_text=_("A new estimate puts it on materials; what else is taxed is ticked there."),
    )
    currency = CurrencyField()
    days_to_prepare = CountField(
        label=_("Days to count, sort and acclimatize"),
        unit=_("days"),
        max_value=60,
        help_text=_("Material is needed this long before the work starts."),
    )

    class Meta:
        model = Shop
        fields = [
            "name",
            "trade",
            "address",
            "phone",
            "email",
            "unit_system",
            "currency",
            "paper",
            "days_to_prepare",
            "hour_price_micro",
            "overhead_ppm",
            "profit_ppm",
            "tax_ppm",
        ]

    def __init__(self, *args: object, **options: object) -> None:
        super().__init__(*args, **options)
        self.fields["hour_price_micro"].use(self.instance.currency)
