"""A window at the app: where it goes, what it does there, and every fault it meets on the way."""

import re
from pathlib import Path

import axe_playwright_python

AXE = (Path(axe_playwright_python.__file__).parent / "axe.min.js").read_text(encoding="utf-8")
STANDARDS = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa"]
RUN_AXE = """async (options) => {
  const { violations } = await axe.run(document, { resultTypes: ["violations"], preload: false, ...options });
  return violations.map((one) => `${one.id}: ${one.nodes.slice(0, 3).map((node) => node.html.slice(0, 160)).join(" | ")}`);
}"""
SIDEWAYS = """() => {
  const root = document.documentElement;
  if (root.scrollWidth <= root.clientWidth) return "";
  const wide = [...document.body.querySelectorAll("*")].filter((one) => one.getBoundingClientRect().right > root.clientWidth + 1);
  return wide.slice(0, 3).map((one) => one.outerHTML.slice(0, 120)).join(" | ") || "the page itself";
}"""
ANSWERED = re.compile(r"Failed to load resource: the server responded with a status of (\d+)")


class Visit:
    """A page of the browser. Script errors, console errors and requests to others are noted as faults."""

    def __init__(self, page: object, address: str) -> None:
        self.page, self.address = page, address.rstrip("/")
        self.faults: list[str] = []
        self.allowed: set[str] = set()
        page.on("pageerror", lambda error: self._note(f"script error: {error}"))
        page.on("console", self._hear)
        page.on("request", self._watch)

    def allow(self, *statuses: int) -> None:
        """Answers the test is about: the browser tells each refused one as an error of its own."""
        self.allowed |= {str(status) for status in statuses}

    def _hear(self, message: object) -> None:
        answered = ANSWERED.match(message.text)
        if message.type == "error" and not (answered and answered[1] in self.allowed):
            self._note(f"console: {message.text}")

    def _watch(self, request: object) -> None:
        if not request.url.startswith((self.address + "/", "data:", "blob:")):
            self._note(f"asked another origin: {request.url}")

    def _note(self, words: str) -> None:
        self.faults.append(f"{self.path}: {words}")

    @property
    def path(self) -> str:
        return self.page.url.removeprefix(self.address)

    def go(self, path: str) -> object:
        """Open an address; the answer's status, headers and text are the caller's to judge."""
        return self.page.goto(self.address + path)

    def sign_in(self, username: str, password: str) -> "Visit":
        self.go("/login/")
        self.page.fill("#id_username", username)
        self.page.fill("#id_password", password)
        self.page.click("main button")
        self.page.wait_for_url(self.address + "/")
        return self

    def size(self, width: int, height: int = 844) -> None:
        self.page.set_viewport_size({"width": width, "height": height})

    def sideways(self) -> str:
        """What sticks out where the page scrolls sideways; nothing where it does not."""
        return self.page.evaluate(SIDEWAYS)

    def barriers(self, *rules: str) -> list[str]:
        """What axe finds against WCAG 2.0 to 2.2, levels A and AA, or against these rules of its alone."""
        if not self.page.evaluate("'axe' in window"):
            self.page.evaluate(AXE)
        only = {"type": "rule", "values": list(rules)} if rules else {"type": "tag", "values": STANDARDS}
        return self.page.evaluate(RUN_AXE, {"runOnly": only})
