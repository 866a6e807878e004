"""Estimates: opening one for a job, its lines and its terms."""

from django.core.exceptions import ValidationError
from django.urls import reverse
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from estimates import pricing
from estimates.models import Estimate, EstimateLine
from jobs import job as jobs
from jobs.models import Job
from workshop import actions
from workshop.actions import Hand, Record, recorded
from workshop.models import Shop


def current(job: Job) -> Estimate | None:
    """The estimate the job works with: the latest one."""
    return job.estimates.select_related("job__client").order_by("-number").first()


def opened(record: Record, job: Job) -> Estimate:
    """The job's estimate, made from the shop's usual terms where there is none yet."""
    Job.objects.select_for_update().get(pk=job.pk)
    if estimate := current(job):
        return estimate
    shop = Shop.get()
    terms = {"overhead_ppm": shop.overhead_ppm, "profit_ppm": shop.profit_ppm, "tax_ppm": shop.tax_ppm}
    return record.add(Estimate(job=job, number=1, **terms))


def add_line(*, job: Job, by: Hand, **fields: object) -> EstimateLine:
    """Add a typed line; quantity times rate is rounded once.

    Raises:
        ValidationError: the units do not go together, or the estimate would not make a price.
    """
    with recorded(by, "estimate_line.add", about=[job], what=fields["description"]) as record:
        record.answer = reverse("estimates:estimate", args=[job.pk])
        estimate = opened(record, job)
        _check_room(job, fields)
        line = EstimateLine(
            estimate=estimate, total_minor=_total(job, fields), place=_next_place(estimate), **fields
        )
        record.thing = record.add(line)
        pricing.check(estimate)
    return line


def change_line(*, line: EstimateLine, by: Hand, version: int, **fields: object) -> EstimateLine:
    """Change a line; one that came from needs or hours becomes a typed one and is kept when the estimate is filled."""
    job = line.estimate.job
    with recorded(by, "estimate_line.change", line, about=[job], what=line.description) as record:
        record.answer = reverse("estimates:estimate", args=[job.pk])
        _check_room(job, fields)
        total, typed = _total(job, fields), EstimateLine.Source.TYPED
        record.save(line, version=version, total_minor=total, source=typed, **fields)
        pricing.check(line.estimate)
    return line


def remove_line(*, line: EstimateLine, by: Hand) -> None:
    job = line.estimate.job
    with recorded(by, "estimate_line.remove", line, about=[job], what=line.description) as record:
        record.answer = reverse("estimates:estimate", args=[job.pk])
        record.remove(line)
        pricing.check(line.estimate)


def change_terms(*, job: Job, by: Hand, version: int | None, **fields: object) -> Estimate:
    with recorded(by, "estimate.terms", about=[job], job=str(job)) as record:
        record.answer = reverse("estimates:estimate", args=[job.pk])
        estimate = opened(record, job)
        record.thing = estimate
        record.save(estimate, version=version or None, **fields)
        if estimate.profit_way == Estimate.ProfitWay.MARGIN and estimate.profit_ppm >= 1_000_000:
            raise ValidationError(
                {"profit_ppm": _("A margin is less than 100 %. Type 30, or choose markup.")}
            )
        pricing.check(estimate)
    return estimate


def _total(job: Job, fields: dict[str, object]) -> int:
    names = ("quantity_micro", "unit", "price_micro", "price_unit")
    return pricing.line_total(**{name: fields[name] for name in names}, currency=job.currency)


def _check_room(job: Job, fields: dict[str, object]) -> None:
    room = fields.get("room")
    if room is not None and room.job_id != job.pk:
        raise ValidationError(
            {"room": _("This room is in another job. Choose one of this job, or the whole job.")}
        )


def _next_place(estimate: Estimate) -> int:
    last = estimate.lines.order_by("-place").values_list("place", flat=True).first()
    return (last or 0) + 1


def has_lines(job: Job) -> bool:
    return EstimateLine.objects.filter(estimate__job=job).exists()


jobs.HAS_AMOUNT.append(has_lines)

actions.say("estimate_line.add", gettext_lazy("Estimate: %(what)s added"))
actions.say("estimate_line.change", gettext_lazy("Estimate: %(what)s changed"))
actions.say("estimate_line.remove", gettext_lazy("Estimate: %(what)s taken out"))
actions.say("estimate.terms", gettext_lazy("Terms of the estimate changed"))
