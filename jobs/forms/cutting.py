"""What the saw takes away, as it is typed for a cutting plan."""

from django import forms
from django.utils.translation import gettext_lazy

from jobs.models import Job
from workshop.forms import LengthField

USUAL = {"us": {"kerf": "1/8", "cleanup": "1/4"}, "metric": {"kerf": "3", "cleanup": "6"}}


class SawForm(forms.Form):
    kerf = LengthField(label=gettext_lazy("Kerf"))
    cleanup = LengthField(
        label=gettext_lazy("Edge clean-up"), size=False, help_text=gettext_lazy("Taken off each edge, the kerf in it.")
    )

    def __init__(self, *args: object, job: Job, **options: object) -> None:
        super().__init__(*args, **options)
        for field in self.fields.values():
            field.use(job.unit_system)
