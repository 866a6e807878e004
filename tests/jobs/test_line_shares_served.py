"""Which needs the shares of order lines serve. The rule is the house's own (DEVELOPERS.md, "Lead times")."""

from datetime import date

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext

from jobs import lead_times, line_shares
from jobs.models import Job, LineShare
from materials.models import Material, OrderLine
from tests.jobs.sharing import TODAY, needing
from tests.makers import hand, make_delivery, make_job, make_material, make_order
from workshop.models import Person


@pytest.fixture(autouse=True)
def today(settings) -> None:
    settings.FIXED_TODAY = TODAY


def test_the_job_a_line_is_for_is_served_although_another_needs_it_earlier(
    owner: Person, line: OrderLine, school: Job, hall: Job
) -> None:
    """Unshared, 20 for the hall first and 20 for the school; with 32 for the school, 10 are left for the hall."""
    before = lead_times.outlook(TODAY).to_order

    line_shares.share_out(line=line, by=hand(owner), shares={school.pk: 32_000_000}, was={})
    (missing,) = lead_times.outlook(TODAY).to_order

    assert before == []
    assert (missing.room.job.pk, missing.missing_micro) == (hall.pk, 10_000_000)


def test_the_room_a_line_is_shown_with_is_of_the_job_it_is_for(
    owner: Person, line: OrderLine, school: Job, hall: Job
) -> None:
    line_shares.share_out(line=line, by=hand(owner), shares={school.pk: 42_000_000}, was={})

    (row,) = lead_times.outlook(TODAY).orders

    assert row.room.job.pk == school.pk


def test_what_came_counts_to_the_shares_first(owner: Person, line: OrderLine, school: Job, hall: Job) -> None:
    """30 of 42 came: the school's 20 are met, so the 12 to come are for stock, and serve the hall."""
    line_shares.share_out(line=line, by=hand(owner), shares={school.pk: 20_000_000}, was={})
    delivery = make_delivery(supplier=line.order.supplier)
    delivery.lines.create(material=line.material, order_line=line, kept_micro=30_000_000, price_micro=0)

    (row,) = lead_times.outlook(TODAY).orders

    assert (row.room.job.pk, row.outstanding_micro) == (hall.pk, 12_000_000)


def test_the_share_of_a_closed_job_is_for_stock(owner: Person, line: OrderLine, hall: Job) -> None:
    closed = make_job(closed_on=TODAY)
    LineShare.objects.create(line=line, job=closed, quantity_micro=42_000_000)

    assert lead_times.outlook(TODAY).to_order == []


def test_a_share_in_boxes_serves_needs_in_pieces(owner: Person, db: None) -> None:
    """4 boxes of 500 are 2,000 screws; 2 of them are for the school, which needs 1,200: 1,000 and 200 of stock."""
    screws = make_material(
        kind="fastener", name="Panel screws", unit="piece", buy_unit="box", buy_contains_micro=500_000_000
    )
    order = make_order(material=screws, quantity_micro=4_000_000, placed_on=date(2026, 10, 28))
    order.lines.update(contains_micro=500_000_000)
    line = order.lines.select_related("order", "material").get()
    school, hall = needing(screws, 12, "Music school", 1200), needing(screws, 13, "Recital hall", 1000)

    line_shares.share_out(line=line, by=hand(owner), shares={hall.pk: 2_000_000}, was={})

    state = lead_times.outlook(TODAY)
    (missing,) = state.to_order
    assert (missing.room.job.pk, missing.missing_micro) == (school.pk, 200_000_000)


def test_ten_lines_that_are_shared_out_cost_the_queries_of_one(
    line: OrderLine, school: Job, plywood: Material, django_assert_num_queries
) -> None:
    LineShare.objects.create(line=line, job=school, quantity_micro=1_000_000)
    lead_times.outlook(TODAY)
    with CaptureQueriesContext(connection) as of_one:
        lead_times.outlook(TODAY)
    for _at in range(9):
        more = make_order(material=plywood, placed_on=date(2026, 10, 28)).lines.get()
        LineShare.objects.create(line=more, job=school, quantity_micro=1_000_000)

    with django_assert_num_queries(len(of_one)):
        lead_times.outlook(TODAY)
