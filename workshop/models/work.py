from datetime import datetime, timedelta

from django.conf import settings
from django.db import models
from django.db.models import Q
from django.utils import timezone
from django.utils.translation import gettext_lazy as _


class State(models.TextChoices):
    """What the facts of a piece of work come to; worked out, never stored."""

    WAITING = "waiting", _("Waiting for its turn")
    RUNNING = "running", _("In work")
    DONE = "done", _("Done")
    CANCELLED = "cancelled", _("Cancelled")
    FAILED = "failed", _("Not done")


class WorkQuerySet(models.QuerySet):
    def open(self) -> "WorkQuerySet":
        return self.filter(ended_at=None)

    def waiting(self) -> "WorkQuerySet":
        return self.open().filter(started_at=None)

    def running(self) -> "WorkQuerySet":
        return self.open().exclude(started_at=None)

    def seen_by(self, person: models.Model) -> "WorkQuerySet":
        """The owner sees every piece of work, anybody else what they asked for."""
        return self.all() if person.is_owner else self.filter(asked_by=person)


class Work(models.Model):
    """One piece of long work: who asked for what, how far it is, and how it ended."""

    kind = models.CharField(max_length=40)
    key = models.CharField(max_length=200)
    arguments = models.JSONField(default=dict)
    input_version = models.CharField(max_length=200, default="")
    asked_by = models.ForeignKey(settings.AUTH_USER_MODEL, null=True, on_delete=models.PROTECT, related_name="+")
    asked_at = models.DateTimeField(default=timezone.now)
    time_box_seconds = models.PositiveIntegerField()
    attempt = models.PositiveSmallIntegerField(default=0)
    delivery = models.UUIDField(null=True)
    started_at = models.DateTimeField(null=True)
    heartbeat_at = models.DateTimeField(null=True)
    progress_done = models.PositiveIntegerField(default=0)
    progress_total = models.PositiveIntegerField(default=0)
    progress_words = models.CharField(max_length=200, default="")
    cancel_asked_at = models.DateTimeField(null=True)
    ended_at = models.DateTimeField(null=True)
    result = models.JSONField(null=True)
    failure = models.TextField(default="")

    objects = WorkQuerySet.as_manager()

    class Meta:
        ordering = ["-pk"]
        constraints = [
            models.UniqueConstraint(
                fields=["kind", "key"], condition=Q(ended_at=None), name="work_one_open_for_a_subject"
            ),
            models.CheckConstraint(
                condition=Q(ended_at__isnull=False) | Q(result__isnull=True, failure=""),
                name="work_open_has_no_outcome",
            ),
        ]
        indexes = [models.Index(fields=["ended_at", "started_at"], name="work_open")]

    def __str__(self) -> str:
        return f"{self.kind} {self.key}"

    @property
    def state(self) -> State:
        if self.ended_at is None:
            return State.WAITING if self.started_at is None else State.RUNNING
        if self.failure:
            return State.FAILED
        return State.CANCELLED if self.result is None else State.DONE

    @property
    def is_open(self) -> bool:
        return self.ended_at is None

    @property
    def ends_at(self) -> datetime | None:
        """When its time box is over; nothing while it waits."""
        return self.started_at and self.started_at + timedelta(seconds=self.time_box_seconds)

    @property
    def outcome(self) -> str:
        """What came of it, in words."""
        return self.failure or (self.result or {}).get("words", "")

    @property
    def address(self) -> str:
        """Where what came of it is to be seen; only ever a page of this app."""
        found = (self.result or {}).get("address", "")
        return found if found.startswith("/") and not found.startswith("//") else ""
