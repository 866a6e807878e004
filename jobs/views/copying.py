from django.core.exceptions import ValidationError
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, render
from django.urls import reverse
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods

from jobs import copying
from jobs.forms.job import JobCopyForm
from jobs.models import Job
from jobs.views import blocks
from workshop.pages import Link, done, refused


@require_http_methods(["GET", "HEAD", "POST"])
def job_copy(request: HttpRequest, pk: int) -> HttpResponse:
    """A job as the start of another: name, client and first day are new."""
    job = get_object_or_404(Job, pk=pk)
    form = JobCopyForm(request.POST or None, source=job, person=request.user)
    link = Link(_("Progress"), reverse("jobs:job", args=[job.pk]))
    block = blocks.of_job(request, job, _("Copy the job"), [link])
    context = {"block": block, "job": job, "form": form, "rooms": job.rooms.count()}
    if request.method != "POST":
        return render(request, "jobs/job_copy.html", context)
    if form.is_valid():
        try:
            made = copying.copy(job=job, by=form.hand(request), **form.values())
            return done(reverse("jobs:job", args=[made.pk]))
        except ValidationError as error:
            form.refuse(error)
    return refused(request, form, "jobs/job_copy.html", context)
