"""Jobs: what the shop fits out, for whom, and how lengths and money are written in them."""

from collections.abc import Callable

from django.core.exceptions import ValidationError
from django.urls import reverse
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from jobs import stages
from jobs.models import Client, Job
from jobs.models.job import METRIC_PRECISIONS, US_PRECISIONS
from materials.numbers import next_number
from workshop import actions
from workshop.actions import Hand, Record, recorded
from workshop.models import Action

PRECISIONS = {"us": US_PRECISIONS, "metric": METRIC_PRECISIONS}

# Who stands above and keeps amounts of a job puts a function here that says whether it has any.
HAS_AMOUNT: list[Callable[[Job], bool]] = []


def add(*, by: Hand, client: Client | None = None, new_client: str = "", **fields: object) -> Job:
    """Open a job with the stages of the trade, for a client of the shop or a new one named here.

    Raises:
        ValidationError: without a client, or with a precision of the other unit system.
    """
    _check_precision(fields["unit_system"], fields["precision_nm"])
    with recorded(by, "job.add", name=fields["name"]) as record:
        job = Job(number=next_number(Job), client=client or client_named(record, new_client), **fields)
        record.thing = record.add(job)
        record.words["number"] = job.number
        record.add_many(stages.of_the_trade(job))
        record.about(job.client)
        record.answer = reverse("jobs:room_new", args=[job.pk])
    return job


def change(*, job: Job, by: Hand, version: int, new_client: str = "", **fields: object) -> Job:
    """Change a job's facts.

    Raises:
        Stale: somebody saved it since it was read.
        ValidationError: a precision of the other unit system, or another currency for a job with amounts.
    """
    _check_precision(fields["unit_system"], fields["precision_nm"])
    with recorded(by, "job.change", job, number=job.number, name=fields["name"]) as record:
        record.answer = reverse("jobs:job", args=[job.pk])
        job = Job.objects.select_for_update().get(pk=job.pk)
        if job.version == version:
            _check_currency(job, fields["currency"])
        if new_client or not fields["client"]:
            fields["client"] = client_named(record, new_client)
        record.save(job, version=version, **fields)
    return job


def has_amount(job: Job) -> bool:
    return any(asked(job) for asked in HAS_AMOUNT)


def client_named(record: Record, name: str) -> Client:
    """The client of this name, made if there is none."""
    if not name:
        raise ValidationError({"client": _("A job has a client. Choose one, or type a new one's name.")})
    known = Client.objects.filter(name__iexact=name).first()
    return known or record.add(Client(name=name))


def _check_precision(unit_system: str, precision_nm: int) -> None:
    choices = PRECISIONS[unit_system]
    if precision_nm in dict(choices):
        return
    every = dict(US_PRECISIONS + METRIC_PRECISIONS)
    system = _("feet and inches") if unit_system == "us" else _("millimeters")
    raise ValidationError(
        {
            "precision_nm": _("%(typed)s does not go with %(system)s. Choose %(one)s or %(other)s.")
            % {
                "typed": every.get(precision_nm, precision_nm),
                "system": system,
                "one": choices[0][1],
                "other": choices[1][1],
            }
        }
    )


def _check_currency(job: Job, currency: str) -> None:
    if currency == job.currency or not has_amount(job):
        return
    raise ValidationError(
        {
            "currency": _("The job has amounts in %(now)s. Keep %(now)s, or open another job for %(typed)s.")
            % {"now": job.currency, "typed": currency}
        }
    )


def _check_undo(action: Action) -> None:
    """No way back to another currency once the job has amounts in this one."""
    job = actions.row_of(action.thing)
    changed = any("currency" in after["fields"] for after in action.after if after["row"] == action.thing)
    if changed and job and has_amount(job):
        message = _("Not taken back: job %(job)s has amounts in its new currency already.")
        raise ValidationError(message, params={"job": job})


actions.say("job.add", gettext_lazy("Job %(number)s %(name)s added"))
actions.say("job.change", gettext_lazy("Job %(number)s %(name)s changed"), check_undo=_check_undo)
