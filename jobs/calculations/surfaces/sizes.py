"""What a size may be: more than zero and at most a kilometer."""

from jobs.calculations.surfaces.errors import NotASize, Told
from workshop.calculations.lengths import GRID_NM, INCH_NM, MAX_NM

NOT_A_SIZE = "%(value)s is not a size"
BELOW_ZERO = "%(value)s is below zero"
TOO_FAR = "%(value)s is more than 1 km"
A_LENGTH = "%(length)s"
NOTHING_HERE = "0 where there is none"


def check_size(value: int, field: str, of: str) -> None:
    """Refuse what is not a size.

    Args:
        value: what was typed [nm]
        field: the field it was typed in [-]
        of: the name of the thing it belongs to [-]

    Raises:
        NotASize: zero or less, or more than 1 km

    Example:
        0 is refused, 1/64 in is not.
    """
    likely = Told(A_LENGTH, {"length": abs(value) if 0 < abs(value) <= MAX_NM else 24 * INCH_NM})
    if value <= 0:
        raise NotASize(field, of, Told(NOT_A_SIZE, {"value": value}), (likely, Told(A_LENGTH, {"length": GRID_NM})))
    _check_far(value, field, of)


def check_amount(value: int, field: str, of: str) -> None:
    """Refuse what is neither a size nor nothing.

    Args:
        value: what was typed [nm]
        field: the field it was typed in [-]
        of: the name of the thing it belongs to [-]

    Raises:
        NotASize: below zero, or more than 1 km

    Example:
        0 is taken, -1 in is not.
    """
    if value < 0:
        likely = Told(A_LENGTH, {"length": min(-value, MAX_NM)})
        raise NotASize(field, of, Told(BELOW_ZERO, {"value": value}), (likely, Told(NOTHING_HERE)))
    _check_far(value, field, of)


def _check_far(value: int, field: str, of: str) -> None:
    if value > MAX_NM:
        would_do = Told(A_LENGTH, {"length": MAX_NM}), Told(A_LENGTH, {"length": MAX_NM // 1000})
        raise NotASize(field, of, Told(TOO_FAR, {"value": value}), would_do)
