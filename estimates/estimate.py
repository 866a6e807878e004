"""Estimates: opening one for a job, its lines and its terms."""

from django.core.exceptions import ValidationError
from django.db.models import Q
from django.urls import reverse
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from estimates import pricing
from estimates.models import Estimate, EstimateLine
from jobs import job as jobs
from jobs.models import Job
from workshop import actions
from workshop.actions import Hand, Record, recorded
from workshop.calculations.money import PPM
from workshop.models import Action, Shop

FIRST_TYPED_PLACE = 1000
"""Lines added by hand stand in their room after those that were filled."""


def current(job: Job) -> Estimate | None:
    """The estimate the job works with: the latest one."""
    return job.estimates.select_related("job__client").order_by("-number").first()


def fresh(job: Job) -> Estimate:
    """An estimate not saved yet, with the shop's usual terms and the job's own tax where it has one."""
    shop = Shop.get()
    tax_ppm = shop.tax_ppm if job.tax_ppm is None else job.tax_ppm
    terms = {"overhead_ppm": shop.overhead_ppm, "profit_ppm": shop.profit_ppm, "tax_ppm": tax_ppm}
    return Estimate(job=job, number=1, **terms)


def opened(record: Record, job: Job) -> Estimate:
    """The job's estimate, made where there is none yet; nobody else changes it until the transaction ends."""
    _lock(job)
    return current(job) or record.add(fresh(job))


def _lock(job: Job) -> None:
    now = Job.objects.select_for_update().get(pk=job.pk)
    if now.currency != job.currency:
        message = _("The job is in %(currency)s now. Look at it again, then type the amounts in that.")
        raise ValidationError(message, params={"currency": now.currency})


def add_line(*, job: Job, by: Hand, **fields: object) -> EstimateLine:
    """Add a typed line; quantity times rate is rounded once.

    Raises:
        ValidationError: the units do not go together, or the estimate would not make a price.
    """
    total = _total(job, fields)
    with recorded(by, "estimate_line.add", about=[job], what=fields["description"]) as record:
        record.answer = reverse("estimates:estimate", args=[job.pk])
        estimate = opened(record, job)
        line = EstimateLine(estimate=estimate, total_minor=total, place=_next_place(estimate), **fields)
        record.thing = record.add(line)
        pricing.check(estimate)
    return line


def change_line(*, line: EstimateLine, by: Hand, version: int, **fields: object) -> EstimateLine:
    """Change a line; one that came from needs or hours becomes a typed one and is kept when the estimate is filled.

    A rate that was typed rests on no price any more.
    """
    job, typed = line.estimate.job, EstimateLine.Source.TYPED
    total = _total(job, fields)
    if (fields["price_micro"], fields["price_unit"]) != (line.price_micro, line.price_unit):
        fields |= {"basis": "", "basis_supplier": None, "basis_on": None}
    with recorded(by, "estimate_line.change", line, about=[job], what=line.description) as record:
        record.answer = reverse("estimates:estimate", args=[job.pk])
        _lock(job)
        record.save(line, version=version, total_minor=total, source=typed, **fields)
        pricing.check(line.estimate)
    return line


def remove_line(*, line: EstimateLine, by: Hand) -> None:
    """Take a line out; one that was filled comes back when the estimate is filled anew."""
    job = line.estimate.job
    with recorded(by, "estimate_line.remove", line, about=[job], what=line.description) as record:
        record.answer = reverse("estimates:estimate", args=[job.pk])
        _lock(job)
        record.remove(line)
        pricing.check(line.estimate)


def change_terms(*, job: Job, by: Hand, version: int, **fields: object) -> Estimate:
    """Change the terms; `version` is 0 where there was no estimate when the form was opened.

    Raises:
        Stale: somebody saved them since.
        ValidationError: a margin of 100 % and more, or a discount of more than the price.
    """
    with recorded(by, "estimate.terms", about=[job], job=str(job)) as record:
        record.answer = reverse("estimates:estimate", args=[job.pk])
        _lock(job)
        estimate = current(job)
        if estimate is None:
            estimate, version = record.add(fresh(job)), None
        record.thing = estimate
        record.save(estimate, version=version, **fields)
        if estimate.profit_way == Estimate.ProfitWay.MARGIN and estimate.profit_ppm >= PPM:
            raise ValidationError({"profit_ppm": _("A margin is less than 100 %. Type 30, or choose markup.")})
        if estimate.discount_minor and estimate.discount_ppm:
            message = _("There is a discount in per cent and as an amount. Type 0 into one of them.")
            raise ValidationError({"discount_ppm": message})
        pricing.check(estimate)
    return estimate


def _total(job: Job, fields: dict[str, object]) -> int:
    """The line's total; its room is looked at on the way."""
    room = fields.get("room")
    if room is not None and room.job_id != job.pk:
        message = _("This room is in another job. Choose one of this job, or the whole job.")
        raise ValidationError({"room": message})
    names = ("quantity_micro", "unit", "price_micro", "price_unit")
    return pricing.line_total(**{name: fields[name] for name in names}, currency=job.currency)


def _next_place(estimate: Estimate) -> int:
    last = estimate.lines.order_by("-place").values_list("place", flat=True).first()
    return max((last or 0) + 1, FIRST_TYPED_PLACE)


def has_amounts(job: Job) -> bool:
    """Whether the job has amounts in its currency."""
    return (
        EstimateLine.objects.filter(estimate__job=job).exists()
        or job.estimates.filter(Q(discount_minor__gt=0) | Q(overhead_hour_micro__gt=0)).exists()
    )


def check_undo(action: Action) -> None:
    """What is put back must make a price with what was done since."""
    named = action.about.filter(thing__startswith="jobs.job:").values_list("thing", flat=True)
    for job in filter(None, map(actions.row_of, named)):
        if estimate := current(job):
            pricing.check(estimate)


jobs.HAS_AMOUNT.append(has_amounts)

actions.say("estimate_line.add", gettext_lazy("Estimate: %(what)s added"), check_undo=check_undo)
actions.say("estimate_line.change", gettext_lazy("Estimate: %(what)s changed"), check_undo=check_undo)
actions.say("estimate_line.remove", gettext_lazy("Estimate: %(what)s taken out"), check_undo=check_undo)
actions.say("estimate.terms", gettext_lazy("Terms of the estimate changed"), check_undo=check_undo)
