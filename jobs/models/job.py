from django.core.validators import MinValueValidator
from django.db import models
from django.db.models import Q
from django.utils.translation import gettext_lazy as _

from materials.models import Half, Lot, Material, OrderLine
from materials.models.catalog import FIRE_CLASSES
from workshop.models.shop import UNIT_SYSTEMS

US_PRECISIONS = [(3_175_000, _("1/8 in")), (1_587_500, _("1/16 in")), (793_750, _("1/32 in")), (396_875, _("1/64 in"))]
METRIC_PRECISIONS = [(1_000_000, _("1 mm")), (500_000, _("0.5 mm")), (100_000, _("0.1 mm"))]


class Client(models.Model):
    name = models.CharField(
        _("Name"),
        max_length=80,
        unique=True,
        error_messages={"unique": _("There is a client of this name. Add what tells them apart.")},
    )
    contact = models.CharField(_("Contact"), max_length=80, default="", blank=True)
    phone = models.CharField(_("Phone"), max_length=40, default="", blank=True)
    email = models.EmailField(_("Email"), default="", blank=True)
    address = models.TextField(_("Address"), max_length=400, default="", blank=True)
    version = models.PositiveIntegerField(default=1, editable=False)

    class Meta:
        ordering = ["name"]
        verbose_name = _("client")

    def __str__(self) -> str:
        return self.name


class Job(models.Model):
    number = models.PositiveIntegerField(unique=True)
    name = models.CharField(_("Name"), max_length=80)
    client = models.ForeignKey(Client, verbose_name=_("Client"), on_delete=models.PROTECT, related_name="jobs")
    site = models.TextField(_("Site"), max_length=400, default="", blank=True)
    architect = models.CharField(_("Architect"), max_length=120, default="", blank=True)
    general_contractor = models.CharField(_("General contractor"), max_length=120, default="", blank=True)
    tax_ppm = models.PositiveIntegerField(_("Sales tax"), null=True, blank=True)
    drawings = models.CharField(
        _("Drawings"), max_length=60, default="", blank=True, help_text=_("The revision you work to, as Rev C, Nov 19.")
    )
    unit_system = models.CharField(_("Lengths in"), max_length=10, choices=UNIT_SYSTEMS, default="us")
    precision_nm = models.BigIntegerField(
        _("Shown to the nearest"), choices=US_PRECISIONS + METRIC_PRECISIONS, default=1_587_500
    )
    currency = models.CharField(_("Currency"), max_length=3, default="USD")
    closed_on = models.DateField(null=True, blank=True)
    version = models.PositiveIntegerField(default=1, editable=False)

    class Meta:
        ordering = ["-number"]
        verbose_name = _("job")
        indexes = [models.Index(fields=["closed_on"], name="job_by_closing")]

    def __str__(self) -> str:
        return f"{self.number} {self.name}"


class Room(models.Model):
    job = models.ForeignKey(Job, on_delete=models.PROTECT, related_name="rooms")
    name = models.CharField(_("Name"), max_length=60)
    place = models.PositiveSmallIntegerField(_("Order of installation"), default=1)
    starts_on = models.DateField(
        _("Work starts"), null=True, blank=True, help_text=_("The first day this room's material is worked on.")
    )
    wanted_on = models.DateField(_("Wanted by"), null=True, blank=True)
    fire_class = models.CharField(_("Fire class required"), max_length=10, choices=FIRE_CLASSES, default="", blank=True)
    version = models.PositiveIntegerField(default=1, editable=False)

    class Meta:
        ordering = ["job", "place", "pk"]
        verbose_name = _("room")
        constraints = [
            models.UniqueConstraint(
                fields=["job", "name"],
                name="room_name_once",
                violation_error_message=_("There is a room of this name in the job. Add a number or a floor to it."),
            ),
        ]

    def __str__(self) -> str:
        return self.name

    @property
    def position(self) -> int:
        """Its number in the order of installation as it is told; places may have gaps where a room was taken out."""
        before = Q(place__lt=self.place) | Q(place=self.place, pk__lt=self.pk)
        return Room.objects.filter(before, job=self.job_id).count() + 1


class Need(models.Model):
    """How much of a material a room takes; typed here until the drawing computes it."""

    room = models.ForeignKey(Room, on_delete=models.PROTECT, related_name="needs")
    material = models.ForeignKey(Material, verbose_name=_("Material"), on_delete=models.PROTECT, related_name="needs")
    quantity_micro = models.BigIntegerField(_("Quantity"), validators=[MinValueValidator(1)])
    version = models.PositiveIntegerField(default=1, editable=False)

    class Meta:
        ordering = ["room", "pk"]
        verbose_name = _("need")
        constraints = [
            models.UniqueConstraint(
                fields=["room", "material"],
                name="need_once",
                violation_error_message=_("This material is on the room's list. Change its quantity there."),
            ),
            models.CheckConstraint(condition=Q(quantity_micro__gt=0), name="need_positive"),
        ]

    def __str__(self) -> str:
        return f"{self.room}: {self.material}"


class Given(models.Model):
    """A half sheet that belongs to a room. A half belongs to one room at most: the database holds it."""

    half = models.OneToOneField(Half, on_delete=models.PROTECT, related_name="given")
    room = models.ForeignKey(Room, on_delete=models.PROTECT, related_name="given")

    class Meta:
        ordering = ["half"]
        verbose_name = _("given half")

    def __str__(self) -> str:
        return f"{self.half} -> {self.room}"


class LotShare(models.Model):
    """What a room takes of a lot that is not counted in sheets."""

    lot = models.ForeignKey(Lot, on_delete=models.PROTECT, related_name="shares")
    room = models.ForeignKey(Room, on_delete=models.PROTECT, related_name="lot_shares")
    quantity_micro = models.BigIntegerField(_("Quantity"), validators=[MinValueValidator(1)])
    version = models.PositiveIntegerField(default=1, editable=False)

    class Meta:
        ordering = ["room", "lot"]
        verbose_name = _("share of a lot")
        constraints = [
            models.UniqueConstraint(fields=["lot", "room"], name="lot_share_once"),
            models.CheckConstraint(condition=Q(quantity_micro__gt=0), name="lot_share_positive"),
        ]

    def __str__(self) -> str:
        return f"{self.lot} -> {self.room}"


class Drawing(models.Model):
    """A drawing of the job; its revisions stand beside it."""

    job = models.ForeignKey(Job, on_delete=models.PROTECT, related_name="drawing_list")
    number = models.CharField(_("Number"), max_length=30)
    name = models.CharField(_("What it shows"), max_length=80, default="", blank=True)
    version = models.PositiveIntegerField(default=1, editable=False)

    class Meta:
        ordering = ["job", "number"]
        verbose_name = _("drawing")
        constraints = [
            models.UniqueConstraint(
                fields=["job", "number"],
                name="drawing_number_once",
                violation_error_message=_("There is a drawing of this number. Add a revision to it."),
            ),
        ]

    def __str__(self) -> str:
        return self.number


class Revision(models.Model):
    """One state of a drawing; the latest dated one is worked to."""

    drawing = models.ForeignKey(Drawing, on_delete=models.PROTECT, related_name="revisions")
    letter = models.CharField(_("Revision"), max_length=10)
    dated_on = models.DateField(_("Dated"))
    received_on = models.DateField(_("Received on"))
    note = models.CharField(_("What changed"), max_length=200, default="", blank=True)
    version = models.PositiveIntegerField(default=1, editable=False)

    class Meta:
        ordering = ["-dated_on", "-pk"]
        verbose_name = _("revision")
        constraints = [
            models.UniqueConstraint(
                fields=["drawing", "letter"],
                name="revision_letter_once",
                violation_error_message=_("This revision of the drawing is here already."),
            ),
        ]

    def __str__(self) -> str:
        return f"{self.drawing} {self.letter}"


class LineShare(models.Model):
    """What of an order line is for a job; the rest of the line is for stock."""

    line = models.ForeignKey(OrderLine, on_delete=models.PROTECT, related_name="job_shares")
    job = models.ForeignKey(Job, on_delete=models.PROTECT, related_name="line_shares")
    quantity_micro = models.BigIntegerField(_("Quantity"), validators=[MinValueValidator(1)])
    version = models.PositiveIntegerField(default=1, editable=False)

    class Meta:
        ordering = ["line", "job"]
        verbose_name = _("share of an order line")
        constraints = [models.UniqueConstraint(fields=["line", "job"], name="line_share_once")]

    def __str__(self) -> str:
        return f"{self.line} -> {self.job}"
