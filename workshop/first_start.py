"""The one-time code that stands in the terminal while nobody has an account yet.

It is kept in the memory of the server's one process and nowhere else.
"""

import secrets
import threading
import time

from django.utils.translation import gettext as _

WRONG_TRIES = 10
PAUSE_SECONDS = 0.5

_lock = threading.Lock()
_code: str | None = None
_wrong = 0


def code() -> str:
    """The code that is good now; a new one if there is none."""
    global _code, _wrong
    with _lock:
        if _code is None:
            _code, _wrong = f"{secrets.randbelow(10**6):06d}", 0
        return _code


def check(text: str) -> bool:
    """Whether this is the code. A wrong one takes a moment; after ten a new one is printed in the terminal."""
    global _code, _wrong
    typed = "".join(text.split()).replace("-", "").encode()
    with _lock:
        if _code is None:
            return False
        if secrets.compare_digest(typed, _code.encode()):
            return True
        time.sleep(PAUSE_SECONDS)
        _wrong += 1
        if _wrong < WRONG_TRIES:
            return False
        _code = None
    print(_("Ten wrong tries. The new one-time code is %(code)s") % {"code": code()}, flush=True)
    return False


def used() -> None:
    """The first account is made: no code is good any more."""
    global _code
    with _lock:
        _code = None
