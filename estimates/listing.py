"""All jobs with their estimates, a page at a time."""

from dataclasses import dataclass

from django.core.paginator import Page, Paginator
from django.db.models import Prefetch

from estimates.models import Estimate
from estimates.pricing import priced_lines
from jobs.models import Job

A_PAGE = 50


@dataclass(frozen=True)
class JobRow:
    job: Job
    estimate: Estimate | None
    total_minor: int


def page(number: str | None) -> Page:
    latest = Estimate.objects.order_by("-number").prefetch_related("lines").select_related("job")
    jobs = Job.objects.select_related("client").prefetch_related(Prefetch("estimates", latest, "latest"))
    return Paginator(jobs, A_PAGE).get_page(number)


def rows(jobs: Page) -> list[JobRow]:
    """Each job of the page with what its latest estimate comes to; a constant number of queries."""
    return [_row(job, job.latest[0] if job.latest else None) for job in jobs]


def _row(job: Job, estimate: Estimate | None) -> JobRow:
    return JobRow(job, estimate, priced_lines(estimate, estimate.lines.all()).total_minor if estimate else 0)
