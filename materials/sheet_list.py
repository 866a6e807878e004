"""All sheets of the shop, found by number, tone group and state."""

import re

from django.db.models import F, Q, QuerySet
from django.utils.translation import gettext_lazy as _

from materials import sorting
from materials.models import Sheet, ToneGroup

STATES = {
    "free": _("Free on a stack"),
    "given": _("Given to a room"),
    "unsorted": _("Not sorted"),
    "aside": _("Set aside"),
    "back": _("Goes back"),
    "left": _("Left the shop"),
    "damaged": _("Damaged"),
}
ORDERS = {
    "newest": _("Newest lot first"),
    "oldest": _("Oldest lot first"),
    "tone": _("Light to dark"),
}
# Lots are numbered as they are made, so their keys sort as their numbers do, and an index holds them.
_ORDERED_BY = {
    "newest": ["-lot_id", "number"],
    "oldest": ["lot_id", "number"],
    "tone": [F("tone_group__place").asc(nulls_last=True), "lot_id", F("place").asc(nulls_last=True), "number"],
}
SHOWN = Sheet.objects.select_related("lot__material", "tone_group")
_PIECE = re.compile(r"([0-9]{1,9})-([0-9]{1,9})[ABab]?", re.ASCII)
_NUMBER = re.compile(r"[0-9]{1,9}", re.ASCII)


def find(*, words: str = "", state: str = "", group: str = "", order: str = "newest") -> QuerySet[Sheet]:
    """The sheets that fit; with no state, those that are in the shop.

    Args:
        words: 8-31 for sheet 31 of lot 8, a number for a lot or a sheet, else part of a material, flitch or note
        state: one of STATES, or nothing
        group: the name of a tone group, or nothing
        order: one of ORDERS
    """
    sheets = Sheet.objects.all() if state in ("left", "back") else Sheet.objects.here()
    sheets = sheets.filter(_in_state(state), _called(words))
    if group:
        sheets = sheets.filter(tone_group__in=ToneGroup.objects.filter(name=group).values("pk"))
    return sheets.order_by(*_ORDERED_BY.get(order, _ORDERED_BY["newest"]))


def group_names() -> list[str]:
    """The names of the tone groups of all materials, light to dark, each once."""
    names = ToneGroup.objects.order_by("place", "name").values_list("name", flat=True)
    return list(dict.fromkeys(names))


def _in_state(state: str) -> Q:
    free = Q(tone_group__isnull=False, left_on=None)
    asked = Q(sheet_return__isnull=False)
    conditions = {
        "free": free & ~sorting.in_use(),
        "given": sorting.in_use(),
        "unsorted": Q(tone_group=None, set_aside_on=None),
        "aside": Q(set_aside_on__isnull=False) & ~asked,
        "back": asked & Q(left_on=None),
        "left": Q(left_on__isnull=False),
        "damaged": Q(is_damaged=True),
    }
    return conditions.get(state, Q())


def _called(words: str) -> Q:
    if not words:
        return Q()
    if piece := _PIECE.fullmatch(words):
        return Q(lot__number=int(piece[1]), number=int(piece[2]))
    if _NUMBER.fullmatch(words):
        return Q(lot__number=int(words)) | Q(number=int(words))
    return Q(lot__material__name__icontains=words) | Q(flitch__iexact=words) | Q(note__icontains=words)
