"""The client's cost summary: what each room costs and is made of, what is left out, until when it holds.

Plain values in, PDF out: no database, no request, no clock. It adds nothing up: every amount comes from the
estimate and is written by the function that writes it on the screen.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

from babel import Locale
from babel.numbers import get_currency_name
from django.utils import translation
from django.utils.translation import gettext as _
from reportlab.platypus import Flowable

from workshop.calculations.money import show_money, show_percent
from workshop.documents import (
    Column,
    Fact,
    Foot,
    Grand,
    Group,
    Letterhead,
    Sum,
    Tone,
    Tones,
    build,
    facts,
    full_date,
    notes,
    table,
    title,
)


@dataclass(frozen=True)
class Named:
    """A name and a second line that says more: a client and the address, a job and what it is."""

    name: str
    line: str = ""


@dataclass(frozen=True)
class RoomPrice:
    """A room's selling price by class, before tax; a room at a fixed price has a total alone."""

    room: str
    total_minor: int
    materials_minor: int | None = None
    labor_minor: int | None = None
    other_minor: int | None = None


@dataclass(frozen=True)
class TaxLine:
    """One rate of tax on the job: its name, the rate in parts per million, what it is on, and the tax.

    `included` says that the prices hold it already.
    """

    name: str
    rate_ppm: int
    on: str
    base_minor: int
    tax_minor: int
    included: bool = False


@dataclass(frozen=True)
class MaterialLine:
    """One material of a room: how much, as text with its unit, from which lot, in which tone groups."""

    material: str
    quantity: str
    lot: str = ""
    tones: tuple[Tone, ...] = ()


@dataclass(frozen=True)
class RoomMaterials:
    room: str
    lines: tuple[MaterialLine, ...]


@dataclass(frozen=True)
class CostSummary:
    """All that the document says.

    `subtotal` holds the sums by class before discount; `discount_minor` is below zero; `material_totals` are
    material and quantity over all rooms.
    """

    letterhead: Letterhead
    number: str
    language: str
    currency: str
    paper: str
    day: date
    valid_until: date | None
    client: Named
    job: Named
    rooms: tuple[RoomPrice, ...]
    subtotal: RoomPrice
    total_minor: int
    taxes: tuple[TaxLine, ...] = ()
    discount_minor: int = 0
    discount_name: str = ""
    architect: Named | None = None
    general_contractor: Named | None = None
    site: Named | None = None
    drawings: Named | None = None
    materials: tuple[RoomMaterials, ...] = ()
    material_totals: tuple[tuple[str, str], ...] = ()
    exclusions: tuple[str, ...] = ()
    notes: tuple[str, ...] = ()


def cost_summary(given: CostSummary) -> bytes:
    """The document as PDF, in the language given."""
    with translation.override(given.language):
        name = _("Cost summary")
        numbered = f"{name} {given.number}"
        story = [
            title(name, _("Total"), _money(given, given.total_minor, symbol=True)),
            facts(_facts(given)),
            _price_by_room(given),
        ]
        if given.materials:
            story.append(_materials_by_room(given))
        story.append(notes([(_("Not included"), given.exclusions), (_("Notes"), given.notes)]))
        return build(
            story,
            title=f"{numbered}, {given.job.name}",
            language=given.language,
            day=given.day,
            paper=given.paper,
            letterhead=given.letterhead,
            foot=_foot(given, numbered),
        )


def _money(given: CostSummary, minor: int | None, symbol: bool = False) -> str:
    return "" if minor is None else show_money(minor, given.currency, given.language, symbol=symbol)


def _facts(given: CostSummary) -> list[Fact]:
    named = [
        (_("For"), given.client),
        (_("Job"), given.job),
        (_("Architect"), given.architect),
        (_("General contractor"), given.general_contractor),
        (_("Site"), given.site),
        (_("Drawings"), given.drawings),
    ]
    return [Fact(label, fact.name, fact.line) for label, fact in named if fact]


def _foot(given: CostSummary, document: str) -> Foot:
    until = (_("Valid until"), full_date(given.valid_until, given.language)) if given.valid_until else None
    return Foot(given.letterhead.name, given.job.name, document, full_date(given.day, given.language), until)


def _price_by_room(given: CostSummary) -> Flowable:
    """Classes nothing is charged for have no column."""
    priced = [*given.rooms, given.subtotal]
    classes = [
        (head, amounts)
        for head, amounts in (
            (_("Materials"), [price.materials_minor for price in priced]),
            (_("Labor"), [price.labor_minor for price in priced]),
            (_("Other"), [price.other_minor for price in priced]),
        )
        if any(amounts)
    ]
    columns = [
        Column(_("Room"), share=2, strong=True),
        *(Column(head, right=True) for head, _amounts in classes),
        Column(_("Room total"), share=1.3, right=True, strong=True),
    ]

    def row(number: int) -> list[str]:
        amounts = [*(amounts[number] for _head, amounts in classes), priced[number].total_minor]
        return [priced[number].room, *(_money(given, amount) for amount in amounts)]

    rows = [row(number) for number in range(len(given.rooms))]
    subtotal = row(len(given.rooms))
    subtotal[0] = _("Subtotal")
    return table(
        _("Price by room"),
        columns,
        rows,
        sums=[Sum(subtotal, strong=True), *_discount_and_taxes(given, len(columns) - 2)],
        grand=Grand(_("Total, %(currency)s") % {"currency": _currency_name(given)}, _money(given, given.total_minor)),
    )


def _discount_and_taxes(given: CostSummary, empty: int) -> list[Sum]:
    lines = []
    if given.discount_minor:
        lines.append((given.discount_name or _("Discount"), _money(given, given.discount_minor)))
    for tax in given.taxes:
        words = _("%(tax)s, %(rate)s on %(what)s of %(base)s") % {
            "tax": tax.name,
            "rate": show_percent(tax.rate_ppm, given.language),
            "what": tax.on,
            "base": _money(given, tax.base_minor),
        }
        words = _("In the prices: %(tax)s") % {"tax": words} if tax.included else words
        lines.append((words, _money(given, tax.tax_minor)))
    return [Sum([label, *[""] * empty, amount]) for label, amount in lines]


def _currency_name(given: CostSummary) -> str:
    return get_currency_name(given.currency, count=2, locale=Locale.parse(given.language.replace("-", "_")))


def _materials_by_room(given: CostSummary) -> Flowable:
    """Lots and tone groups have a column where any line names them."""
    lines = [line for room in given.materials for line in room.lines]
    lots = any(line.lot for line in lines)
    tones = any(line.tones for line in lines)
    columns = [
        Column(_("Room"), share=1.3, strong=True),
        Column(_("Material"), share=2.4),
        Column(_("Quantity"), share=0.9, right=True),
        *([Column(_("Lot"), share=0.5)] if lots else []),
        *([Column(_("Tone group"), share=2)] if tones else []),
    ]

    def cells(first: str, material: str, quantity: str, lot: str = "", shown: Sequence[Tone] = ()) -> list[str | Tones]:
        rest: list[str | Tones] = [
            *([lot] if lots else []),
            *([Tones(tuple(shown)) if shown else ""] if tones else []),
        ]
        return [first, material, quantity, *rest]

    groups = [
        Group(
            [
                cells("" if at else room.room, line.material, line.quantity, line.lot, line.tones)
                for at, line in enumerate(room.lines)
            ]
        )
        for room in given.materials
    ]
    totals = [
        Sum(cells("" if at else _("All rooms"), material, quantity), strong=True)
        for at, (material, quantity) in enumerate(given.material_totals)
    ]
    return table(_("Materials by room"), columns, groups, sums=totals)
