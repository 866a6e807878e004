"""Every page of the demo in a real browser: it answers, is quiet, fits, and shuts nobody out.

Accessibility is judged by axe-core against WCAG 2.0, 2.1 and 2.2, levels A and AA (https://www.w3.org/TR/WCAG22/).
Page width: WCAG 2.2, 1.4.10 Reflow asks for 320 CSS pixels without scrolling sideways.
"""

from collections.abc import Callable, Iterator
from urllib.parse import urljoin, urlsplit

import pytest
from django.urls import Resolver404, get_resolver, resolve

from tests.browser.conftest import PASSWORD
from tests.browser.visit import Visit
from tests.visiting import Visitor
from tests.workshop.running import Running

pytestmark = pytest.mark.browser

PHONE, SMALL, DESK = (390, 844), (320, 640), (1280, 900)
BESIDE = {"front:first_start", "front:login", "front:health", "front:work", "front:work_cancel"}
LEADS_AWAY = {"front:logout"}
A_KIND = 2


def address_names() -> set[str]:
    """The name of every address the app has."""
    return {
        f"{space}:{name}"
        for space, (_prefix, resolver) in get_resolver().namespace_dict.items()
        for name in resolver.reverse_dict
        if isinstance(name, str)
    }


def name_of(path: str) -> str:
    try:
        return resolve(urlsplit(path).path).view_name
    except Resolver404:
        return ""


class Walked:
    """All addresses links lead to from the first page on, with what they answered, and all forms send to."""

    def __init__(self, visitor: Visitor) -> None:
        self.answers: dict[str, int] = {}
        self.policies: dict[str, str] = {}
        self.forms: dict[str, str] = {}
        to_do = ["/"]
        while to_do:
            path = to_do.pop(0)
            if path in self.answers:
                continue
            answer = visitor.get(path)
            self.answers[path] = answer.status
            self.policies[path] = answer.headers.get("content-security-policy", "")
            if "html" not in answer.headers.get("content-type", ""):
                continue
            page = answer.page
            for form in page.changing:
                self.forms.setdefault(urlsplit(urljoin(path, form.action)).path, path)
            to_do += [to for to in (_inside(path, link) for link in page.links) if to]

    def names(self) -> set[str]:
        return {name_of(path) for path in self.answers}

    def samples(self) -> Iterator[str]:
        """The first and the last address of each kind; a kind is a view and what is asked of it."""
        kinds: dict[tuple[str, str], list[str]] = {}
        for path in self.answers:
            parts = urlsplit(path)
            asked = ",".join(sorted(part.split("=")[0] for part in parts.query.split("&")))
            kinds.setdefault((name_of(path), asked), []).append(path)
        for paths in kinds.values():
            yield from dict.fromkeys([paths[0], paths[-1]])


def _inside(path: str, link: str) -> str:
    parts = urlsplit(urljoin(f"http://here{path}", link))
    if parts.netloc != "here" or parts.scheme != "http":
        return ""
    return parts.path + (f"?{parts.query}" if parts.query else "")


@pytest.fixture(scope="module")
def walked(demo: Running) -> Walked:
    return Walked(Visitor(demo.address).sign_in("demo", PASSWORD))


def test_every_link_leads_to_a_page(walked: Walked) -> None:
    refused = {path: status for path, status in walked.answers.items() if status != 200}

    assert refused == {}


def test_every_address_is_led_to_by_a_link_or_a_form(walked: Walked) -> None:
    led_to = walked.names() | {name_of(path) for path in walked.forms}

    assert address_names() - led_to - BESIDE == set()


def test_addresses_that_only_forms_send_to_refuse_to_be_opened(walked: Walked, demo: Running) -> None:
    visitor = Visitor(demo.address).sign_in("demo", PASSWORD)
    only_forms = {name_of(path): path for path in walked.forms if name_of(path) not in walked.names()}

    answers = {name: visitor.get(path).status for name, path in only_forms.items()}

    assert answers == dict.fromkeys(only_forms, 405)


def test_staff_meet_no_link_that_is_not_for_them(demo: Running) -> None:
    walked = Walked(Visitor(demo.address).sign_in("ari", PASSWORD))

    assert {path: status for path, status in walked.answers.items() if status != 200} == {}


def test_every_page_says_whom_the_browser_may_trust(walked: Walked) -> None:
    without = [path for path, policy in walked.policies.items() if "default-src 'self'" not in policy]
    loose = [path for path, policy in walked.policies.items() if "unsafe" in policy]

    assert without + loose == []


def test_every_page_is_quiet_fits_and_shuts_nobody_out(
    walked: Walked, demo: Running, visit: Callable[..., Visit]
) -> None:
    window = visit(demo, *PHONE).sign_in("demo", PASSWORD)
    paths = [path for path in walked.samples() if not path.endswith(".pdf") and name_of(path) not in LEADS_AWAY]

    faults = [fault for path in paths for fault in _faults(window, path)]

    assert faults == []


def test_the_doors_are_quiet_fit_and_shut_nobody_out(demo: Running, visit: Callable[..., Visit]) -> None:
    window = visit(demo, *PHONE)

    faults = _faults(window, "/login/")

    assert faults == []


def _faults(window: Visit, path: str) -> list[str]:
    """One page at three widths, in light and dark."""
    answer = window.go(path)
    found = [] if answer.status == 200 else [f"status {answer.status}"]
    for scheme in ("light", "dark"):
        window.page.emulate_media(color_scheme=scheme)
        rules = ["color-contrast"] if scheme == "dark" else []
        for width, height in (PHONE, SMALL, DESK):
            window.size(width, height)
            if stuck_out := window.sideways():
                found.append(f"sideways at {width} px, {scheme}: {stuck_out}")
            if width != SMALL[0]:
                found += [f"{width} px, {scheme}, {barrier}" for barrier in window.barriers(*rules)]
    window.page.emulate_media(color_scheme="light")
    window.size(*PHONE)
    return [f"{path}: {fault}" for fault in found]


@pytest.mark.parametrize("path", ["/login/", "/"])
def test_the_first_load_takes_less_than_200_kilobytes(path: str, demo: Running, visit: Callable[..., Visit]) -> None:
    first = visit(demo, *PHONE)
    window = visit(demo, *PHONE)
    if path != "/login/":
        window.page.context.add_cookies(first.sign_in("demo", PASSWORD).page.context.cookies())
    loaded: list[int] = []
    line = window.page.context.new_cdp_session(window.page)
    line.send("Network.enable")
    line.on("Network.loadingFinished", lambda event: loaded.append(event["encodedDataLength"]))

    window.go(path)
    window.page.wait_for_load_state("networkidle")

    assert 0 < sum(loaded) < 200_000
