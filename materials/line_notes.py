"""What the apps above say of order lines on the order's page: cautions before it is placed, and whom a line is for.

SAID_BY is where such an app puts a function that takes lines, with their materials at hand, and returns by their
keys what it says of them.
"""

from collections import defaultdict
from collections.abc import Callable, Sequence
from dataclasses import dataclass

from materials.models import OrderLine


@dataclass(frozen=True)
class LineNote:
    """A sentence about a line; the page where the owner changes what it says, and the name of the link there."""

    text: str
    is_caution: bool = False
    url: str = ""
    link: str = ""


SAID_BY: list[Callable[[Sequence[OrderLine]], dict[int, list[LineNote]]]] = []


def put_on(lines: Sequence[OrderLine]) -> None:
    """Give each line its `notes`, all that is said of it."""
    found: dict[int, list[LineNote]] = defaultdict(list)
    for ask in SAID_BY:
        for line, notes in ask(lines).items():
            found[line] += notes
    for line in lines:
        line.notes = found[line.pk]
