"""The hostile values as a browser can send them, for each kind of field, with names for the cases."""

import pytest

from tests import hostile

SENT = {name: text for name, text in hostile.NO_NUMBER.items() if text.isascii() or text.isprintable()}
NUMBERS = [pytest.param(text, id=name) for name, text in {"nothing": "", **SENT}.items()]
KEYS = [*NUMBERS, pytest.param("999999", id="a key that is not there")]
DAYS = [pytest.param(text, id=name) for name, text in SENT.items()] + ["0001-01-01", "9999-12-31", "30 February"]
TEXTS = [pytest.param(text, id=name) for name, text in (("too long", hostile.LONG), ("a NUL", hostile.NUL))]
