"""A real browser at the real server: `manage.py start` in a process of its own, on a data folder of its own.

The fixtures end with this folder's tests: Playwright keeps an event loop running, beside which Django's other tests
could not use the database.
"""

import os
import shutil
import sys
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, sync_playwright

from tests.browser.visit import Visit
from tests.visiting import Visitor
from tests.workshop.running import Running

TODAY = "2026-11-25"
PASSWORD = "ash-and-walnut"
NAMES = ["chromium", "chromium-browser", "google-chrome", "google-chrome-stable", "microsoft-edge", "msedge", "chrome"]
PLACES = {
    "win32": [
        f"{folder}/{program}"
        for folder in filter(None, map(os.environ.get, ["PROGRAMFILES", "PROGRAMFILES(X86)", "LOCALAPPDATA"]))
        for program in ["Google/Chrome/Application/chrome.exe", "Microsoft/Edge/Application/msedge.exe"]
    ],
    "darwin": [
        "/Applications/Chromium.app/Contents/MacOS/Chromium",
        "/Applications/Google Chrome.app/Contents/MacOS/Google Chrome",
        "/Applications/Microsoft Edge.app/Contents/MacOS/Microsoft Edge",
    ],
}
FLAGS = ["--no-sandbox", "--disable-quic", "--disable-background-networking", "--disable-component-update"]
NO_BROWSER = "no Chromium, Chrome or Edge found: install one, or name it in CHROMIUM"


def chromium() -> str | None:
    """The program of a browser built on Chromium: the one CHROMIUM names, else the first found."""
    if named := os.environ.get("CHROMIUM"):
        return shutil.which(named)
    found = [path for path in map(shutil.which, NAMES) if path]
    found += [place for place in PLACES.get(sys.platform, []) if Path(place).is_file()]
    return found[0] if found else None


@pytest.fixture(scope="package")
def browser() -> Iterator[Browser]:
    program = chromium()
    if program is None and os.environ.get("CI") == "true":
        pytest.fail(NO_BROWSER)
    if program is None:
        pytest.skip(NO_BROWSER)
    with sync_playwright() as playwright:
        opened = playwright.chromium.launch(executable_path=program, args=FLAGS)
        yield opened
        opened.close()


@pytest.fixture(scope="package")
def demo(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Running]:
    """The demo, for tests that leave it as it is or need not care."""
    running = Running(tmp_path_factory.mktemp("demo"), "--demo", "--today", TODAY, DEMO_PASSWORD=PASSWORD)
    yield running
    running.stop()


@pytest.fixture(scope="package")
def demo_owner(demo: Running) -> Visitor:
    """The demo's owner, signed in once for all windows."""
    return Visitor(demo.address).sign_in("demo", PASSWORD)


@pytest.fixture
def new_shop(tmp_path: Path) -> Iterator[Running]:
    """The app as it starts the first time: no account, no job."""
    running = Running(tmp_path / "data", "--today", TODAY)
    yield running
    running.stop()


@pytest.fixture
def visit(browser: Browser) -> Iterator[Callable[..., Visit]]:
    """Open a window of its own at a server; what went wrong in it is told at the end."""
    visits: list[Visit] = []

    def begin(
        server: Running, width: int = 1280, height: int = 900, *, person: Visitor | None = None, **options: object
    ) -> Visit:
        options = {"viewport": {"width": width, "height": height}, "reduced_motion": "reduce"} | options
        window = browser.new_context(**options)
        window.set_default_timeout(10_000)
        for name, value in person.cookies.items() if person else ():
            window.add_cookies([{"name": name, "value": value, "url": server.address}])
        visits.append(Visit(window.new_page(), server.address))
        return visits[-1]

    yield begin
    for one in visits:
        one.page.context.close()
    assert [fault for one in visits for fault in one.faults] == []
