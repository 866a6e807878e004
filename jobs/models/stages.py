from django.conf import settings
from django.core.validators import MaxValueValidator, MinValueValidator
from django.db import models
from django.db.models import F, Q
from django.utils.translation import gettext_lazy as _

from jobs.models.job import Job, Room

MINUTES_A_DAY = 24 * 60


class Stage(models.Model):
    """A step of the work in a job: panels and trim side by side in the shop, then one lane on site."""

    class Lane(models.TextChoices):
        PANELS = "panels", _("Panels")
        TRIM = "trim", _("Trim")
        SITE = "site", _("On site")

    FIRST_PLACE = {Lane.PANELS: 100, Lane.TRIM: 200, Lane.SITE: 300}

    job = models.ForeignKey(Job, on_delete=models.PROTECT, related_name="stages")
    lane = models.CharField(_("Lane"), max_length=10, choices=Lane.choices)
    place = models.PositiveSmallIntegerField()
    name = models.CharField(_("Name"), max_length=30)
    version = models.PositiveIntegerField(default=1, editable=False)

    class Meta:
        ordering = ["job", "place"]
        verbose_name = _("stage")
        constraints = [
            models.UniqueConstraint(
                fields=["job", "lane", "name"],
                name="stage_name_once",
                violation_error_message=_("There is a stage of this name in this lane. Choose another name."),
            ),
            models.UniqueConstraint(fields=["job", "place"], name="stage_place_once"),
        ]

    def __str__(self) -> str:
        return self.full_name

    @property
    def full_name(self) -> str:
        """The name with its lane, since panels and trim are both drilled, sanded and finished."""
        if self.lane == self.Lane.PANELS:
            return _("%(stage)s panels") % {"stage": self.name}
        if self.lane == self.Lane.TRIM:
            return _("%(stage)s trim") % {"stage": self.name}
        return self.name


class RoomStage(models.Model):
    """How far a stage is in a room: counted (7 of 10), ticked where the total is 1, absent where it is 0."""

    room = models.ForeignKey(Room, on_delete=models.PROTECT, related_name="room_stages")
    stage = models.ForeignKey(Stage, on_delete=models.PROTECT, related_name="room_stages")
    planned_minutes = models.PositiveIntegerField(_("Planned hours"), default=0)
    total = models.PositiveIntegerField(_("Pieces"), default=1, validators=[MaxValueValidator(9999)])
    done = models.PositiveIntegerField(_("Done"), default=0)
    version = models.PositiveIntegerField(default=1, editable=False)

    class Meta:
        ordering = ["room", "stage__place"]
        verbose_name = _("stage of a room")
        constraints = [
            models.UniqueConstraint(fields=["room", "stage"], name="room_stage_once"),
            models.CheckConstraint(
                condition=Q(done__lte=F("total")),
                name="room_stage_done_within_total",
                violation_error_message=_("More cannot be done than there is. Raise the total or lower the count."),
            ),
            models.CheckConstraint(
                condition=Q(total__gt=0) | Q(planned_minutes=0), name="room_stage_planned_has_pieces"
            ),
        ]

    def __str__(self) -> str:
        return f"{self.room}: {self.stage}"

    @property
    def is_done(self) -> bool:
        return self.done == self.total > 0

    @property
    def is_ticked(self) -> bool:
        """One tick says all: there is one piece, or the stage is done as a whole."""
        return self.total == 1

    @property
    def left(self) -> int:
        return self.total - self.done


class Hours(models.Model):
    """Time a person spent on a room, by stage where it is known."""

    room = models.ForeignKey(Room, on_delete=models.PROTECT, related_name="hours")
    stage = models.ForeignKey(
        Stage, verbose_name=_("Stage"), null=True, blank=True, on_delete=models.PROTECT, related_name="hours"
    )
    person = models.ForeignKey(
        settings.AUTH_USER_MODEL, verbose_name=_("Who"), on_delete=models.PROTECT, related_name="hours"
    )
    worked_on = models.DateField(_("Day"))
    minutes = models.PositiveIntegerField(
        _("Hours"), validators=[MinValueValidator(1), MaxValueValidator(MINUTES_A_DAY)]
    )
    batch = models.PositiveIntegerField(null=True, blank=True, db_index=True)
    note = models.CharField(_("Note"), max_length=200, default="", blank=True)
    version = models.PositiveIntegerField(default=1, editable=False)

    class Meta:
        ordering = ["-worked_on", "-pk"]
        verbose_name = _("hours")
        verbose_name_plural = _("hours")
        indexes = [models.Index(fields=["room", "worked_on"], name="hours_by_room_day")]

    def __str__(self) -> str:
        return f"{self.person}, {self.worked_on}: {self.minutes}"
