"""A job as the start of another: what comes along, what stays, and how far its days move."""

from datetime import date, timedelta

import pytest
from django.core.exceptions import ValidationError
from django.test import Client as Browser
from django.urls import reverse

from jobs import copying, stages
from jobs.models import Drawing, Given, Hours, Job, Measure, Need, Revision, Room, RoomStage, Stage, Surface
from tests.makers import (
    hand,
    make_client,
    make_cutout,
    make_drawing,
    make_estimate,
    make_hours,
    make_job,
    make_line,
    make_lot,
    make_material,
    make_need,
    make_opening,
    make_revision,
    make_room,
    make_room_stage,
    make_sheets,
    make_surface,
    post,
)
from tests.together import at_once
from tests.typed import DAYS, TEXTS
from workshop import actions
from workshop.models import Action, Person

TODAY = date(2026, 11, 25)
DEC_1, DEC_15 = date(2026, 12, 1), date(2026, 12, 15)


@pytest.fixture(autouse=True)
def today(settings) -> None:
    settings.FIXED_TODAY = TODAY


@pytest.fixture
def job(db: None, owner: Person) -> Job:
    """Two rooms with all that can hang on them."""
    job = make_job(number=12, name="Music school", precision_nm=793_750, site="12 Elm Street", tax_ppm=82_500)
    first = make_room(job=job, name="Practice 1", starts_on=DEC_1, wanted_on=DEC_15, fire_class="B")
    second = make_room(job=job, name="Lobby", starts_on=DEC_15)
    material = make_material(name="Ash-veneered plywood")
    for room in (first, second):
        make_need(room=room, material=material, quantity_micro=5_500_000)
        make_room_stage(room=room, name="Cut", planned_minutes=90, total=12, done=7)
        make_hours(room=room, person=owner)
    (sheet,) = make_sheets(make_lot(material=material), 1)
    Given.objects.create(room=first, half=sheet.halves.first())
    make_revision(drawing=make_drawing(job=job, number="A-201", name="Practice rooms"))
    make_line(make_estimate(job=job), 10_000, room=first)
    return job


def url(job: Job) -> str:
    return reverse("jobs:job_copy", args=[job.pk])


def copy_of(job: Job) -> Job:
    return Job.objects.exclude(pk=job.pk).get()


def test_a_copy_is_opened_in_one_step(staff_client: Browser, job: Job) -> None:
    answer = post(staff_client, url(job), name="Second floor", client=job.client_id, starts_on="2027-01-12")

    made = copy_of(job)
    assert (answer.status_code, answer.url) == (303, reverse("jobs:job", args=[made.pk]))
    assert (made.number, made.name, made.client, made.precision_nm) == (13, "Second floor", job.client, 793_750)
    assert actions.sentence_of(Action.objects.first()) == ("Job 13 Second floor copied from 12 Music school, 2 rooms")


def test_rooms_needs_stages_and_planned_hours_come_along(owner: Person, job: Job) -> None:
    made = copying.copy(job=job, by=hand(owner), name="Second floor", client=job.client)

    rooms = list(made.rooms.values_list("name", "place", "fire_class"))
    assert rooms == [("Practice 1", 1, "B"), ("Lobby", 2, "")]
    needs = Need.objects.filter(room__job=made).values_list("room__name", "material__name", "quantity_micro")
    assert set(needs) == {(room, "Ash-veneered plywood", 5_500_000) for room in ("Practice 1", "Lobby")}
    assert list(made.stages.values_list("lane", "name")) == list(job.stages.values_list("lane", "name"))
    planned = RoomStage.objects.filter(room__job=made, stage__job=made)
    assert set(planned.values_list("planned_minutes", "total", "done")) == {(90, 12, 0)}
    assert planned.count() == 2


def test_drawings_come_by_name_without_their_revisions(owner: Person, job: Job) -> None:
    made = copying.copy(job=job, by=hand(owner), name="Second floor", client=job.client)

    assert list(made.drawing_list.values_list("number", "name")) == [("A-201", "Practice rooms")]
    assert Revision.objects.count() == 1


def test_walls_come_with_what_is_in_them_and_are_measured_anew(owner: Person, job: Job) -> None:
    wall = make_surface(room=job.rooms.first(), revision=Revision.objects.first())
    make_opening(surface=wall)
    make_cutout(surface=wall)
    Measure.objects.create(surface=wall, measured_on=TODAY, measured_by=owner, width_foot_nm=1, height_left_nm=1)

    made = copying.copy(job=job, by=hand(owner), name="Second floor", client=job.client)

    made = Surface.objects.get(room__job=copy_of(job))
    assert (made.name, made.width_nm, made.revision) == (wall.name, wall.width_nm, None)
    assert (made.openings.count(), made.cutouts.count(), hasattr(made, "measure")) == (1, 1, False)


def test_prices_hours_sheets_and_what_belongs_to_the_place_stay(owner: Person, job: Job) -> None:
    made = copying.copy(job=job, by=hand(owner), name="Second floor", client=job.client)

    assert (made.estimates.count(), made.site, made.tax_ppm) == (0, "", None)
    assert Hours.objects.filter(room__job=made).count() == 0
    assert Given.objects.filter(room__job=made).count() == 0


def test_all_days_move_by_as_much_as_the_first(owner: Person, job: Job) -> None:
    """Dec 1 to Jan 12 is 42 days, so Dec 15 goes to Jan 26; counted on the calendar."""
    made = copying.copy(job=job, by=hand(owner), name="Second floor", client=job.client, starts_on=date(2027, 1, 12))

    assert list(made.rooms.values_list("starts_on", "wanted_on")) == [
        (date(2027, 1, 12), date(2027, 1, 26)),
        (date(2027, 1, 26), None),
    ]


def test_without_a_day_the_copy_has_none(owner: Person, job: Job) -> None:
    made = copying.copy(job=job, by=hand(owner), name="Second floor", client=job.client)

    assert set(made.rooms.values_list("starts_on", "wanted_on")) == {(None, None)}


def test_where_no_room_has_a_day_none_is_asked(staff_client: Browser, db: None) -> None:
    job = make_room().job

    assert "starts_on" not in staff_client.get(url(job)).context["form"].fields


def test_a_copy_can_be_for_a_new_client(staff_client: Browser, job: Job) -> None:
    post(staff_client, url(job), name="Second floor", client=job.client_id, new_client="Oak Street Dance School")

    assert copy_of(job).client.name == "Oak Street Dance School"


def test_another_client_chosen_and_a_new_one_named_is_refused(staff_client: Browser, job: Job) -> None:
    other = make_client(name="Hall")

    answer = post(staff_client, url(job), name="Second floor", client=other.pk, new_client="Elm")

    assert answer.status_code == 422
    assert "Hall is chosen above." in answer.content.decode()


@pytest.mark.parametrize("typed", ["", *TEXTS])
def test_a_name_that_cannot_be_copies_nothing(staff_client: Browser, job: Job, typed: str) -> None:
    answer = post(staff_client, url(job), name=typed, client=job.client_id)

    assert (answer.status_code, Job.objects.count()) == (422, 1)


@pytest.mark.parametrize("typed", DAYS)
def test_a_day_that_cannot_be_copies_nothing(staff_client: Browser, job: Job, typed: str) -> None:
    answer = post(staff_client, url(job), name="Second floor", client=job.client_id, starts_on=typed)

    assert (answer.status_code, Job.objects.count(), Room.objects.count()) == (422, 1, 2)


def test_days_beyond_the_last_one_are_refused_with_one_that_would_do(staff: Person, job: Job) -> None:
    with pytest.raises(ValidationError, match="Choose Fri, Dec 17, 2100 or a day before"):
        copying.copy(job=job, by=hand(staff), name="Second floor", client=job.client, starts_on=date(2100, 12, 18))


def test_the_same_key_twice_makes_one_copy(staff_client: Browser, job: Job) -> None:
    key = actions.new_key()

    first = post(staff_client, url(job), key=key, name="Second floor", client=job.client_id)
    second = post(staff_client, url(job), key=key, name="Second floor", client=job.client_id)

    assert (Job.objects.count(), first.url) == (2, second.url)


def test_undo_takes_the_whole_copy_back_and_leaves_the_first_job(staff: Person, job: Job) -> None:
    copying.copy(job=job, by=hand(staff), name="Second floor", new_client="Oak Street Dance School")

    actions.undo(action=Action.objects.first(), by=hand(staff))

    assert list(Job.objects.all()) == [job]
    assert (Room.objects.count(), Need.objects.count(), Drawing.objects.count()) == (2, 2, 1)
    assert (Stage.objects.count(), RoomStage.objects.count()) == (1, 2)


def test_a_copy_that_was_worked_in_is_not_taken_back(staff: Person, job: Job) -> None:
    made = copying.copy(job=job, by=hand(staff), name="Second floor", client=job.client)
    make_hours(room=made.rooms.first(), person=staff)

    with pytest.raises(ValidationError, match="It is in use and stays"):
        actions.undo(action=Action.objects.first(), by=hand(staff))


def sixty_rooms() -> Job:
    job = make_job()
    Stage.objects.bulk_create(stages.of_the_trade(job))
    materials = [make_material() for _at in range(5)]
    for at in range(60):
        room = make_room(job=job, name=f"Practice {at}", starts_on=DEC_1 + timedelta(days=at))
        RoomStage.objects.bulk_create(stages.for_room(room, job.stages.all()))
        Need.objects.bulk_create(Need(room=room, material=m, quantity_micro=5_000_000) for m in materials)
    return job


def test_sixty_rooms_are_copied_in_few_queries(staff: Person, django_assert_max_num_queries) -> None:
    """17 stages and 5 needs in each of 60 rooms are 1,320 rows; they go in by the batch."""
    job = sixty_rooms()

    with django_assert_max_num_queries(60):
        made = copying.copy(job=job, by=hand(staff), name="Second floor", client=job.client, starts_on=DEC_15)

    assert (made.rooms.count(), RoomStage.objects.filter(room__job=made).count()) == (60, 1020)


@pytest.mark.django_db(transaction=True)
def test_two_copies_at_once_get_two_numbers() -> None:
    person = Person.objects.create_user("owner", "a long enough password", name="Rosa Marten", role="owner")
    job = make_room(job=make_job(number=12)).job

    got = at_once(lambda: copying.copy(job=job, by=hand(person), name="Second floor", client=job.client), times=4)

    assert sorted(made.number for made in got) == [13, 14, 15, 16]


def test_the_page_says_what_comes_along(staff_client: Browser, job: Job) -> None:
    html = " ".join(staff_client.get(url(job)).content.decode().split())

    assert "The copy gets 2 rooms with what they need" in html
    assert "In 12 Music school it is Tue, Dec 1." in html
