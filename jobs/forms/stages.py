from collections.abc import Iterable, Sequence

from django import forms
from django.forms import BoundField
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from jobs.forms.rows import RowsForm, on_column
from jobs.models import Job, Room, RoomStage, Stage
from jobs.plan import Planned
from workshop.forms import CountField, Form, HoursField

MOST_MINUTES = 9999 * 60


def _whole(text: str) -> int:
    return int(text) if text.isascii() and text.isdigit() and len(text) < 10 else -1


class StageNamesForm(RowsForm):
    def __init__(self, *args: object, job: Job, **options: object) -> None:
        self.job = job
        super().__init__(*args, **options)

    def rows(self) -> Iterable[Stage]:
        return self.job.stages.all()

    def fields_of(self, row: Stage) -> dict[str, forms.Field]:
        return {"name": on_column("name", forms.CharField(label=row.full_name, max_length=30))}

    def names(self) -> dict[int, str]:
        return {row.pk: self.cleaned_data[f"name_{row.pk}"] for row in self._read()}

    def was(self) -> dict[int, str]:
        return {row.pk: self.cleaned_data[f"was_name_{row.pk}"] for row in self._read()}

    def _read(self) -> Sequence[Stage]:
        return [row for row in self.rows() if f"name_{row.pk}" in self.fields]

    def lines(self) -> list[tuple[Stage, BoundField]]:
        return [(row, self[f"name_{row.pk}"]) for row in self._read()]


class StageForm(Form):
    name = forms.CharField(label=gettext_lazy("Name"), max_length=30)
    lane = forms.ChoiceField(label=gettext_lazy("At the end of"), choices=Stage.Lane.choices)


class PlanForm(RowsForm):
    def __init__(self, *args: object, room: Room, **options: object) -> None:
        self.room = room
        super().__init__(*args, **options)

    def rows(self) -> Iterable[RoomStage]:
        return self.room.room_stages.select_related("stage")

    def fields_of(self, row: RoomStage) -> dict[str, forms.Field]:
        return {
            "hours": on_column(
                "planned_minutes",
                HoursField(
                    label=_("%(stage)s, planned hours") % {"stage": row.stage.full_name},
                    zero=True,
                    most_minutes=MOST_MINUTES,
                    required=False,
                ),
            ),
            "total": on_column("total", CountField(label=_("%(stage)s, pieces") % {"stage": row.stage.full_name})),
        }

    def plan(self) -> dict[int, Planned]:
        return {
            row.pk: Planned(self.cleaned_data[f"hours_{row.pk}"] or 0, self.cleaned_data[f"total_{row.pk}"])
            for row in self._read()
        }

    def was(self) -> dict[int, Planned]:
        return {
            row.pk: Planned(
                _whole(self.cleaned_data[f"was_hours_{row.pk}"]),
                _whole(self.cleaned_data[f"was_total_{row.pk}"]),
            )
            for row in self._read()
        }

    def _read(self) -> Sequence[RoomStage]:
        return [row for row in self.rows() if f"hours_{row.pk}" in self.fields]

    def lines(self) -> list[tuple[RoomStage, BoundField, BoundField]]:
        return [(row, self[f"hours_{row.pk}"], self[f"total_{row.pk}"]) for row in self._read()]


class CopyPlanForm(Form):
    source = forms.ModelChoiceField(Room.objects.none(), label=gettext_lazy("The same as"), empty_label=None)

    def __init__(self, *args: object, room: Room, **options: object) -> None:
        super().__init__(*args, **options)
        others = room.job.rooms.exclude(pk=room.pk)
        self.fields["source"].queryset = others.filter(room_stages__planned_minutes__gt=0).distinct()


class CountForm(Form):
    """How many are through a stage: a number typed, one more, all, or none."""

    WAYS = [("count", ""), ("more", ""), ("all", ""), ("none", "")]

    do = forms.ChoiceField(choices=WAYS, widget=forms.HiddenInput)
    count = CountField(required=False)

    def __init__(self, *args: object, row: RoomStage, **options: object) -> None:
        super().__init__(*args, auto_id=f"stage_{row.pk}_%s", **options)
        self.fields["count"].label = row.stage.full_name

    def clean(self) -> dict[str, object]:
        cleaned = super().clean()
        if cleaned.get("do") == "count" and cleaned.get("count") is None and "count" not in self.errors:
            self.add_error("count", _("Nothing is typed. Type how many are done, or press +1."))
        return cleaned
