"""A window at the app: where it goes, what it does there, and every fault it meets on the way."""

import re
from pathlib import Path

import axe_playwright_python
from playwright.sync_api import ConsoleMessage, Page, Request, Response

AXE = (Path(axe_playwright_python.__file__).parent / "axe.min.js").read_text(encoding="utf-8")
STANDARDS = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa"]
RUN_AXE = """async (options) => {
  const { violations } = await axe.run(document, { resultTypes: ["violations"], preload: false, ...options });
  const shown = (one) => one.nodes.slice(0, 3).map((node) => node.html.slice(0, 160)).join(" | ");
  return violations.map((one) => `${one.id}: ${shown(one)}`);
}"""
SIDEWAYS = """() => {
  const root = document.documentElement;
  if (root.scrollWidth <= root.clientWidth) return "";
  const sticksOut = (one) => one.getBoundingClientRect().right > root.clientWidth + 1;
  const wide = [...document.body.querySelectorAll("*")].filter(sticksOut);
  return wide.slice(0, 3).map((one) => one.outerHTML.slice(0, 120)).join(" | ") || "the page itself";
}"""
ANSWERED = re.compile(r"Failed to load resource: the server responded with a status of (\d+)")


class Visit:
    """A page of the browser. Script errors, console errors and requests to others are noted as faults."""

    def __init__(self, page: Page, address: str) -> None:
        self.page, self.address = page, address.rstrip("/")
        self.faults: list[str] = []
        self.allowed: set[str] = set()
        page.on("pageerror", lambda error: self._note(f"script error: {error}"))
        page.on("console", self._hear)
        page.on("request", self._watch)

    def allow(self, *statuses: int) -> None:
        """Answers the test is about: the browser tells each refused one as an error of its own."""
        self.allowed |= {str(status) for status in statuses}

    def forgive(self, *words: str) -> None:
        """Leave out faults that a test made itself; they are the ones with any of these words."""
        self.faults = [fault for fault in self.faults if not any(each in fault for each in words)]

    def _hear(self, message: ConsoleMessage) -> None:
        answered = ANSWERED.match(message.text)
        if message.type == "error" and not (answered and answered[1] in self.allowed):
            self._note(f"console: {message.text}")

    def _watch(self, request: Request) -> None:
        if not request.url.startswith((self.address + "/", "data:", "blob:")):
            self._note(f"asked another origin: {request.url}")

    def _note(self, words: str) -> None:
        self.faults.append(f"{self.path}: {words}")

    @property
    def path(self) -> str:
        return self.page.url.removeprefix(self.address)

    def go(self, path: str) -> Response:
        """Open an address; the answer's status, headers and text are the caller's to judge."""
        return self.page.goto(self.address + path)

    def size(self, width: int, height: int = 844) -> None:
        self.page.set_viewport_size({"width": width, "height": height})

    def unroll(self) -> None:
        """Make the window as tall as the page, so that no bar that stays in place covers a part of it."""
        size = self.page.viewport_size
        tall = self.page.evaluate("document.documentElement.scrollHeight")
        self.page.set_viewport_size({"width": size["width"], "height": max(size["height"], tall)})

    def sideways(self) -> str:
        """What sticks out where the page scrolls sideways; nothing where it does not."""
        return self.page.evaluate(SIDEWAYS)

    def barriers(self, *rules: str) -> list[str]:
        """What axe finds against WCAG 2.0 to 2.2, levels A and AA, or against these rules of its alone."""
        if not self.page.evaluate("'axe' in window"):
            self.page.evaluate(AXE)
        only = {"type": "rule", "values": list(rules)} if rules else {"type": "tag", "values": STANDARDS}
        return self.page.evaluate(RUN_AXE, {"runOnly": only})
