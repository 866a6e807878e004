from datetime import date

from django.core.validators import MinValueValidator
from django.db import models
from django.db.models import Case, Exists, F, OuterRef, Q, Subquery, Sum, Value, When
from django.utils.translation import gettext_lazy as _

from materials.models.catalog import Material, Supplier
from workshop.models import Photo
from workshop.models.shop import LEAD_UNITS


def _with_more_to_come() -> models.QuerySet:
    """The keys of the orders of which some line is still to come."""
    return OrderLine.objects.outstanding().values("order")


class OrderQuerySet(models.QuerySet):
    def open(self) -> "OrderQuerySet":
        """Placed, not cancelled, and something of it is still to come."""
        return self.filter(placed_on__isnull=False, cancelled_on=None, pk__in=_with_more_to_come())

    def pending(self) -> "OrderQuerySet":
        """Not placed yet, or open."""
        to_place = Q(placed_on=None, cancelled_on=None)
        return self.filter(to_place | Q(pk__in=_with_more_to_come(), cancelled_on=None))

    def with_state(self) -> "OrderQuerySet":
        """Each order with `state`, one of Order.State, and `is_held`, as they follow from the facts."""
        to_come = OrderLine.objects.outstanding().filter(order=OuterRef("pk"))
        arrived = OrderLine.objects.filter(order=OuterRef("pk"), delivery_lines__kept_micro__gt=0)
        return self.annotate(
            state=Case(
                When(cancelled_on__isnull=False, then=Value(Order.State.CANCELLED)),
                When(placed_on=None, then=Value(Order.State.TO_PLACE)),
                When(~Exists(to_come), then=Value(Order.State.ALL_ARRIVED)),
                When(Exists(arrived), then=Value(Order.State.PART_ARRIVED)),
                default=Value(Order.State.PLACED),
                output_field=models.CharField(),
            ),
            is_held=Exists(Sample.objects.holding().filter(order=OuterRef("pk"))),
        )

    def matching(self, words: str) -> "OrderQuerySet":
        if not words:
            return self
        found = Q(supplier__name__icontains=words) | Q(
            pk__in=OrderLine.objects.filter(material__name__icontains=words).values("order")
        )
        if words.isascii() and words.isdigit() and len(words) < 10:
            found |= Q(number=int(words))
        return self.filter(found)


class Order(models.Model):
    """What was asked of a supplier. Its state is not stored: it follows from the facts, see `with_state`."""

    class State(models.TextChoices):
        TO_PLACE = "to_place", _("To place")
        PLACED = "placed", _("Placed")
        PART_ARRIVED = "part_arrived", _("Part arrived")
        ALL_ARRIVED = "all_arrived", _("All arrived")
        CANCELLED = "cancelled", _("Cancelled")

    number = models.PositiveIntegerField(unique=True)
    supplier = models.ForeignKey(Supplier, verbose_name=_("Supplier"), on_delete=models.PROTECT, related_name="orders")
    currency = models.CharField(max_length=3)
    placed_on = models.DateField(_("Placed on"), null=True, blank=True)
    lead_count = models.PositiveSmallIntegerField(_("Lead time quoted"))
    lead_unit = models.CharField(_("counted in"), max_length=12, choices=LEAD_UNITS)
    promised_on = models.DateField(
        _("Promised for"),
        null=True,
        blank=True,
        help_text=_("The supplier's own date. Left empty, it follows from the lead time."),
    )
    freight_minor = models.BigIntegerField(_("Freight"), default=0, validators=[MinValueValidator(0)])
    charges_minor = models.BigIntegerField(_("Other charges"), default=0, validators=[MinValueValidator(0)])
    charges_what = models.CharField(_("What for"), max_length=80, default="", blank=True)
    cancelled_on = models.DateField(_("Cancelled on"), null=True, blank=True)
    cancelled_why = models.CharField(_("Why it is cancelled"), max_length=200, default="", blank=True)
    note = models.TextField(_("Note"), max_length=2000, default="", blank=True)
    version = models.PositiveIntegerField(default=1, editable=False)

    objects = OrderQuerySet.as_manager()

    class Meta:
        ordering = ["-number"]
        verbose_name = _("order")
        indexes = [models.Index(fields=["placed_on"], name="order_by_placing")]

    def __str__(self) -> str:
        return f"{self.number}"

    @property
    def state_label(self) -> str:
        """The words for `state`, on a row asked for by `with_state`; a held order says so."""
        state = str(self.State(self.state).label)
        return _("%(state)s, held") % {"state": state} if self.is_waiting else state

    @property
    def is_waiting(self) -> bool:
        """Whether something is still to come and a sample holds it, on a row asked for by `with_state`."""
        return self.is_held and self.state not in (self.State.CANCELLED, self.State.ALL_ARRIVED)


class Promise(models.Model):
    """A date a supplier gave for an order; the latest one counts, the earlier ones stay as history."""

    order = models.ForeignKey(Order, on_delete=models.PROTECT, related_name="promises")
    promised_on = models.DateField(_("Promised for"))
    told_on = models.DateField(_("Told on"))
    note = models.CharField(_("Reason given"), max_length=200, default="", blank=True)

    class Meta:
        ordering = ["-pk"]
        verbose_name = _("promise")

    def __str__(self) -> str:
        return f"{self.order}: {self.promised_on}"


class OrderLineQuerySet(models.QuerySet):
    def with_arrived(self) -> "OrderLineQuerySet":
        """Each line with `arrived_micro`: what deliveries counted and kept of it."""
        counted = OrderLine.objects.filter(pk=OuterRef("pk")).order_by().values("pk")
        kept = counted.annotate(kept=Sum("delivery_lines__kept_micro")).values("kept")
        return self.annotate(arrived_micro=models.functions.Coalesce(Subquery(kept), 0))

    def outstanding(self) -> "OrderLineQuerySet":
        """Lines of which something is still to come."""
        return self.filter(closed_on=None).with_arrived().filter(arrived_micro__lt=F("quantity_micro"))


class OrderLine(models.Model):
    order = models.ForeignKey(Order, on_delete=models.PROTECT, related_name="lines")
    material = models.ForeignKey(
        Material, verbose_name=_("Material"), on_delete=models.PROTECT, related_name="order_lines"
    )
    quantity_micro = models.BigIntegerField(_("Quantity"), validators=[MinValueValidator(1)])
    price_micro = models.BigIntegerField(_("Price"), validators=[MinValueValidator(0)])
    contains_micro = models.BigIntegerField(default=1_000_000, validators=[MinValueValidator(1)])
    closed_on = models.DateField(_("Closed on"), null=True, blank=True, help_text=_("The rest will not come."))
    version = models.PositiveIntegerField(default=1, editable=False)

    objects = OrderLineQuerySet.as_manager()

    class Meta:
        ordering = ["pk"]
        verbose_name = _("order line")
        constraints = [
            models.CheckConstraint(condition=Q(quantity_micro__gt=0), name="order_line_quantity_positive"),
            models.CheckConstraint(condition=Q(price_micro__gte=0), name="order_line_price_not_negative"),
        ]

    def __str__(self) -> str:
        return f"{self.order}: {self.material}"

    @property
    def to_come_micro(self) -> int:
        """What is still to come, on a row asked for by `with_arrived` or `outstanding`."""
        return 0 if self.closed_on else max(self.quantity_micro - self.arrived_micro, 0)


class OrderPaymentQuerySet(models.QuerySet):
    def overdue(self, today: date) -> "OrderPaymentQuerySet":
        """Due before this day, not paid, and of an order that stands."""
        return self.filter(due_on__lt=today, paid_on=None, order__cancelled_on=None)


class OrderPayment(models.Model):
    """A deposit or payment an order asks for: due, and paid once it is."""

    order = models.ForeignKey(Order, on_delete=models.PROTECT, related_name="payments")
    what = models.CharField(_("What"), max_length=60)
    due_on = models.DateField(_("Due on"))
    amount_minor = models.BigIntegerField(_("Amount"), validators=[MinValueValidator(1)])
    paid_on = models.DateField(_("Paid on"), null=True, blank=True)
    version = models.PositiveIntegerField(default=1, editable=False)

    objects = OrderPaymentQuerySet.as_manager()

    class Meta:
        ordering = ["due_on", "pk"]
        verbose_name = _("payment")

    def __str__(self) -> str:
        return f"{self.order}: {self.what}"


class SampleQuerySet(models.QuerySet):
    def waiting(self) -> "SampleQuerySet":
        return self.filter(answered_on=None)

    def holding(self) -> "SampleQuerySet":
        """What holds an order: not answered, or refused with no later one sent for the same order and material."""
        later = Sample.objects.filter(order=OuterRef("order"), material=OuterRef("material"), pk__gt=OuterRef("pk"))
        return self.exclude(order=None).filter(Q(is_approved=None) | Q(is_approved=False) & ~Exists(later))

    def matching(self, words: str) -> "SampleQuerySet":
        if not words:
            return self
        return self.filter(Q(what__icontains=words) | Q(sent_to__icontains=words) | Q(material__name__icontains=words))


class Sample(models.Model):
    """A sample or finish panel sent to client or architect. An order that waits for it is held until it is approved."""

    material = models.ForeignKey(Material, verbose_name=_("Material"), on_delete=models.PROTECT, related_name="samples")
    order = models.ForeignKey(
        Order,
        verbose_name=_("Order that waits for it"),
        null=True,
        blank=True,
        on_delete=models.PROTECT,
        related_name="samples",
    )
    what = models.CharField(_("What it is"), max_length=120)
    sent_to = models.CharField(_("Sent to"), max_length=80)
    sent_on = models.DateField(_("Sent on"))
    answered_on = models.DateField(_("Answered on"), null=True, blank=True)
    is_approved = models.BooleanField(_("Approved"), null=True, blank=True)
    photo = models.ForeignKey(Photo, null=True, blank=True, on_delete=models.PROTECT, related_name="samples")
    note = models.CharField(_("Note"), max_length=300, default="", blank=True)
    version = models.PositiveIntegerField(default=1, editable=False)

    objects = SampleQuerySet.as_manager()

    class Meta:
        ordering = ["-sent_on", "-pk"]
        verbose_name = _("sample")
        constraints = [
            models.CheckConstraint(
                condition=Q(answered_on=None, is_approved=None)
                | Q(answered_on__isnull=False, is_approved__isnull=False),
                name="sample_answered_with_a_day",
            ),
        ]

    def __str__(self) -> str:
        return self.what
