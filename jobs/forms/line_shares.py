from collections.abc import Iterable

from django import forms
from django.core.exceptions import ValidationError
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from jobs import line_shares
from jobs.forms.rows import RowsForm, on_column
from jobs.models import Job
from materials.models import OrderLine
from workshop.forms import QuantityField


class LineSharesForm(RowsForm):
    """How much of an order line is for each job, and for one more that needs nothing of it yet."""

    other = forms.ModelChoiceField(
        Job.objects.none(), label=gettext_lazy("Another job"), required=False, empty_label=gettext_lazy("None")
    )
    other_micro = QuantityField(label=gettext_lazy("For the other job"), required=False, positive=False)

    def __init__(self, *args: object, line: OrderLine, **options: object) -> None:
        self.line, self.jobs = line, line_shares.jobs_for(line)
        super().__init__(*args, **options)
        self.fields["other"].queryset = Job.objects.filter(closed_on=None).exclude(pk__in=[j.pk for j in self.jobs])
        self._use_unit(self.fields["other_micro"])
        self.order_fields([name for name in self.fields if not name.startswith("other")])

    def rows(self) -> Iterable[Job]:
        return self.jobs

    def fields_of(self, row: Job) -> dict[str, forms.Field]:
        field = QuantityField(label=str(row), required=False, positive=False)
        self._use_unit(field)
        return {"share": on_column("share_micro", field)}

    def _use_unit(self, field: QuantityField) -> None:
        field.use(self.line.material.bought_unit)
        field.whole = self.line.material.is_bought_whole

    def clean(self) -> dict[str, object]:
        cleaned = super().clean()
        if cleaned.get("other_micro") and not cleaned.get("other") and "other" not in self.errors:
            self.add_error("other", ValidationError(_("For which job? Choose one, or leave the quantity empty.")))
        return cleaned

    def shares(self) -> dict[int, int]:
        found = {job.pk: self.cleaned_data[f"share_{job.pk}"] or 0 for job in self._read()}
        if other := self.cleaned_data.get("other"):
            found[other.pk] = self.cleaned_data["other_micro"] or 0
        return found

    def was(self) -> dict[int, int]:
        return {job.pk: _whole(self.cleaned_data[f"was_share_{job.pk}"]) for job in self._read()}

    def _read(self) -> list[Job]:
        return [job for job in self.jobs if f"share_{job.pk}" in self.fields]


def _whole(text: str) -> int:
    return int(text) if text.isascii() and text.isdigit() and len(text) < 20 else -1
