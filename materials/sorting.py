"""Sorting a lot's sheets by tone: one handling each, onto the stack of a tone group or set aside.

A stack is a lot's sheets of one group; a sheet's place in it only ever counts up, so that two people can sort
one lot at once. Who sorts gets the next sheet with the answer, and nobody else gets it meanwhile.

HELD_BY is where an app above tells which sheets are in use: it appends a function that takes sheets, a list or
a queryset, and returns by their keys where they belong ("Practice 4"). Such a sheet is neither sorted again
nor set aside. IN_USE is the same for lists: functions that return the keys of such sheets as a query, of all or of
those in the queryset they are given.
"""

from collections.abc import Callable, Iterable
from datetime import timedelta

from django.core.exceptions import ValidationError
from django.db.models import Max, Q, QuerySet
from django.urls import reverse
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from materials.models import Lot, Sheet, ToneGroup
from workshop import actions, clock
from workshop.actions import Hand, Record, recorded, thing_of
from workshop.models import Action, Person

HELD_BY: list[Callable[[Iterable[Sheet]], dict[int, str]]] = []
IN_USE: list[Callable[[QuerySet | None], QuerySet]] = []

REASONS = [
    gettext_lazy("Edge split"),
    gettext_lazy("Face scratched"),
    gettext_lazy("Veneer loose"),
    gettext_lazy("Corner crushed"),
    gettext_lazy("Warped"),
    gettext_lazy("Figure does not fit"),
]
AT_WORK_FOR = timedelta(minutes=10)
ON_THE_PAD = ("sheet.sort", "sheet.set_aside")


class SortedMeanwhile(Exception):
    """Somebody else handled the sheet first: `sheet` is as it is now."""

    def __init__(self, sheet: Sheet) -> None:
        super().__init__(f"sheet {sheet.number} was handled meanwhile")
        self.sheet = sheet


def held(sheets: Iterable[Sheet]) -> dict[int, str]:
    """Where sheets belong that are in use, by their keys; the others are left out."""
    found: dict[int, str] = {}
    for ask in HELD_BY:
        found |= ask(sheets)
    return found


def in_use(among: QuerySet | None = None) -> Q:
    """The condition for sheets that are in use somewhere; looked up among a few of them where these are named."""
    return Q(*(Q(pk__in=ask(among)) for ask in IN_USE), _connector=Q.OR) if IN_USE else Q(pk__in=[])


def sort(*, sheet: Sheet, group: ToneGroup, by: Hand, version: int | None = None) -> Sheet:
    """Put a sheet on the stack of a group.

    Args:
        version: the sheet as the person saw it, to sort again one that was sorted or set aside.

    Raises:
        SortedMeanwhile: it was sorted or set aside, and no version says that this was seen.
        Stale: it was handled since the version given.
    """
    about = [sheet.lot, group]
    with recorded(by, "sheet.sort", sheet, about=about, lot=sheet.lot.number, sheet=sheet.number) as record:
        sheet = _take(sheet, version)
        if group.material_id != sheet.lot.material_id:
            raise ValidationError(_("This tone group is of another material. Choose one of this lot's groups."))
        if sheet.tone_group_id != group.pk:
            changes = {"tone_group": group, "place": _top_of(sheet.lot, group) + 1, "sorted_by": by.person}
            record.save(sheet, version=version, set_aside_on=None, set_aside_why="", **changes)
        _close(record, sheet, by, group=group.name)
    return sheet


def set_aside(*, sheet: Sheet, why: str, by: Hand, version: int | None = None) -> Sheet:
    """Take a sheet out of the sorting, with the reason; it cannot be given to a room until it is put back."""
    about = [sheet.lot]
    with recorded(by, "sheet.set_aside", sheet, about=about, lot=sheet.lot.number, sheet=sheet.number) as record:
        sheet = _take(sheet, version)
        changes = {"tone_group": None, "place": None, "sorted_by": by.person, "set_aside_on": clock.today()}
        record.save(sheet, version=version, set_aside_why=why, **changes)
        _close(record, sheet, by, why=why)
    return sheet


def put_back(*, sheet: Sheet, by: Hand, version: int) -> Sheet:
    """Set aside no longer: it waits to be sorted again."""
    about = [sheet.lot]
    with recorded(by, "sheet.put_back", sheet, about=about, lot=sheet.lot.number, sheet=sheet.number) as record:
        sheet = _locked(sheet)
        _check_stays(sheet)
        record.save(sheet, version=version, set_aside_on=None, set_aside_why="", sorted_by=None)
        record.answer = reverse("materials:sheet", args=[sheet.pk])
    return sheet


def describe(*, sheet: Sheet, by: Hand, version: int, note: str, is_damaged: bool) -> Sheet:
    about = [sheet.lot]
    with recorded(by, "sheet.note", sheet, about=about, lot=sheet.lot.number, sheet=sheet.number) as record:
        record.answer = reverse("materials:sheet", args=[sheet.pk])
        record.save(sheet, version=version, note=note, is_damaged=is_damaged)
    return sheet


def next_sheet(lot: Lot, person: Person | None, after: int = 0) -> Sheet | None:
    """What a person sorts next: the first unsorted sheet after a number that nobody else has in hand.

    At the end it begins again at the front; with no number it is the sheet handed to this person last.
    """
    in_hand = hands_at(lot)
    mine = in_hand.pop(person.pk, None) if person else None
    taken = {number for number in in_hand.values() if number}
    waiting = list(lot.sheets.unsorted().order_by("number"))
    if not after and mine:
        after = mine - 1
    free = [sheet for sheet in waiting if sheet.number not in taken] or waiting
    return next((sheet for sheet in free if sheet.number > after), free[0] if free else None)


def hands_at(lot: Lot) -> dict[int, int | None]:
    """Who sorted in this lot in the last minutes, and the number each was handed last."""
    recent = (
        Action.objects.filter(about__thing=thing_of(lot), verb__in=ON_THE_PAD, undone_by=None)
        .filter(recorded_at__gte=clock.now() - AT_WORK_FOR, person__isnull=False)
        .order_by("pk")
        .values_list("person_id", "words")
    )
    return {person: words.get("next") for person, words in recent}


def _close(record: Record, sheet: Sheet, by: Hand, **words: str) -> None:
    following = next_sheet(sheet.lot, by.person, after=sheet.number)
    record.words |= {**words, "next": following.number if following else None}
    record.answer = reverse("materials:sort", args=[sheet.lot_id])


def _take(sheet: Sheet, version: int | None) -> Sheet:
    """The sheet as it is now, if this person may move it, with its lot locked until the transaction ends."""
    sheet = _locked(sheet)
    if version is None and (sheet.tone_group_id or sheet.set_aside_on):
        raise SortedMeanwhile(sheet)
    if sheet.left_on:
        raise ValidationError(_("Sheet %(sheet)s left the shop.") % {"sheet": sheet.number})
    _check_stays(sheet)
    if room := held([sheet]).get(sheet.pk):
        message = _("Sheet %(sheet)s is given to %(room)s. Take it back from there first, or sort another.")
        raise ValidationError(message, params={"sheet": sheet.number, "room": room})
    return sheet


def _check_stays(sheet: Sheet) -> None:
    if hasattr(sheet, "sheet_return"):
        message = _("Sheet %(sheet)s goes back to the supplier. Say first that it stays, or handle another.")
        raise ValidationError(message, params={"sheet": sheet.number})


def _locked(sheet: Sheet) -> Sheet:
    Lot.objects.select_for_update().get(pk=sheet.lot_id)
    return Sheet.objects.select_related("lot__material", "tone_group", "sorted_by", "sheet_return").get(pk=sheet.pk)


def _top_of(lot: Lot, group: ToneGroup) -> int:
    return Sheet.objects.filter(lot=lot, tone_group=group).aggregate(top=Max("place"))["top"] or 0


def _check_undo(action: Action) -> None:
    """No way back from sorting a sheet that a room has got since."""
    sheet = actions.row_of(action.thing)
    if sheet and (room := held([sheet]).get(sheet.pk)):
        message = _("Not taken back: sheet %(sheet)s is given to %(room)s. Take it back from there first.")
        raise ValidationError(message, params={"sheet": sheet.number, "room": room})


actions.say("sheet.sort", gettext_lazy("Lot %(lot)s: sheet %(sheet)s to %(group)s"), check_undo=_check_undo)
actions.say("sheet.set_aside", gettext_lazy("Lot %(lot)s: sheet %(sheet)s set aside: %(why)s"))
actions.say("sheet.put_back", gettext_lazy("Lot %(lot)s: sheet %(sheet)s no longer set aside"), check_undo=_check_undo)
actions.say("sheet.note", gettext_lazy("Lot %(lot)s: note on sheet %(sheet)s"))
