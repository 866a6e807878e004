"""The one append-only record of who did what: the trace, the way back, and the guard against doing a thing twice.

A writing rule does its work inside `recorded(...)`, which opens the transaction, reserves the client's key, and
notes every row the rule adds, saves or removes. From these notes any action can be told and taken back.
"""

from workshop.actions.record import AlreadyDone, Hand, Record, Stale, new_key, recorded
from workshop.actions.rows import UNTOLD, row_of, thing_of
from workshop.actions.told import say, sentence_of, trace
from workshop.actions.undoing import can_undo, may_undo, undo

__all__ = [
    "UNTOLD",
    "AlreadyDone",
    "Hand",
    "Record",
    "Stale",
    "can_undo",
    "may_undo",
    "new_key",
    "recorded",
    "row_of",
    "say",
    "sentence_of",
    "thing_of",
    "trace",
    "undo",
]
