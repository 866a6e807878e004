"""Bars drawn as svg: what they show is where the figures say, and readers get it as a sentence."""

import xml.etree.ElementTree as ET
from datetime import date

import pytest
from django.template import Context, Template

SCALE = {"first": date(2027, 3, 1), "last": date(2027, 3, 31), "today": date(2027, 3, 16)}
STAGES = [
    {"lane": "top", "start": 0.0, "width": 0.2, "name": "Cut", "done": 1, "state": "done"},
    {"lane": "top", "start": 0.2, "width": 0.3, "name": "Finish", "done": 0.5, "state": "in_work"},
    {"lane": "bottom", "start": 0.0, "width": 0.5, "name": "Mill", "done": 0, "state": "late"},
    {"lane": "both", "start": 0.5, "width": 0.48, "name": "Walls", "done": 0, "state": "not_started"},
    {"lane": "both", "start": 0.98, "width": 0.02, "name": "Last corrections", "done": 0, "state": "not_started"},
]


def drawn(text: str, **values: object) -> ET.Element:
    return ET.fromstring(f"<div>{Template('{% load bars %}' + text).render(Context(values))}</div>")


def lines(part: ET.Element, css: str) -> list[tuple[str, str]]:
    return [(line.attrib["x1"], line.attrib["x2"]) for line in part.iterfind(f".//line[@class='{css}']")]


def blocks(part: ET.Element, css: str) -> list[tuple[str, str]]:
    return [(block.attrib["x"], block.attrib["width"]) for block in part.iterfind(f".//rect[@class='{css}']")]


def ticks(part: ET.Element, symbol: str) -> list[str]:
    return [use.attrib["x"] for use in part.iterfind(f".//use[@href='#{symbol}']")]


def test_a_count_stands_between_both_its_ends() -> None:
    bar = drawn("{% count_bar 12 48 '12 of 48 strips' %}")

    progress = bar.find(".//progress").attrib

    assert (progress["value"], progress["max"], progress["aria-label"]) == ("12", "48", "12 of 48 strips")
    assert ticks(bar, "tick-wide") == ["0%", "25%", "100%"]


@pytest.mark.parametrize(("value", "total", "shown"), [(0, 0, "0"), (9, 4, "4"), (-2, 4, "0")])
def test_a_count_outside_its_ends_stands_at_an_end(value: int, total: int, shown: str) -> None:
    bar = drawn("{% count_bar value total 'strips' %}", value=value, total=total)

    assert bar.find(".//progress").attrib["value"] == shown


def test_stages_are_solid_to_what_is_done_then_hatched() -> None:
    bar = drawn("{% lanes stages 'Practice 1' %}", stages=STAGES)

    assert blocks(bar, "lane-done") == [("0%", "20%"), ("20%", "15%")]
    assert blocks(bar, "lane-work") == [("35%", "15%")]


def test_late_material_is_a_line_of_its_own_kind() -> None:
    bar = drawn("{% lanes stages 'Practice 1' %}", stages=STAGES)

    assert lines(bar, "lane-late") == [("0%", "50%")]
    assert lines(bar, "lane") == [("50%", "98%"), ("98%", "100%")]


def test_stages_are_an_image_with_one_sentence() -> None:
    bar = drawn("{% lanes stages words %}", stages=STAGES, words='Practice 1: "half" done')

    svg = bar.find("svg").attrib

    assert (svg["role"], svg["aria-label"]) == ("img", 'Practice 1: "half" done')


def test_a_stage_name_too_long_for_its_share_is_a_letter_explained_below() -> None:
    ruler = drawn("{% ruler stages %}", stages=STAGES)

    fits = {word.text: word.attrib["class"].split()[-1] for word in ruler.iterfind(".//text")}
    keys = [" ".join(key.itertext()) for key in ruler.iterfind(".//span[@class='fit-never']")]

    assert fits["Walls"] == "fit-300"
    assert fits["Last corrections"] == "fit-never"
    assert [key.split(maxsplit=1)[1] for key in keys] == ["Last corrections"]


def test_time_runs_from_placed_over_today_to_the_promise() -> None:
    bar = {"placed": date(2027, 3, 1), "promised": date(2027, 3, 22), "was": None, "needed": date(2027, 3, 31)}

    drawing = drawn("{% time_bar scale bar 'in time' %}", scale=SCALE, bar=bar)

    assert lines(drawing, "time-waited") == [("0%", "50%")]
    assert lines(drawing, "time-open") == [("50%", "70%")]
    assert lines(drawing, "time-slack") == [("70%", "100%")]
    assert lines(drawing, "time-late") == []


def test_time_beyond_the_need_is_late() -> None:
    bar = {
        "placed": date(2027, 3, 1),
        "promised": date(2027, 3, 25),
        "was": date(2027, 3, 13),
        "needed": date(2027, 3, 22),
    }

    drawing = drawn("{% time_bar scale bar '3 days late' %}", scale=SCALE, bar=bar)

    assert lines(drawing, "time-late") == [("70%", "80%")]
    assert ticks(drawing, "tick-was") == ["40%"]
    assert ticks(drawing, "need") == ["70%"]


def test_a_promise_that_has_passed_is_late_up_to_today() -> None:
    bar = {"placed": date(2027, 3, 1), "promised": date(2027, 3, 4), "was": None, "needed": date(2027, 3, 7)}

    drawing = drawn("{% time_bar scale bar 'late' %}", scale=SCALE, bar=bar)

    assert lines(drawing, "time-late") == [("20%", "50%")]


def test_what_is_not_ordered_shows_only_when_it_is_needed() -> None:
    bar = {"placed": None, "promised": None, "was": None, "needed": date(2027, 4, 30)}

    drawing = drawn("{% time_bar scale bar 'not ordered' %}", scale=SCALE, bar=bar)

    assert ticks(drawing, "need") == ["100%"]
    assert len(drawing.findall(".//line")) == 1


@pytest.mark.parametrize("days", [0, 1, 14, 100, 5000])
def test_a_scale_of_any_length_carries_few_dates(days: int) -> None:
    scale = SCALE | {"last": date.fromordinal(SCALE["first"].toordinal() + days)}

    axis = drawn("{% time_axis scale %}", scale=scale)

    assert 1 <= len(axis.findall(".//text")) <= 8


def test_a_stack_shows_free_sheets_whole_and_given_ones_broken() -> None:
    stack = drawn("{% stack 21 3 '#dfcca9' %}")

    body = stack.find(".//rect[@class='stack-body']").attrib

    assert len(stack.findall(".//line[@class='stack-gone']")) == 18
    assert (body["height"], body["fill"]) == ("15", "#dfcca9")


@pytest.mark.parametrize(("total", "height"), [(40, "203"), (41, "85"), (100, "203")])
def test_a_high_stack_is_drawn_in_thinner_sheets(total: int, height: str) -> None:
    stack = drawn("{% stack total total '#dfcca9' %}", total=total)

    assert stack.find("svg").attrib["height"] == height


def test_over_a_hundred_sheets_only_the_count_is_drawn() -> None:
    stack = drawn("{% stack 101 7 '#dfcca9' %}")

    assert stack.find(".//progress").attrib["aria-label"] == "7 free of 101"


@pytest.mark.parametrize("tag", ["lanes_key", "time_key"])
def test_every_sign_of_a_key_has_its_word(tag: str) -> None:
    key = drawn("{% " + tag + " %}")

    words = ["".join(item.itertext()).strip() for item in key.findall("li")]

    assert all(words)
    assert all(item.find("svg").attrib["aria-hidden"] == "true" for item in key.findall("li"))
