"""Sheets that go back to the supplier: asked, collected, credited.

A sheet that goes back is set aside at once, so that no room gets it; it leaves the lot when it is collected. The
credit lowers the landed cost of the sheet like any credit note.
"""

from collections.abc import Sequence
from datetime import date

from django.core.exceptions import ValidationError
from django.urls import reverse
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy, ngettext

from materials import bills, sorting
from materials.calculations.sheet_numbers import show_sheet_numbers
from materials.models import Lot, Sheet, SheetReturn
from materials.veneer import sheets_of
from workshop import actions
from workshop.actions import Hand, recorded
from workshop.calculations.costs import cost, rate_from_micro
from workshop.calculations.units import quantity
from workshop.models import Action

MOST_TOLD, MOST_NAMED = 6, 12
WHY_KEPT = 120


def ask(
    *,
    lot: Lot,
    numbers: Sequence[int],
    why: str,
    asked_on: date,
    by: Hand,
    credit_expected_minor: int | None = None,
) -> list[SheetReturn]:
    """Tell that sheets go back; the credit expected for each is its price where none is told.

    Raises:
        ValidationError: a sheet is not in the lot, left it, goes back already or is in a room; all are named.
    """
    line = getattr(lot, "delivery_line", None)
    about = [lot, *([line.delivery, line.delivery.supplier] if line else [])]
    words = {"lot": lot.number, "sheets": show_sheet_numbers(numbers), "why": why}
    with recorded(by, "return.ask", about=about, **words) as record:
        sheets = sheets_of(lot, numbers, "numbers")
        _check_can_go_back(sheets)
        expected = _price_minor(lot) if credit_expected_minor is None else credit_expected_minor
        rows = [
            SheetReturn(sheet=sheet, why=why, asked_on=asked_on, credit_expected_minor=expected) for sheet in sheets
        ]
        aside = {"set_aside_on": asked_on, "set_aside_why": _("Goes back: %(why)s") % {"why": why}}
        aside["set_aside_why"] = aside["set_aside_why"][:WHY_KEPT]
        record.save_many(sheets, [{**aside, "tone_group": None, "place": None} for _sheet in sheets])
        made = record.add_many(rows)
        record.about(*sheets)
        record.thing, record.answer = lot, reverse("materials:returns")
    return made


def collect(*, rows: Sequence[SheetReturn], collected_on: date, by: Hand) -> list[SheetReturn]:
    """The supplier's driver took them: they leave their lots.

    Raises:
        ValidationError: none is named, one was collected before, or the day is before it was asked for.
    """
    with recorded(by, "return.collect") as record:
        found = _locked(rows)
        if not found:
            raise ValidationError({"rows": _("None is chosen. Mark the sheets the driver took.")})
        for row in found:
            _check_collected(row, collected_on)
        sheets = [row.sheet for row in found]
        record.save_many(sheets, [{"left_on": collected_on} for _sheet in sheets])
        record.save_many(found, [{"collected_on": collected_on} for _row in found])
        lots = {sheet.lot_id: sheet.lot for sheet in sheets}
        record.words["what"] = "; ".join(_told(lot, sheets) for lot in lots.values())
        record.about(*lots.values(), *sheets)
        record.thing, record.answer = found[0], reverse("materials:returns")
    return found


def credit(*, row: SheetReturn, number: str, dated_on: date, amount_minor: int, by: Hand) -> SheetReturn:
    """The credit note came: the sheet, and with it the delivery, costs that much less.

    Raises:
        ValidationError: it was credited before, or the credit is more than the sheet costs.
    """
    lot = row.sheet.lot
    about = [row, lot, row.sheet]
    words = {"sheet": row.sheet.number, "lot": lot.number, "bill": number}
    with recorded(by, "return.credit", row, about=about, **words) as record:
        (row,) = _locked([row])
        if row.credited_on:
            raise ValidationError(_("The credit for this sheet came before. Look at it, or take that back first."))
        if not hasattr(row.sheet.lot, "delivery_line"):
            raise ValidationError(_("This lot is of no delivery, so nothing of it was billed."))
        record.save(row, credit_received_minor=amount_minor, credited_on=dated_on)
        bill = bills.add_credit(record, row.sheet, number, dated_on, amount_minor)
        record.about(bill.delivery, bill.delivery.supplier)
        record.answer = reverse("materials:return", args=[row.pk])
    return row


def cancel(*, row: SheetReturn, by: Hand) -> None:
    """It stays after all: still set aside, until somebody puts it back."""
    lot, sheet = row.sheet.lot, row.sheet
    with recorded(by, "return.cancel", row, about=[lot, sheet], sheet=sheet.number, lot=lot.number) as record:
        (row,) = _locked([row])
        if row.collected_on or row.credited_on:
            raise ValidationError(_("This sheet was collected or credited. Take that back first."))
        record.remove(row)
        record.answer = reverse("materials:sheet", args=[sheet.pk])


def _check_can_go_back(sheets: Sequence[Sheet]) -> None:
    held = sorting.held(sheets)
    asked = set(SheetReturn.objects.filter(sheet__in=sheets).values_list("sheet", flat=True))
    problems: dict[str, list[int]] = {}
    for sheet in sheets:
        if sheet.pk in held:
            problem = _("in %(room)s") % {"room": held[sheet.pk]}
        elif sheet.left_on:
            problem = _("back at the supplier")
        elif sheet.pk in asked:
            problem = _("going back already")
        else:
            continue
        problems.setdefault(problem, []).append(sheet.number)
    if problems:
        told = "; ".join(_told_of(numbers, problem) for problem, numbers in [*problems.items()][:MOST_TOLD])
        message = _("%(problems)s. Take them off the list, or free them first.")
        raise ValidationError({"numbers": ValidationError(message, params={"problems": told[:1].upper() + told[1:]})})


def _told_of(numbers: Sequence[int], problem: str) -> str:
    parts = show_sheet_numbers(numbers).split(", ")
    words = {"sheets": ", ".join([*parts[:MOST_NAMED], "…"] if len(parts) > MOST_NAMED else parts), "problem": problem}
    return ngettext("sheet %(sheets)s is %(problem)s", "sheets %(sheets)s are %(problem)s", len(numbers)) % words


def _check_collected(row: SheetReturn, collected_on: date) -> None:
    words = {"sheet": row.sheet.number, "lot": row.sheet.lot.number}
    if row.collected_on:
        message = _("Sheet %(sheet)s of lot %(lot)s was collected before. Leave it out.")
        raise ValidationError({"rows": ValidationError(message, params=words)})
    if collected_on < row.asked_on:
        message = _("Sheet %(sheet)s of lot %(lot)s was not asked back by then. Choose a later day.")
        raise ValidationError({"collected_on": ValidationError(message, params=words)})


def _locked(rows: Sequence[SheetReturn]) -> list[SheetReturn]:
    """The returns as they are now, with nobody else at their lots until the transaction ends."""
    keys = [row.pk for row in rows]
    lots = Lot.objects.select_for_update().filter(sheets__sheet_return__in=keys)
    list(lots.order_by("pk").values_list("pk"))
    found = SheetReturn.objects.filter(pk__in=keys).select_related("sheet__lot__delivery_line__delivery__supplier")
    if found.count() < len(keys):
        raise ValidationError(_("Somebody took a return out meanwhile. Look at the list again."))
    return list(found.order_by("pk"))


def _told(lot: Lot, sheets: Sequence[Sheet]) -> str:
    numbers = show_sheet_numbers(sheet.number for sheet in sheets if sheet.lot_id == lot.pk)
    return _("lot %(lot)s, sheets %(sheets)s") % {"lot": lot.number, "sheets": numbers}


def _price_minor(lot: Lot) -> int:
    line = getattr(lot, "delivery_line", None)
    if line is None:
        return 0
    return cost(quantity(1, "sheet"), rate_from_micro(line.price_micro, lot.currency, "sheet"))


def _check_still_aside(action: Action) -> None:
    """A return comes back only while its sheet is still set aside."""
    for noted in action.before:
        sheet = Sheet.objects.filter(pk=noted["fields"]["sheet_id"]).first()
        if sheet and not sheet.set_aside_on:
            message = _("Not taken back: sheet %(sheet)s is not set aside any more. Ask for its return anew.")
            raise ValidationError(message, params={"sheet": sheet.number})


actions.say("return.ask", gettext_lazy("Lot %(lot)s: sheets %(sheets)s go back: %(why)s"))
actions.say("return.collect", gettext_lazy("Collected by the supplier: %(what)s"))
actions.say("return.credit", gettext_lazy("Lot %(lot)s: credit note %(bill)s came for sheet %(sheet)s"))
actions.say(
    "return.cancel",
    gettext_lazy("Lot %(lot)s: sheet %(sheet)s stays after all"),
    check_undo=_check_still_aside,
)
