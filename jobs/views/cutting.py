"""The cutting plan of a job's panels, for the blade and the edge clean-up that are typed."""

from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, render
from django.urls import reverse
from django.utils.translation import gettext as _
from django.views.decorators.http import require_safe

from jobs import cutting
from jobs.forms.cutting import USUAL, SawForm
from jobs.models import Job
from jobs.views import blocks
from workshop.pages import Link


@require_safe
def cutting_plan(request: HttpRequest, pk: int) -> HttpResponse:
    """Sheets, how each is cut, and the fence settings; by the fast method, for all rooms together."""
    job = get_object_or_404(Job, pk=pk)
    asked = {name: request.GET.get(name, usual)[:40] for name, usual in USUAL[job.unit_system].items()}
    form = SawForm(asked, job=job)
    plans = []
    if form.is_valid():
        saw = {f"{name}_nm": value for name, value in form.cleaned_data.items()}
        plans = cutting.plans(job, **saw)
    block = blocks.of_job(request, job, _("Cutting plan"), [Link(_("Progress"), reverse("jobs:job", args=[job.pk]))])
    context = {"block": block, "job": job, "form": form, "plans": plans}
    return render(request, "jobs/cutting_plan.html", context, status=200 if form.is_valid() else 422)
