"""The client's cost summary, read back from its own text with pypdf: it says what the page says, to the minor unit."""

import io
import re
from datetime import date

import pytest
from django.test import Client as Browser
from django.urls import reverse
from pypdf import PdfReader
from pytest_django import Settings

from estimates import pricing, summary
from estimates.models import Estimate
from jobs import giving
from jobs.models import Given, Job, LotShare, Room
from tests.makers import (
    hand,
    make_client,
    make_estimate,
    make_job,
    make_ladder,
    make_line,
    make_lot,
    make_material,
    make_need,
    make_room,
    make_sheets,
    make_stack,
)
from workshop.models import Person, Shop

AMOUNT = re.compile(r"−?[0-9][0-9,]*(?:\.[0-9]+)?")


@pytest.fixture(autouse=True)
def shop(settings: Settings, db: None) -> Shop:
    settings.FIXED_TODAY = date(2026, 11, 25)
    Shop.objects.update_or_create(pk=1, defaults={"name": "Shop A", "trade": "Panels and trim", "address": "1 Mill Rd"})
    return Shop.get()


def url(job: Job) -> str:
    return reverse("estimates:summary_pdf", args=[job.pk])


def reader_of(browser: Browser, job: Job) -> PdfReader:
    answer = browser.get(url(job))
    assert (answer.status_code, answer["Content-Type"]) == (200, "application/pdf")
    return PdfReader(io.BytesIO(answer.content))


def text_of(browser: Browser, job: Job) -> str:
    return "\n".join(page.extract_text() for page in reader_of(browser, job).pages)


def words_of(text: str) -> str:
    return " ".join(text.split())


def page_of(browser: Browser, job: Job) -> str:
    return words_of(browser.get(reverse("estimates:estimate", args=[job.pk])).content.decode())


def on_the_page(html: str) -> dict[str, str]:
    """The sums of the page, by their words."""
    sums = re.search(r'<dl class="sum">.*?</dl>', html)[0]
    return dict(re.findall(r"<dt>(.*?)</dt><dd>(.*?)</dd>", sums))


def make_priced(currency: str, **terms: object) -> Estimate:
    """Three rooms and the whole job, in amounts that do not divide evenly."""
    job = make_job(currency=currency, name="Music school", client=make_client(name="Elm Street Music School"))
    estimate = make_estimate(job=job, **terms)
    for place, total in enumerate((100_003, 200_002, 333_335), 1):
        room = make_room(job=job, name=f"Practice {place}", place=place)
        make_line(estimate, total, room=room)
        make_line(estimate, total // 7, room=room, klass="labor")
    make_line(estimate, 9_999, klass="other", description="Delivery")
    return estimate


TERMS = {
    "overhead_ppm": 123_400,
    "contingency_ppm": 50_000,
    "profit_ppm": 200_000,
    "discount_minor": 10_001,
    "tax_ppm": 82_500,
    "is_labor_taxed": True,
}


@pytest.mark.parametrize("inside", [False, True], ids=["tax added", "tax inside"])
@pytest.mark.parametrize("way", ["markup", "margin"])
@pytest.mark.parametrize("currency", ["USD", "JPY", "KWD"])
def test_the_pdf_says_what_the_page_says_to_the_minor_unit(
    owner_client: Browser, currency: str, way: str, inside: bool
) -> None:
    """ISO 4217: JPY has no minor unit, USD two places, KWD three."""
    job = make_priced(currency, profit_way=way, is_tax_inside=inside, **TERMS).job

    shown = on_the_page(page_of(owner_client, job))
    text = words_of(text_of(owner_client, job))

    total = next(amount for words, amount in shown.items() if words.startswith("Total"))
    tax_words, tax = next((words, amount) for words, amount in shown.items() if "ales tax" in words)
    assert f"{tax_words.replace('sales tax', 'Sales tax')} {tax}" in text
    assert f"Discount {shown['Discount'].replace('−', '-')}" in text.replace("−", "-")
    assert text.count(total) >= 2
    places = {"USD": 2, "JPY": 0, "KWD": 3}[currency]
    assert len(total.partition(".")[2]) == places


def minor(text: str) -> int:
    return int(re.sub("[^0-9]", "", text))


@pytest.mark.parametrize("currency", ["USD", "JPY", "KWD"])
def test_rooms_classes_and_taxes_add_up_on_paper(owner_client: Browser, currency: str) -> None:
    job = make_priced(currency, **TERMS).job
    text = text_of(owner_client, job)

    rows = {name: [minor(found) for found in AMOUNT.findall(rest)] for name, rest in _rows(text)}

    rooms = [rows[f"Practice {number}"] for number in (1, 2, 3)]
    assert [sum(row[:2]) for row in rooms] == [row[-1] for row in rooms]
    sums = rows["Subtotal"]
    assert [sum(column) for column in zip(*(row[:2] for row in rooms), strict=True)] == sums[:2]
    assert sum(row[-1] for row in [*rooms, rows["Whole job"]]) == sums[-1]
    priced = pricing.priced(Estimate.objects.get(job=job))
    assert sums[-1] - 10_001 + priced.price.tax_minor == priced.price.total_minor


def _rows(text: str) -> list[tuple[str, str]]:
    """Each row of the price table: its name and the rest of the line, as pypdf gives them."""
    names = "Practice 1|Practice 2|Practice 3|Whole job|Subtotal"
    return re.findall(rf"^({names})\s+([−0-9., \n]+?)(?=\n[A-Z]|\Z)", text, re.MULTILINE)[:5]


def test_materials_stand_by_room_with_lot_and_tone_group(owner_client: Browser, owner: Person) -> None:
    plywood, ash = make_material(name="Ash-veneered plywood"), make_material(kind="lumber", name="Solid ash 8/4")
    pale, cream, *_others = make_ladder(plywood)
    estimate = make_estimate()
    room = make_room(job=estimate.job, name="Practice 1")
    make_line(estimate, 100, room=room)
    make_need(room=room, material=plywood, quantity_micro=6_000_000)
    make_need(room=room, material=ash, quantity_micro=48_000_000)
    lot, other = make_lot(material=plywood, number=7), make_lot(material=ash, number=8, quantity_micro=48_000_000)
    for group, halves in ((pale, 8), (cream, 3)):
        make_stack(group, 4, lot)
        giving.give(room=room, material=plywood, group=group, halves=halves, by=hand(owner))
    LotShare.objects.create(lot=other, room=room, quantity_micro=20_000_000)

    ((_room, lines, _amounts),) = summary.materials_by_room(estimate.job)

    assert [(line.material, line.quantity, line.lot) for line in lines] == [
        ("Ash-veneered plywood", "5 1/2 sheets", "7"),
        ("Ash-veneered plywood", "1/2 sheet", ""),
        ("Solid ash 8/4", "20 bd ft", "8"),
        ("Solid ash 8/4", "28 bd ft", ""),
    ]
    assert [(tone.name, tone.count) for tone in lines[0].tones] == [("Pale", "4"), ("Cream", "1 1/2")]
    text = words_of(text_of(owner_client, estimate.job))
    assert "Pale" in text
    assert "6 sheets" in text
    assert "48 bd ft" in text


def test_sheets_not_sorted_have_a_lot_and_no_tone_group(db: None) -> None:
    room = make_room()
    make_sheets(lot := make_lot(), 1)
    Given.objects.create(half=lot.sheets.get().halves.first(), room=room)

    ((_room, (line,), _amounts),) = summary.materials_by_room(room.job)

    assert (line.quantity, line.lot, line.tones) == ("1/2 sheet", str(lot), ())


def test_a_room_that_has_more_than_it_needs_shows_what_it_has(owner: Person) -> None:
    plywood = make_material()
    pale = make_ladder(plywood)[0]
    room = make_room()
    make_need(room=room, material=plywood, quantity_micro=1_000_000)
    make_stack(pale, 2)
    giving.give(room=room, material=plywood, group=pale, halves=4, by=hand(owner))

    ((_room, (line,), _amounts),) = summary.materials_by_room(room.job)

    assert line.quantity == "2 sheets"


LONG = "Fit-out of the practice rooms, the recital room and the lobby of the school, floor 2"


def test_long_names_markup_and_letters_of_other_languages_are_printed_as_typed(owner_client: Browser) -> None:
    job = make_job(name=LONG[:80], client=make_client(name="<b>Łódź & Émile</b>"))
    estimate = make_estimate(job=job, exclusions="<i>Electrical work</i>\nPlaster ½″", notes="Ω, é, ł, ′, ″")
    make_line(estimate, 100, room=make_room(job=job, name="Practice <1> & 2"))

    reader = reader_of(owner_client, job)
    text = words_of("\n".join(page.extract_text() for page in reader.pages))

    assert LONG[:40] in text
    assert "<b>Łódź & Émile</b>" in text
    assert "Practice <1> & 2" in text
    assert "<i>Electrical work</i>" in text
    assert "Ω, é, ł, ′, ″" in text
    assert LONG[:80] in reader.metadata.title


def test_the_pdf_names_parties_number_day_and_validity(owner_client: Browser) -> None:
    job = make_job(number=712, name="Music school", site="5 Elm Street\nTown", architect="Studio E")
    Job.objects.filter(pk=job.pk).update(general_contractor="Harbor Builders")
    make_line(make_estimate(job=job, valid_until=date(2026, 12, 31)), 100)

    text = words_of(text_of(owner_client, job))

    for words in ("Shop A", "712 Music school", "Cost summary 712-1", "5 Elm Street, Town"):
        assert words in text
    assert "Architect Studio E" in text
    assert "General contractor Harbor Builders" in text
    assert "Dec 31, 2026" in text
    assert "Nov 25, 2026" in text
    assert "1 of 1" in text


@pytest.mark.parametrize(("paper", "width"), [("letter", 612), ("a4", 595)])
def test_the_pdf_is_on_the_shops_paper(owner_client: Browser, paper: str, width: int) -> None:
    """Letter is 8.5 in, 612 points, wide (from memory); ISO 216: A4 is 210 mm, 595 points."""
    Shop.objects.update(paper=paper)

    page = reader_of(owner_client, make_priced("USD").job).pages[0]

    assert int(page.mediabox.width) == width


def test_sixty_rooms_are_all_on_paper(owner_client: Browser) -> None:
    estimate = make_estimate()
    rooms = [make_room(job=estimate.job, name=f"Room {n:02}", place=n) for n in range(1, 61)]
    for room in rooms:
        make_line(estimate, 1_234, room=room)

    text = text_of(owner_client, estimate.job)

    assert all(room.name in text for room in rooms)
    assert "740.40" in text


def test_a_job_without_an_estimate_has_no_pdf(owner_client: Browser) -> None:
    assert owner_client.get(url(make_job())).status_code == 404


@pytest.mark.parametrize("terms", [{}, {"discount_minor": 500}], ids=["no lines", "more discount than price"])
def test_an_estimate_without_a_price_leads_to_its_page(owner_client: Browser, terms: dict) -> None:
    estimate = make_estimate(**terms)
    if terms:
        make_line(estimate, 100)

    answer = owner_client.get(url(estimate.job))

    assert (answer.status_code, answer.url) == (302, reverse("estimates:estimate", args=[estimate.job_id]))


def test_staff_get_no_pdf(staff_client: Browser) -> None:
    assert staff_client.get(url(make_priced("USD").job)).status_code == 403


def make_materials(job: Job, rooms: int) -> None:
    plywood = make_material()
    pale = make_ladder(plywood)[0]
    lot = make_lot(material=plywood)
    make_stack(pale, rooms, lot)
    halves = list(giving.free_halves([plywood]))
    first = job.rooms.count() + 1
    for number in range(first, first + rooms):
        room = Room.objects.create(job=job, name=f"Room {number}", place=number)
        make_need(room=room, material=plywood)
        Given.objects.create(half=halves.pop(), room=room)


def test_materials_of_sixty_rooms_cost_the_queries_of_one(db: None, django_assert_num_queries: object) -> None:
    job = make_job()
    make_materials(job, 1)
    with django_assert_num_queries(6):
        summary.materials_by_room(job)

    make_materials(job, 60)

    with django_assert_num_queries(6):
        assert len(summary.materials_by_room(job)) == 61


def test_a_discount_in_per_cent_says_its_rate(owner_client: Browser) -> None:
    """5 % of 600.00 is 30.00."""
    estimate = make_estimate(discount_ppm=50_000)
    make_line(estimate, 60_000, room=make_room(job=estimate.job))

    assert "Discount, 5% -30.00" in words_of(text_of(owner_client, estimate.job)).replace("−", "-")
