"""Sheets given to rooms, half by half, and lots shared out by quantity.

Reading order: stacks (what is free, and which sheets a count takes), rooms (what each needs and has), words,
mixing (the question before a room holds two groups), sheets (giving and taking back), swapping, lots (shares of
what is not counted in sheets).
"""

from jobs.giving.lots import free_micro, give_quantity, lots_for
from jobs.giving.mixing import WouldMix
from jobs.giving.rooms import RoomRow, halves_of, room_rows, rooms_of_sheets, sheet_materials
from jobs.giving.sheets import give, give_pieces, give_suggested, take_back
from jobs.giving.stacks import Stack, free_halves, lots_with_free, pull, stacks
from jobs.giving.swapping import swap
from jobs.giving.words import HALF_MICRO, counted, shown_sheets, told, told_halves, two_groups_words

__all__ = [
    "HALF_MICRO",
    "RoomRow",
    "Stack",
    "WouldMix",
    "counted",
    "free_halves",
    "free_micro",
    "give",
    "give_pieces",
    "give_quantity",
    "give_suggested",
    "halves_of",
    "lots_for",
    "lots_with_free",
    "pull",
    "room_rows",
    "rooms_of_sheets",
    "sheet_materials",
    "shown_sheets",
    "stacks",
    "swap",
    "take_back",
    "told",
    "told_halves",
    "two_groups_words",
]
