import re

from django import forms
from django.utils.translation import gettext_lazy

from jobs.models import Drawing, Revision
from workshop import clock
from workshop.forms import DayField, RowForm

REV = re.compile(r"\Arev(ision)?\.?\s+", re.IGNORECASE)


class LetterField(forms.CharField):
    """A revision's letter or number; "Rev C" is C."""

    def __init__(self, **options: object) -> None:
        super().__init__(label=gettext_lazy("Revision"), max_length=10, help_text=gettext_lazy("C or 3"), **options)

    def to_python(self, value: object) -> str:
        return REV.sub("", super().to_python(value))


class RevisionForm(RowForm):
    letter = LetterField()
    dated_on = DayField(label=gettext_lazy("Dated"), help_text=gettext_lazy("The day that stands on it."))
    received_on = DayField(label=gettext_lazy("Received on"))

    class Meta:
        model = Revision
        fields = ["letter", "dated_on", "received_on", "note"]

    def __init__(self, *args: object, **options: object) -> None:
        super().__init__(*args, **options)
        self.fields["note"].wide = True
        if not self.instance.pk:
            self.initial["received_on"] = clock.today()


class DrawingForm(RowForm):
    class Meta:
        model = Drawing
        fields = ["number", "name"]


class DrawingNewForm(DrawingForm):
    """A drawing with its first revision, in one step."""

    letter = LetterField(required=False)
    dated_on = DayField(
        label=gettext_lazy("Dated"), required=False, help_text=gettext_lazy("The day that stands on it.")
    )
    received_on = DayField(label=gettext_lazy("Received on"), required=False)
    note = forms.CharField(label=gettext_lazy("What changed"), max_length=200, required=False)

    def __init__(self, *args: object, **options: object) -> None:
        super().__init__(*args, **options)
        self.fields["note"].wide = True
        self.initial["received_on"] = clock.today()
        if not self.is_bound:
            self.fields["number"].widget.attrs["autofocus"] = True
