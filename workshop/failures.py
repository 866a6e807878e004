"""When something goes wrong that nobody foresaw: a page with a number, and the same number in the log."""

import logging
import secrets

from django.http import HttpRequest, HttpResponse
from django.template.loader import render_to_string
from django.utils.html import escape
from django.utils.translation import gettext as _

ALPHABET = "ABCDEFGHJKLMNPQRSTUVWXYZ23456789"

log = logging.getLogger("workshop.failures")


def new_number() -> str:
    """Six letters and figures that cannot be taken for one another when read aloud."""
    return "".join(secrets.choice(ALPHABET) for _place in range(6))


def server_error(request: HttpRequest) -> HttpResponse:
    """The page for an unforeseen error. It asks nothing of the database, which may be what failed.

    The line with the traceback is written after this by Django and carries the same number (see `logs`).
    """
    request.error_number = new_number()
    response = HttpResponse(_page(request.error_number), status=500)
    response.headers["Error-Number"] = request.error_number
    return response


def _page(number: str) -> str:
    try:
        return render_to_string("500.html", {"number": number})
    except Exception:
        log.exception("the error page itself failed", extra={"error_number": number})
        words = _("Something went wrong, and nothing was saved. Error number %(number)s stands in the log.")
        return f"<!doctype html><title>{escape(number)}</title><p>{escape(words % {'number': number})}</p>"
