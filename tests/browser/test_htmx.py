"""What a person at the page keeps when a part of it is swapped: the focus, the voice, what was typed, the way back.

Focus that is not lost and changes that are told: WCAG 2.2, 2.4.3 Focus Order and 4.1.3 Status Messages.
"""

import re
from collections.abc import Callable

import pytest
from playwright.sync_api import Locator, Page, Route, expect

from tests.browser.visit import Visit
from tests.visiting import Visitor
from tests.workshop.running import Running

pytestmark = pytest.mark.browser

PAD = "/lots/6/sort/"
GIVING = "/jobs/1/sheets/"
BROKEN = ["status of 500", "Response Status Error Code 500", "htmx:afterRequest", "htmx:sendError", "ERR_INTERNET"]
"""What the browser and htmx say in the console of a send that failed."""


@pytest.fixture
def window(demo: Running, demo_owner: Visitor, visit: Callable[..., Visit]) -> Visit:
    return visit(demo, person=demo_owner)


def counted(window: Visit, room: int) -> Locator:
    """The first step of a room that is counted and not done."""
    window.go(f"/rooms/{room}/")
    return window.page.locator(".step", has=window.page.locator("button[value=more]")).first


def again(page: Page, step: Locator) -> Locator:
    """The same step by its id, so that it is still the same when others are done."""
    return page.locator(f"#{step.get_attribute('id')}")


def said(page: Page) -> Locator:
    return page.locator("#said[aria-live=polite]")


# Focus and voice


def test_a_tick_keeps_the_focus_and_is_said(window: Visit) -> None:
    window.go("/rooms/5/")
    button = window.page.get_by_role("button", name=re.compile("^Tick ")).first
    identity = button.get_attribute("id")

    button.press("Enter")

    ticked = window.page.locator(f"#{identity}")
    expect(ticked).to_have_text(re.compile("^Not done"))
    expect(ticked).to_be_focused()
    expect(said(window.page)).to_contain_text("done")


def test_a_count_keeps_the_focus_and_is_said(window: Visit) -> None:
    step = again(window.page, counted(window, 5))
    more = step.locator("button[value=more]")

    more.press("Enter")

    expect(step).to_contain_text("1 of ")
    expect(more).to_be_focused()
    expect(said(window.page)).to_contain_text("1 of ")


def test_last_changes_tell_what_was_swapped_in(window: Visit) -> None:
    step = again(window.page, counted(window, 6))

    step.locator("button[value=more]").click()

    expect(window.page.locator("#last-changes")).to_contain_text(", 1 of ")


def test_sorting_and_its_undo_keep_the_focus_and_are_said(window: Visit) -> None:
    window.go(PAD)
    sheet = window.page.locator("#in-hand").inner_text()
    tone = window.page.locator(".tone").first
    tone.press("Enter")
    expect(window.page.locator("#in-hand")).not_to_have_text(sheet)
    expect(tone).to_be_focused()
    expect(said(window.page)).not_to_be_empty()

    window.page.locator("#undo-last").press("Enter")

    expect(window.page.locator("#in-hand")).to_have_text(sheet)
    expect(window.page.locator("body")).not_to_be_focused()
    expect(said(window.page)).to_contain_text("Taken back")


def test_giving_says_what_was_given_and_leaves_the_focus_in_the_page(window: Visit) -> None:
    window.go(GIVING)
    gift = window.page.locator(".room-give:has-text('None yet') .give-act button").first
    identity = gift.get_attribute("id")

    gift.press("Enter")

    expect(window.page.locator(f"#{identity}")).to_have_count(0)
    expect(said(window.page)).to_contain_text("given")
    expect(window.page.locator("main :focus")).to_have_count(1)


# What was typed


def test_a_refused_count_keeps_what_was_typed_and_the_note_has_the_focus(window: Visit) -> None:
    window.allow(422)
    step = again(window.page, counted(window, 5))
    step.locator("[name=count]").fill("half of it")

    step.locator("button[value=count]").click()

    expect(window.page.locator(".note[data-focus]")).to_be_focused()
    expect(step.locator("[name=count]")).to_have_value("half of it")
    expect(step.locator("[name=count]")).to_have_attribute("aria-invalid", "true")


def test_a_refused_page_keeps_what_was_typed_and_the_note_has_the_focus(window: Visit) -> None:
    window.allow(422)
    window.go("/rooms/5/hours/")
    window.page.fill("[name=minutes]", "half a day")
    window.page.fill("[name=note]", "Ash <panels>")

    window.page.click("#log")

    expect(window.page.locator(".note[data-focus]")).to_be_focused()
    expect(window.page.locator("[name=minutes]")).to_have_value("half a day")
    expect(window.page.locator("[name=note]")).to_have_value("Ash <panels>")


def _fail(route: Route) -> None:
    route.fulfill(status=500, content_type="text/html", body="<!doctype html><title>Error</title>")


def _drop(route: Route) -> None:
    route.abort("internetdisconnected")


@pytest.mark.parametrize("way", [_fail, _drop], ids=["the app fails", "the network is gone"])
def test_a_send_that_fails_says_that_nothing_was_saved_and_keeps_what_was_typed(
    way: Callable[[Route], None], window: Visit
) -> None:
    step = again(window.page, counted(window, 5))
    step.locator("[name=count]").fill("3")
    window.page.route("**/room-stages/*/", way)

    step.locator("button[value=count]").click()

    expect(window.page.get_by_role("alert")).to_contain_text("Nothing was saved.")
    expect(step.locator("[name=count]")).to_have_value("3")
    window.forgive(*BROKEN)


def test_after_a_send_that_failed_the_next_one_is_kept(window: Visit) -> None:
    step = again(window.page, counted(window, 6))
    step.locator("[name=count]").fill("2")
    window.page.route("**/room-stages/*/", _drop)
    step.locator("button[value=count]").click()
    expect(window.page.get_by_role("alert")).to_be_visible()
    window.page.unroute("**/room-stages/*/")
    window.forgive(*BROKEN)

    step.locator("button[value=count]").click()

    expect(step).to_contain_text("2 of ")
    expect(window.page.get_by_role("alert")).to_have_count(0)


# The way back


def test_the_way_back_shows_the_whole_page_as_it_is_now(window: Visit) -> None:
    window.go("/rooms/7/")
    button = window.page.get_by_role("button", name=re.compile("^Tick ")).first
    identity = button.get_attribute("id")
    button.click()
    expect(window.page.locator(f"#{identity}")).to_have_text(re.compile("^Not done"))
    window.page.get_by_role("link", name="Log hours").click()
    expect(window.page).to_have_title(re.compile("Hours"))

    window.page.go_back()

    expect(window.page.locator("#title-block")).to_be_visible()
    expect(window.page.locator(f"#{identity}")).to_have_text(re.compile("^Not done"))


def test_the_way_back_to_the_sorting_pad_is_the_pad_with_the_sheet_that_is_next(window: Visit) -> None:
    window.go(PAD)
    sheet = window.page.locator("#in-hand").inner_text()
    window.page.locator(".tone").first.click()
    expect(window.page.locator("#in-hand")).not_to_have_text(sheet)
    following = window.page.locator("#in-hand").inner_text()
    window.page.locator("#all-sheets").click()
    expect(window.page.locator("#pad")).to_have_count(0)

    window.page.go_back()

    expect(window.page.locator("#title-block")).to_be_visible()
    expect(window.page.locator("#in-hand")).to_have_text(following)


# Twice


def test_a_double_click_counts_once(window: Visit) -> None:
    step = again(window.page, counted(window, 4))
    at_first = step.locator(".more").inner_text()

    step.locator("button[value=more]").dblclick()

    expect(step.locator(".more")).not_to_have_text(at_first)
    window.page.wait_for_load_state("networkidle")
    window.page.reload()
    done = int(at_first.split(" of ")[0]) + 1
    expect(step.locator(".more")).to_contain_text(re.compile(rf"\b{done} of "))


@pytest.mark.parametrize("pause", [0, 80])
def test_a_double_tap_sorts_one_sheet(pause: int, window: Visit) -> None:
    window.go(PAD)
    sheet = int(window.page.locator("#in-hand").inner_text().split()[-1])

    window.page.locator(".tone").first.dblclick(delay=pause)

    window.page.wait_for_load_state("networkidle")
    window.page.reload()
    expect(window.page.locator("#in-hand")).to_have_text(f"Sheet {sheet + 1}")
    window.page.locator("#undo-last").click()
    expect(window.page.locator("#in-hand")).to_have_text(f"Sheet {sheet}")


def test_a_double_click_on_a_plain_form_keeps_it_once(window: Visit) -> None:
    window.go("/rooms/4/hours/")
    before = window.page.locator("[id^=hours-]").count()
    window.page.fill("[name=minutes]", "0.75")

    window.page.locator("#log").dblclick()

    expect(window.page.locator("[id^=hours-]")).to_have_count(before + 1)
    window.page.wait_for_load_state("networkidle")
    window.page.reload()
    expect(window.page.locator("[id^=hours-]")).to_have_count(before + 1)
