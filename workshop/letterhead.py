"""The shop as it stands at the head of its documents."""

from workshop.documents import Letterhead
from workshop.models import Shop


def lines_of(text: str) -> tuple[str, ...]:
    """The lines of a text that say something."""
    return tuple(filter(None, (line.strip() for line in text.splitlines())))


def letterhead(shop: Shop) -> Letterhead:
    contact = ", ".join(filter(None, [shop.phone, shop.email]))
    return Letterhead(str(shop), shop.trade, tuple(filter(None, [*lines_of(shop.address), contact])))
