"""Walls and ceilings of a room as they are drawn and measured, and how each is paneled."""

from django.conf import settings
from django.core.validators import MinValueValidator
from django.db import models
from django.db.models import F, Q
from django.utils.translation import gettext_lazy as _

from jobs.models.job import Revision, Room
from materials.models import Material


def length(label: str, **options: object) -> models.BigIntegerField:
    return models.BigIntegerField(label, null=True, blank=True, validators=[MinValueValidator(1)], **options)


class Surface(models.Model):
    """A wall or a ceiling, seen from inside the room; a ceiling is drawn with the first wall at its foot."""

    class Kind(models.TextChoices):
        WALL = "wall", _("Wall")
        CEILING = "ceiling", _("Ceiling")

    class Shape(models.TextChoices):
        RECTANGLE = "rectangle", _("Rectangle")
        RAKED = "raked", _("Raked: one end higher")
        GABLED = "gabled", _("Gabled: highest between the ends")

    class Runs(models.TextChoices):
        UP = "up", _("Up")
        ACROSS = "across", _("Across")

    class Start(models.TextChoices):
        BALANCED = "balanced", _("Balanced: both ends alike, as wide as can be")
        LEFT = "left", _("From the left end")
        RIGHT = "right", _("From the right end")
        PANEL = "panel", _("A panel at the center")
        JOINT = "joint", _("A joint at the center")
        CENTERS = "centers", _("On studs or battens")

    room = models.ForeignKey(Room, on_delete=models.PROTECT, related_name="surfaces")
    kind = models.CharField(_("Kind"), max_length=10, choices=Kind.choices, default=Kind.WALL)
    name = models.CharField(_("Name"), max_length=8)
    place = models.PositiveIntegerField()
    shape = models.CharField(_("Shape"), max_length=10, choices=Shape.choices, default=Shape.RECTANGLE)
    width_nm = models.BigIntegerField(_("Width"), validators=[MinValueValidator(1)])
    height_nm = models.BigIntegerField(_("Height"), validators=[MinValueValidator(1)])
    right_height_nm = length(_("Height at the right end"))
    ridge_height_nm = length(_("Height at the ridge"))
    ridge_at_nm = length(_("Ridge from the left end"))
    revision = models.ForeignKey(
        Revision,
        verbose_name=_("Drawing"),
        null=True,
        blank=True,
        on_delete=models.PROTECT,
        related_name="surfaces",
    )
    released_on = models.DateField(null=True, blank=True, editable=False)
    released_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, null=True, blank=True, editable=False, on_delete=models.PROTECT, related_name="+"
    )
    packers_nm = models.BigIntegerField(_("Packers"), default=0, validators=[MinValueValidator(0)])
    battens_nm = models.BigIntegerField(_("Battens"), default=0, validators=[MinValueValidator(0)])
    batten_spacing_nm = length(_("Battens at centers of"))
    material = models.ForeignKey(
        Material, verbose_name=_("Panel material"), null=True, blank=True, on_delete=models.PROTECT, related_name="+"
    )
    runs = models.CharField(_("Panels run"), max_length=8, choices=Runs.choices, default=Runs.UP)
    start = models.CharField(_("Laid out"), max_length=10, choices=Start.choices, default=Start.BALANCED)
    module_nm = length(_("Module"))
    reveal_nm = models.BigIntegerField(_("Reveal"), default=0, validators=[MinValueValidator(0)])
    least_nm = length(_("Least width of a panel"))
    stud_spacing_nm = length(_("Joints on centers of"))
    first_stud_nm = models.BigIntegerField(_("First of them from the left end"), null=True, blank=True)
    cross_joint_nm = length(_("Cross joint at the height of"))
    note = models.TextField(_("Note"), max_length=2000, default="", blank=True)
    version = models.PositiveIntegerField(default=1, editable=False)

    class Meta:
        ordering = ["room", "place"]
        verbose_name = _("wall or ceiling")
        constraints = [
            models.UniqueConstraint(
                fields=["room", "name"],
                name="surface_name_once",
                violation_error_message=_("This room has a wall or ceiling of this name. Choose another letter."),
            ),
            models.CheckConstraint(
                condition=Q(module_nm=None) | Q(module_nm__gt=F("reveal_nm")), name="surface_module_over_reveal"
            ),
        ]

    def __str__(self) -> str:
        return self.name

    @property
    def measured(self) -> "Measure | None":
        """Its sizes as taken on site, where they were."""
        return getattr(self, "measure", None)

    @property
    def may_be_cut(self) -> bool:
        """Whether it was measured, or released by name; drawn sizes are good for buying alone."""
        return self.measured is not None or self.released_on is not None


class Measure(models.Model):
    """The sizes of a surface as they really are, taken on site; cutting follows them."""

    surface = models.OneToOneField(Surface, on_delete=models.PROTECT, related_name="measure")
    measured_on = models.DateField(_("Measured on"))
    measured_by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="+")
    width_top_nm = length(_("Width at the top"))
    width_middle_nm = length(_("Width at the middle"))
    width_foot_nm = length(_("Width at the foot"))
    height_left_nm = length(_("Height, left end"))
    height_right_nm = length(_("Height, right end"))
    ridge_height_nm = length(_("Height at the ridge"))
    diagonal_up_nm = length(_("Diagonal, left foot to right top"))
    diagonal_down_nm = length(_("Diagonal, left top to right foot"))
    plumb_left_nm = models.BigIntegerField(_("Left end out of plumb"), null=True, blank=True)
    plumb_right_nm = models.BigIntegerField(_("Right end out of plumb"), null=True, blank=True)
    first_stud_nm = models.BigIntegerField(_("First stud from the left end"), null=True, blank=True)
    level_nm = length(_("Level line above the floor, left end"))
    note = models.CharField(_("Note"), max_length=200, default="", blank=True)
    version = models.PositiveIntegerField(default=1, editable=False)

    class Meta:
        verbose_name = _("measured sizes")

    def __str__(self) -> str:
        return f"{self.surface} {self.measured_on}"


class Edge(models.Model):
    """How a surface ends on one side, and by how much."""

    class Side(models.TextChoices):
        LEFT = "left", _("Left end")
        RIGHT = "right", _("Right end")
        TOP = "top", _("Top")
        FOOT = "foot", _("Foot")

    class Condition(models.TextChoices):
        DIES = "dies", _("dies into the next surface")
        LAPS = "laps", _("laps over the next surface")
        MITERED = "mitered", _("mitered")
        REVEAL = "reveal", _("held off by a reveal")
        COVERED = "covered", _("covered by trim")
        SCRIBED = "scribed", _("scribed, with some to spare")

    surface = models.ForeignKey(Surface, on_delete=models.PROTECT, related_name="edges")
    side = models.CharField(_("Side"), max_length=6, choices=Side.choices)
    condition = models.CharField(_("It"), max_length=10, choices=Condition.choices)
    amount_nm = models.BigIntegerField(_("By"), default=0, validators=[MinValueValidator(0)])
    is_first = models.BooleanField(_("Hung first, so it runs through to the corner"), default=False)
    version = models.PositiveIntegerField(default=1, editable=False)

    class Meta:
        ordering = ["surface", "side"]
        verbose_name = _("edge")
        constraints = [models.UniqueConstraint(fields=["surface", "side"], name="edge_once")]

    def __str__(self) -> str:
        return f"{self.surface} {self.side}"


class Opening(models.Model):
    """A door, window or niche, by its lower left corner from the left end and the floor."""

    class Kind(models.TextChoices):
        DOOR = "door", _("Door")
        WINDOW = "window", _("Window")
        NICHE = "niche", _("Niche")

    class Fallback(models.TextChoices):
        NOTCH = "notch", _("notch the panel")
        JOINT = "joint", _("a joint at its edge")

    surface = models.ForeignKey(Surface, on_delete=models.PROTECT, related_name="openings")
    kind = models.CharField(_("Kind"), max_length=10, choices=Kind.choices)
    left_nm = models.BigIntegerField(_("From the left end"), validators=[MinValueValidator(0)])
    foot_nm = models.BigIntegerField(_("Above the floor"), default=0, validators=[MinValueValidator(0)])
    width_nm = models.BigIntegerField(_("Width"), validators=[MinValueValidator(1)])
    height_nm = models.BigIntegerField(_("Height"), validators=[MinValueValidator(1)])
    condition = models.CharField(
        _("Panels round it"), max_length=10, choices=Edge.Condition.choices, default=Edge.Condition.DIES
    )
    amount_nm = models.BigIntegerField(_("By"), default=0, validators=[MinValueValidator(0)])
    otherwise = models.CharField(
        _("Where no joint falls well"), max_length=8, choices=Fallback.choices, default=Fallback.NOTCH
    )
    version = models.PositiveIntegerField(default=1, editable=False)

    class Meta:
        ordering = ["surface", "left_nm", "foot_nm"]
        verbose_name = _("opening")

    def __str__(self) -> str:
        return f"{self.surface} {self.kind}"


class Cutout(models.Model):
    """A hole inside a panel for a box, a register or a sensor, by its center."""

    class Kind(models.TextChoices):
        BOX = "box", _("Electrical box")
        REGISTER = "register", _("Air register")
        SENSOR = "sensor", _("Sensor")
        OTHER = "other", _("Other")

    surface = models.ForeignKey(Surface, on_delete=models.PROTECT, related_name="cutouts")
    kind = models.CharField(_("Kind"), max_length=10, choices=Kind.choices, default=Kind.BOX)
    center_nm = models.BigIntegerField(_("Center from the left end"), validators=[MinValueValidator(0)])
    center_height_nm = models.BigIntegerField(_("Center above the floor"), validators=[MinValueValidator(0)])
    width_nm = models.BigIntegerField(_("Width"), validators=[MinValueValidator(1)])
    height_nm = models.BigIntegerField(_("Height"), validators=[MinValueValidator(1)])
    depth_nm = models.BigIntegerField(_("Depth"), validators=[MinValueValidator(1)])
    is_access = models.BooleanField(_("Its panel comes off for access"), default=False)
    version = models.PositiveIntegerField(default=1, editable=False)

    class Meta:
        ordering = ["surface", "center_nm", "center_height_nm"]
        verbose_name = _("cut-out")

    def __str__(self) -> str:
        return f"{self.surface} {self.kind}"
