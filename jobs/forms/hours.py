from django import forms
from django.utils.translation import gettext_lazy

from jobs import hours_batch
from jobs.forms.rows import RowsField
from jobs.models import Hours, Job, Room, Stage
from workshop import clock
from workshop.forms import DayField, Form, HoursField, RowForm
from workshop.models import Person


class HoursForm(RowForm):
    """Time on a room. Staff log their own and have no choice of person."""

    minutes = HoursField(label=gettext_lazy("Hours"), help_text=gettext_lazy("1.5 or 1:30"))
    stage = forms.ModelChoiceField(
        Stage.objects.none(), label=gettext_lazy("Stage"), required=False, empty_label=gettext_lazy("None")
    )
    person = forms.ModelChoiceField(Person.objects.none(), label=gettext_lazy("Who"), empty_label=None)
    worked_on = DayField(label=gettext_lazy("Day"))

    class Meta:
        model = Hours
        fields = ["minutes", "stage", "person", "worked_on", "note"]

    def __init__(self, *args: object, room: Room, person: Person, **options: object) -> None:
        if "instance" not in options:
            options["initial"] = {"worked_on": clock.today(), "person": person}
        super().__init__(*args, **options)
        self.fields["stage"].queryset = Stage.objects.filter(job=room.job_id)
        self.fields["note"].wide = True
        if person.is_owner:
            self.fields["person"].queryset = Person.objects.filter(is_active=True) | Person.objects.filter(
                pk=self.instance.person_id
            )
        else:
            del self.fields["person"]


class HoursBatchForm(Form):
    """Time on several rooms of a job. Staff log their own and have no choice of person."""

    minutes = HoursField(label=gettext_lazy("Hours together"), help_text=gettext_lazy("1.5 or 1:30"))
    stage = forms.ModelChoiceField(
        Stage.objects.none(), label=gettext_lazy("Stage"), empty_label=gettext_lazy("Choose the stage")
    )
    person = forms.ModelChoiceField(Person.objects.none(), label=gettext_lazy("Who"), empty_label=None)
    worked_on = DayField(label=gettext_lazy("Day"))
    note = forms.CharField(label=gettext_lazy("Note"), max_length=200, required=False)
    rooms = RowsField(
        Room.objects.none(),
        label=gettext_lazy("Rooms"),
        widget=forms.CheckboxSelectMultiple,
        error_messages={
            "required": gettext_lazy("No room is chosen. Choose the rooms that were worked on."),
            "invalid_choice": gettext_lazy("One of these rooms is not in the job now. Choose others."),
        },
    )
    seen = forms.CharField(max_length=16, widget=forms.HiddenInput, required=False)

    def __init__(
        self, *args: object, job: Job, person: Person, batch: hours_batch.Batch | None = None, **options: object
    ) -> None:
        initial = _first_values(batch) if batch else {"worked_on": clock.today(), "person": person}
        super().__init__(*args, initial=initial, **options)
        self.fields["stage"].queryset = Stage.objects.filter(job=job)
        self.fields["rooms"].queryset = job.rooms.all()
        self.fields["note"].wide = self.fields["rooms"].wide = True
        if person.is_owner:
            people = Person.objects.filter(is_active=True)
            self.fields["person"].queryset = people | Person.objects.filter(pk=batch.person.pk) if batch else people
        else:
            del self.fields["person"]

    def see(self, batch: hours_batch.Batch) -> None:
        """Let the next send mean it, against the batch as it is now."""
        self._rewrite(seen=batch.seen)


def _first_values(batch: hours_batch.Batch) -> dict[str, object]:
    first = batch.first
    return {
        "minutes": batch.minutes,
        "stage": first.stage_id,
        "person": first.person_id,
        "worked_on": first.worked_on,
        "note": first.note,
        "rooms": [room.pk for room in batch.rooms],
        "seen": batch.seen,
    }
