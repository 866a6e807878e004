"""The pages of an estimate: its lines by room, a line, the terms, the list of all jobs."""

import re

import pytest
from django.test import Client as Browser
from django.urls import reverse

from estimates.models import Estimate, EstimateLine
from jobs.models import Job, Room
from tests import typed
from tests.makers import make_estimate, make_job, make_line, make_material, make_need, make_room, post
from tests.queries import queries_of
from workshop import actions
from workshop.models import Action, Shop

LINE = {
    "room": "",
    "klass": "other",
    "description": "Delivery",
    "quantity_micro": "1",
    "unit": "lump",
    "price_micro": "120.00",
    "price_unit": "lump",
}


@pytest.fixture
def job(db: None) -> Job:
    return make_job(name="Music school")


@pytest.fixture
def estimate(job: Job) -> Estimate:
    estimate = make_estimate(job=job)
    make_line(estimate, 60_000, room=make_room(job=job, name="Practice 1"), description="Ash panels")
    return estimate


def url(name: str, *args: int) -> str:
    return reverse(f"estimates:{name}", args=args)


def words_of(answer: object) -> str:
    return " ".join(answer.content.decode().split())


def only_line() -> EstimateLine:
    return EstimateLine.objects.get()


def test_the_page_shows_lines_by_room_and_what_they_come_to(owner_client: Browser, estimate: Estimate) -> None:
    Estimate.objects.update(overhead_ppm=100_000, profit_ppm=200_000, discount_minor=9_200, tax_ppm=82_500)

    html = words_of(owner_client.get(url("estimate", estimate.job_id)))

    # 600.00, overhead 60.00, profit on 660.00 is 132.00, less 92.00 is 700.00; 8.25 % of it is 57.75
    sums = re.search(r'<dl class="sum">.*?</dl>', html)[0]
    assert re.findall(r"<dd>(.*?)</dd>", sums) == ["600.00", "60.00", "132.00", "−92.00", "57.75", "757.75"]
    assert "Sales tax, 8.25% on materials of 700.00" in sums
    assert "Practice 1" in html
    assert "price $792.00" in html


def test_prices_that_hold_the_tax_say_so(owner_client: Browser, estimate: Estimate) -> None:
    EstimateLine.objects.update(total_minor=10_000)
    Estimate.objects.update(tax_ppm=82_500, is_tax_inside=True)

    html = words_of(owner_client.get(url("estimate", estimate.job_id)))

    # 100.00 at 8.25 % holds 7.62 (tests/reference/money.csv)
    assert "In the prices: sales tax, 8.25% on materials of 100.00</dt><dd>7.62</dd>" in html
    assert "Total, USD</dt><dd>100.00</dd>" in html


def test_hours_are_told_as_hours(owner_client: Browser, estimate: Estimate) -> None:
    minutes = {"quantity_micro": 20_000_000, "unit": "minute", "price_micro": 65_000_000, "price_unit": "hour"}
    make_line(estimate, 2_167, klass="labor", source="hours", **minutes)

    html = words_of(owner_client.get(url("estimate", estimate.job_id)))

    assert "0:20 h" in html
    assert "$65.00 / h" in html


def test_a_filled_line_without_a_rate_is_told(owner_client: Browser, estimate: Estimate) -> None:
    EstimateLine.objects.update(price_micro=0, source="need")

    assert "1 line has no rate." in words_of(owner_client.get(url("estimate", estimate.job_id)))


def test_terms_that_make_no_price_are_told_instead_of_a_price(owner_client: Browser, estimate: Estimate) -> None:
    Estimate.objects.update(discount_minor=70_000)

    html = words_of(owner_client.get(url("estimate", estimate.job_id)))

    assert "There is no price:" in html
    assert url("summary_pdf", estimate.job_id) not in html
    assert "no price" in words_of(owner_client.get(url("estimates")))


def test_a_stored_margin_of_more_than_the_price_is_told(owner_client: Browser, estimate: Estimate) -> None:
    Estimate.objects.update(profit_way="margin", profit_ppm=1_500_000)

    assert "The terms make no price: 150 %. Change them." in words_of(
        owner_client.get(url("estimate", estimate.job_id))
    )


def test_a_shop_without_jobs_is_led_to_the_first(owner_client: Browser) -> None:
    assert reverse("jobs:job_new") in words_of(owner_client.get(url("estimates")))


def test_a_line_is_edited_as_it_was_typed(owner_client: Browser, estimate: Estimate) -> None:
    html = words_of(owner_client.get(url("estimate_line", only_line().pk)))

    assert 'name="price_micro" value="600.00"' in html
    assert 'name="description" value="Ash panels"' in html
    sent = {**LINE, "version": "1", "price_unit": "hour"}
    assert post(owner_client, url("estimate_line", only_line().pk), **sent).status_code == 422


def test_a_job_without_an_estimate_says_what_to_do_first(owner_client: Browser, job: Job) -> None:
    html = words_of(owner_client.get(url("estimate", job.pk)))

    assert "Fill the estimate from the rooms" in html
    assert "The shop has no price of an hour yet" in html


def test_filling_leads_back_to_the_page(owner_client: Browser, job: Job) -> None:
    make_need(room=make_room(job=job), material=make_material(name="Ash-veneered plywood"))

    answer = post(owner_client, url("estimate_fill", job.pk))

    assert (answer.status_code, answer.url) == (303, url("estimate", job.pk))
    assert "Ash-veneered plywood" in words_of(owner_client.get(answer.url))


def test_a_filling_that_finds_nothing_is_refused_in_words(owner_client: Browser, job: Job) -> None:
    answer = post(owner_client, url("estimate_fill", job.pk))

    assert answer.status_code == 422
    assert "No room says yet what it needs" in words_of(answer)


def test_the_same_filling_sent_twice_is_done_once(owner_client: Browser, job: Job) -> None:
    make_need(room=make_room(job=job))
    key = actions.new_key()

    answers = [post(owner_client, url("estimate_fill", job.pk), key=key) for _time in range(2)]

    assert [answer.status_code for answer in answers] == [303, 303]
    assert Action.objects.count() == 1


def test_a_line_is_added_by_hand(owner_client: Browser, job: Job) -> None:
    room = make_room(job=job, name="Lobby")

    answer = post(owner_client, url("estimate_line_new", job.pk), **{**LINE, "room": room.pk, "quantity_micro": "2.5"})

    assert (answer.status_code, answer.url) == (303, url("estimate", job.pk))
    assert (only_line().total_minor, only_line().room, only_line().source) == (30_000, room, "typed")
    assert "Estimate: Delivery added" in words_of(owner_client.get(answer.url))


def test_a_room_in_the_address_is_chosen(owner_client: Browser, job: Job) -> None:
    room = make_room(job=job)

    html = words_of(owner_client.get(url("estimate_line_new", job.pk), {"room": room.pk}))

    assert f'<option value="{room.pk}" selected>' in html


def refused_line(browser: Browser, job: Job, field: str, text: str) -> None:
    answer = post(browser, url("estimate_line_new", job.pk), **{**LINE, field: text})

    assert answer.status_code == 422
    assert field in answer.context["form"].errors
    assert (EstimateLine.objects.count(), Estimate.objects.count(), Action.objects.count()) == (0, 0, 0)


@pytest.mark.parametrize("field", ["quantity_micro", "price_micro"])
@pytest.mark.parametrize("text", typed.NUMBERS)
def test_a_line_with_a_strange_number_is_refused(owner_client: Browser, job: Job, field: str, text: str) -> None:
    refused_line(owner_client, job, field, text)


@pytest.mark.parametrize("field", ["klass", "unit", "price_unit"])
@pytest.mark.parametrize("text", typed.NUMBERS)
def test_a_line_with_a_strange_choice_is_refused(owner_client: Browser, job: Job, field: str, text: str) -> None:
    refused_line(owner_client, job, field, text)


@pytest.mark.parametrize("text", [text for text in typed.KEYS if text.id != "nothing"])
def test_a_line_for_a_room_that_is_not_there_is_refused(owner_client: Browser, job: Job, text: str) -> None:
    refused_line(owner_client, job, "room", text)


@pytest.mark.parametrize("text", ["", "   ", *typed.TEXTS])
def test_a_line_without_words_or_with_too_many_is_refused(owner_client: Browser, job: Job, text: str) -> None:
    refused_line(owner_client, job, "description", text)


def test_a_line_for_a_room_of_another_job_is_refused(owner_client: Browser, job: Job) -> None:
    refused_line(owner_client, job, "room", make_room().pk)


@pytest.mark.parametrize(("quantity", "price"), [("1000000000", "99999999999"), ("100000", "99999999999")])
def test_a_line_of_more_than_can_be_kept_is_refused(owner_client: Browser, job: Job, quantity: str, price: str) -> None:
    answer = post(
        owner_client, url("estimate_line_new", job.pk), **{**LINE, "quantity_micro": quantity, "price_micro": price}
    )

    assert answer.status_code == 422
    assert "The line comes to more than can be kept." in words_of(answer)
    assert EstimateLine.objects.count() == 0


def test_markup_in_a_line_is_shown_as_typed(owner_client: Browser, job: Job) -> None:
    post(owner_client, url("estimate_line_new", job.pk), **{**LINE, "description": "<b>Delivery</b>"})

    assert "&lt;b&gt;Delivery&lt;/b&gt;" in words_of(owner_client.get(url("estimate", job.pk)))


def test_a_line_changed_twice_from_one_page_shows_both_values(owner_client: Browser, estimate: Estimate) -> None:
    line = only_line()
    sent = {**LINE, "room": line.room_id, "version": line.version}
    post(owner_client, url("estimate_line", line.pk), **sent)

    answer = post(owner_client, url("estimate_line", line.pk), **{**sent, "description": "Freight"})

    html = words_of(answer)
    assert answer.status_code == 422
    assert 'value="Freight"' in html
    assert "Stored now: Delivery" in html
    again = {**sent, "description": "Freight", "version": answer.context["form"]["version"].value()}
    assert post(owner_client, url("estimate_line", line.pk), **again).status_code == 303
    assert only_line().description == "Freight"


@pytest.mark.parametrize("text", typed.NUMBERS)
def test_a_line_with_a_strange_version_is_stale(owner_client: Browser, estimate: Estimate, text: str) -> None:
    line = only_line()

    answer = post(owner_client, url("estimate_line", line.pk), **{**LINE, "version": text})

    assert answer.status_code == 422
    assert only_line().description == "Ash panels"


def test_a_line_is_taken_out_and_comes_back_by_undo(owner_client: Browser, estimate: Estimate) -> None:
    line = only_line()
    answer = post(owner_client, url("estimate_line_remove", line.pk))
    assert (answer.status_code, EstimateLine.objects.count()) == (303, 0)
    change = owner_client.get(url("estimate", estimate.job_id)).context["block"].changes[0]

    post(owner_client, change.undo_url, key=change.key)

    assert (change.text, only_line().description) == ("Estimate: Ash panels taken out", "Ash panels")


def test_a_line_the_discount_rests_on_is_not_taken_out(owner_client: Browser, estimate: Estimate) -> None:
    Estimate.objects.update(discount_minor=60_000)

    answer = post(owner_client, url("estimate_line_remove", only_line().pk))

    assert answer.status_code == 422
    assert "The discount is more than the price, $0.00." in words_of(answer)
    assert EstimateLine.objects.count() == 1


def make_volume(job: Job, estimate: Estimate, rooms: int) -> None:
    first = job.rooms.count() + 1
    made = Room.objects.bulk_create(Room(job=job, name=f"Room {n}", place=n) for n in range(first, first + rooms))
    for room in made:
        for number in range(5):
            make_line(estimate, 1_000 + number, room=room)


def test_sixty_rooms_of_five_lines_cost_the_queries_of_one(owner_client: Browser, job: Job, estimate: Estimate) -> None:
    pages = [url("estimate", job.pk), url("estimates"), url("summary_pdf", job.pk)]
    Shop.get()
    of_one = [queries_of(owner_client, page) for page in pages]

    make_volume(job, estimate, rooms=60)

    assert [queries_of(owner_client, page) for page in pages] == of_one


def test_many_jobs_cost_the_queries_of_one_and_are_paged(owner_client: Browser, estimate: Estimate) -> None:
    of_one = queries_of(owner_client, url("estimates"))
    for _number in range(60):
        make_line(make_estimate(), 100)

    page = owner_client.get(url("estimates"))

    assert (len(page.context["rows"]), page.context["page"].paginator.num_pages) == (50, 2)
    assert queries_of(owner_client, url("estimates")) <= of_one + 1
    assert owner_client.get(url("estimates"), {"page": "x" * 100}).status_code == 200
