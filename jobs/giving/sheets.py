"""Giving sheets and halves to rooms, and taking them back. A half is in one room at most."""

from collections.abc import Collection, Iterable, Sequence

from django.core.exceptions import ValidationError
from django.db.models import QuerySet
from django.urls import reverse
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy, ngettext

from jobs.calculations.piece_numbers import show_pieces
from jobs.giving import mixing
from jobs.giving.rooms import rooms_of_sheets
from jobs.giving.stacks import pull
from jobs.giving.words import told_halves
from jobs.models import Given, Job, Room
from materials import sorting
from materials.models import Half, Lot, Material, ToneGroup
from workshop import actions
from workshop.actions import Hand, Record, recorded
from workshop.models import Action

MOST_TOLD, MOST_NAMED = 6, 12


def give(
    *,
    room: Room,
    material: Material,
    group: ToneGroup,
    halves: int,
    by: Hand,
    answer: str = "",
    may_mix: bool = True,
) -> list[Given]:
    """Give a count of one tone group to a room, from the stacks' tops; `may_mix` False asks before it holds two.

    Raises:
        WouldMix: the room would hold a tone group more.
        ValidationError: the group has fewer free.
    """
    with recorded(by, "sheets.give", room, room=room.name) as record:
        record.answer = answer or reverse("jobs:giving", args=[room.job_id])
        lock({material.pk})
        chosen = pull(material, group, halves)
        if not may_mix:
            mixing.check(room, chosen)
        record.words["what"] = told_halves(chosen)
        return give_halves(record, room, chosen)


def give_pieces(
    *, room: Room, lot: Lot, pieces: Sequence[tuple[int, str]], by: Hand, may_mix: bool = True
) -> list[Given]:
    """Give single sheets and halves of a lot, by the numbers on their backs; `may_mix` False asks as in `give`.

    Raises:
        WouldMix: the room would hold a tone group more.
        ValidationError: a number is not in the lot, is set aside or gone, or is in a room; all of them are named.
    """
    with recorded(by, "sheets.give", room, room=room.name) as record:
        record.answer = reverse("jobs:room_sheets", args=[room.pk])
        lock({lot.material_id})
        found = found_pieces(lot, pieces)
        check_pieces(room, found, pieces)
        chosen = [found[piece] for piece in pieces if not hasattr(found[piece], "given")]
        if not chosen:
            message = _("These are in %(room)s already. Name others, or leave it as it is.")
            raise ValidationError({"pieces": ValidationError(message, params={"room": room.name})})
        if not may_mix:
            mixing.check(room, chosen)
        record.words["what"] = told_halves(chosen)
        return give_halves(record, room, chosen)


def found_pieces(lot: Lot, pieces: Sequence[tuple[int, str]]) -> dict[tuple[int, str], Half]:
    numbers = {number for number, _side in pieces}
    halves = Half.objects.filter(sheet__lot=lot, sheet__number__in=numbers)
    halves = halves.select_related("sheet__tone_group", "sheet__lot", "given__room")
    return {(half.sheet.number, half.side): half for half in halves}


def check_pieces(room: Room, found: dict[tuple[int, str], Half], pieces: Sequence[tuple[int, str]]) -> None:
    problems: dict[str, list[tuple[int, str]]] = {}
    for piece in pieces:
        if problem := _problem(room, found.get(piece)):
            problems.setdefault(problem, []).append(piece)
    if problems:
        told = "; ".join(_told(named, problem) for problem, named in [*problems.items()][:MOST_TOLD])
        message = _("%(problems)s. Take them off the list, or free them first.")
        raise ValidationError({"pieces": ValidationError(message, params={"problems": told})})


def _problem(room: Room, half: Half | None) -> str:
    """Why a half cannot be given to a room, in words that follow its number; empty where it can."""
    if half is None:
        return _("not in this lot")
    if half.sheet.set_aside_on:
        return _("set aside")
    if half.sheet.left_on:
        return _("back at the supplier")
    if hasattr(half, "given") and half.given.room_id != room.pk:
        return _("in %(room)s") % {"room": half.given.room.name}
    return ""


def _told(pieces: Sequence[tuple[int, str]], problem: str) -> str:
    """What is wrong with several pieces: "44-49, 51A are in Lobby"."""
    parts = show_pieces(pieces).split(", ")
    words = {"pieces": ", ".join([*parts[:MOST_NAMED], "…"] if len(parts) > MOST_NAMED else parts), "problem": problem}
    sheets = len({number for number, _side in pieces})
    return ngettext("%(pieces)s is %(problem)s", "%(pieces)s are %(problem)s", sheets) % words


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
        tell_of(record, room, taken)
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
        lock({material.pk})
        for room, group, halves in plan:
            give_halves(record, room, pull(material, group, halves))


def give_halves(record: Record, room: Room, halves: Sequence[Half]) -> list[Given]:
    tell_of(record, room, halves)
    return record.add_many([Given(half=half, room=room) for half in halves])


def tell_of(record: Record, room: Room, halves: Sequence[Half]) -> None:
    sheets = {half.sheet_id: half.sheet for half in halves}.values()
    lots = {sheet.lot_id: sheet.lot for sheet in sheets}.values()
    record.about(room.job, room, *lots, *sheets)


def lock(materials: Collection[int]) -> None:
    """Nobody else gives, sorts or sets aside sheets of these materials until the transaction ends."""
    list(Lot.objects.select_for_update().filter(material__in=materials).order_by("pk").values_list("pk"))


def check_usable(halves: Iterable[int]) -> None:
    """Halves that were taken back go into their room again only while their sheets can be given."""
    gone = Half.objects.filter(pk__in=halves).exclude(sheet__set_aside_on=None, sheet__left_on=None)
    if half := gone.select_related("sheet").first():
        message = _("Not taken back: sheet %(sheet)s was set aside or went back since. Put it back first.")
        raise ValidationError(message, params={"sheet": half.sheet.number})


def _check_given_again(action: Action) -> None:
    check_usable([noted["fields"]["half_id"] for noted in action.before])


def _given_among(sheets: QuerySet | None) -> QuerySet:
    given = Given.objects.all() if sheets is None else Given.objects.filter(half__sheet__in=sheets.values("pk"))
    return given.values("half__sheet")


sorting.HELD_BY.append(rooms_of_sheets)
sorting.IN_USE.append(_given_among)

actions.say("sheets.give", gettext_lazy("%(room)s: %(what)s given"))
actions.say("sheets.take_back", gettext_lazy("%(room)s: %(what)s taken back"), check_undo=_check_given_again)
actions.say("sheets.give_suggested", gettext_lazy("%(material)s given as suggested to %(rooms)s"))
