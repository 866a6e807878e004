"""How long the lists and the progress page take: `python -m tests.benchmarks.pages`, or with the names of some.

Each page is set against a plain Django view of the same rows and columns, and against itself with a tenth of the data,
with as many rows to a page in both as the shortest list of a tenth has. All four are asked for in turn, and the medians
of the processor's time are compared, so that what else the machine does weighs little. Queries are counted at both
sizes with nothing remembered, and their plans are read for big tables without an index. What a page costs right after
an action, when what is late is worked out anew for the whole shop, is told beside; it is no ratio.
"""

import logging
import sys
import time
from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass, field
from pathlib import Path
from statistics import median
from typing import TYPE_CHECKING

from tests.benchmarks import shop

if TYPE_CHECKING:
    from django.test import Client

    from tests.benchmarks.asked import Asked

AGAINST_PLAIN, AGAINST_A_TENTH = 2.0, 1.3
ROUNDS, ROWS_IN_BOTH = 21, 16


@dataclass
class Found:
    """What was measured of a page: milliseconds, queries with all the data and with a tenth, tables read whole."""

    page: float = 0.0
    plain: float = 0.0
    few: float = 0.0
    few_of_a_tenth: float = 0.0
    anew: float = 0.0
    queries: tuple[int, int] = (0, 0)
    read_whole: set[str] = field(default_factory=set)

    @property
    def against_plain(self) -> float:
        return self.page / self.plain

    @property
    def against_a_tenth(self) -> float:
        return self.few / self.few_of_a_tenth

    @property
    def faults(self) -> list[str]:
        said = {
            "over a plain view": self.against_plain > AGAINST_PLAIN,
            "over a tenth": self.against_a_tenth > AGAINST_A_TENTH,
            "more queries": self.queries[0] > self.queries[1],
            f"no index: {', '.join(sorted(self.read_whole))}": bool(self.read_whole),
        }
        return [words for words, is_so in said.items() if is_so]


def measure(files: dict[str, Path], wanted: Sequence[str]) -> dict["Asked", Found]:
    """Measure every page; who asks for single pages names them."""
    from tests.benchmarks import asked, plans

    browsers = {}
    for size, file in files.items():
        shop.use(file)
        browsers[size] = _signed_in()
    shop.use(files["all"])
    big = plans.big_tables()
    pages = [page for page in asked.PAGES if not wanted or page.name in wanted or page.plain in wanted]
    return {page: _of_one(page, files, browsers, big) for page in pages}


def _signed_in() -> "Client":
    from django.test import Client

    from workshop.models import Person

    browser = Client()
    browser.force_login(Person.objects.get(username="person0"))
    return browser


def _of_one(page: "Asked", files: dict[str, Path], browsers: dict[str, "Client"], big: set[str]) -> Found:
    from tests.benchmarks import asked, plans

    found, counted, address = Found(), {}, {}
    for size in ("tenth", "all"):
        shop.use(files[size])
        address[size], plain = asked.addresses(page)
        with _rows_to_a_page(ROWS_IN_BOTH):
            counted[size] = _queries(browsers[size], address[size])
    found.queries = len(counted["all"]), len(counted["tenth"])
    found.read_whole = plans.scanned(counted["all"], big) - page.reads - asked.READ_BY_ALL
    found.anew = _anew(browsers["all"], address["all"])
    asks = [
        lambda: browsers["all"].get(address["all"]),
        lambda: browsers["all"].get(plain),
        _with_few_rows(lambda: browsers["all"].get(address["all"])),
        _with_few_rows(lambda: browsers["tenth"].get(address["tenth"])),
    ]
    where = [files["all"]] * 3 + [files["tenth"]]
    found.page, found.plain, found.few, found.few_of_a_tenth = _medians(asks, where)
    return found


def _with_few_rows(ask: Callable[[], object]) -> Callable[[], object]:
    def few() -> object:
        with _rows_to_a_page(ROWS_IN_BOTH):
            return ask()

    return few


def _medians(asks: list[Callable[[], object]], where: list[Path]) -> list[float]:
    """The median milliseconds of processor each takes, asked for in turn."""
    took: list[list[float]] = [[] for _ask in asks]
    for _round in range(ROUNDS + 1):
        for ask, file, times in zip(asks, where, took, strict=True):
            shop.use(file)
            times.append(_milliseconds(ask))
    return [median(times[1:]) for times in took]


def _milliseconds(ask: Callable[[], object]) -> float:
    begun = time.process_time()
    answer = ask()
    took = (time.process_time() - begun) * 1000
    assert answer.status_code == 200, answer.status_code
    return took


def _queries(browser: "Client", address: str) -> list[str]:
    """The queries of a page with nothing remembered from the page before."""
    from django.core.cache import cache
    from django.db import connection
    from django.test.utils import CaptureQueriesContext

    browser.get(address)
    cache.clear()
    with CaptureQueriesContext(connection) as queries:
        assert browser.get(address).status_code == 200, address
    return [query["sql"] for query in queries.captured_queries]


def _anew(browser: "Client", address: str) -> float:
    """The milliseconds of a page right after an action, when nothing is remembered."""
    from django.core.cache import cache

    def ask() -> object:
        cache.clear()
        return browser.get(address)

    return median(_milliseconds(ask) for _round in range(3))


@contextmanager
def _rows_to_a_page(rows: int) -> Iterator[None]:
    """Let every list show as many rows, so that a list with a tenth of the data is as long."""
    from django.core.paginator import Paginator

    real = Paginator.__init__

    def begin(self: Paginator, objects: object, _per_page: int, *args: object, **options: object) -> None:
        real(self, objects, rows, *args, **options)

    Paginator.__init__ = begin
    try:
        yield
    finally:
        Paginator.__init__ = real


def make(folder: Path) -> dict[str, Path]:
    """The two databases: all of the data, and a tenth of it."""
    from tests.benchmarks import volume

    files = {"all": folder / "all.sqlite3", "tenth": folder / "tenth.sqlite3"}
    for file, part in zip(files.values(), (1, 10), strict=True):
        is_new = not file.exists()
        shop.use(file)
        if is_new:
            volume.fill(part)
    return files


def tell(found: dict["Asked", Found]) -> bool:
    """A line for each page, and whether all of them hold."""
    print(f"{'page':44}{'ms':>6}{'plain':>7}{'ratio':>7}{'tenth':>7}{'anew':>7}  queries")
    for page, row in found.items():
        queries = "/".join(map(str, dict.fromkeys(row.queries)))
        words = f"  {'; '.join(row.faults)}" if row.faults else ""
        print(
            f"{page.name:44}{row.page:6.1f}{row.plain:7.1f}{row.against_plain:7.2f}"
            f"{row.against_a_tenth:7.2f}{row.anew:7.1f}  {queries}{words}"
        )
    ratios = [row.against_plain for row in found.values()], [row.against_a_tenth for row in found.values()]
    print(f"at most {max(ratios[0]):.2f} of a plain view (2 allowed), {max(ratios[1]):.2f} of a tenth (1.3 allowed)")
    missed = [page.name for page, row in found.items() if row.faults]
    print(f"missed: {', '.join(missed)}" if missed else f"all {len(found)} pages hold")
    return not missed


def main() -> int:
    with shop.folder() as folder:
        shop.set_up(folder)
        logging.disable(logging.CRITICAL)
        from django.conf import settings

        settings.ROOT_URLCONF = "tests.benchmarks.plain_urls"
        found = measure(make(Path(folder)), sys.argv[1:])
        return 0 if tell(found) else 1


if __name__ == "__main__":
    sys.exit(main())
