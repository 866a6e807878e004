"""Swapping: some sheets come to a room and others go back on their stacks, in one action."""

from collections.abc import Collection, Sequence

from django.core.exceptions import ValidationError
from django.urls import reverse
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from jobs.calculations.piece_numbers import show_pieces
from jobs.giving import mixing
from jobs.giving.sheets import check_pieces, check_usable, found_pieces, give_halves, lock, tell_of
from jobs.giving.words import told_halves
from jobs.models import Given, Room
from materials.models import Half, Lot
from workshop import actions
from workshop.actions import Hand, recorded
from workshop.models import Action


def swap(
    *,
    room: Room,
    halves: Collection[Half],
    lot: Lot,
    pieces: Sequence[tuple[int, str]],
    by: Hand,
    may_mix: bool = True,
) -> None:
    """Give a room pieces of a lot, by the numbers on their backs, and take others back from it.

    Args:
        halves: what goes back on its stack.
        pieces: sheet number and side of what comes.
        may_mix: False asks before the room holds a tone group more.

    Raises:
        WouldMix: the room would hold a tone group more.
        ValidationError: nothing of what goes back is in the room, or a piece is in a room, set aside or gone.
    """
    with recorded(by, "sheets.swap", room, room=room.name) as record:
        record.answer = reverse("jobs:room_sheets", args=[room.pk])
        lock({lot.material_id, *(half.sheet.lot.material_id for half in halves)})
        rows = Given.objects.filter(room=room, half__in=[half.pk for half in halves])
        leaving = list(rows.select_related("half__sheet__lot", "half__sheet__tone_group"))
        if not leaving:
            message = _("None of these is in the room. Choose a sheet that is, or give without taking back.")
            raise ValidationError({"halves": message})
        found = found_pieces(lot, pieces)
        check_pieces(room, found, pieces)
        coming = [found[piece] for piece in pieces]
        _check_new(room, coming)
        if not may_mix:
            mixing.check(room, coming, leaving={row.half_id for row in leaving})
        back = [row.half for row in leaving]
        record.words |= {"what": told_halves(coming), "back": told_halves(back)}
        tell_of(record, room, back)
        record.remove_many(leaving)
        give_halves(record, room, coming)


def _check_new(room: Room, coming: Sequence[Half]) -> None:
    """Refuse to give what the room has already, also where it is among what goes back."""
    here = [(half.sheet.number, half.side) for half in coming if hasattr(half, "given")]
    if here:
        message = _("In %(room)s already: %(pieces)s. Name others, or take back without giving.")
        params = {"pieces": show_pieces(here), "room": room.name}
        raise ValidationError({"pieces": ValidationError(message, params=params)})


def _check_undo(action: Action) -> None:
    """What went back comes into the room again only while its sheets can be given."""
    check_usable([noted["fields"]["half_id"] for noted in action.before if noted["fields"]])


actions.say("sheets.swap", gettext_lazy("%(room)s: %(what)s given for %(back)s taken back"), check_undo=_check_undo)
