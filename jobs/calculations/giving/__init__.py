"""Giving sheets to rooms: which tone groups go where, and in which order sheets come off a stack."""

from jobs.calculations.giving.pulling import HalvesNotToTake, Pull, StackedSheet, TooFewHalves, pull_order
from jobs.calculations.giving.suggestion import (
    GroupNotOnLadder,
    HalvesWrong,
    RoomNeed,
    RoomSuggestion,
    Suggestion,
    suggest,
)

__all__ = [
    "GroupNotOnLadder",
    "HalvesNotToTake",
    "HalvesWrong",
    "Pull",
    "RoomNeed",
    "RoomSuggestion",
    "StackedSheet",
    "Suggestion",
    "TooFewHalves",
    "pull_order",
    "suggest",
]
