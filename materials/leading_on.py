"""Where a lot goes next. Rooms are known above: an app there appends to GOES_TO a function that tells the address."""

from collections.abc import Callable

from materials.models import Lot

GOES_TO: list[Callable[[Lot], str]] = []


def next_url(lot: Lot) -> str:
    """The page where a lot is given out; empty where no app gives any."""
    return next((url for ask in GOES_TO if (url := ask(lot))), "")
