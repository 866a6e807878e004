"""The hours of a whole job, and hours logged on several rooms at once."""

from django.core.exceptions import ValidationError
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, render
from django.urls import reverse
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from jobs import hours, hours_batch, hours_list, standing
from jobs.forms.hours import HoursBatchForm
from jobs.hours_batch import Batch, ChangedMeanwhile
from jobs.models import Job
from jobs.views import blocks
from workshop.forms import ActionForm
from workshop.pages import Link, done, refused


@require_safe
def job_hours(request: HttpRequest, pk: int) -> HttpResponse:
    """All hours of a job by day, with the sums by room, stage and person."""
    job = get_object_or_404(Job, pk=pk)
    words = request.GET.get("q", "")[:100].replace("\0", "")
    listed, sums = hours_list.hours_page(job, words, request.GET.get("page")), hours_list.sums(job, words)
    context = {
        "block": blocks.of_job(request, job, _("Hours"), [Link(_("Progress"), reverse("jobs:job", args=[job.pk]))]),
        "job": job,
        "words": words,
        "listed": listed,
        "page": listed.page,
        "sum_words": standing.hours_words(sums.spent, sums.planned),
        "sums": [(_("By room"), sums.by_room), (_("By stage"), sums.by_stage), (_("By person"), sums.by_person)],
    }
    return render(request, "jobs/job_hours.html", context)


@require_http_methods(["GET", "HEAD", "POST"])
def hours_batch_new(request: HttpRequest, pk: int) -> HttpResponse:
    """Hours over several rooms, logged once."""
    job = get_object_or_404(Job, pk=pk)
    form = HoursBatchForm(request.POST or None, job=job, person=request.user)
    link = Link(_("Hours"), reverse("jobs:job_hours", args=[job.pk]))
    block = blocks.of_job(request, job, _("Hours on several rooms"), [link])
    context = {"block": block, "job": job, "form": form, "batch": None, "remove": None}
    if request.method != "POST":
        return render(request, "jobs/hours_batch.html", context)
    if form.is_valid():
        try:
            fields = {"person": request.user} | form.values("seen")
            hours_batch.add(job=job, by=form.hand(request), **fields)
            return done(reverse("jobs:job_hours", args=[job.pk]))
        except ValidationError as error:
            form.refuse(error)
    return refused(request, form, "jobs/hours_batch.html", context)


@require_http_methods(["GET", "HEAD", "POST"])
def hours_batch_edit(request: HttpRequest, pk: int) -> HttpResponse:
    """One batch: the shares of its rooms, corrected together."""
    batch = _own_batch(request, pk)
    form = HoursBatchForm(request.POST or None, job=batch.job, person=request.user, batch=batch)
    context = _context(request, batch, form, ActionForm(auto_id="remove_%s"))
    if request.method != "POST":
        return render(request, "jobs/hours_batch.html", context)
    if form.is_valid():
        try:
            hours_batch.change(batch=batch, by=form.hand(request), **form.values())
            return done(reverse("jobs:job_hours", args=[batch.job.pk]))
        except ChangedMeanwhile as changed:
            form.see(changed.batch)
            form.refuse(changed)
        except ValidationError as error:
            form.refuse(error)
    return refused(request, form, "jobs/hours_batch.html", context)


@require_POST
def hours_batch_remove(request: HttpRequest, pk: int) -> HttpResponse:
    batch = _own_batch(request, pk)
    form = ActionForm(request.POST, auto_id="remove_%s")
    if form.is_valid():
        try:
            hours_batch.remove(batch=batch, by=form.hand(request))
            return done(reverse("jobs:job_hours", args=[batch.job.pk]))
        except ValidationError as error:
            form.refuse(error)
    unchanged = HoursBatchForm(job=batch.job, person=request.user, batch=batch)
    return refused(request, form, "jobs/hours_batch.html", _context(request, batch, unchanged, form))


def _own_batch(request: HttpRequest, pk: int) -> Batch:
    """The batch, if this person may change it; for others it is not there."""
    batch = hours_batch.batch(pk)
    if batch is None or not hours.may_change(batch.first, request.user):
        raise Http404
    return batch


def _context(request: HttpRequest, batch: Batch, form: HoursBatchForm, remove: ActionForm) -> dict[str, object]:
    link = Link(_("Hours"), reverse("jobs:job_hours", args=[batch.job.pk]))
    block = blocks.of_job(request, batch.job, _("Hours on several rooms"), [link])
    return {"block": block, "job": batch.job, "form": form, "batch": batch, "remove": remove}
