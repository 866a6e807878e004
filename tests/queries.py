"""How many queries a page costs."""

from django.core.cache import cache
from django.db import connection
from django.test import Client as Browser
from django.test.utils import CaptureQueriesContext


def queries_of(browser: Browser, url: str) -> int:
    """The queries of one page, with nothing remembered from the page before."""
    browser.get(url)
    cache.clear()
    with CaptureQueriesContext(connection) as queries:
        assert browser.get(url).status_code == 200
    return len(queries)
