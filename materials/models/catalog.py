from datetime import date

from django.core.validators import MinValueValidator, RegexValidator
from django.db import models
from django.db.models import OuterRef, Q, Subquery
from django.utils.translation import gettext_lazy as _

from workshop import clock
from workshop.models.shop import LEAD_UNITS

VENEER_CUTS = [
    ("plain", _("plain sliced")),
    ("quarter", _("quarter sliced")),
    ("rift", _("rift cut")),
    ("rotary", _("rotary cut")),
    ("half_round", _("half-round sliced")),
]
VENEER_MATCHES = [
    ("book", _("book match")),
    ("slip", _("slip match")),
    ("random", _("random match")),
    ("pleasing", _("pleasing match")),
    ("whole", _("whole-piece face")),
]
FIRE_CLASSES = [
    ("A", _("Class A (ASTM E84)")),
    ("B", _("Class B (ASTM E84)")),
    ("C", _("Class C (ASTM E84)")),
    ("A1", _("A1 (EN 13501-1)")),
    ("A2", _("A2 (EN 13501-1)")),
    ("eB", _("B (EN 13501-1)")),
    ("eC", _("C (EN 13501-1)")),
    ("eD", _("D (EN 13501-1)")),
    ("eE", _("E (EN 13501-1)")),
]
LUMBER_GRADES = [
    ("fas", _("FAS")),
    ("f1f", _("F1F")),
    ("selects", _("Selects")),
    ("1c", _("No. 1 Common")),
    ("2ac", _("No. 2A Common")),
]
SURFACES = [("rough", _("rough")), ("s2s", _("S2S")), ("s4s", _("S4S"))]
DRYNESSES = [("kd", _("kiln-dried")), ("ad", _("air-dried")), ("green", _("green"))]
TALLIES = [("gross", _("gross tally")), ("net", _("net tally"))]
IN_USE_NAME = {"unique": _("There is one of this name. Add what tells them apart.")}
WHOLE_UNITS = {"sheet", "board", "piece", "box", "pack", "bundle", "pail", "can", "drum", "roll", "lump"}


class SupplierQuerySet(models.QuerySet):
    def matching(self, words: str) -> "SupplierQuerySet":
        return self.filter(Q(name__icontains=words) | Q(contact__icontains=words)) if words else self


class Supplier(models.Model):
    name = models.CharField(_("Name"), max_length=80, unique=True, error_messages=IN_USE_NAME)
    contact = models.CharField(_("Contact"), max_length=80, default="", blank=True)
    phone = models.CharField(_("Phone"), max_length=40, default="", blank=True)
    email = models.EmailField(_("Email"), default="", blank=True)
    address = models.TextField(_("Address"), max_length=400, default="", blank=True)
    lead_count = models.PositiveSmallIntegerField(
        _("Usual lead time"), default=2, help_text=_("What this supplier quotes when nothing else is said.")
    )
    lead_unit = models.CharField(_("counted in"), max_length=12, choices=LEAD_UNITS, default="weeks")
    inspect_days = models.PositiveSmallIntegerField(
        _("Days to tell a fault"),
        null=True,
        blank=True,
        help_text=_("From the day of arrival, as agreed with this supplier."),
    )
    note = models.TextField(_("Note"), max_length=2000, default="", blank=True)
    version = models.PositiveIntegerField(default=1, editable=False)

    objects = SupplierQuerySet.as_manager()

    class Meta:
        ordering = ["name"]
        verbose_name = _("supplier")

    def __str__(self) -> str:
        return self.name


class MaterialQuerySet(models.QuerySet):
    def matching(self, words: str) -> "MaterialQuerySet":
        return self.filter(Q(name__icontains=words) | Q(species__icontains=words)) if words else self

    def with_usual_price(self) -> "MaterialQuerySet":
        """Each material with `usual_price_micro` and its currency: what its usual supplier asks today."""
        prices = Price.objects.filter(
            material=OuterRef("pk"), supplier=OuterRef("usual_supplier"), from_on__lte=clock.today()
        )
        return self.annotate(
            usual_price_micro=Subquery(prices.values("price_micro")[:1]),
            usual_price_currency=Subquery(prices.values("currency")[:1]),
        )


class Material(models.Model):
    """Something the shop buys and uses, with the unit it is counted in."""

    class Kind(models.TextChoices):
        SHEET = "sheet", _("Sheet material")
        LUMBER = "lumber", _("Lumber")
        TRIM = "trim", _("Bought trim")
        FINISH = "finish", _("Finish")
        FASTENER = "fastener", _("Fasteners")
        LIGHT = "light", _("Lights")
        SERVICE = "service", _("Bought service")
        OTHER = "other", _("Other")

    UNITS_OF_KIND = {
        Kind.SHEET: ["sheet"],
        Kind.LUMBER: ["board_foot", "foot", "meter", "cubic_meter", "board"],
        Kind.TRIM: ["foot", "meter", "piece"],
        Kind.FINISH: ["gallon", "quart", "liter"],
        Kind.FASTENER: ["piece", "box"],
        Kind.LIGHT: ["foot", "meter", "piece"],
        Kind.SERVICE: ["lump", "hour", "square_foot", "square_meter", "piece"],
        Kind.OTHER: ["piece", "foot", "meter", "square_foot", "square_meter", "pound", "kilogram", "box"],
    }

    BUY_UNITS_OF_KIND = {
        Kind.LUMBER: ["board_foot", "thousand_board_feet", "cubic_meter", "foot", "meter", "board", "bundle"],
        Kind.TRIM: ["piece", "foot", "meter", "bundle", "pack"],
        Kind.FINISH: ["pail", "can", "drum", "gallon", "quart", "liter"],
        Kind.FASTENER: ["box", "pack"],
        Kind.LIGHT: ["roll", "piece", "foot", "meter", "box", "pack"],
        Kind.OTHER: ["box", "pack", "bundle", "roll", "pail", "can", "drum", "piece", "foot", "meter"],
    }

    kind = models.CharField(_("Kind"), max_length=12, choices=Kind.choices)
    name = models.CharField(_("Name"), max_length=120, unique=True, error_messages=IN_USE_NAME)
    species = models.CharField(_("Species"), max_length=60, default="", blank=True)
    unit = models.CharField(_("Counted in"), max_length=20)
    thickness_nm = models.BigIntegerField(_("Thickness"), null=True, blank=True, validators=[MinValueValidator(1)])
    width_nm = models.BigIntegerField(_("Width"), null=True, blank=True, validators=[MinValueValidator(1)])
    length_nm = models.BigIntegerField(_("Length"), null=True, blank=True, validators=[MinValueValidator(1)])
    cut = models.CharField(_("Veneer cut"), max_length=20, choices=VENEER_CUTS, default="", blank=True)
    match = models.CharField(_("Veneer match"), max_length=20, choices=VENEER_MATCHES, default="", blank=True)
    face_grade = models.CharField(_("Face grade"), max_length=20, default="", blank=True)
    back_grade = models.CharField(_("Back grade"), max_length=20, default="", blank=True)
    core = models.CharField(_("Core"), max_length=60, default="", blank=True)
    real_thickness_nm = models.BigIntegerField(null=True, blank=True, validators=[MinValueValidator(1)])
    is_bought_finished = models.BooleanField(_("Bought finished"), default=False)
    fire_class = models.CharField(_("Fire class"), max_length=10, choices=FIRE_CLASSES, default="", blank=True)
    emission_class = models.CharField(_("Emission class"), max_length=40, default="", blank=True)
    lumber_grade = models.CharField(_("Lumber grade"), max_length=20, choices=LUMBER_GRADES, default="", blank=True)
    surface = models.CharField(_("Surface"), max_length=10, choices=SURFACES, default="", blank=True)
    dryness = models.CharField(_("Dryness"), max_length=10, choices=DRYNESSES, default="", blank=True)
    tally = models.CharField(_("Tally"), max_length=10, choices=TALLIES, default="", blank=True)
    buy_unit = models.CharField(_("Bought in"), max_length=20, default="", blank=True)
    buy_contains_micro = models.BigIntegerField(default=1_000_000, validators=[MinValueValidator(1)])
    usual_supplier = models.ForeignKey(
        Supplier,
        verbose_name=_("Usual supplier"),
        null=True,
        blank=True,
        on_delete=models.PROTECT,
        related_name="materials",
    )
    note = models.TextField(_("Note"), max_length=2000, default="", blank=True)
    version = models.PositiveIntegerField(default=1, editable=False)

    objects = MaterialQuerySet.as_manager()

    class Meta:
        ordering = ["name"]
        verbose_name = _("material")

    def __str__(self) -> str:
        return self.name

    @property
    def bought_unit(self) -> str:
        """The unit orders, prices and deliveries count in; lots and needs count in `unit`."""
        return self.buy_unit or self.unit

    @property
    def is_sheet(self) -> bool:
        return self.kind == self.Kind.SHEET

    @property
    def is_whole(self) -> bool:
        """Whether it is counted in whole things only."""
        return self.unit in WHOLE_UNITS

    @property
    def is_bought_whole(self) -> bool:
        """Whether it is bought in whole things only."""
        return self.bought_unit in WHOLE_UNITS


class PriceQuerySet(models.QuerySet):
    def asked(self, *, material: Material, supplier: Supplier, currency: str, on: date) -> "Price | None":
        """What the supplier asks on a day: the price that began last."""
        prices = self.filter(material=material, supplier=supplier, currency=currency, from_on__lte=on)
        return prices.order_by("-from_on", "-pk").first()


class Price(models.Model):
    """What a supplier asks for one unit of a material, from a day on."""

    material = models.ForeignKey(Material, on_delete=models.PROTECT, related_name="prices")
    supplier = models.ForeignKey(Supplier, verbose_name=_("Supplier"), on_delete=models.PROTECT, related_name="prices")
    price_micro = models.BigIntegerField(_("Price"), validators=[MinValueValidator(0)])
    minimum_micro = models.BigIntegerField(
        _("Least quantity"), null=True, blank=True, validators=[MinValueValidator(1)]
    )
    pack_micro = models.BigIntegerField(_("Sold in packs of"), null=True, blank=True, validators=[MinValueValidator(1)])
    currency = models.CharField(max_length=3)
    from_on = models.DateField(_("From"))

    objects = PriceQuerySet.as_manager()

    class Meta:
        ordering = ["-from_on", "-pk"]
        verbose_name = _("price")
        constraints = [
            models.UniqueConstraint(
                fields=["material", "supplier", "currency", "from_on"],
                name="price_once_a_day",
                violation_error_message=_(
                    "This supplier has a price from this day. Choose another day, or take that one back."
                ),
            ),
            models.CheckConstraint(condition=models.Q(price_micro__gte=0), name="price_not_negative"),
        ]

    def __str__(self) -> str:
        return f"{self.material}, {self.supplier}, {self.from_on}"


class ToneGroup(models.Model):
    """One step of the shop's ladder of tones for a material, light to dark."""

    material = models.ForeignKey(Material, on_delete=models.PROTECT, related_name="tone_groups")
    place = models.PositiveSmallIntegerField(_("Place from light to dark"), validators=[MinValueValidator(1)])
    name = models.CharField(_("Name"), max_length=30)
    color = models.CharField(
        _("Swatch"),
        max_length=7,
        validators=[RegexValidator(r"\A#[0-9a-f]{6}\Z", _("Write a color as #dfcca9: # and six digits or a to f."))],
    )
    version = models.PositiveIntegerField(default=1, editable=False)

    class Meta:
        ordering = ["place"]
        verbose_name = _("tone group")
        constraints = [
            models.UniqueConstraint(
                fields=["material", "name"],
                name="tone_group_name_once",
                violation_error_message=_("There is a tone group of this name. Choose another name."),
            ),
            models.UniqueConstraint(fields=["material", "place"], name="tone_group_place_once"),
        ]

    def __str__(self) -> str:
        return self.name
