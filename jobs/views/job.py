from django.core.exceptions import ValidationError
from django.core.paginator import Paginator
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, render
from django.urls import reverse
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods, require_safe

from jobs import job as jobs
from jobs import standing
from jobs.forms.job import JobEditForm, JobForm
from jobs.models import Job
from jobs.views import blocks
from workshop.actions import Stale
from workshop.models import Shop
from workshop.pages import Block, Cell, Link, done, page_or_fragment, refused

A_PAGE = 50


@require_safe
def job_list(request: HttpRequest) -> HttpResponse:
    words = request.GET.get("q", "")[:100].replace("\0", "")
    page = Paginator(standing.jobs_found(words), A_PAGE).get_page(request.GET.get("page"))
    count = Job.objects.filter(closed_on=None).count()
    context = {
        "block": Block(
            request,
            page=_("Jobs"),
            nav="jobs",
            cells=[Cell(_("Jobs"), _("%(count)s open") % {"count": count})],
            third=Cell(_("Signed in"), request.user.initials),
            around=[Link(_("Clients"), reverse("jobs:clients"))],
        ),
        "page": page,
        "rows": standing.job_rows(page.object_list),
        "words": words,
    }
    return render(request, "jobs/job_list.html", context)


@require_http_methods(["GET", "HEAD", "POST"])
def job_new(request: HttpRequest) -> HttpResponse:
    form = JobForm(request.POST or None, shop=Shop.get(), person=request.user)
    context = {"form": form, "block": Block(request, page=_("New job"), nav="jobs")}
    if request.method != "POST":
        return render(request, "jobs/job_form.html", context)
    if form.is_valid():
        try:
            job = jobs.add(by=form.hand(request), **form.values())
            return done(reverse("jobs:room_new", args=[job.pk]))
        except ValidationError as error:
            form.refuse(error)
    return refused(request, form, "jobs/job_form.html", context)


@require_safe
def job_page(request: HttpRequest, pk: int) -> HttpResponse:
    """Progress by room: the page of a job."""
    job = get_object_or_404(Job.objects.select_related("client"), pk=pk)
    context = {
        "block": blocks.of_job(
            request,
            job,
            _("Progress"),
            [
                Link(_("Give sheets"), reverse("jobs:giving", args=[job.pk])),
                Link(_("Stages"), reverse("jobs:stages", args=[job.pk])),
            ],
        ),
        "job": job,
        "standing": standing.of_job(job),
        "is_swap": bool(request.htmx),
    }
    return page_or_fragment(request, "jobs/job.html", "jobs/_progress.html", context)


@require_http_methods(["GET", "HEAD", "POST"])
def job_edit(request: HttpRequest, pk: int) -> HttpResponse:
    job = get_object_or_404(Job, pk=pk)
    form = JobEditForm(request.POST or None, instance=job, person=request.user)
    context = {"form": form, "block": blocks.of_job(request, job, _("Edit job")), "job": job}
    if request.method != "POST":
        return render(request, "jobs/job_form.html", context)
    if form.is_valid():
        try:
            jobs.change(job=job, by=form.hand(request), version=form.version, **form.values())
            return done(reverse("jobs:job", args=[job.pk]))
        except Stale as stale:
            form.stale(stale.row)
        except ValidationError as error:
            form.refuse(error)
    return refused(request, form, "jobs/job_form.html", context)
