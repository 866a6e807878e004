from django.conf import settings
from django.db import models


class Action(models.Model):
    """One thing somebody did: the trace, the way back, and the guard against doing it twice.

    `before` and `after` hold the rows that changed, one entry a row: `{"row": "jobs.room:3", "fields": {...}}`,
    with `fields` null where the row was not there. Written by `workshop.actions.recorded` only, never edited.
    """

    key = models.CharField(max_length=32, unique=True)
    person = models.ForeignKey(settings.AUTH_USER_MODEL, null=True, on_delete=models.PROTECT, related_name="+")
    happened_at = models.DateTimeField()
    recorded_at = models.DateTimeField()
    verb = models.CharField(max_length=40)
    thing = models.CharField(max_length=60)
    words = models.JSONField(default=dict)
    before = models.JSONField(default=list)
    after = models.JSONField(default=list)
    answer = models.CharField(max_length=300, default="")
    undone_by = models.OneToOneField(
        "self", null=True, on_delete=models.PROTECT, related_name="undoes", related_query_name="undoes"
    )

    class Meta:
        ordering = ["-pk"]

    def __str__(self) -> str:
        return f"{self.verb} {self.thing}"


class ActionAbout(models.Model):
    """A thing an action belongs to, so that the trace of a room holds what was done to its sheets."""

    action = models.ForeignKey(Action, on_delete=models.PROTECT, related_name="about")
    thing = models.CharField(max_length=60)

    class Meta:
        constraints = [models.UniqueConstraint(fields=["thing", "action"], name="action_about_once")]

    def __str__(self) -> str:
        return self.thing
