"""Where a sorted lot goes next: to the one job or room that needs it, or to a choice of those that do."""

from datetime import date

import pytest
from django.test import Client as Browser
from django.urls import reverse

from jobs import lot_rooms
from jobs.models import Job, LineShare
from materials.models import DeliveryLine, Lot, Material, OrderLine, ToneGroup
from tests.jobs.handling import give
from tests.jobs.sharing import needing
from tests.makers import make_delivery, make_lot, make_material, make_need, make_room, make_sheets, make_stack, post
from tests.queries import queries_of
from workshop.models import Person


@pytest.fixture
def lot(plywood: Material) -> Lot:
    return make_lot(material=plywood)


def url(lot: Lot) -> str:
    return reverse("jobs:lot_give", args=[lot.pk])


def giving(job: Job) -> str:
    return reverse("jobs:giving", args=[job.pk])


def jobs_shown(browser: Browser, lot: Lot) -> list[str]:
    return [str(job) for job, _short in browser.get(url(lot)).context["jobs"]]


def came_of(lot: Lot, line: OrderLine) -> None:
    DeliveryLine.objects.create(
        delivery=make_delivery(), material=lot.material, order_line=line, lot=lot, kept_micro=42_000_000, price_micro=1
    )


def test_a_lot_that_one_job_needs_leads_to_where_that_job_is_given_sheets(
    staff_client: Browser, lot: Lot, school: Job
) -> None:
    assert lot_rooms.next_url(lot) == giving(school)


def test_a_lot_that_several_jobs_need_leads_to_a_choice_of_them(
    staff_client: Browser, lot: Lot, school: Job, hall: Job
) -> None:
    page = staff_client.get(url(lot))

    assert lot_rooms.next_url(lot) == url(lot)
    assert jobs_shown(staff_client, lot) == ["12 Music school", "13 Recital hall"]
    assert giving(school) in page.content.decode()
    assert "20 sheets" in page.content.decode()


def test_a_lot_that_was_ordered_for_one_job_leads_there_although_others_need_it_too(
    staff_client: Browser, lot: Lot, line: OrderLine, school: Job, hall: Job
) -> None:
    came_of(lot, line)
    LineShare.objects.create(line=line, job=hall, quantity_micro=20_000_000)

    assert lot_rooms.next_url(lot) == giving(hall)


def test_a_lot_ordered_for_two_jobs_leads_to_a_choice(
    staff_client: Browser, lot: Lot, line: OrderLine, school: Job, hall: Job
) -> None:
    came_of(lot, line)
    for job in (school, hall):
        LineShare.objects.create(line=line, job=job, quantity_micro=20_000_000)

    assert lot_rooms.next_url(lot) == url(lot)
    assert jobs_shown(staff_client, lot) == ["12 Music school", "13 Recital hall"]


def test_a_job_that_has_all_it_needs_or_is_closed_is_no_choice(
    staff_client: Browser, staff: Person, lot: Lot, pale: ToneGroup, school: Job, hall: Job
) -> None:
    closed = needing(lot.material, 11, "Library", 20)
    Job.objects.filter(pk=closed.pk).update(closed_on=date(2026, 11, 1))
    make_stack(pale, 20, lot)
    give(school.rooms.get(), pale, 40, staff)

    assert lot_rooms.next_url(lot) == giving(hall)
    assert jobs_shown(staff_client, lot) == ["13 Recital hall"]


def test_a_lot_that_no_job_needs_stays_in_stock_and_the_page_says_so(staff_client: Browser, lot: Lot) -> None:
    page = staff_client.get(url(lot)).content.decode()

    assert "No open job still needs this material." in page
    assert reverse("jobs:jobs") in page


def test_lumber_leads_to_the_one_room_that_needs_it_with_its_lot_chosen(staff_client: Browser, db: None) -> None:
    ash = make_material(kind="lumber", name="Solid ash 8/4")
    lot, need = make_lot(material=ash, quantity_micro=180_000_000), make_need(material=ash)

    assert lot_rooms.next_url(lot) == f"{reverse('jobs:lot_share', args=[need.room_id])}?lot={lot.pk}"


def test_lumber_that_two_rooms_need_leads_to_a_choice_of_rooms(staff_client: Browser, db: None) -> None:
    ash = make_material(kind="lumber", name="Solid ash 8/4")
    lot, lobby = make_lot(material=ash, quantity_micro=180_000_000), make_room(name="Lobby")
    for room in (lobby, make_room(name="Recital room", job=lobby.job)):
        make_need(material=ash, room=room)

    rooms = staff_client.get(url(lot)).context["rooms"]

    assert lot_rooms.next_url(lot) == url(lot)
    assert [row.room.name for row, _url in rooms] == ["Lobby", "Recital room"]


def test_the_pad_and_the_lot_lead_there_once_all_is_sorted(
    staff_client: Browser, lot: Lot, pale: ToneGroup, school: Job
) -> None:
    make_stack(pale, 1, lot)

    for page in (reverse("materials:sort", args=[lot.pk]), reverse("materials:lot", args=[lot.pk])):
        assert f'id="give" href="{giving(school)}"' in staff_client.get(page).content.decode()


def test_the_next_step_is_only_read_and_a_lot_that_is_not_there_is_not_found(staff_client: Browser, lot: Lot) -> None:
    assert post(staff_client, url(lot)).status_code == 405
    assert staff_client.get(reverse("jobs:lot_give", args=[lot.pk + 1])).status_code == 404


def test_many_jobs_cost_the_queries_of_two(staff_client: Browser, lot: Lot, school: Job, hall: Job) -> None:
    make_sheets(lot, 2)
    few = queries_of(staff_client, url(lot))
    for number in range(20, 40):
        needing(lot.material, number, f"Job {number}", 3)

    assert queries_of(staff_client, url(lot)) <= few
