"""The order as it goes to the supplier: what is bought, described in full, for how much, by when, and where to.

Plain values in, PDF out: no database, no request, no clock. It adds nothing up: every amount comes from the order
and is written by the function that writes it on the screen.
"""

from dataclasses import dataclass
from datetime import date

from babel import Locale
from babel.numbers import get_currency_name
from django.utils import translation
from django.utils.translation import gettext as _
from reportlab.platypus import Flowable

from workshop.calculations.money import show_money, show_price
from workshop.documents import (
    Column,
    Fact,
    Foot,
    Grand,
    Letterhead,
    Sum,
    build,
    facts,
    full_date,
    notes,
    table,
    title,
)


@dataclass(frozen=True)
class Party:
    """A name and what stands under it: a supplier and its address, the shop and where to deliver."""

    name: str
    lines: tuple[str, ...] = ()


@dataclass(frozen=True)
class Line:
    """One material: name, full description, how much as text with its unit, and the price of one such unit."""

    material: str
    description: str
    quantity: str
    price_micro: int
    amount_minor: int


@dataclass(frozen=True)
class Due:
    """A payment: what it is, its day, how much, and the day it was paid where it was."""

    what: str
    due_on: date
    amount_minor: int
    paid_on: date | None = None


@dataclass(frozen=True)
class OrderSheet:
    """All that the document says.

    `lead` is the lead time as quoted; without a promise the order follows from it. `waits_for` names the samples
    that are to be approved before the supplier begins.
    """

    letterhead: Letterhead
    number: str
    language: str
    currency: str
    paper: str
    day: date
    supplier: Party
    deliver_to: Party
    lines: tuple[Line, ...]
    freight_minor: int
    total_minor: int
    lead: str
    placed_on: date | None = None
    expected_on: date | None = None
    promised_on: date | None = None
    charges_minor: int = 0
    charges_what: str = ""
    payments: tuple[Due, ...] = ()
    note: tuple[str, ...] = ()
    waits_for: tuple[str, ...] = ()
    is_cancelled: bool = False


def order_sheet(given: OrderSheet) -> bytes:
    """The document as PDF, in the language given."""
    with translation.override(given.language):
        numbered = _("%(name)s %(number)s") % {"name": _("Purchase order"), "number": given.number}
        story = [
            title(_title(given, numbered), _("Total"), _money(given, given.total_minor, symbol=True)),
            facts(_facts(given)),
            _lines(given),
        ]
        if given.payments:
            story.append(_payments(given))
        story.append(notes([(_("Notes"), given.note)]))
        return build(
            story,
            title=f"{numbered}, {given.supplier.name}",
            language=given.language,
            day=given.day,
            paper=given.paper,
            letterhead=given.letterhead,
            foot=Foot(
                given.letterhead.name,
                given.supplier.name,
                numbered,
                full_date(given.day, given.language),
                job_label=_("Supplier"),
            ),
        )


def _title(given: OrderSheet, numbered: str) -> str:
    if given.is_cancelled:
        return _("%(order)s, cancelled") % {"order": numbered}
    return _("%(order)s, on hold") % {"order": numbered} if given.waits_for else numbered


def _money(given: OrderSheet, minor: int, symbol: bool = False) -> str:
    return show_money(minor, given.currency, given.language, symbol=symbol)


def _facts(given: OrderSheet) -> list[Fact]:
    told = [
        Fact(_("To"), given.supplier.name, "\n".join(given.supplier.lines)),
        Fact(_("Deliver to"), given.deliver_to.name, "\n".join(given.deliver_to.lines)),
        _when(given),
    ]
    if given.waits_for and not given.is_cancelled:
        told.append(Fact(_("On hold"), _("Begin when we release it"), _held_words(given)))
    return told


def _held_words(given: OrderSheet) -> str:
    return _("To be approved first: %(samples)s") % {"samples": "; ".join(given.waits_for)}


def _when(given: OrderSheet) -> Fact:
    """The day the shop counts on: as promised, else as it follows from the lead time quoted."""
    quoted = _("Lead time quoted: %(lead)s") % {"lead": given.lead}
    placed = given.placed_on and _("Ordered %(day)s") % {"day": full_date(given.placed_on, given.language)}
    more = "\n".join(filter(None, [placed, quoted]))
    if given.promised_on:
        return Fact(_("Promised for"), full_date(given.promised_on, given.language), more)
    if given.expected_on:
        return Fact(_("Expected"), full_date(given.expected_on, given.language), more)
    return Fact(_("Wanted"), _("By the lead time quoted"), more)


def _lines(given: OrderSheet) -> Flowable:
    columns = [
        Column(_("Material"), share=1.5, strong=True),
        Column(_("Description"), share=3),
        Column(_("Quantity"), share=0.8, right=True),
        Column(_("Price of one"), share=0.8, right=True),
        Column(_("Amount"), share=0.9, right=True, strong=True),
    ]
    rows = [
        [
            line.material,
            line.description,
            line.quantity,
            show_price(line.price_micro, given.currency, given.language, symbol=False),
            _money(given, line.amount_minor),
        ]
        for line in given.lines
    ]
    sums = [Sum([_("Freight"), "", "", "", _money(given, given.freight_minor)])]
    if given.charges_minor:
        sums.append(Sum([given.charges_what or _("Other charges"), "", "", "", _money(given, given.charges_minor)]))
    total = _("Total, %(currency)s") % {"currency": _currency_name(given)}
    return table(_("What is ordered"), columns, rows, sums=sums, grand=Grand(total, _money(given, given.total_minor)))


def _payments(given: OrderSheet) -> Flowable:
    """Days of payment have a column where any payment is paid."""
    is_paid = any(due.paid_on for due in given.payments)
    columns = [
        Column(_("Payment"), share=2, strong=True),
        Column(_("Due")),
        *([Column(_("Paid"))] if is_paid else []),
        Column(_("Amount"), right=True, strong=True),
    ]

    def day(day: date | None) -> str:
        return full_date(day, given.language) if day else ""

    rows = [
        [due.what, day(due.due_on), *([day(due.paid_on)] if is_paid else []), _money(given, due.amount_minor)]
        for due in given.payments
    ]
    return table(_("Payments"), columns, rows)


def _currency_name(given: OrderSheet) -> str:
    return get_currency_name(given.currency, count=2, locale=Locale.parse(given.language.replace("-", "_")))
