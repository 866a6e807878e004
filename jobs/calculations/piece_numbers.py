"""Sheet and half numbers as they are written on a list: 31, 32A, 40-44."""

import re
from collections.abc import Iterable
from itertools import groupby

MOST_PIECES = 500

NO_NUMBER = "is no sheet number"
HALF_AND_RUN = "is a half and a run at once"
BACKWARDS = "runs backwards"
TOO_MANY = "names too many sheets at once"
NO_SHEET = "names no sheet"
REASONS = (NO_NUMBER, HALF_AND_RUN, BACKWARDS, TOO_MANY, NO_SHEET)
"""Every reason a list is refused for, for the translators."""

_PIECE = re.compile(r"([0-9]{1,6})([ABab]?)(?:-([0-9]{1,6}))?", re.ASCII)


class PieceNumbersError(ValueError):
    """What was typed is no list of sheets; `would_do` are two lists that are."""

    def __init__(self, typed: str, reason: str, would_do: tuple[str, str]) -> None:
        self.typed, self.reason, self.would_do = typed[:40], reason, would_do
        super().__init__(f"{self.typed} {reason}. Type {would_do[0]} or {would_do[1]}.")


def read_pieces(text: str) -> list[tuple[int, str]]:
    """The halves a list of sheet numbers names, in the order written, each once.

    Args:
        text: numbers, numbers with A or B for a half, runs as 40-44, parted by commas or spaces [-]

    Returns:
        (sheet number, side) for each half; a number without a letter names both.

    Raises:
        PieceNumbersError: something in it is no sheet number, a run goes backwards, or it names over 500 halves.

    Example:
        >>> read_pieces("31A, 40-41")
        [(31, 'A'), (40, 'A'), (40, 'B'), (41, 'A'), (41, 'B')]

    Source:
        House rule, DEVELOPERS.md "Pieces".
    """
    pieces: dict[tuple[int, str], None] = {}
    joined = re.sub(r"\s*[-–]\s*", "-", text)
    for word in filter(None, re.split(r"[,;\s]+", joined)):
        pieces |= dict.fromkeys(_halves(word))
        if len(pieces) > MOST_PIECES:
            raise PieceNumbersError(text, TOO_MANY, ("31-80", "31, 32"))
    if not pieces:
        raise PieceNumbersError(text.strip() or "An empty list", NO_SHEET, ("31, 32", "31A, 40-44"))
    return list(pieces)


def show_pieces(pieces: Iterable[tuple[int, str]]) -> str:
    """The list that names these halves: whole sheets without a letter, runs of three and more drawn together.

    Args:
        pieces: (sheet number, side) of each half, in any order [-]

    Returns:
        the list, from the smallest up; empty for no half

    Example:
        >>> show_pieces([(31, "A"), (40, "A"), (40, "B"), (41, "A"), (41, "B"), (42, "A"), (42, "B")])
        '31A, 40-42'

    Source:
        House rule, DEVELOPERS.md "Pieces".
    """
    parts: list[list[str]] = []
    last = None
    for number, halves in groupby(sorted(set(pieces)), key=lambda piece: piece[0]):
        sides = [side for _number, side in halves]
        is_whole = len(sides) == 2
        if is_whole and last == number - 1:
            parts[-1].append(f"{number}")
        else:
            parts.append([f"{number}" if is_whole else f"{number}{sides[0]}"])
        last = number if is_whole else None
    return ", ".join(f"{run[0]}-{run[-1]}" if len(run) > 2 else ", ".join(run) for run in parts)


def _halves(word: str) -> list[tuple[int, str]]:
    """The halves of one number, half or run."""
    found = _PIECE.fullmatch(word)
    if not found:
        raise PieceNumbersError(word, NO_NUMBER, ("31, 32", "31A, 40-44"))
    first, side = int(found[1]), found[2].upper()
    last = int(found[3] or first)
    if found[3] and side:
        raise PieceNumbersError(word, HALF_AND_RUN, (f"{first}{side}", f"{first}-{last}"))
    if last < first:
        raise PieceNumbersError(word, BACKWARDS, (f"{last}-{first}", f"{first}"))
    if last - first > MOST_PIECES:
        raise PieceNumbersError(word, TOO_MANY, (f"{first}-{first + 99}", f"{first}"))
    return [(number, each) for number in range(first, last + 1) for each in side or "AB"]
