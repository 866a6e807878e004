"""The client's cost summary of a large job, read back with pypdf: whole rows, right sums, no query for each room."""

import io
import re
from datetime import date

import pytest
from django.db import connection
from django.test import Client as Browser
from django.test.utils import CaptureQueriesContext
from django.urls import reverse
from pypdf import PdfReader
from pytest_django import Settings

from estimates import pricing, summary
from estimates.documents.cost_summary import MaterialLine, RoomMaterials, RoomPrice, cost_summary
from estimates.models import Estimate
from tests.estimates.test_cost_summary import summary_of, text_of, texts_of
from tests.makers import (
    make_client,
    make_drawing,
    make_estimate,
    make_job,
    make_line,
    make_material,
    make_need,
    make_revision,
    make_room,
)
from workshop.models import Shop

LONG_ROOM = "Recital room with the balcony, the two stairs and the doors to the lobby, " * 3


@pytest.fixture(autouse=True)
def shop(settings: Settings, db: None) -> None:
    settings.FIXED_TODAY = date(2026, 11, 25)
    contact = {"address": "1 Mill Rd\n\nTown", "phone": "555-0100", "email": "shop@example.com"}
    Shop.objects.update_or_create(pk=1, defaults={"name": "Shop A", "trade": "Panels and trim", **contact})


def make_large(rooms: int, **terms: object) -> Estimate:
    """So many rooms, each with materials, labor and two needs, in amounts that do not divide evenly."""
    job = make_job(name="Music school", client=make_client())
    estimate = make_estimate(job=job, profit_ppm=180_000, tax_ppm=82_500, **terms)
    plywood, ash = make_material(), make_material(kind="lumber")
    for place in range(1, rooms + 1):
        room = make_room(job=job, name=f"Practice {place}", place=place)
        make_line(estimate, 100_003 + 7 * place, room=room)
        make_line(estimate, 33_331, room=room, klass="labor")
        for material in (plywood, ash):
            make_need(room=room, material=material)
    return estimate


def pages_of(browser: Browser, estimate: Estimate) -> list[str]:
    answer = browser.get(reverse("estimates:summary_pdf", args=[estimate.job_id]))
    return [page.extract_text() for page in PdfReader(io.BytesIO(answer.content)).pages]


def cents(text: str) -> int:
    return int(re.sub("[^0-9]", "", text))


@pytest.mark.parametrize("paper", ["letter", "a4"])
def test_sixty_rooms_stand_whole_and_add_up_to_the_total_of_the_page(owner_client: Browser, paper: str) -> None:
    Shop.objects.update(paper=paper)
    estimate = make_large(60)

    pages = pages_of(owner_client, estimate)

    prices = "\n".join(pages).partition("Materials by room")[0]
    rows = [re.search(rf"^Practice {n}\n(.+)\n(.+)\n(.+)$", prices, re.MULTILINE) for n in range(1, 61)]
    amounts = [[cents(amount) for amount in row.groups()] for row in rows]
    price = pricing.priced(estimate).price
    assert [sum(row[:2]) for row in amounts] == [row[2] for row in amounts]
    assert sum(row[2] for row in amounts) + price.tax_minor == price.total_minor
    page = owner_client.get(reverse("estimates:estimate", args=[estimate.job_id])).content.decode()
    total = cents(re.search(r"Total, US dollars\n(.+)", prices)[1])
    assert total == price.total_minor
    assert f"{total / 100:,.2f}" in page


def test_every_page_of_sixty_rooms_says_which_it_is_and_begins_with_a_head(owner_client: Browser) -> None:
    pages = pages_of(owner_client, make_large(60, notes="Wood varies."))

    assert len(pages) > 3
    for number, text in enumerate(pages, start=1):
        assert f"Page\n{number} of {len(pages)}" in text
    for text in pages[1:]:
        assert text.startswith(("Price by room, continued\nRoom\n", "Materials by room, continued\nRoom\n"))
    assert "Notes\nWood varies." in pages[-1]
    assert "Practice 60" in pages[-1]


def test_a_room_that_goes_over_the_end_of_a_page_keeps_two_lines_on_each_and_is_named_on_both() -> None:
    lines = tuple(MaterialLine(f"Material {n}", f"{n} sheets") for n in range(1, 10))
    rooms = tuple(RoomMaterials(f"Practice {n}", lines) for n in range(1, 61))

    pages = texts_of(summary_of(60, materials=rooms))

    begins = [text.partition("Quantity\n")[2] for text in pages if "Materials by room, continued" in text]
    cut = [text for text in begins if not re.match(r"Practice \d+\nMaterial 1\n", text)]
    assert len(cut) > 5
    for text in cut:
        name, first = re.match(r"(Practice \d+),\s+continued\nMaterial (\d+)\n", text).groups()
        assert 3 <= int(first) <= 8
        assert sum(f"{name}\nMaterial 1\n" in page for page in pages) == 1


def test_the_whole_document_costs_the_same_queries_for_10_and_60_rooms() -> None:
    counts = []
    for rooms in (10, 60):
        estimate = make_large(rooms)
        with CaptureQueriesContext(connection) as queries:
            summary.pdf(pricing.priced(Estimate.objects.get(pk=estimate.pk)))
        counts.append(len(queries))

    assert counts[0] == counts[1]


def test_a_room_name_of_200_letters_wraps_and_is_printed_whole() -> None:
    name = LONG_ROOM[:200]
    given = summary_of(
        1,
        rooms=(RoomPrice(name, 1_00, 1_00),),
        materials=(RoomMaterials(name, (MaterialLine("Ash", "1 sheet"), MaterialLine("Trim", "2 ft"))),),
    )

    text = "".join(text_of(given).split())

    assert text.count("".join(name.split())) == 2


def test_long_notes_run_on_and_lose_no_word() -> None:
    words = [f"word{number}" for number in range(2_000)]

    text = text_of(summary_of(12, notes=(" ".join(words),)))

    assert [word for word in text.split() if word.startswith("word")] == words


def test_the_letterhead_says_how_to_reach_the_shop(owner_client: Browser) -> None:
    text = " ".join(pages_of(owner_client, make_large(1))[0].split())

    assert text.startswith("Shop A Panels and trim 1 Mill Rd Town 555-0100, shop@example.com Cost summary")


def test_the_revision_stands_with_its_year(owner_client: Browser) -> None:
    estimate = make_large(1)
    make_revision(drawing=make_drawing(job=estimate.job), dated_on=date(2026, 11, 19))

    assert "Drawings\nRev A, Nov 19, 2026\n" in pages_of(owner_client, estimate)[0]


def test_every_font_of_the_document_is_embedded() -> None:
    given = summary_of(3, notes=("Ωδείο, Łódź, ½, ′, ″, Ω, é",))

    pages = PdfReader(io.BytesIO(cost_summary(given))).pages

    fonts = [font.get_object() for page in pages for font in page["/Resources"]["/Font"].get_object().values()]
    assert fonts
    assert all("FlitchbookSans" in font["/BaseFont"] for font in fonts)
    assert all("/FontFile2" in font["/FontDescriptor"] for font in fonts)
