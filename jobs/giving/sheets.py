"""Giving sheets and halves to rooms, and taking them back. A half is in one room at most."""

from collections.abc import Iterable, Sequence

from django.core.exceptions import ValidationError
from django.urls import reverse
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy, ngettext

from jobs.giving.rooms import rooms_of_sheets
from jobs.giving.stacks import pull
from jobs.giving.words import told_halves
from jobs.models import Given, Job, Room
from materials import sorting
from materials.models import Half, Lot, Material, ToneGroup
from workshop import actions
from workshop.actions import Hand, Record, recorded
from workshop.models import Action

MOST_TOLD = 6


def give(*, room: Room, material: Material, group: ToneGroup, halves: int, by: Hand, answer: str = "") -> list[Given]:
    """Give a count of one tone group to a room, from the stacks' tops.

    Raises:
        ValidationError: the group has fewer free.
    """
    with recorded(by, "sheets.give", room, room=room.name) as record:
        record.answer = answer or reverse("jobs:giving", args=[room.job_id])
        _lock(material)
        chosen = pull(material, group, halves)
        record.words["what"] = told_halves(chosen)
        return _give(record, room, chosen)


def give_pieces(*, room: Room, lot: Lot, pieces: Sequence[tuple[int, str]], by: Hand) -> list[Given]:
    """Give single sheets and halves of a lot, by the numbers on their backs.

    Raises:
        ValidationError: a number is not in the lot, is set aside or gone, or is in a room; all of them are named.
    """
    with recorded(by, "sheets.give", room, room=room.name) as record:
        record.answer = reverse("jobs:room_sheets", args=[room.pk])
        _lock(lot.material)
        found = _found(lot, pieces)
        _check_pieces(room, found, pieces)
        chosen = [found[piece] for piece in pieces if not hasattr(found[piece], "given")]
        if not chosen:
            message = _("These are in %(room)s already. Name others, or leave it as it is.")
            raise ValidationError({"pieces": ValidationError(message, params={"room": room.name})})
        record.words["what"] = told_halves(chosen)
        return _give(record, room, chosen)


def _found(lot: Lot, pieces: Sequence[tuple[int, str]]) -> dict[tuple[int, str], Half]:
    numbers = {number for number, _side in pieces}
    halves = Half.objects.filter(sheet__lot=lot, sheet__number__in=numbers)
    halves = halves.select_related("sheet__tone_group", "sheet__lot", "given__room")
    return {(half.sheet.number, half.side): half for half in halves}


def _check_pieces(room: Room, found: dict[tuple[int, str], Half], pieces: Sequence[tuple[int, str]]) -> None:
    problems = []
    for number, side in pieces:
        half = found.get((number, side))
        name = {"name": f"{number}{side}"}
        if half is None:
            problems.append(_("%(name)s is not in this lot") % name)
        elif half.sheet.set_aside_on:
            problems.append(_("%(name)s is set aside") % name)
        elif half.sheet.left_on:
            problems.append(_("%(name)s went back to the supplier") % name)
        elif hasattr(half, "given") and half.given.room_id != room.pk:
            problems.append(_("%(name)s is in %(room)s") % {**name, "room": half.given.room.name})
    if problems:
        told = "; ".join(problems[:MOST_TOLD])
        message = _("%(problems)s. Take them off the list, or free them first.")
        raise ValidationError({"pieces": ValidationError(message, params={"problems": told})})


def take_back(*, room: Room, halves: Iterable[Half], by: Hand) -> None:
    """Take halves back from a room; they lie free on their stacks again.

    Raises:
        ValidationError: none of them is in the room.
    """
    with recorded(by, "sheets.take_back", room, room=room.name) as record:
        record.answer = reverse("jobs:room_sheets", args=[room.pk])
        rows = Given.objects.select_for_update(of=("self",)).filter(room=room, half__in=[half.pk for half in halves])
        given = list(rows.select_related("half__sheet__lot", "half__sheet__tone_group"))
        if not given:
            message = _("None of these is in the room. Choose a sheet that is, or leave it as it is.")
            raise ValidationError({"halves": message})
        taken = [row.half for row in given]
        record.words["what"] = told_halves(taken)
        _tell_of(record, room, taken)
        record.remove_many(given)


def give_suggested(*, job: Job, material: Material, plan: Sequence[tuple[Room, ToneGroup, int]], by: Hand) -> None:
    """Give what was suggested, all of it in one action.

    Raises:
        ValidationError: nothing is suggested, or something of it is not free any more; nothing is given then.
    """
    if not plan:
        raise ValidationError(_("Nothing is suggested now: no room lacks sheets, or none are free."))
    names = list({room.pk: room.name for room, _group, _halves in plan}.values())
    rooms = ngettext("%(count)s room", "%(count)s rooms", len(names)) % {"count": len(names)}
    words = {"material": material.name, "rooms": rooms if len(names) > MOST_TOLD else ", ".join(names)}
    with recorded(by, "sheets.give_suggested", job, about=[job, material], **words) as record:
        record.answer = reverse("jobs:giving", args=[job.pk])
        _lock(material)
        for room, group, halves in plan:
            _give(record, room, pull(material, group, halves))


def _give(record: Record, room: Room, halves: Sequence[Half]) -> list[Given]:
    _tell_of(record, room, halves)
    return record.add_many([Given(half=half, room=room) for half in halves])


def _tell_of(record: Record, room: Room, halves: Sequence[Half]) -> None:
    sheets = {half.sheet_id: half.sheet for half in halves}.values()
    lots = {sheet.lot_id: sheet.lot for sheet in sheets}.values()
    record.about(room.job, room, *lots, *sheets)


def _lock(material: Material) -> None:
    """Nobody else gives, sorts or sets aside sheets of this material until the transaction ends."""
    list(Lot.objects.select_for_update().filter(material=material).order_by("pk").values_list("pk"))


def _check_given_again(action: Action) -> None:
    """Halves that were taken back go into their room again only while their sheets can be given."""
    halves = [noted["fields"]["half_id"] for noted in action.before]
    gone = Half.objects.filter(pk__in=halves).exclude(sheet__set_aside_on=None, sheet__left_on=None)
    if half := gone.select_related("sheet").first():
        message = _("Not taken back: sheet %(sheet)s was set aside or went back since. Put it back first.")
        raise ValidationError(message, params={"sheet": half.sheet.number})


sorting.HELD_BY.append(rooms_of_sheets)

actions.say("sheets.give", gettext_lazy("%(room)s: %(what)s given"))
actions.say("sheets.take_back", gettext_lazy("%(room)s: %(what)s taken back"), check_undo=_check_given_again)
actions.say("sheets.give_suggested", gettext_lazy("%(material)s given as suggested to %(rooms)s"))
