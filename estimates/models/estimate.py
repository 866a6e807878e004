from django.core.validators import MinValueValidator
from django.db import models
from django.db.models import Q
from django.utils.translation import gettext
from django.utils.translation import gettext_lazy as _

from jobs.models import Job, Room, Stage
from materials.models import Material, Supplier
from workshop import clock


class Estimate(models.Model):
    """What a job will cost its client: lines by room, and the terms that make a price of them."""

    class OverheadWay(models.TextChoices):
        COST = "cost", _("a part of the cost")
        HOUR = "hour", _("an amount for each hour of labor")

    class ProfitWay(models.TextChoices):
        MARKUP = "markup", _("as markup on cost")
        MARGIN = "margin", _("as margin of the price")

    job = models.ForeignKey(Job, on_delete=models.PROTECT, related_name="estimates")
    number = models.PositiveSmallIntegerField(default=1)
    waste_ppm = models.PositiveIntegerField(_("Waste on materials"), default=0)
    overhead_ppm = models.PositiveIntegerField(_("Overhead on cost"), default=0)
    overhead_way = models.CharField(
        _("Overhead is"), max_length=10, choices=OverheadWay.choices, default=OverheadWay.COST
    )
    overhead_hour_micro = models.BigIntegerField(
        _("Overhead for an hour"), default=0, validators=[MinValueValidator(0)]
    )
    contingency_ppm = models.PositiveIntegerField(_("Contingency on cost and overhead"), default=0)
    profit_ppm = models.PositiveIntegerField(_("Profit"), default=0)
    profit_way = models.CharField(
        _("Profit is meant"), max_length=10, choices=ProfitWay.choices, default=ProfitWay.MARKUP
    )
    discount_minor = models.BigIntegerField(_("Discount, an amount"), default=0, validators=[MinValueValidator(0)])
    discount_ppm = models.PositiveIntegerField(_("Discount, per cent"), default=0)
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
    `basis` says where its rate came from when it was filled, with the supplier and the day from which it holds.
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

    class Basis(models.TextChoices):
        QUOTED = "quoted", _("a supplier's price")
        ORDERED = "ordered", _("as last ordered")
        OPERATION = "operation", _("the rate of the operation")
        SHOP = "shop", _("the shop's price of an hour")

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
    basis = models.CharField(max_length=10, choices=Basis.choices, default="", blank=True, editable=False)
    basis_supplier = models.ForeignKey(
        Supplier, null=True, blank=True, editable=False, on_delete=models.PROTECT, related_name="+"
    )
    basis_on = models.DateField(null=True, blank=True, editable=False)
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
    def basis_words(self) -> str:
        """Where its rate came from: "Example Panels, from Wed, Jul 29"."""
        words = {"supplier": self.basis_supplier, "day": clock.day_text(self.basis_on) if self.basis_on else "–"}
        if self.basis == self.Basis.QUOTED:
            return gettext("%(supplier)s, from %(day)s") % words
        if self.basis == self.Basis.ORDERED:
            return gettext("as ordered from %(supplier)s, %(day)s") % words
        if self.basis == self.Basis.OPERATION:
            return gettext("rate of the operation, from %(day)s") % words
        return self.get_basis_display()

    @property
    def minutes(self) -> int | None:
        """Whole minutes, which are told as hours."""
        minutes, rest = divmod(self.quantity_micro, 1_000_000)
        return minutes if self.unit == "minute" and not rest else None


class OperationRate(models.Model):
    """The price of an hour of one operation, from a day on; without one an hour costs the shop's price of an hour.

    A row without a price gives the operation back to the shop's price, from that day on.
    """

    lane = models.CharField(_("Lane"), max_length=10, choices=Stage.Lane.choices)
    name = models.CharField(_("Operation"), max_length=30)
    price_micro = models.BigIntegerField(
        _("Price of an hour"), null=True, blank=True, validators=[MinValueValidator(0)]
    )
    from_on = models.DateField(_("From"))
    version = models.PositiveIntegerField(default=1, editable=False)

    class Meta:
        ordering = ["lane", "name", "-from_on"]
        verbose_name = _("rate of an operation")
        constraints = [models.UniqueConstraint(fields=["lane", "name", "from_on"], name="operation_rate_once_a_day")]

    def __str__(self) -> str:
        return self.name
