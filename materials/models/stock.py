from django.conf import settings
from django.core.validators import MinValueValidator
from django.db import models
from django.db.models import Case, Count, Exists, F, OuterRef, Q, When, Window
from django.db.models.functions import Lower, RowNumber
from django.utils.translation import gettext_lazy as _

from materials.models.catalog import Material, Supplier, ToneGroup
from materials.models.orders import OrderLine
from workshop.models import Photo


class DeliveryQuerySet(models.QuerySet):
    def to_count(self) -> "DeliveryQuerySet":
        return self.filter(counted_on=None)

    def of_slip(self, supplier: Supplier, slip_number: str) -> "DeliveryQuerySet":
        """What was taken in on this packing slip; capital or small letters make no other slip."""
        return self.filter(supplier=supplier, slip_number__iexact=slip_number)

    def matching(self, words: str) -> "DeliveryQuerySet":
        if not words:
            return self
        found = Q(supplier__name__icontains=words) | Q(slip_number__icontains=words)
        if words.isascii() and words.isdigit() and len(words) < 10:
            found |= Q(number=int(words))
        return self.filter(found)


class Delivery(models.Model):
    """What a driver brought on one packing slip: taken in at once, counted later."""

    number = models.PositiveIntegerField(unique=True)
    supplier = models.ForeignKey(
        Supplier, verbose_name=_("Supplier"), on_delete=models.PROTECT, related_name="deliveries"
    )
    slip_number = models.CharField(_("Packing slip number"), max_length=40)
    arrived_on = models.DateField(_("Arrived on"))
    bundles = models.PositiveSmallIntegerField(_("Bundles"), default=1)
    damage = models.CharField(_("Damage seen at the truck"), max_length=300, default="", blank=True)
    currency = models.CharField(max_length=3)
    freight_minor = models.BigIntegerField(_("Freight"), default=0, validators=[MinValueValidator(0)])
    counted_on = models.DateField(_("Counted on"), null=True, blank=True)
    note = models.TextField(_("Note"), max_length=2000, default="", blank=True)
    version = models.PositiveIntegerField(default=1, editable=False)

    objects = DeliveryQuerySet.as_manager()

    class Meta:
        ordering = ["-number"]
        verbose_name = _("delivery")
        indexes = [models.Index(fields=["counted_on"], name="delivery_by_count")]
        constraints = [
            models.UniqueConstraint(
                "supplier",
                Lower("slip_number"),
                name="delivery_slip_once",
                violation_error_message=_("This packing slip of this supplier was taken in before."),
            ),
        ]

    def __str__(self) -> str:
        return f"{self.number}"


class LotQuerySet(models.QuerySet):
    def to_sort(self) -> "LotQuerySet":
        """Lots with a sheet that is neither sorted nor set aside."""
        return self.filter(Exists(Sheet.objects.unsorted().filter(lot=OuterRef("pk"))))

    def matching(self, words: str) -> "LotQuerySet":
        if not words:
            return self
        found = Q(material__name__icontains=words)
        if words.isascii() and words.isdigit() and len(words) < 10:
            found |= Q(number=int(words))
        return self.filter(found)


class Lot(models.Model):
    """Material that came in one delivery. Lots belong to the shop and can serve any job."""

    number = models.PositiveIntegerField(unique=True)
    material = models.ForeignKey(Material, on_delete=models.PROTECT, related_name="lots")
    quantity_micro = models.BigIntegerField(validators=[MinValueValidator(0)])
    landed_minor = models.BigIntegerField(_("Landed cost"), default=0)
    currency = models.CharField(max_length=3)
    batch_number = models.CharField(_("Batch number"), max_length=40, default="", blank=True)
    use_by_on = models.DateField(_("Use by"), null=True, blank=True)
    arrived_on = models.DateField()
    version = models.PositiveIntegerField(default=1, editable=False)

    objects = LotQuerySet.as_manager()

    class Meta:
        ordering = ["-number"]
        verbose_name = _("lot")

    def __str__(self) -> str:
        return f"{self.number}"


class DeliveryLine(models.Model):
    """One material of a delivery as counted. What is kept, the damaged that stays among it, makes a lot."""

    delivery = models.ForeignKey(Delivery, on_delete=models.PROTECT, related_name="lines")
    material = models.ForeignKey(Material, on_delete=models.PROTECT, related_name="delivery_lines")
    order_line = models.ForeignKey(
        OrderLine, null=True, blank=True, on_delete=models.PROTECT, related_name="delivery_lines"
    )
    kept_micro = models.BigIntegerField(validators=[MinValueValidator(0)])
    damaged_micro = models.BigIntegerField(default=0, validators=[MinValueValidator(0)])
    refused_micro = models.BigIntegerField(default=0, validators=[MinValueValidator(0)])
    over_micro = models.BigIntegerField(default=0, validators=[MinValueValidator(0)])
    short_micro = models.BigIntegerField(default=0, validators=[MinValueValidator(0)])
    is_billed_for_missing = models.BooleanField(default=False)
    price_micro = models.BigIntegerField(validators=[MinValueValidator(0)])
    landed_minor = models.BigIntegerField(_("Landed cost"), default=0)
    lot = models.OneToOneField(Lot, null=True, blank=True, on_delete=models.PROTECT, related_name="delivery_line")

    class Meta:
        ordering = ["pk"]
        verbose_name = _("delivery line")

    def __str__(self) -> str:
        return f"{self.delivery}: {self.material}"


class SheetQuerySet(models.QuerySet):
    def unsorted(self) -> "SheetQuerySet":
        return self.filter(tone_group=None, set_aside_on=None, left_on=None)

    def usable(self) -> "SheetQuerySet":
        """Sheets that can be given to a room: not set aside, refused or returned."""
        return self.filter(set_aside_on=None, left_on=None)

    def here(self) -> "SheetQuerySet":
        """Sheets that did not leave the shop back to the supplier."""
        return self.filter(left_on=None)

    def with_shown_place(self) -> "SheetQuerySet":
        """Each sheet with `shown_place`: 1 and the sheets that lie under it in its stack now.

        Ask for whole stacks: a filter on single sheets would leave out what lies below.
        """
        rank = Window(RowNumber(), partition_by=[F("lot"), F("tone_group")], order_by=F("place").asc())
        return self.annotate(shown_place=Case(When(tone_group__isnull=False, then=rank)))

    def tally(self) -> dict[str, int]:
        """How many there are, how many are sorted, set aside and left to sort."""
        return self.here().aggregate(
            total=Count("pk"),
            sorted=Count("pk", filter=Q(tone_group__isnull=False)),
            aside=Count("pk", filter=Q(set_aside_on__isnull=False)),
            unsorted=Count("pk", filter=Q(tone_group=None, set_aside_on=None)),
        )


class Sheet(models.Model):
    """One numbered sheet of a lot, with its tone group and its place in that group's stack."""

    lot = models.ForeignKey(Lot, on_delete=models.PROTECT, related_name="sheets")
    number = models.PositiveIntegerField()
    tone_group = models.ForeignKey(
        ToneGroup,
        verbose_name=_("Tone group"),
        null=True,
        blank=True,
        on_delete=models.PROTECT,
        related_name="sheets",
    )
    place = models.PositiveIntegerField(
        _("Place in the stack"), null=True, blank=True, help_text=_("Counts up from the bottom.")
    )
    sorted_by = models.ForeignKey(
        settings.AUTH_USER_MODEL,
        verbose_name=_("Sorted by"),
        null=True,
        blank=True,
        on_delete=models.PROTECT,
        related_name="+",
    )
    set_aside_on = models.DateField(_("Set aside on"), null=True, blank=True)
    set_aside_why = models.CharField(_("Set aside because"), max_length=120, default="", blank=True)
    left_on = models.DateField(null=True, blank=True, help_text=_("Refused or returned to the supplier."))
    is_damaged = models.BooleanField(_("Damaged"), default=False, help_text=_("It stays and can be used in part."))
    flitch = models.CharField(_("Flitch"), max_length=30, default="", blank=True)
    set_name = models.CharField(_("Set"), max_length=30, default="", blank=True)
    sequence_number = models.PositiveIntegerField(_("Number in the set"), null=True, blank=True)
    is_top_marked = models.BooleanField(_("Top end is marked"), default=False)
    note = models.CharField(_("Note"), max_length=300, default="", blank=True)
    landed_minor = models.BigIntegerField(_("Landed cost"), default=0)
    version = models.PositiveIntegerField(default=1, editable=False)

    objects = SheetQuerySet.as_manager()

    class Meta:
        ordering = ["lot", "number"]
        verbose_name = _("sheet")
        indexes = [
            models.Index(fields=["-lot", "number"], condition=Q(left_on=None), name="sheet_here"),
            models.Index(
                fields=["lot"],
                condition=Q(tone_group=None, set_aside_on=None, left_on=None),
                name="sheet_to_sort",
            ),
        ]
        constraints = [
            models.UniqueConstraint(fields=["lot", "number"], name="sheet_number_once"),
            models.UniqueConstraint(
                fields=["lot", "tone_group", "place"],
                name="sheet_place_once",
                violation_error_message=_(
                    "Another sheet lies in this place of the stack now. Sort the sheet again instead."
                ),
            ),
            models.CheckConstraint(
                condition=Q(tone_group=None, place=None) | Q(tone_group__isnull=False, place__isnull=False),
                name="sheet_place_with_group",
            ),
            models.CheckConstraint(
                condition=Q(tone_group=None) | Q(set_aside_on=None), name="sheet_sorted_or_set_aside"
            ),
        ]

    def __str__(self) -> str:
        return f"{self.number}"


class Half(models.Model):
    """One long half of a sheet, a piece of its own: 31A and 31B."""

    class Side(models.TextChoices):
        A = "A", "A"
        B = "B", "B"

    sheet = models.ForeignKey(Sheet, on_delete=models.PROTECT, related_name="halves")
    side = models.CharField(max_length=1, choices=Side.choices)

    class Meta:
        ordering = ["sheet", "side"]
        verbose_name = _("half")
        constraints = [models.UniqueConstraint(fields=["sheet", "side"], name="half_once")]

    def __str__(self) -> str:
        return f"{self.sheet.number}{self.side}"


class DeliveryPhoto(models.Model):
    delivery = models.ForeignKey(Delivery, on_delete=models.PROTECT, related_name="photos")
    photo = models.OneToOneField(Photo, on_delete=models.PROTECT, related_name="delivery_photo")

    class Meta:
        ordering = ["pk"]
        verbose_name = _("photo of a delivery")

    def __str__(self) -> str:
        return f"{self.delivery}: {self.photo}"
