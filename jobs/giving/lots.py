"""Lots that are not counted in sheets, shared out to rooms by quantity."""

from django.core.exceptions import ValidationError
from django.db.models import F, Q, Sum
from django.db.models.functions import Coalesce
from django.urls import reverse
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from jobs.models import LotShare, Need, Room
from materials.models import Lot, Material
from workshop import actions
from workshop.actions import Hand, recorded
from workshop.calculations import units
from workshop.language import decimal_mark
from workshop.models import Action


def lots_for(room: Room) -> list[Lot]:
    """Lots a room can have something of, each with `free_micro`; what it needs first, then by material and age."""
    needed = set(Need.objects.filter(room=room).values_list("material", flat=True))
    own = dict(room.lot_shares.values_list("lot", "quantity_micro"))
    lots = Lot.objects.exclude(material__kind=Material.Kind.SHEET).select_related("material")
    lots = lots.annotate(shared_micro=Coalesce(Sum("shares__quantity_micro"), 0))
    found = list(lots.filter(Q(quantity_micro__gt=F("shared_micro")) | Q(pk__in=own)))
    for lot in found:
        lot.free_micro = lot.quantity_micro - int(lot.shared_micro) + own.get(lot.pk, 0)
    return sorted(found, key=lambda lot: (lot.material_id not in needed, lot.material.name, lot.number))


def give_quantity(*, room: Room, lot: Lot, quantity_micro: int, by: Hand) -> None:
    """Let a room have so much of a lot that is not counted in sheets; nothing takes its share back.

    Raises:
        ValidationError: the lot has less that is free.
    """
    words = {"room": room.name, "lot": lot.number, "what": _shown(lot, quantity_micro)}
    with recorded(by, "lot.give", room, about=[room.job, lot, lot.material], **words) as record:
        record.answer = reverse("jobs:room", args=[room.pk])
        lot = Lot.objects.select_for_update(of=["self"]).select_related("material").get(pk=lot.pk)
        free = free_micro(lot, room)
        if quantity_micro > free:
            message = _("Lot %(lot)s has %(free)s for this room. Type that or less, or take another lot.")
            would_do = [units.edit_quantity(units.from_micro(free), lot.material.unit, decimal_mark())]
            params = {"lot": lot.number, "free": _shown(lot, free), "would_do": would_do}
            raise ValidationError({"quantity_micro": ValidationError(message, params=params)})
        share = LotShare.objects.filter(lot=lot, room=room).first()
        if share is None and quantity_micro:
            record.add(LotShare(lot=lot, room=room, quantity_micro=quantity_micro))
        elif share and quantity_micro:
            record.save(share, quantity_micro=quantity_micro)
        elif share:
            record.remove(share)


def free_micro(lot: Lot, room: Room) -> int:
    """What a room can have of a lot: all that no other room has."""
    others = lot.shares.exclude(room=room).aggregate(n=Coalesce(Sum("quantity_micro"), 0))["n"]
    return max(lot.quantity_micro - int(others), 0)


def _shown(lot: Lot, micro: int) -> str:
    return units.show_quantity(units.from_micro(micro), lot.material.unit, decimal_mark())


def _check_shares(action: Action) -> None:
    """A share comes back only while the lot has so much left."""
    shares = LotShare.objects.filter(pk__in=[int(noted["row"].split(":")[1]) for noted in action.after])
    for share in shares.select_related("lot__material", "room"):
        Lot.objects.select_for_update().get(pk=share.lot_id)
        free = free_micro(share.lot, share.room)
        if share.quantity_micro > free:
            words = {"lot": share.lot.number, "free": _shown(share.lot, free)}
            raise ValidationError(_("Not taken back: lot %(lot)s has only %(free)s left now."), params=words)


actions.say("lot.give", gettext_lazy("%(room)s: %(what)s of lot %(lot)s"), check_undo=_check_shares)
