"""The terms of an estimate, and who may see an estimate at all."""

from datetime import date

import pytest
from django.test import Client as Browser
from django.urls import reverse

from estimates.models import Estimate, EstimateLine
from jobs.models import Job
from tests import typed
from tests.makers import make_estimate, make_job, make_line, post
from workshop import actions
from workshop.models import Action, Shop

TERMS = {
    "waste_ppm": "10",
    "overhead_way": "cost",
    "overhead_ppm": "15",
    "overhead_hour_micro": "0",
    "contingency_ppm": "5",
    "profit_ppm": "20",
    "profit_way": "markup",
    "discount_minor": "10.00",
    "discount_ppm": "0",
    "tax_ppm": "8.25",
    "is_material_taxed": "on",
    "valid_until": "2026-12-31",
    "exclusions": "Electrical work",
    "notes": "",
    "version": "1",
}
RATES = [
    "waste_ppm",
    "overhead_ppm",
    "overhead_hour_micro",
    "contingency_ppm",
    "profit_ppm",
    "discount_minor",
    "discount_ppm",
    "tax_ppm",
]


@pytest.fixture(autouse=True)
def today(settings) -> None:
    settings.FIXED_TODAY = date(2026, 11, 25)


@pytest.fixture
def job(db: None) -> Job:
    return make_job(name="Music school")


@pytest.fixture
def estimate(job: Job) -> Estimate:
    estimate = make_estimate(job=job)
    make_line(estimate, 60_000)
    return estimate


def url(job: Job) -> str:
    return reverse("estimates:estimate_terms", args=[job.pk])


def page_url(job: Job) -> str:
    return reverse("estimates:estimate", args=[job.pk])


def words_of(answer: object) -> str:
    return " ".join(answer.content.decode().split())


def test_terms_are_kept_as_typed(owner_client: Browser, estimate: Estimate) -> None:
    answer = post(owner_client, url(estimate.job), **TERMS)

    row = Estimate.objects.get()
    assert (answer.status_code, answer.url) == (303, page_url(estimate.job))
    assert (row.waste_ppm, row.overhead_ppm, row.contingency_ppm) == (100_000, 150_000, 50_000)
    assert (row.profit_ppm, row.tax_ppm, row.discount_minor) == (200_000, 82_500, 1_000)
    assert (row.is_material_taxed, row.is_labor_taxed, row.exclusions) == (True, False, "Electrical work")
    assert actions.sentence_of(Action.objects.get()) == "Terms of the estimate changed"


def test_terms_come_first_from_the_shop(owner_client: Browser, job: Job) -> None:
    Shop.get()
    Shop.objects.update(overhead_ppm=120_000)

    assert 'name="overhead_ppm" value="12"' in words_of(owner_client.get(url(job)))


def test_terms_open_an_estimate_where_there_is_none(owner_client: Browser, job: Job) -> None:
    answer = post(owner_client, url(job), **{**TERMS, "discount_minor": "0", "version": ""})

    assert (answer.status_code, Estimate.objects.get().waste_ppm) == (303, 100_000)


def refused_terms(browser: Browser, estimate: Estimate, field: str, text: str) -> str:
    answer = post(browser, url(estimate.job), **{**TERMS, field: text})

    assert answer.status_code == 422
    assert field in answer.context["form"].errors
    assert (Estimate.objects.get().version, Action.objects.count()) == (1, 0)
    return words_of(answer)


@pytest.mark.parametrize("field", RATES)
@pytest.mark.parametrize("text", typed.NUMBERS)
def test_a_strange_rate_is_refused(owner_client: Browser, estimate: Estimate, field: str, text: str) -> None:
    refused_terms(owner_client, estimate, field, text)


@pytest.mark.parametrize("text", typed.DAYS)
def test_a_strange_day_is_refused(owner_client: Browser, estimate: Estimate, text: str) -> None:
    refused_terms(owner_client, estimate, "valid_until", text)


def test_an_estimate_is_not_made_valid_until_a_day_that_is_past(owner_client: Browser, estimate: Estimate) -> None:
    assert "Tue, Nov 24 is past" in refused_terms(owner_client, estimate, "valid_until", "2026-11-24")


def test_terms_can_be_changed_after_their_day(owner_client: Browser, job: Job, estimate: Estimate) -> None:
    Estimate.objects.filter(pk=estimate.pk).update(valid_until=date(2026, 11, 1))

    answer = post(owner_client, url(job), **{**TERMS, "valid_until": "2026-11-01"})

    assert answer.status_code == 303


@pytest.mark.parametrize("field", ["profit_way", "overhead_way"])
@pytest.mark.parametrize("text", typed.NUMBERS)
def test_a_strange_way_is_refused(owner_client: Browser, estimate: Estimate, field: str, text: str) -> None:
    refused_terms(owner_client, estimate, field, text)


@pytest.mark.parametrize("field", ["exclusions", "notes"])
@pytest.mark.parametrize("text", typed.TEXTS)
def test_a_text_too_long_is_refused(owner_client: Browser, estimate: Estimate, field: str, text: str) -> None:
    refused_terms(owner_client, estimate, field, text)


@pytest.mark.parametrize(
    ("field", "text", "message"),
    [
        ("waste_ppm", "100", "100 is too much here. Type less than 100%."),
        ("tax_ppm", "100", "100 is too much here. Type less than 100%."),
        ("overhead_ppm", "1000", "1000 is too much here. Type less than 1,000%."),
        ("discount_minor", "972.01", "The discount is more than the price,"),
        ("discount_minor", "1.005", "1.005"),
        ("discount_ppm", "100.0001", "100.0001"),
        ("discount_ppm", "5", "There is a discount in per cent and as an amount. Type 0 into one of them."),
    ],
)
def test_terms_that_go_too_far_are_refused_in_words(
    owner_client: Browser, estimate: Estimate, field: str, text: str, message: str
) -> None:
    assert message in refused_terms(owner_client, estimate, field, text)


def test_a_margin_of_the_whole_price_is_refused_with_what_was_typed(owner_client: Browser, estimate: Estimate) -> None:
    answer = post(owner_client, url(estimate.job), **{**TERMS, "profit_ppm": "100", "profit_way": "margin"})

    html = words_of(answer)
    assert answer.status_code == 422
    assert "A margin is less than 100 %. Type 30, or choose markup." in html
    assert 'name="profit_ppm" value="100"' in html
    assert Estimate.objects.get().profit_ppm == 0


def test_terms_saved_twice_from_one_page_show_both_values(owner_client: Browser, estimate: Estimate) -> None:
    post(owner_client, url(estimate.job), **TERMS)

    answer = post(owner_client, url(estimate.job), **{**TERMS, "waste_ppm": "12"})

    html = words_of(answer)
    assert answer.status_code == 422
    assert 'name="waste_ppm" value="12"' in html
    assert "Stored now: 10" in html


def test_terms_of_an_estimate_opened_meanwhile_show_both_values(owner_client: Browser, job: Job) -> None:
    first = {**TERMS, "discount_minor": "0", "version": ""}
    post(owner_client, url(job), **first)

    answer = post(owner_client, url(job), **{**first, "waste_ppm": "12"})

    assert answer.status_code == 422
    assert "Stored now: 10" in words_of(answer)
    again = {**first, "waste_ppm": "12", "version": answer.context["form"]["version"].value()}
    assert post(owner_client, url(job), **again).status_code == 303


def test_the_same_terms_sent_twice_are_stored_once(owner_client: Browser, estimate: Estimate) -> None:
    key = actions.new_key()

    answers = [post(owner_client, url(estimate.job), key=key, **TERMS) for _time in range(2)]

    assert [answer.status_code for answer in answers] == [303, 303]
    assert (Estimate.objects.get().version, Action.objects.count()) == (2, 1)


def test_the_undo_beside_the_terms_puts_them_back(owner_client: Browser, estimate: Estimate) -> None:
    post(owner_client, url(estimate.job), **TERMS)
    change = owner_client.get(page_url(estimate.job)).context["block"].changes[0]

    post(owner_client, change.undo_url, key=change.key)

    row = Estimate.objects.get()
    assert (row.waste_ppm, row.discount_minor, row.exclusions) == (0, 0, "")


def every_address(job: Job, line: EstimateLine) -> list[tuple[str, str]]:
    of_job = ["estimate", "estimate_fill", "estimate_terms", "estimate_line_new", "summary_pdf"]
    of_line = ["estimate_line", "estimate_line_remove"]
    addresses = [(name, reverse(f"estimates:{name}", args=[job.pk])) for name in of_job]
    addresses += [(name, reverse(f"estimates:{name}", args=[line.pk])) for name in of_line]
    return [*addresses, ("estimates", reverse("estimates:estimates"))]


def test_staff_get_no_page_of_an_estimate(staff_client: Browser, estimate: Estimate) -> None:
    for name, address in every_address(estimate.job, EstimateLine.objects.get()):
        answers = {staff_client.get(address).status_code, post(staff_client, address).status_code}

        assert answers <= {403, 405}, name
        assert 403 in answers, name
    assert EstimateLine.objects.count() == 1


def test_nobody_who_is_not_signed_in_gets_a_page_of_an_estimate(estimate: Estimate) -> None:
    for _name, address in every_address(estimate.job, EstimateLine.objects.get()):
        answer = Browser().get(address)

        assert (answer.status_code, answer.url.startswith(reverse("front:login"))) == (302, True)


def test_staff_see_no_estimated_amount_in_the_trace(
    owner_client: Browser, staff_client: Browser, estimate: Estimate
) -> None:
    post(owner_client, url(estimate.job), **TERMS)

    html = words_of(staff_client.get(reverse("front:trace", args=[actions.thing_of(estimate.job)])))

    assert "Terms of the estimate changed" in html
    assert "8.25" not in html
    assert "10.00" not in html


@pytest.mark.parametrize(
    ("name", "methods"),
    [
        ("estimates", ["post", "put"]),
        ("estimate", ["post", "put"]),
        ("summary_pdf", ["post", "delete"]),
        ("estimate_fill", ["get", "put"]),
        ("estimate_line_remove", ["get", "delete"]),
        ("estimate_terms", ["put", "delete"]),
        ("estimate_line_new", ["put", "delete"]),
        ("estimate_line", ["put", "delete"]),
    ],
)
def test_each_address_takes_its_own_methods_only(
    owner_client: Browser, estimate: Estimate, name: str, methods: list[str]
) -> None:
    address = dict(every_address(estimate.job, EstimateLine.objects.get()))[name]

    assert {getattr(owner_client, method)(address).status_code for method in methods} == {405}


@pytest.mark.parametrize("name", ["estimate", "estimate_terms", "estimate_line_new", "estimate_line", "summary_pdf"])
def test_what_is_not_there_is_not_found(owner_client: Browser, db: None, name: str) -> None:
    assert owner_client.get(reverse(f"estimates:{name}", args=[999])).status_code == 404
