"""Every page of the demo and of an empty shop in a real browser: it answers, is quiet, fits, and shuts nobody out.

Accessibility is judged by axe-core against WCAG 2.0, 2.1 and 2.2, levels A and AA (https://www.w3.org/TR/WCAG22/).
Page width: WCAG 2.2, 1.4.10 Reflow asks for 320 CSS pixels without scrolling sideways.
"""

import re
from collections.abc import Callable, Iterator
from functools import cache
from urllib.parse import urljoin, urlsplit

import pytest
from django.urls import Resolver404, get_resolver, resolve

from tests.browser.conftest import PASSWORD
from tests.browser.visit import Visit
from tests.visiting import Visitor
from tests.workshop.running import Running

pytestmark = pytest.mark.browser

PHONE, SMALL, DESK = (390, 844), (320, 640), (1280, 900)
BESIDE = {"front:first_start", "front:login", "front:health", "front:work", "front:work_cancel", "jobs:surface_sketch"}
"""Addresses no page of the demo leads to: doors, the health check, long work while there is none, a wall in typing."""


def address_names() -> set[str]:
    """The name of every address the app has."""
    return {
        f"{space}:{name}"
        for space, (_prefix, resolver) in get_resolver().namespace_dict.items()
        for name in resolver.reverse_dict
        if isinstance(name, str)
    }


@cache
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
                for action in (form.action, *form.elsewhere):
                    self.forms.setdefault(urlsplit(urljoin(path, action)).path, path)
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
            yield from (
                path
                for path in dict.fromkeys([paths[0], paths[-1]])
                if not path.endswith(".pdf") and not path.startswith("/photos/")
            )

    def refused(self) -> dict[str, int]:
        return {path: status for path, status in self.answers.items() if status != 200}


def _inside(path: str, link: str) -> str:
    parts = urlsplit(urljoin(f"http://here{path}", link))
    if parts.netloc != "here" or parts.scheme != "http":
        return ""
    return parts.path + (f"?{parts.query}" if parts.query else "")


@pytest.fixture(scope="module")
def walked(demo_owner: Visitor) -> Walked:
    """The demo, with what it lacks so that every form stands somewhere: an order to place, a group and stage unused."""
    demo_owner.fill("/orders/new/?material=1", supplier="1", quantity_micro="3")
    demo_owner.fill("/materials/1/tones/", name="Amber", color_1="#b08040")
    demo_owner.send("/jobs/1/stages/new/", demo_owner.form("/jobs/1/stages/", "lane").sent() | {"name": "Label"})
    return Walked(demo_owner)


def test_every_link_leads_to_a_page(walked: Walked) -> None:
    assert walked.refused() == {}


def test_every_address_is_led_to_by_a_link_or_a_form(walked: Walked) -> None:
    led_to = walked.names() | {name_of(path) for path in walked.forms}

    assert address_names() - led_to - BESIDE == set()


def test_addresses_that_only_forms_send_to_refuse_to_be_opened(walked: Walked, demo_owner: Visitor) -> None:
    opened = walked.names()
    only_forms = {name_of(path): path for path in walked.forms if name_of(path) not in opened}

    answers = {name: demo_owner.get(path).status for name, path in only_forms.items()}

    assert answers == dict.fromkeys(only_forms, 405)


def test_staff_meet_no_link_that_is_not_for_them(demo: Running) -> None:
    walked = Walked(Visitor(demo.address).sign_in("ari", PASSWORD))

    assert walked.refused() == {}


def test_every_page_says_whom_the_browser_may_trust(walked: Walked) -> None:
    without = [path for path, policy in walked.policies.items() if "default-src 'self'" not in policy]
    loose = [path for path, policy in walked.policies.items() if "unsafe" in policy]

    assert without + loose == []


def test_every_page_is_quiet_fits_and_shuts_nobody_out(
    walked: Walked, demo: Running, demo_owner: Visitor, visit: Callable[..., Visit]
) -> None:
    window = visit(demo, *PHONE, person=demo_owner)

    faults = [fault for path in walked.samples() for fault in _faults(window, path)]

    assert not faults, "\n".join(faults)


def test_every_page_of_an_empty_shop_is_quiet_fits_and_shuts_nobody_out(
    new_shop: Running, visit: Callable[..., Visit]
) -> None:
    door = visit(new_shop, *PHONE)
    faults = _faults(door, "/first-start/")
    owner = Visitor(new_shop.address)
    code = re.search(r"one-time code for it is (\d{6})", new_shop.printed)[1]
    owner.fill("/first-start/", code=code, name="Rosa Marten", username="rosa", password="a long enough one")
    walked = Walked(owner)
    window = visit(new_shop, *PHONE, person=owner)

    faults += [fault for path in walked.samples() for fault in _faults(window, path)]

    assert not faults, "\n".join(faults)
    assert walked.refused() == {}


def test_the_door_is_quiet_fits_and_shuts_nobody_out(demo: Running, visit: Callable[..., Visit]) -> None:
    window = visit(demo, *PHONE)

    faults = _faults(window, "/login/")

    assert not faults, "\n".join(faults)


def _faults(window: Visit, path: str) -> list[str]:
    """What is wrong with one page, in light at three widths and in dark at two."""
    answer = window.go(path)
    found = [] if answer.status == 200 else [f"status {answer.status}"]
    for scheme, sizes in (("light", [SMALL, PHONE, DESK]), ("dark", [DESK, PHONE])):
        window.page.emulate_media(color_scheme=scheme)
        for width, height in sizes:
            window.size(width, height)
            if stuck_out := window.sideways():
                found.append(f"sideways at {width} px, {scheme}: {stuck_out}")
            if (width, height) != SMALL:
                window.unroll()
                rules = ["color-contrast"] if scheme == "dark" else []
                found += [f"{width} px, {scheme}, {barrier}" for barrier in window.barriers(*rules)]
    return [f"{path}: {fault}" for fault in found]


@pytest.mark.parametrize("path", ["/login/", "/"])
def test_the_first_load_takes_less_than_200_kilobytes(
    path: str, demo: Running, demo_owner: Visitor, visit: Callable[..., Visit]
) -> None:
    window = visit(demo, *PHONE, person=demo_owner if path == "/" else None)
    loaded: list[int] = []
    line = window.page.context.new_cdp_session(window.page)
    line.send("Network.enable")
    line.on("Network.loadingFinished", lambda event: loaded.append(event["encodedDataLength"]))

    window.go(path)
    window.page.wait_for_load_state("networkidle")

    assert 0 < sum(loaded) < 200_000
