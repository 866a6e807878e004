from django.core.validators import MinValueValidator
from django.db import models
from django.db.models import Q
from django.utils.translation import gettext_lazy as _

from jobs.models import Job, Room
from materials.models import Material


class Estimate(models.Model):
    """What a job will cost its client: lines by room, and the terms that make a price of them."""

    class ProfitWay(models.TextChoices):
        MARKUP = "markup", _("as markup on cost")
        MARGIN = "margin", _("as margin of the price")

    job = models.ForeignKey(Job, on_delete=models.PROTECT, related_name="estimates")
    number = models.PositiveSmallIntegerField(default=1)
    waste_ppm = models.PositiveIntegerField(_("Waste on materials"), default=0)
    overhead_ppm = models.PositiveIntegerField(_("Overhead on cost"), default=0)
    contingency_ppm = models.PositiveIntegerField(_("Contingency on cost and overhead"), default=0)
    profit_ppm = models.PositiveIntegerField(_("Profit"), default=0)
    profit_way = models.CharField(
        _("Profit is meant"), max_length=10, choices=ProfitWay.choices, default=ProfitWay.MARKUP
    )
    discount_minor = models.BigIntegerField(_("Discount"), default=0, validators=[MinValueValidator(0)])
    tax_ppm = models.PositiveIntegerField(_("Sales tax"), default=0)
    is_material_taxed = models.BooleanField(_("Tax on materials"), default=True)
    is_labor_taxed = models.BooleanField(_("Tax on labor"), default=False)
    is_other_taxed = models.BooleanField(_("Tax on other"), default=False)
    is_tax_inside = models.BooleanField(_("Prices hold the tax"), default=False)
    valid_until = models.DateField(_("Valid until"), null=True, blank=True)
    exclusions = models.TextField(
        _("Not included"), max_length=2000, default="", blank=True, help_text=_("One to a line.")
    )
    notes = models.TextField(_("Notes"), max_length=2000, default="", blank=True)
    version = models.PositiveIntegerField(default=1, editable=False)

    class Meta:
        ordering = ["job", "-number"]
        verbose_name = _("estimate")
        constraints = [models.UniqueConstraint(fields=["job", "number"], name="estimate_number_once")]

    def __str__(self) -> str:
        return f"{self.job.number}-{self.number}"


class EstimateLine(models.Model):
    """Quantity times rate, rounded once. Without a room it belongs to the whole job.

    `stands_for` is what a line was filled from, as need:3:12 for a room's need of a material. A line that is
    changed becomes a typed one and keeps it, so that filling anew does not write the same thing beside it.
    """

    class Klass(models.TextChoices):
        MATERIAL = "material", _("Material")
        LABOR = "labor", _("Labor")
        OTHER = "other", _("Other")

    class Source(models.TextChoices):
        TYPED = "typed", _("typed")
        NEED = "need", _("from the room's needs")
        WASTE = "waste", _("waste on the line above")
        HOURS = "hours", _("from planned hours")

    estimate = models.ForeignKey(Estimate, on_delete=models.PROTECT, related_name="lines")
    room = models.ForeignKey(
        Room,
        verbose_name=_("Room"),
        null=True,
        blank=True,
        on_delete=models.PROTECT,
        related_name="estimate_lines",
    )
    klass = models.CharField(_("Class"), max_length=10, choices=Klass.choices)
    description = models.CharField(_("What"), max_length=120)
    material = models.ForeignKey(
        Material, null=True, blank=True, on_delete=models.PROTECT, related_name="estimate_lines"
    )
    quantity_micro = models.BigIntegerField(_("Quantity"))
    unit = models.CharField(_("Unit"), max_length=20)
    price_micro = models.BigIntegerField(_("Rate"))
    price_unit = models.CharField(_("per"), max_length=20)
    total_minor = models.BigIntegerField()
    source = models.CharField(max_length=10, choices=Source.choices, default=Source.TYPED)
    stands_for = models.CharField(max_length=50, default="", blank=True, editable=False)
    place = models.PositiveIntegerField(default=0)
    version = models.PositiveIntegerField(default=1, editable=False)

    class Meta:
        ordering = ["place", "pk"]
        verbose_name = _("estimate line")
        constraints = [
            models.CheckConstraint(
                condition=Q(total_minor__gte=-(10**13)) & Q(total_minor__lte=10**13),
                name="estimate_line_in_range",
            ),
        ]

    def __str__(self) -> str:
        return self.description

    @property
    def minutes(self) -> int | None:
        """Whole minutes, which are told as hours."""
        minutes, rest = divmod(self.quantity_micro, 1_000_000)
        return minutes if self.unit == "minute" and not rest else None
