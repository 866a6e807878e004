"""What the veneer mill says of sheets: flitch, set, number in the set, and which end is the top."""

from collections.abc import Sequence

from django.core.exceptions import ValidationError
from django.urls import reverse
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from materials.calculations.sheet_numbers import show_sheet_numbers
from materials.models import Lot, Sheet
from workshop import actions
from workshop.actions import Hand, recorded

MOST_NUMBER = 99_999


def describe_run(
    *,
    lot: Lot,
    numbers: Sequence[int],
    flitch: str,
    set_name: str,
    first_number: int | None,
    goes_down: bool,
    is_top_marked: bool,
    by: Hand,
) -> list[Sheet]:
    """Write what is told of a run of sheets in place of what they had.

    Args:
        numbers: the sheets, in the order they were numbered by the mill
        first_number: the number in the set of the first of them; None where they have none
        goes_down: whether the numbers in the set count down from there

    Raises:
        ValidationError: a sheet is not in the lot, or the numbers would run below 1.
    """
    step = -1 if goes_down else 1
    if first_number is not None and not 1 <= first_number + step * (len(numbers) - 1) <= MOST_NUMBER:
        message = _("%(count)s sheets counted down from %(first)s run below 1. Begin higher, or count up.")
        if not goes_down:
            message = _("%(count)s sheets from %(first)s up run past %(most)s. Begin lower, or name fewer sheets.")
        words = {"count": len(numbers), "first": first_number, "most": MOST_NUMBER}
        raise ValidationError({"first_number": ValidationError(message, params=words)})
    shown = show_sheet_numbers(numbers)
    with recorded(by, "sheets.veneer", lot, lot=lot.number, sheets=shown) as record:
        record.answer = reverse("materials:lot", args=[lot.pk])
        found = sheets_of(lot, numbers, "numbers")
        told = {"flitch": flitch, "set_name": set_name, "is_top_marked": is_top_marked}
        places = [None if first_number is None else first_number + step * place for place in range(len(numbers))]
        record.save_many(found, [{**told, "sequence_number": place} for place in places])
        record.words["what"] = said(flitch, set_name, places, is_top_marked)
    return found


def sheets_of(lot: Lot, numbers: Sequence[int], name: str) -> list[Sheet]:
    """The sheets of a lot by their numbers, in that order, locked with their lot; refused where one is not there."""
    Lot.objects.select_for_update().get(pk=lot.pk)
    sheets = Sheet.objects.select_for_update().filter(lot=lot, number__in=numbers)
    found = {sheet.number: sheet for sheet in sheets}
    if missing := [number for number in numbers if number not in found]:
        message = _("There is no sheet %(number)s in lot %(lot)s. Name others, as 3, 17.")
        raise ValidationError({name: ValidationError(message, params={"number": missing[0], "lot": lot.number})})
    return [found[number] for number in numbers]


def said(flitch: str, set_name: str, places: Sequence[int | None], is_top_marked: bool) -> str:
    """In words: flitch F3, set A, from 1, top end marked."""
    parts = []
    if flitch:
        parts.append(_("flitch %(name)s") % {"name": flitch})
    if set_name:
        parts.append(_("set %(name)s") % {"name": set_name})
    if places and places[0] is not None:
        many = len(places) > 1
        words = {"first": places[0], "last": places[-1]}
        parts.append(_("number %(first)s to %(last)s") % words if many else _("number %(first)s") % words)
    if is_top_marked:
        parts.append(_("top end marked"))
    return ", ".join(parts) or _("nothing told by the mill")


def text_of(sheet: Sheet) -> str:
    """What the mill says of one sheet; empty where it says nothing."""
    told = sheet.flitch or sheet.set_name or sheet.sequence_number or sheet.is_top_marked
    return said(sheet.flitch, sheet.set_name, [sheet.sequence_number], sheet.is_top_marked) if told else ""


actions.say("sheets.veneer", gettext_lazy("Lot %(lot)s: sheets %(sheets)s are %(what)s"))
