from django import forms
from django.utils.translation import gettext_lazy

from jobs.models import Hours, Room, Stage
from workshop import clock
from workshop.forms import DayField, HoursField, RowForm
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
