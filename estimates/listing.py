"""All jobs with their estimates, a page at a time."""

from collections import defaultdict
from collections.abc import Sequence
from dataclasses import dataclass

from django.core.paginator import Page, Paginator
from django.db.models import Prefetch, Sum

from estimates.calculations.pricing import CostLine, PricingError, price_job
from estimates.models import Estimate, EstimateLine
from estimates.pricing import price_of, terms_of
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
    latest = Estimate.objects.order_by("-number")
    jobs = Job.objects.select_related("client").prefetch_related(Prefetch("estimates", latest, "latest"))
    return Paginator(jobs.order_by("-number"), A_PAGE).get_page(number)


def rows(jobs: Page) -> list[JobRow]:
    """Each job of the page with what its latest estimate comes to; a constant number of queries."""
    latest = [(job, job.latest[0] if job.latest else None) for job in jobs]
    totals = _totals([estimate for _job, estimate in latest if estimate])
    return [JobRow(job, estimate, totals[estimate.pk] if estimate else None) for job, estimate in latest]


def _totals(estimates: Sequence[Estimate]) -> dict[int, int | None]:
    """What each comes to, by its key. How the lines lie over the rooms makes no difference to that, so the sums by
    class are enough; only overhead for each hour asks for the lines themselves.
    """
    by_hour = [e for e in estimates if e.overhead_way == Estimate.OverheadWay.HOUR]
    lines: dict[int, list[EstimateLine]] = defaultdict(list)
    for line in EstimateLine.objects.filter(estimate__in=by_hour):
        lines[line.estimate_id].append(line)
    costs: dict[int, list[CostLine]] = defaultdict(list)
    others = EstimateLine.objects.filter(estimate__in=[e for e in estimates if e not in by_hour]).order_by()
    for estimate, klass, total in others.values_list("estimate", "klass").annotate(total=Sum("total_minor")):
        costs[estimate].append(CostLine(None, klass, int(total)))
    return {e.pk: _total(e, lines[e.pk] if e in by_hour else None, costs[e.pk]) for e in estimates}


def _total(estimate: Estimate, lines: Sequence[EstimateLine] | None, costs: Sequence[CostLine]) -> int | None:
    try:
        price = price_job(costs, terms_of(estimate)) if lines is None else price_of(estimate, lines)
    except (PricingError, MoneyError):
        return None
    return price.total_minor
