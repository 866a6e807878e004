from django import forms
from django.core.exceptions import ValidationError
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from jobs import copying, drawing_list
from jobs.models import Client, Job
from jobs.models.job import METRIC_PRECISIONS, US_PRECISIONS
from workshop import clock
from workshop.forms import CurrencyField, DayField, Form, PercentField, RowForm
from workshop.models import Person, Shop


class ClientChoice(forms.ModelChoiceField):
    """A client of the list, or none where a new one is named beside it: the rule sees that there is one."""

    def validate(self, value: Client | None) -> None:
        pass


class JobForm(RowForm):
    client = ClientChoice(
        Client.objects.all(), label=gettext_lazy("Client"), empty_label=gettext_lazy("New, named here")
    )
    new_client = forms.CharField(
        label=gettext_lazy("New client's name"),
        max_length=80,
        required=False,
        help_text=gettext_lazy("Where the client is not in the list. The address can follow later."),
    )
    precision_nm = forms.TypedChoiceField(
        label=gettext_lazy("Shown to the nearest"),
        coerce=int,
        choices=[
            (gettext_lazy("Feet and inches"), US_PRECISIONS),
            (gettext_lazy("Millimeters"), METRIC_PRECISIONS),
        ],
    )
    currency = CurrencyField()
    tax_ppm = PercentField(
        label=gettext_lazy("Sales tax"),
        required=False,
        below=1_000_000,
        help_text=gettext_lazy("For a new estimate of this job. Left empty, it is the shop's usual one."),
    )

    field_order = ["name", "client", "new_client", "site", "architect", "general_contractor", "drawings"]

    class Meta:
        model = Job
        fields = [
            "name",
            "client",
            "site",
            "architect",
            "general_contractor",
            "drawings",
            "unit_system",
            "precision_nm",
            "currency",
            "tax_ppm",
        ]

    def __init__(self, *args: object, person: Person, shop: Shop | None = None, **options: object) -> None:
        if shop:
            metric = shop.unit_system == "metric"
            options["initial"] = {
                "unit_system": shop.unit_system,
                "precision_nm": (METRIC_PRECISIONS if metric else US_PRECISIONS[1:])[0][0],
                "currency": shop.currency,
            }
        super().__init__(*args, **options)
        self.fields["name"].wide = True
        if not person.is_owner:
            self.fields.pop("tax_ppm", None)
        if not Client.objects.exists():
            self.fields["client"].widget = forms.HiddenInput()
            self.fields["new_client"].label = _("Client")
            self.fields["new_client"].help_text = _("Who the job is for. The address can follow later.")
            self.fields["new_client"].required = True

    def clean(self) -> dict[str, object]:
        cleaned = super().clean()
        if cleaned.get("client") and cleaned.get("new_client") and not self._keeps_client(cleaned["client"]):
            self.add_error(
                "new_client",
                ValidationError(
                    _("%(client)s is chosen above. Leave this empty, or choose “%(new)s” above."),
                    params={"client": cleaned["client"], "new": self.fields["client"].empty_label},
                ),
            )
        return cleaned

    def _keeps_client(self, client: Client) -> bool:
        """Whether the list was left as it stood, so that a name typed beside it is meant."""
        return bool(self.instance.pk) and client.pk == self.instance.client_id


class JobEditForm(JobForm):
    """The same facts; a drawing that is listed with its revision takes the place of the words typed here before."""

    def __init__(self, *args: object, **options: object) -> None:
        super().__init__(*args, **options)
        if drawing_list.latest(self.instance):
            del self.fields["drawings"]


class JobCopyForm(JobForm):
    """What is new in a copy: its name, its client, its days."""

    precision_nm = None
    currency = None
    tax_ppm = None
    starts_on = DayField(label=gettext_lazy("Work starts"), required=False)

    field_order = ["name", "client", "new_client", "starts_on"]

    class Meta:
        model = Job
        fields = ["name", "client"]

    def __init__(self, *args: object, source: Job, **options: object) -> None:
        self.source = source
        super().__init__(*args, initial={"client": source.client_id}, **options)
        first = copying.first_day(source)
        if first is None:
            del self.fields["starts_on"]
            return
        self.fields["starts_on"].help_text = _(
            "In %(job)s it is %(day)s. All days of the rooms move by as much; left empty, the copy has no days."
        ) % {"job": source, "day": clock.day_text(first)}

    def _keeps_client(self, client: Client) -> bool:
        return client.pk == self.source.client_id


class CloseForm(Form):
    closed_on = DayField(label=gettext_lazy("Closed on"), help_text=gettext_lazy("The day all was handed over."))

    def __init__(self, *args: object, **options: object) -> None:
        super().__init__(*args, **options)
        self.initial["closed_on"] = clock.today()
