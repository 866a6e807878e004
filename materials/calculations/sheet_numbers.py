"""Numbers of whole sheets as they are written on a list: 3, 17, 20-24."""

import re
from collections.abc import Iterable

MOST_SHEETS = 500

NO_NUMBER = "is no sheet number"
BACKWARDS = "runs backwards"
TOO_MANY = "names too many sheets at once"
NO_SHEET = "names no sheet"
REASONS = (NO_NUMBER, BACKWARDS, TOO_MANY, NO_SHEET)
"""Every reason a list is refused for, for the translators."""

_WORD = re.compile(r"([0-9]{1,6})(?:-([0-9]{1,6}))?", re.ASCII)


class SheetNumbersError(ValueError):
    """What was typed is no list of sheets.

    Attributes:
        typed: the part that cannot be read
        reason: one of REASONS
        would_do: two lists that can be read
    """

    def __init__(self, typed: str, reason: str, would_do: tuple[str, str]) -> None:
        self.typed, self.reason, self.would_do = typed[:40], reason, would_do
        super().__init__(f"{self.typed} {reason}. Type {would_do[0]} or {would_do[1]}.")


def read_sheet_numbers(text: str) -> list[int]:
    """The sheets a list names, in the order written, each once.

    Args:
        text: numbers and runs as 20-24, parted by commas or spaces [-]

    Returns:
        the numbers, from 1 up

    Raises:
        SheetNumbersError: something in it is no sheet number, a run goes backwards, or it names over 500 sheets.

    Example:
        >>> read_sheet_numbers("3, 17, 20-22")
        [3, 17, 20, 21, 22]

    Source:
        House rule, DEVELOPERS.md "Pieces".
    """
    numbers: dict[int, None] = {}
    joined = re.sub(r"\s*[-–]\s*", "-", text)
    for word in filter(None, re.split(r"[,;\s]+", joined)):
        numbers |= dict.fromkeys(_run(word))
        if len(numbers) > MOST_SHEETS:
            raise SheetNumbersError(text, TOO_MANY, ("31-80", "31, 32"))
    if not numbers:
        raise SheetNumbersError(text.strip() or "An empty list", NO_SHEET, ("3, 17", "1-12"))
    return list(numbers)


def show_sheet_numbers(numbers: Iterable[int]) -> str:
    """The list that names these sheets, with runs of three and more drawn together.

    Args:
        numbers: sheet numbers in any order [-]

    Returns:
        the list, from the smallest up; empty for no number

    Example:
        >>> show_sheet_numbers([3, 22, 17, 20, 21])
        '3, 17, 20-22'
    """
    runs: list[list[int]] = []
    for number in sorted(set(numbers)):
        if runs and number == runs[-1][1] + 1:
            runs[-1][1] = number
        else:
            runs.append([number, number])
    return ", ".join(part for first, last in runs for part in _shown(first, last))


def _run(word: str) -> range:
    found = _WORD.fullmatch(word)
    if not found or not int(found[1]):
        raise SheetNumbersError(word, NO_NUMBER, ("3, 17", "1-12"))
    first, last = int(found[1]), int(found[2] or found[1])
    if last < first:
        raise SheetNumbersError(word, BACKWARDS, (f"{last or 1}-{first}", f"{first}"))
    if last - first >= MOST_SHEETS:
        raise SheetNumbersError(word, TOO_MANY, (f"{first}-{first + 99}", f"{first}"))
    return range(first, last + 1)


def _shown(first: int, last: int) -> list[str]:
    if last - first >= 2:
        return [f"{first}-{last}"]
    return [f"{number}" for number in range(first, last + 1)]
