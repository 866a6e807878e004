from django.core.exceptions import ValidationError
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, render
from django.urls import reverse
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods, require_POST

from jobs import closing
from jobs.forms.job import CloseForm
from jobs.models import Job
from jobs.views import blocks
from workshop.forms import ActionForm
from workshop.pages import Link, done, refused


@require_http_methods(["GET", "HEAD", "POST"])
def job_close(request: HttpRequest, pk: int) -> HttpResponse:
    """What is left to do in a job, and the day it is closed."""
    job = get_object_or_404(Job, pk=pk)
    form = CloseForm(request.POST or None)
    context = _context(request, job, form)
    if request.method != "POST":
        return render(request, "jobs/job_close.html", context)
    if form.is_valid():
        try:
            closing.close(job=job, by=form.hand(request), **form.values())
            return done(reverse("jobs:job", args=[job.pk]))
        except ValidationError as error:
            form.refuse(error)
    return refused(request, form, "jobs/job_close.html", context)


@require_POST
def job_reopen(request: HttpRequest, pk: int) -> HttpResponse:
    job = get_object_or_404(Job, pk=pk)
    form = ActionForm(request.POST, auto_id="reopen_%s")
    if form.is_valid():
        try:
            closing.reopen(job=job, by=form.hand(request))
            return done(reverse("jobs:job", args=[job.pk]))
        except ValidationError as error:
            form.refuse(error)
    return refused(request, form, "jobs/job_close.html", _context(request, job, CloseForm(), form))


def _context(request: HttpRequest, job: Job, form: CloseForm, reopen: ActionForm | None = None) -> dict[str, object]:
    link = Link(_("Progress"), reverse("jobs:job", args=[job.pk]))
    return {
        "block": blocks.of_job(request, job, _("Close the job"), [link]),
        "job": job,
        "form": form,
        "reopen": reopen,
        "left": closing.what_is_left(job),
    }
