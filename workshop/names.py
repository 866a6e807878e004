"""Names that people do not tell apart when they read or say them: they differ by capitals or spaces alone."""

from collections.abc import Iterable

from django.core.exceptions import ValidationError


def check_new(name: str, known: Iterable[str], message: str) -> None:
    """Refuse a name that reads like a known one.

    Args:
        message: what is said at the field `name`; %(name)s in it is the name that is there.

    Raises:
        ValidationError: there is such a name.
    """
    typed = _read_out(name)
    for other in known:
        if _read_out(other) == typed:
            raise ValidationError({"name": ValidationError(message, params={"name": other})})


def _read_out(name: str) -> str:
    return "".join(name.split()).casefold()
