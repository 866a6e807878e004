"""All jobs with their estimates, a page at a time."""

from dataclasses import dataclass

from django.core.paginator import Page, Paginator
from django.db.models import Prefetch

from estimates.calculations.pricing import PricingError
from estimates.models import Estimate
from estimates.pricing import price_of
from jobs.models import Job
from workshop.calculations.money import MoneyError

A_PAGE = 50


@dataclass(frozen=True)
class JobRow:
    """A job with its latest estimate and what that comes to; None where its terms make no price."""

    job: Job
    estimate: Estimate | None
    total_minor: int | None


def page(number: str | None) -> Page:
    latest = Estimate.objects.order_by("-number").prefetch_related("lines")
    jobs = Job.objects.select_related("client").prefetch_related(Prefetch("estimates", latest, "latest"))
    return Paginator(jobs.order_by("-number"), A_PAGE).get_page(number)


def rows(jobs: Page) -> list[JobRow]:
    """Each job of the page with what its latest estimate comes to; a constant number of queries."""
    return [_row(job, job.latest[0] if job.latest else None) for job in jobs]


def _row(job: Job, estimate: Estimate | None) -> JobRow:
    if estimate is None:
        return JobRow(job, None, None)
    try:
        return JobRow(job, estimate, price_of(estimate, estimate.lines.all()).total_minor)
    except (PricingError, MoneyError):
        return JobRow(job, estimate, None)
