"""What the list pages of this app share: the words searched for, and one page of rows."""

from django.core.paginator import Page, Paginator
from django.db.models import QuerySet
from django.http import HttpRequest

ROWS_A_PAGE = 50


def words_of(request: HttpRequest) -> str:
    """The words a list is searched for, short and without what no database takes."""
    return request.GET.get("q", "").replace("\0", "").strip()[:80]


def page_of(request: HttpRequest, rows: QuerySet | list[int]) -> Page:
    return Paginator(rows, ROWS_A_PAGE).get_page(request.GET.get("page"))


def page_of_long(request: HttpRequest, rows: QuerySet, shown: QuerySet, *, at_once: bool = False) -> Page:
    """One page of a long list: its keys first, so that nothing is looked up for the rows before it.

    `at_once` reads all keys in one go, for rows that are costly to find, so that they are not found twice.
    """
    keys = rows.values_list("pk", flat=True)
    page = page_of(request, list(keys) if at_once else keys)
    page.object_list = list(shown.filter(pk__in=page.object_list).order_by(*rows.query.order_by))
    return page


def number_of(text: str | None) -> int | None:
    """A whole number from the address; None where there is none."""
    digits = text or ""
    return int(digits) if digits.isascii() and digits.isdigit() and len(digits) < 16 else None
