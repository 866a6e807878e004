from django.db import models
from django.utils.translation import gettext_lazy as _

PER_CENT_LIMIT = 1_000_000
UNIT_SYSTEMS = [("us", _("Feet and inches")), ("metric", _("Millimeters"))]
LEAD_UNITS = [
    ("working_days", _("working days")),
    ("days", _("days")),
    ("weeks", _("weeks")),
    ("months", _("months")),
]


class Shop(models.Model):
    """The one shop: what stands on its documents, and what it has settled once for all jobs."""

    class Paper(models.TextChoices):
        LETTER = "letter", _("Letter")
        A4 = "a4", _("A4")

    name = models.CharField(_("Shop name"), max_length=80, default="", blank=True)
    trade = models.CharField(_("Line of trade"), max_length=120, default="", blank=True)
    address = models.TextField(_("Address"), max_length=400, default="", blank=True)
    phone = models.CharField(_("Phone"), max_length=40, default="", blank=True)
    email = models.EmailField(_("Email"), default="", blank=True)
    unit_system = models.CharField(_("Lengths in"), max_length=10, choices=UNIT_SYSTEMS, default="us")
    currency = models.CharField(_("Currency"), max_length=3, default="USD")
    paper = models.CharField(_("Paper"), max_length=10, choices=Paper.choices, default=Paper.LETTER)
    days_to_prepare = models.PositiveSmallIntegerField(
        _("Days to count, sort and acclimatize"),
        default=3,
        help_text=_("Material is needed this long before the work starts."),
    )
    hour_price_micro = models.BigIntegerField(_("Price of an hour"), default=0)
    overhead_ppm = models.PositiveIntegerField(_("Overhead on cost"), default=0)
    profit_ppm = models.PositiveIntegerField(_("Profit"), default=0)
    tax_ppm = models.PositiveIntegerField(_("Sales tax"), default=0)
    version = models.PositiveIntegerField(default=1, editable=False)

    class Meta:
        constraints = [models.CheckConstraint(condition=models.Q(pk=1), name="shop_only_one")]

    def __str__(self) -> str:
        return self.name or str(_("Your shop"))

    @classmethod
    def get(cls) -> "Shop":
        return cls.objects.get_or_create(pk=1)[0]
