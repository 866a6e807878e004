"""Marks and swatches: signs that never stand without a word, and strokes that can be seen on any wood.

Contrast is held against WCAG 2.2 (W3C Recommendation, 5 October 2023): definitions of "contrast ratio" and "relative
luminance", success criteria 1.4.3 (text, 4.5) and 1.4.11 (signs, 3.0).
"""

import re
import xml.etree.ElementTree as ET
from pathlib import Path

import pytest
from django.template import Context, Template

from workshop.templatetags import marks

SYMBOLS = (Path(__file__).parents[2] / "templates" / "_symbols.html").read_text(encoding="utf-8")

# The house's tone table for ash, and how far the better stroke stands out.
TONES = [
    ("#eadfc9", "dark", 12.2),
    ("#dfcca9", "dark", 10.2),
    ("#d1b487", "dark", 8.1),
    ("#b7946a", "dark", 5.7),
    ("#9c7b54", "dark", 4.1),
    ("#836443", "white", 5.4),
]


def drawn(text: str, **values: object) -> ET.Element:
    return ET.fromstring(Template(text).render(Context(values)))


def strokes(svg: ET.Element) -> int:
    return len(svg.findall(".//path"))


@pytest.mark.parametrize("name", marks.MARKS)
def test_every_mark_has_its_shape_among_the_symbols(name: str) -> None:
    svg = drawn("{% mark name %}", name=name)

    shape = svg.find("use").attrib["href"].removeprefix("#")

    assert f'<symbol id="{shape}"' in SYMBOLS


def test_a_mark_beside_its_word_is_hidden_from_readers() -> None:
    svg = drawn("{% mark 'done' %}")

    assert svg.attrib["aria-hidden"] == "true"
    assert "role" not in svg.attrib


def test_a_mark_without_a_word_beside_it_is_an_image_with_a_name() -> None:
    svg = drawn("{% mark 'late' label='Late' %}")

    assert (svg.attrib["role"], svg.attrib["aria-label"]) == ("img", "Late")
    assert "aria-hidden" not in svg.attrib


def test_a_revision_carries_its_letter() -> None:
    svg = drawn("{% mark 'revision' letter='C' %}")

    assert svg.find("text").text == "C"


def test_an_unknown_mark_is_refused_with_two_that_would_do() -> None:
    with pytest.raises(ValueError, match="no mark is called 'star'; 'done' or 'in_work' would do"):
        marks.mark("star")


@pytest.mark.parametrize(("place", "expected"), [(1, 1), (2, 2), (3, 3), (4, 4), (5, 5), (6, 6), (10, 10), (12, 12)])
def test_a_swatch_has_as_many_strokes_as_its_place(place: int, expected: int) -> None:
    svg = drawn("{% swatch '#eadfc9' place 'Pale' %}", place=place)

    assert strokes(svg) == expected


def test_the_fifth_stroke_crosses_the_four() -> None:
    svg = drawn("{% swatch '#9c7b54' 5 'Brown' %}")

    paths = [path.attrib["d"] for path in svg.findall(".//path")]
    spans = [[float(x) for x in re.findall(r"[ML](-?[0-9.]+) ", path)] for path in paths]

    assert min(spans[-1]) < min(spans[0])
    assert max(spans[-1]) > max(spans[3])


@pytest.mark.parametrize("place", [4, 5, 9, 12])
def test_the_strokes_stay_inside_the_swatch(place: int) -> None:
    svg = drawn("{% swatch '#eadfc9' place %}", place=place)

    across = [float(x) for x in re.findall(r"[ML](-?[0-9.]+) ", ET.tostring(svg, encoding="unicode"))]

    assert min(across) > -14.25
    assert max(across) < 14.25


def test_past_twelve_the_figure_stands_instead_of_strokes() -> None:
    svg = drawn("{% swatch '#eadfc9' 13 %}")

    assert strokes(svg) == 0
    assert svg.find(".//text").text == "13"


@pytest.mark.parametrize("place", [0, None])
def test_a_group_without_a_place_has_no_strokes(place: int | None) -> None:
    svg = drawn("{% swatch '#eadfc9' place %}", place=place)

    assert strokes(svg) == 0


@pytest.mark.parametrize("color", ["", None, "tan", "#fff", '#eadfc9"/><script>', "url(#x)"])
def test_what_is_no_color_fills_nothing(color: str | None) -> None:
    svg = drawn("{% swatch color 2 'Not read' %}", color=color)

    assert svg.find("rect").attrib["fill"] == "none"
    assert svg.find("g").attrib["fill"] == "currentColor"


def test_a_name_with_markup_stays_text() -> None:
    svg = drawn("{% swatch '#eadfc9' 1 name %}", name='"><b>Pale</b>')

    assert svg.attrib["data-tone"] == '"><b>Pale</b>'


@pytest.mark.parametrize("options", ["", "small=True", "tall=True"])
def test_a_swatch_is_hidden_from_readers_and_has_no_style_attribute(options: str) -> None:
    svg = drawn("{% swatch '#eadfc9' 3 'Pale' " + options + " %}")

    assert svg.attrib["aria-hidden"] == "true"
    assert not [part for part in svg.iter() if "style" in part.attrib]


@pytest.mark.parametrize(("color", "ink", "ratio"), TONES)
def test_strokes_take_the_ink_that_stands_out_more(color: str, ink: str, ratio: float) -> None:
    chosen = marks.stroke_color(color)

    assert chosen == {"dark": marks.DARK_STROKE, "white": marks.LIGHT_STROKE}[ink]
    assert marks.contrast(chosen, color) == pytest.approx(ratio, abs=0.05)


@pytest.mark.parametrize("gray", range(256))
def test_strokes_can_be_seen_on_any_gray(gray: int) -> None:
    color = f"#{gray:02x}{gray:02x}{gray:02x}"

    assert marks.contrast(marks.stroke_color(color), color) >= 3.0


@pytest.mark.parametrize(
    ("one", "other", "ratio"),
    [
        ("#000000", "#ffffff", 21.0),  # WCAG 2.2, "contrast ratio", note 1: ratios range from 1 to 21
        ("#123456", "#123456", 1.0),
        ("#767676", "#ffffff", 4.54),  # the lightest gray that passes 1.4.3 on white (from memory)
        ("#ff0000", "#ffffff", 4.0),  # luminance of red is its coefficient, 0.2126: 1.05 / 0.2626
    ],
)
def test_contrast_is_the_ratio_of_wcag(one: str, other: str, ratio: float) -> None:
    assert marks.contrast(one, other) == pytest.approx(ratio, abs=0.005)
    assert marks.contrast(other, one) == marks.contrast(one, other)


def test_the_shop_mark_is_hidden_unless_named() -> None:
    assert drawn("{% shop_mark %}").attrib["aria-hidden"] == "true"
    assert drawn("{% shop_mark label='Today' %}").attrib["aria-label"] == "Today"
