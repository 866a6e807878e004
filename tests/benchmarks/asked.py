"""The pages that are measured: each list as it opens, and the long ones on their last page, searched and sorted too."""

from dataclasses import dataclass

from django.urls import reverse

from materials.models import Lot, Material
from tests.benchmarks import volume


@dataclass(frozen=True)
class Asked:
    """A page: the plain view it is set against, its address, what that is of, and what is asked of it.

    `reads` names the tables it may read whole: those searched for a part of a word, which no index holds, and all
    orders, from which it is told how suppliers keep their word.
    """

    plain: str
    address: str
    of: str = ""
    query: str = ""
    reads: frozenset[str] = frozenset()

    @property
    def name(self) -> str:
        return self.address.partition(":")[2] + self.query


LAST = "?page=9999"
READ_BY_ALL = {"materials_orderline"}
"""What is still to come follows from what was counted and is stored nowhere: every line that is not closed is read."""

PAGES = [
    Asked("today", "front:today"),
    Asked("people", "front:people"),
    Asked("trace", "front:trace", "job"),
    Asked("trace", "front:trace", "job", LAST),
    Asked("jobs", "jobs:jobs"),
    Asked("jobs", "jobs:jobs", query=LAST),
    Asked("jobs-found", "jobs:jobs", query="?q=school+1"),
    Asked("progress", "jobs:job", "job"),
    Asked("room-hours", "jobs:hours", "room"),
    Asked("job-hours", "jobs:job_hours", "job"),
    Asked("job-hours", "jobs:job_hours", "job", LAST),
    Asked("job-hours-found", "jobs:job_hours", "job", "?q=Person"),
    Asked("drawings", "jobs:drawings", "job"),
    Asked("giving", "jobs:giving", "job"),
    Asked("pull-list", "jobs:pull_list", "job"),
    Asked("clients", "jobs:clients"),
    Asked("buying", "jobs:lead_times", reads=frozenset({"materials_order"})),
    Asked("suppliers", "materials:suppliers"),
    Asked("materials", "materials:materials"),
    Asked("orders", "materials:orders"),
    Asked("all-orders", "materials:orders", query="?all=1"),
    Asked("all-orders", "materials:orders", query="?all=1&page=9999"),
    Asked(
        "orders-found",
        "materials:orders",
        query="?all=1&q=Supplier+1",
        reads=frozenset({"materials_order", "materials_orderline"}),
    ),
    Asked("deliveries", "materials:deliveries"),
    Asked("deliveries", "materials:deliveries", query=LAST),
    Asked("deliveries-found", "materials:deliveries", query="?q=S-1", reads=frozenset({"materials_delivery"})),
    Asked("lots", "materials:lots"),
    Asked("lots", "materials:lots", query=LAST),
    Asked("lot", "materials:lot", "lot"),
    Asked("sheets", "materials:sheets"),
    Asked("sheets", "materials:sheets", query=LAST),
    Asked("sheets-found", "materials:sheets", query="?q=8-31"),
    Asked("sheets-unsorted", "materials:sheets", query="?state=unsorted&order=oldest"),
    Asked("sheets-of-tone", "materials:sheets", query="?tone=Honey&order=oldest"),
    Asked("sheets-free", "materials:sheets", query="?state=free&tone=Honey&order=oldest"),
    Asked("samples", "materials:samples"),
    Asked("returns", "materials:returns"),
    Asked("estimates", "estimates:estimates"),
    Asked("estimates", "estimates:estimates", query=LAST),
    Asked("estimate", "estimates:estimate", "job"),
]


def addresses(page: Asked) -> tuple[str, str]:
    """The address of a page and of its plain view in the database in use."""
    job = volume.open_job()
    keys = {
        "job": job.pk,
        "room": job.rooms.order_by("place")[0].pk,
        "lot": Lot.objects.filter(material__kind=Material.Kind.SHEET).order_by("pk")[0].pk,
    }
    of = [keys[page.of]] if page.of else []
    arguments = [f"jobs.job:{job.pk}"] if page.plain == "trace" else of
    plain = f"/plain/{page.plain}/" + (f"{of[0]}/" if of else "")
    return reverse(page.address, args=arguments) + page.query, plain + page.query
