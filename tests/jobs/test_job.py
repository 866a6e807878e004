"""Opening and editing jobs."""

from threading import Barrier, Thread

import pytest
from django.core.exceptions import ValidationError
from django.db import connection
from django.test import Client as Browser
from django.urls import reverse

from jobs import job as jobs
from jobs.models import Client, Job, Stage
from tests.makers import hand, make_client, make_job, post
from workshop import actions
from workshop.models import Action, Person, Shop

FIELDS = {
    "name": "Music school",
    "site": "12 Elm Street",
    "architect": "",
    "drawings": "Rev C",
    "unit_system": "us",
    "precision_nm": "1587500",
    "currency": "USD",
}
NEW = reverse("jobs:job_new")


def last_action() -> Action:
    return Action.objects.first()


def test_a_job_opens_with_a_new_client_in_one_step(owner_client: Browser) -> None:
    answer = post(owner_client, NEW, **FIELDS, new_client="Elm Street Music School")

    job = Job.objects.get()
    assert job.client.name == "Elm Street Music School"
    assert answer.status_code == 303
    assert answer.url == reverse("jobs:room_new", args=[job.pk])


def test_a_job_opens_for_a_client_of_the_list(owner_client: Browser) -> None:
    client = make_client()

    post(owner_client, NEW, **FIELDS, client=client.pk)

    assert Job.objects.get().client == client
    assert Client.objects.count() == 1


def test_a_new_client_of_a_known_name_is_the_known_one(owner_client: Browser) -> None:
    client = make_client(name="Elm Street Music School")

    post(owner_client, NEW, **FIELDS, new_client="elm street music school")

    assert Job.objects.get().client == client


def test_jobs_are_numbered_one_after_another(owner: Person) -> None:
    make_job(number=41)
    client = make_client()
    fields = {"name": "Lobby", "unit_system": "us", "precision_nm": 1_587_500, "currency": "USD"}

    job = jobs.add(by=hand(owner), client=client, **fields)

    assert job.number == 42


@pytest.mark.django_db(transaction=True)
def test_two_who_open_a_job_at_once_get_two_numbers() -> None:
    person = Person.objects.create_user("owner", "a long enough password", name="Rosa Marten", role="owner")
    client, start, failed = make_client(), Barrier(4), []

    def open_one() -> None:
        start.wait()
        try:
            jobs.add(
                by=hand(person),
                client=client,
                name="Lobby",
                unit_system="us",
                precision_nm=1_587_500,
                currency="USD",
            )
        except Exception as error:
            failed.append(error)
        finally:
            connection.close()

    threads = [Thread(target=open_one) for _at in range(4)]
    [thread.start() for thread in threads]
    [thread.join() for thread in threads]

    assert failed == []
    assert sorted(Job.objects.values_list("number", flat=True)) == [1, 2, 3, 4]


def test_a_new_job_has_the_stages_of_the_trade_in_their_lanes(owner_client: Browser) -> None:
    """Common practice, no source."""
    post(owner_client, NEW, **FIELDS, new_client="Elm Street Music School")

    lanes = {lane: [s.name for s in Stage.objects.filter(lane=lane)] for lane in ("panels", "trim", "site")}
    assert lanes == {
        "panels": ["Cut", "Edge", "Drill", "Sand", "Finish"],
        "trim": ["Mill", "Profile", "Join", "Drill", "Sand", "Finish"],
        "site": ["Load", "Battens", "Ceiling", "Walls", "Trim hung", "Punch list"],
    }


def test_the_trace_says_that_the_job_was_added(owner_client: Browser) -> None:
    post(owner_client, NEW, **FIELDS, new_client="Elm Street Music School")

    assert actions.sentence_of(last_action()) == "Job 1 Music school added"


def test_undo_takes_the_job_its_stages_and_its_new_client_back(owner_client: Browser, owner: Person) -> None:
    post(owner_client, NEW, **FIELDS, new_client="Elm Street Music School")

    actions.undo(action=last_action(), by=hand(owner))

    assert (Job.objects.count(), Stage.objects.count(), Client.objects.count()) == (0, 0, 0)


def test_the_same_key_twice_opens_one_job(owner_client: Browser) -> None:
    key = actions.new_key()

    first = post(owner_client, NEW, key=key, **FIELDS, new_client="Elm Street Music School")
    second = post(owner_client, NEW, key=key, **FIELDS, new_client="Elm Street Music School")

    assert Job.objects.count() == 1
    assert first.url == second.url


@pytest.mark.parametrize(
    ("changed", "message"),
    [
        ({"name": ""}, "This is empty. Fill it in."),
        ({"client": "999"}, "This is not one of the choices."),
        ({}, "A job has a client. Choose one, or type a new one&#x27;s name."),
        (
            {"new_client": "Elm", "precision_nm": "1000000"},
            "1 mm does not go with feet and inches. Choose 1/8 in or 1/16 in.",
        ),
        (
            {"new_client": "Elm", "unit_system": "metric"},
            "1/16 in does not go with millimeters. Choose 1 mm or 0.5 mm.",
        ),
        ({"new_client": "Elm", "precision_nm": "7"}, "This is not one of the choices."),
        ({"new_client": "Elm", "currency": "XXX"}, "This is not one of the choices."),
    ],
)
def test_what_cannot_be_a_job_is_refused_and_kept_in_the_fields(
    owner_client: Browser, changed: dict, message: str
) -> None:
    make_client()

    answer = post(owner_client, NEW, **{**FIELDS, "site": "kept here", **changed})

    assert answer.status_code == 422
    assert message in answer.content.decode()
    assert "kept here" in answer.content.decode()
    assert Job.objects.count() == 0
    assert Client.objects.count() == 1


def test_a_client_chosen_and_a_new_one_named_is_refused(owner_client: Browser) -> None:
    client = make_client(name="Hall")

    answer = post(owner_client, NEW, **FIELDS, client=client.pk, new_client="Elm")

    assert answer.status_code == 422
    assert "Hall is chosen above." in answer.content.decode()


def test_a_shop_in_millimeters_starts_its_jobs_so(owner_client: Browser) -> None:
    Shop.objects.create(pk=1, unit_system="metric", currency="EUR")

    form = owner_client.get(NEW).context["form"]

    assert form["unit_system"].value() == "metric"
    assert form["precision_nm"].value() == 1_000_000
    assert form["currency"].value() == "EUR"


def test_a_job_is_edited(owner_client: Browser) -> None:
    job = make_job()
    url = reverse("jobs:job_edit", args=[job.pk])

    answer = post(owner_client, url, **{**FIELDS, "name": "Hall"}, client=job.client_id, version=1)

    job.refresh_from_db()
    assert (job.name, job.drawings, job.version) == ("Hall", "Rev C", 2)
    assert answer.url == reverse("jobs:job", args=[job.pk])


def test_a_job_can_go_to_a_new_client(owner_client: Browser) -> None:
    job = make_job()
    url = reverse("jobs:job_edit", args=[job.pk])

    post(owner_client, url, **FIELDS, client=job.client_id, new_client="Elm", version=1)

    job.refresh_from_db()
    assert job.client.name == "Elm"


def test_a_stale_job_shows_both_values_and_the_next_send_wins(owner_client: Browser, owner: Person) -> None:
    job = make_job(drawings="Rev A")
    url = reverse("jobs:job_edit", args=[job.pk])
    sent = {**FIELDS, "client": job.client_id, "drawings": "Rev B"}
    post(owner_client, url, **{**sent, "drawings": "Rev X"}, version=1)

    stale = post(owner_client, url, **sent, version=1)
    again = post(owner_client, url, **sent, version=stale.context["form"].data["version"])

    assert stale.status_code == 422
    assert "Stored now: Rev X" in stale.content.decode()
    assert 'value="Rev B"' in stale.content.decode()
    assert again.status_code == 303
    assert Job.objects.get().drawings == "Rev B"


def test_the_currency_is_fixed_once_the_job_has_an_amount(owner: Person, monkeypatch) -> None:
    job = make_job(currency="USD")
    monkeypatch.setattr(jobs, "HAS_AMOUNT", [lambda asked: asked == job])
    fields = {"name": "A", "client": job.client, "unit_system": "us", "precision_nm": 1_587_500}

    with pytest.raises(ValidationError, match="Keep USD, or open another job for EUR"):
        jobs.change(job=job, by=hand(owner), version=1, currency="EUR", **fields)


def test_the_currency_can_change_before(owner: Person) -> None:
    job = make_job(currency="USD")
    fields = {"name": "A", "client": job.client, "unit_system": "us", "precision_nm": 1_587_500}

    jobs.change(job=job, by=hand(owner), version=1, currency="EUR", **fields)

    job.refresh_from_db()
    assert job.currency == "EUR"


def test_a_job_that_is_not_there_is_not_found(owner_client: Browser) -> None:
    assert owner_client.get("/jobs/999/edit/").status_code == 404
    assert owner_client.get(f"/jobs/{10**30}/edit/").status_code == 404
