"""How long the client's estimate takes on paper: `python -m tests.benchmarks.documents`.

A job of 60 rooms is set against a bare platypus document of the same rows and columns: tables with paragraphs as cells,
in the same typeface, without a title block or page x of y, and with its texts at hand. What is gathered and priced from
the database counts on the document's side. What is compared is the median of the processor's time of several made in
turn, so that what else the machine does weighs little. Queries are counted at 10 and at 60 rooms.
"""

import logging
import statistics
import sys
import time
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from datetime import date
from io import BytesIO
from itertools import pairwise
from pathlib import Path
from typing import TYPE_CHECKING

from tests.benchmarks import shop

if TYPE_CHECKING:
    from jobs.models import Job
    from materials.models import Material
    from workshop.models import Person

AGAINST_BARE = 2.0
ROOMS, FEW_ROOMS = 60, 10
ROUNDS = 9

SHOP = {"name": "Shop A", "trade": "Veneered panels and milled trim", "address": "1 Mill Road\nTown"}
SHOP |= {"hour_price_micro": 64_000_000}
TERMS = {
    "waste_ppm": 100_000,
    "overhead_ppm": 120_000,
    "profit_ppm": 180_000,
    "tax_ppm": 82_500,
    "valid_until": date(2027, 1, 15),
    "exclusions": "Electrical work\nPatching of plaster",
    "notes": "Sheets of one room are of one tone group.\nPrices hold for rooms fitted out in one go.",
}

Rows = list[list[str]]


@dataclass(frozen=True)
class Bare:
    """What the bare document shows: heads and rows of both tables, and the lines around them."""

    above: Sequence[str]
    prices: Rows
    materials: Rows
    below: Sequence[str]
    paper: tuple[float, float]


@dataclass(frozen=True)
class Found:
    """What was measured: medians in milliseconds, rows and pages, and queries at few rooms and at all."""

    ours: float
    bare: float
    rows: int
    pages: tuple[int, int]
    queries: tuple[int, int]

    @property
    def ratio(self) -> float:
        return self.ours / self.bare

    @property
    def holds(self) -> bool:
        return self.ratio <= AGAINST_BARE and self.queries[0] == self.queries[1]


def measure(folder: Path, rounds: int = ROUNDS, rooms: tuple[int, int] = (FEW_ROOMS, ROOMS)) -> Found:
    """Make a job of each size, count the queries of both, and time the larger one against the bare document."""
    shop.use(folder / "documents.sqlite3")
    few, job = (fit_out(count) for count in rooms)
    queries = _queries(few.pk), _queries(job.pk)
    texts = bare_of(job.pk)
    made = {"ours": ours(job.pk), "bare": bare(texts)}
    took = _medians([lambda: ours(job.pk), lambda: bare(texts)], rounds)
    pages = tuple(_pages(data) for data in made.values())
    return Found(*took, len(texts.prices) + len(texts.materials) - 2, pages, queries)


def fit_out(rooms: int) -> "Job":
    """A priced job of so many rooms, made through the rules: what each needs, has and takes, and the terms."""
    from estimates import estimate, filling
    from jobs import giving, job, needs, plan
    from jobs import rooms as room_rules
    from tests.makers import hand, make_client, make_lot, make_stack

    owner = _owner()
    materials = _materials()
    fields = {"unit_system": "us", "precision_nm": 1_587_500, "currency": "USD"}
    named = {"architect": "Studio E", "general_contractor": "Harbor Builders", "site": "5 Elm Street\nTown"}
    made = job.add(
        by=hand(owner), client=make_client(address="1 School Road\nTown"), name="Music school", **fields, **named
    )
    groups = list(materials[0].tone_groups.all())
    stacked, boards = make_lot(material=materials[0]), make_lot(material=materials[1], quantity_micro=10**12)
    for group in groups:
        make_stack(group, rooms * 4, stacked)
    first = None
    for at in range(rooms):
        room = room_rules.add(job=made, by=hand(owner), name=f"Practice room {at + 1}")
        for material, amount in zip(materials, (5, 24, 40, 2, 300, 12), strict=True):
            needs.add(room=room, by=hand(owner), material=material, quantity_micro=amount * 1_000_000)
        giving.give(room=room, material=materials[0], group=groups[at % 3], halves=6 + at % 3, by=hand(owner))
        giving.give_quantity(room=room, lot=boards, quantity_micro=24_000_000, by=hand(owner))
        if first:
            plan.copy(room=room, by=hand(owner), source=first)
            continue
        first, rows = room, list(room.room_stages.all())
        wanted = {row.pk: plan.Planned(90, 4) for row in rows}
        plan.change(room=room, by=hand(owner), plan=wanted, was={row.pk: plan.planned(row) for row in rows})
    filled = filling.fill(job=made, by=hand(owner))
    estimate.change_terms(job=made, by=hand(owner), version=filled.version, **TERMS)
    lump = {"quantity_micro": 1_000_000, "unit": "lump", "price_micro": 250_000_000, "price_unit": "lump"}
    for room in [*made.rooms.all(), None]:
        estimate.add_line(job=made, by=hand(owner), room=room, klass="other", description="Delivery", **lump)
    return made


def _owner() -> "Person":
    from workshop.models import Person, Shop

    Shop.objects.update_or_create(pk=1, defaults=SHOP)
    return Person.objects.get_or_create(username="owner", defaults={"role": Person.Role.OWNER})[0]


def _materials() -> "list[Material]":
    """What a fit-out takes, of every kind, each with a price."""
    from materials import catalog
    from materials.models import Material
    from tests.makers import hand, make_supplier

    names = ["Ash-veneered plywood", "Solid ash 8/4", "Ash trim, eased", "Clear finish", "Screws", "Light strip"]
    kinds = [Material.Kind(kind) for kind in ("sheet", "lumber", "trim", "finish", "fastener", "light")]
    if found := list(Material.objects.filter(name__in=names).order_by("pk")):
        return found
    owner, supplier = _owner(), make_supplier()
    made = [catalog.add(by=hand(owner), kind=kind, name=name) for kind, name in zip(kinds, names, strict=True)]
    for material in made:
        price = {"price_micro": 18_400_000, "from_on": date(2026, 10, 1)}
        catalog.add_price(material=material, supplier=supplier, by=hand(owner), **price)
    return made


def ours(job: int) -> bytes:
    """The document as the page gives it, from the job's number on."""
    from estimates import estimate, pricing, summary
    from jobs.models import Job

    return summary.pdf(pricing.priced(estimate.current(Job.objects.get(pk=job))))


def bare_of(job: int) -> Bare:
    """The texts of the document, as its tables show them."""
    from estimates import estimate, pricing, summary
    from jobs.models import Job
    from workshop.calculations.money import show_money
    from workshop.documents import PAPERS

    given = summary.gathered(pricing.priced(estimate.current(Job.objects.get(pk=job))))

    def money(minor: int | None) -> str:
        return "" if minor is None else show_money(minor, given.currency, given.language, symbol=False)

    prices = [["Room", "Materials", "Labor", "Other", "Room total"]]
    for price in (*given.rooms, given.subtotal):
        amounts = (price.materials_minor, price.labor_minor, price.other_minor, price.total_minor)
        prices.append([price.room, *map(money, amounts)])
    prices += [[tax.name, "", "", "", money(tax.tax_minor)] for tax in given.taxes]
    prices.append(["Total", "", "", "", money(given.total_minor)])
    materials = [["Room", "Material", "Quantity", "Lot", "Tone group"]]
    for room in given.materials:
        for at, line in enumerate(room.lines):
            tones = ", ".join(tone.words for tone in line.tones)
            materials.append(["" if at else room.room, line.material, line.quantity, line.lot, tones])
    materials += [["All rooms", material, quantity, "", ""] for material, quantity in given.material_totals]
    named = (given.client, given.job, given.architect, given.general_contractor, given.site)
    above = [*given.letterhead.address, *(f"{fact.name} {fact.line}" for fact in named if fact)]
    return Bare(above, prices, materials, [*given.exclusions, *given.notes], PAPERS[given.paper])


def bare(given: Bare) -> bytes:
    """What one writes first with the library: paragraphs, and tables with a paragraph in each cell."""
    from reportlab.lib.styles import ParagraphStyle
    from reportlab.platypus import Paragraph, SimpleDocTemplate, Table

    from workshop.documents.lettering import HAIR, REGULAR, SEMIBOLD, typeface

    for font in (REGULAR, SEMIBOLD):
        typeface(font)
    body = ParagraphStyle("body", fontName=REGULAR, fontSize=10.5, leading=13)
    strong = ParagraphStyle("strong", parent=body, fontName=SEMIBOLD)
    figure = ParagraphStyle("figure", parent=body, alignment=2)

    def table(rows: Rows, widths: Sequence[float], figures: Sequence[int]) -> Table:
        styles = [strong if at == 0 else figure if at in figures else body for at in range(len(widths))]
        cells = [[Paragraph(text, style) for text, style in zip(row, styles, strict=True)] for row in rows]
        return Table(cells, colWidths=widths, repeatRows=1, style=[("LINEBELOW", (0, 0), (-1, -1), 0.35, HAIR)])

    file = BytesIO()
    story = [
        *(Paragraph(text, body) for text in given.above),
        table(given.prices, (150, 90, 90, 90, 100), (1, 2, 3, 4)),
        table(given.materials, (100, 180, 80, 40, 120), (2,)),
        *(Paragraph(text, body) for text in given.below),
    ]
    SimpleDocTemplate(file, pagesize=given.paper, initialFontName=REGULAR).build(story)
    return file.getvalue()


def _medians(makers: Sequence[Callable[[], object]], rounds: int) -> list[float]:
    """The median milliseconds of processor each takes, made in turn."""
    took: list[list[float]] = [[] for _maker in makers]
    for _round in range(rounds):
        begun = [time.process_time()]
        for make in makers:
            make()
            begun.append(time.process_time())
        for times, (start, end) in zip(took, pairwise(begun), strict=True):
            times.append((end - start) * 1000)
    return [statistics.median(times) for times in took]


def _queries(job: int) -> int:
    from django.db import connection
    from django.test.utils import CaptureQueriesContext

    ours(job)
    with CaptureQueriesContext(connection) as queries:
        ours(job)
    return len(queries)


def _pages(data: bytes) -> int:
    from pypdf import PdfReader

    return len(PdfReader(BytesIO(data)).pages)


def tell(found: Found) -> bool:
    """The line of what was measured, and whether it holds."""
    queries = "/".join(map(str, dict.fromkeys(found.queries)))
    print(f"{'document':14}{'rows':>6}{'pages':>7}{'ms':>8}{'bare':>8}{'ratio':>7}  queries")
    print(
        f"{'cost summary':14}{found.rows:6}{found.pages[0]:7}{found.ours:8.1f}{found.bare:8.1f}{found.ratio:7.2f}"
        f"  {queries}{'' if found.holds else '  too much'}"
    )
    print(f"{found.ratio:.2f} of bare tables of the same rows ({AGAINST_BARE:.0f} allowed)")
    return found.holds


def main() -> int:
    with shop.folder() as folder:
        shop.set_up(folder)
        logging.disable(logging.CRITICAL)
        return 0 if tell(measure(Path(folder))) else 1


if __name__ == "__main__":
    sys.exit(main())
