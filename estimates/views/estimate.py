from django.core.exceptions import ValidationError
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from estimates import estimate as estimates
from estimates import filling, listing, pricing, summary
from estimates.forms.estimate import LineForm, TermsForm
from estimates.models import EstimateLine
from jobs.models import Job
from jobs.views.blocks import drawings_cell
from workshop.actions import Stale
from workshop.doors import owner_only
from workshop.forms import ActionForm
from workshop.models import Shop
from workshop.pages import Block, Cell, Link, done, refused


def _block(request: HttpRequest, job: Job, page: str) -> Block:
    return Block(
        request,
        page=page,
        nav="estimates",
        cells=[Cell(_("Job"), str(job), reverse("jobs:job", args=[job.pk]))],
        third=drawings_cell(job),
        around=[
            Link(_("Progress"), reverse("jobs:job", args=[job.pk])),
            Link(_("Estimates"), reverse("estimates:estimates")),
        ],
        about=[job],
    )


@require_safe
@owner_only
def estimate_list(request: HttpRequest) -> HttpResponse:
    page = listing.page(request.GET.get("page"))
    context = {
        "block": Block(request, page=_("Estimates"), nav="estimates"),
        "page": page,
        "rows": listing.rows(page),
    }
    return render(request, "estimates/estimate_list.html", context)


def _estimate_page(request: HttpRequest, job: Job) -> dict[str, object]:
    found = estimates.current(job)
    return {
        "block": _block(request, job, _("Estimate")),
        "job": job,
        "estimate": found,
        "priced": pricing.priced(found) if found else None,
        "shop": Shop.get(),
        "form": None,
    }


@require_safe
@owner_only
def estimate(request: HttpRequest, pk: int) -> HttpResponse:
    """Lines by room, then the terms that make a price of them."""
    job = get_object_or_404(Job.objects.select_related("client"), pk=pk)
    return render(request, "estimates/estimate.html", _estimate_page(request, job))


@require_POST
@owner_only
def fill(request: HttpRequest, pk: int) -> HttpResponse:
    job = get_object_or_404(Job.objects.select_related("client"), pk=pk)
    form = ActionForm(request.POST)
    if form.is_valid():
        try:
            filling.fill(job=job, by=form.hand(request))
            return done(reverse("estimates:estimate", args=[job.pk]))
        except ValidationError as error:
            form.refuse(error)
    return refused(request, form, "estimates/estimate.html", _estimate_page(request, job) | {"form": form})


@require_http_methods(["GET", "HEAD", "POST"])
@owner_only
def terms(request: HttpRequest, pk: int) -> HttpResponse:
    job = get_object_or_404(Job, pk=pk)
    row = estimates.current(job) or estimates.fresh(job)
    form = TermsForm(request.POST or None, instance=row, job=job)
    context = {"form": form, "job": job, "block": _block(request, job, _("Terms"))}
    if request.method != "POST":
        return render(request, "estimates/terms_form.html", context)
    if form.is_valid():
        try:
            estimates.change_terms(job=job, by=form.hand(request), version=form.version, **form.values())
            return done(reverse("estimates:estimate", args=[job.pk]))
        except Stale as stale:
            form.stale(stale.row)
        except ValidationError as error:
            form.refuse(error)
    return refused(request, form, "estimates/terms_form.html", context)


@require_http_methods(["GET", "HEAD", "POST"])
@owner_only
def line_new(request: HttpRequest, pk: int) -> HttpResponse:
    job = get_object_or_404(Job, pk=pk)
    form = LineForm(request.POST or None, job=job, initial=LineForm.asked(request.GET))
    context = {"form": form, "job": job, "line": None, "block": _block(request, job, _("New line"))}
    if request.method != "POST":
        return render(request, "estimates/line_form.html", context)
    if form.is_valid():
        try:
            estimates.add_line(job=job, by=form.hand(request), **form.values())
            return done(reverse("estimates:estimate", args=[job.pk]))
        except ValidationError as error:
            form.refuse(error)
    return refused(request, form, "estimates/line_form.html", context)


@require_http_methods(["GET", "HEAD", "POST"])
@owner_only
def line_edit(request: HttpRequest, pk: int) -> HttpResponse:
    line = get_object_or_404(EstimateLine.objects.select_related("estimate__job"), pk=pk)
    job = line.estimate.job
    form = LineForm(request.POST or None, instance=line, job=job)
    context = {"form": form, "job": job, "line": line, "block": _block(request, job, _("Line"))}
    if request.method != "POST":
        return render(request, "estimates/line_form.html", context)
    if form.is_valid():
        try:
            estimates.change_line(line=line, by=form.hand(request), version=form.version, **form.values())
            return done(reverse("estimates:estimate", args=[job.pk]))
        except Stale as stale:
            form.stale(stale.row)
        except ValidationError as error:
            form.refuse(error)
    return refused(request, form, "estimates/line_form.html", context)


@require_POST
@owner_only
def line_remove(request: HttpRequest, pk: int) -> HttpResponse:
    line = get_object_or_404(EstimateLine.objects.select_related("estimate__job__client"), pk=pk)
    job = line.estimate.job
    form = ActionForm(request.POST)
    if form.is_valid():
        try:
            estimates.remove_line(line=line, by=form.hand(request))
            return done(reverse("estimates:estimate", args=[job.pk]))
        except ValidationError as error:
            form.refuse(error)
    return refused(request, form, "estimates/estimate.html", _estimate_page(request, job) | {"form": form})


@require_safe
@owner_only
def summary_pdf(request: HttpRequest, pk: int) -> HttpResponse:
    """The client's cost summary, with the figures of the page; the page itself while those make no price."""
    estimate = estimates.current(get_object_or_404(Job, pk=pk))
    if estimate is None:
        raise Http404
    priced = pricing.priced(estimate)
    if priced.problem or not priced.parts:
        return redirect("estimates:estimate", pk)
    response = HttpResponse(summary.pdf(priced), content_type="application/pdf")
    response["Content-Disposition"] = f'inline; filename="cost-summary-{estimate}.pdf"'
    return response
