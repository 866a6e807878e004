"""Marks and swatches as svg: the signs that stand beside words on every page.

The shapes themselves stand once per page in templates/_symbols.html; these tags refer to them. Nothing here
writes a style attribute, so that the content security policy can stay at 'self'.
"""

import re
from functools import lru_cache
from typing import Final

from django import template
from django.conf import settings
from django.utils.html import format_html, format_html_join
from django.utils.safestring import SafeString, mark_safe

register = template.Library()

MARKS: Final = (
    "done",
    "in_work",
    "held",
    "late",
    "set_aside",
    "refused",
    "not_started",
    "top_end",
    "revision",
)
DARK_STROKE: Final = "#2b1f10"
LIGHT_STROKE: Final = "#ffffff"
MOST_STROKES: Final = 12

_HEX_COLOR = re.compile(r"#[0-9a-fA-F]{6}\Z")
# Small differences between strokes, as a hand makes them: (lean, start, end) in hundredths of the height.
_BY_HAND = ((-6, 1, -2), (5, -2, 2), (-2, 2, 0), (6, 0, -2))


@register.simple_tag
@lru_cache(maxsize=1024)
def mark(name: str, label: str = "", size: int = 22, letter: str = "") -> SafeString:
    """One mark, hidden from readers unless `label` gives the word that is not printed beside it."""
    if name not in MARKS:
        raise ValueError(f"no mark is called {name!r}; 'done' or 'in_work' would do")
    shape = format_html('<use href="#mark-{}"/>', name.replace("_", "-"))
    if letter:
        shape += format_html('<text class="mark-letter" x="12" y="19" text-anchor="middle">{}</text>', letter[:1])
    return _svg(f"mark mark-{name.replace('_', '-')}", shape, label=label, size=size)


@register.simple_tag
def shop_mark(size: int = 32, label: str = "") -> SafeString:
    """The mark of the app: two leaves of a flitch, opened like a book."""
    return _svg("shop-mark", mark_safe('<use href="#shop-mark"/>'), label=label, size=size, box=32)


@register.simple_tag
@lru_cache(maxsize=1024)
def swatch(color: str | None, place: int | None, name: str = "", small: bool = False, tall: bool = False) -> SafeString:
    """A tone group's color with its place in the ladder as tally strokes; its name must stand beside it.

    `small` is for narrow tables, `tall` fills a sorting button. A group without a reading has no color: its
    swatch is empty and the strokes stand in ink.
    """
    known = bool(color) and bool(_HEX_COLOR.match(str(color)))
    fill = str(color) if known else "none"
    ink = stroke_color(fill) if known else "currentColor"
    tone = format_html(' data-tone="{}"', name) if name else ""
    if tall:
        return format_html(
            '<svg class="swatch is-tall" width="100%" height="100%" aria-hidden="true"{}>'
            '<rect width="100%" height="100%" fill="{}"/>'
            '<svg x="50%" y="50%" overflow="visible"><g fill="{}">{}</g></svg></svg>',
            tone,
            fill,
            ink,
            _tally(place, width=34, height=40, pitch=10),
        )
    return format_html(
        '<svg class="swatch{}" width="{}" height="{}" viewBox="0 0 30 22" aria-hidden="true"{}>'
        '<rect class="swatch-edge" x="0.75" y="0.75" width="28.5" height="20.5" fill="{}"/>'
        '<g fill="{}" transform="translate(15 11)">{}</g></svg>',
        " is-small" if small else "",
        22 if small else 30,
        16 if small else 22,
        tone,
        fill,
        ink,
        _tally(place, width=23, height=12, pitch=4.4),
    )


@register.simple_tag
def leader_arrow() -> SafeString:
    """The arrow from a refused value's message up to its field."""
    return mark_safe(
        '<svg class="leader-arrow" width="16" height="28" viewBox="0 0 16 28" aria-hidden="true">'
        '<use href="#leader-arrow"/></svg>'
    )


@register.simple_tag
def app_version() -> str:
    """The version of the app, for the first pages' title block."""
    return settings.VERSION


def stroke_color(fill: str) -> str:
    """Dark or white, whichever stands out more on `fill`."""
    return max((DARK_STROKE, LIGHT_STROKE), key=lambda ink: contrast(ink, fill))


def contrast(one: str, other: str) -> float:
    """The contrast ratio of two colors written #rrggbb, 1 to 21 [-], after WCAG 2.2, "contrast ratio"."""
    darker, lighter = sorted((_luminance(one), _luminance(other)))
    return (lighter + 0.05) / (darker + 0.05)


def _luminance(color: str) -> float:
    """Relative luminance of a color written #rrggbb, 0 to 1 [-], after WCAG 2.2, "relative luminance"."""
    channels = [int(color[at : at + 2], 16) / 255 for at in (1, 3, 5)]
    red, green, blue = (value / 12.92 if value <= 0.04045 else ((value + 0.055) / 1.055) ** 2.4 for value in channels)
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def _tally(place: int | None, *, width: float, height: float, pitch: float) -> SafeString:
    """Tally strokes around the origin: four upright, the fifth across; past twelve, the figure."""
    count = place or 0
    if count < 1:
        return mark_safe("")
    if count > MOST_STROKES:
        return format_html('<text class="swatch-figure" y="5" text-anchor="middle">{}</text>', count)
    groups = [5] * (count // 5) + ([count % 5] if count % 5 else [])
    spans = [min(group, 4) - 1 for group in groups]
    gaps = 1.7 * (len(groups) - 1)
    pitch = min(pitch, width / max(sum(spans) + gaps, 1))
    x = -pitch * (sum(spans) + gaps) / 2
    paths = []
    for group, span in zip(groups, spans, strict=True):
        paths += [_upright(x + pitch * at, height, pitch, at) for at in range(min(group, 4))]
        if group == 5:
            paths.append(_across(x, pitch * span, height, pitch))
        x += pitch * (span + 1.7)
    return format_html_join("", '<path d="{}"/>', ((path,) for path in paths))


def _upright(x: float, height: float, pitch: float, at: int) -> str:
    lean, start, end = (height * part / 100 for part in _BY_HAND[at % len(_BY_HAND)])
    thick = _thick(height, pitch)
    top, foot = -height / 2 + start, height / 2 + end
    return _taper(x - lean / 2, top, x + lean / 2, foot, thick)


def _thick(height: float, pitch: float) -> float:
    return min(max(height * 0.045, 0.95), pitch * 0.24)


def _across(x: float, span: float, height: float, pitch: float) -> str:
    thick = _thick(height, pitch)
    reach = pitch * 0.55
    return _taper(x - reach, height * 0.24, x + span + reach, -height * 0.27, thick)


def _taper(x1: float, y1: float, x2: float, y2: float, thick: float) -> str:
    """A pencil stroke: full where it starts, thinner where it is lifted."""
    length = ((x2 - x1) ** 2 + (y2 - y1) ** 2) ** 0.5
    nx, ny = -(y2 - y1) / length, (x2 - x1) / length
    corners = (
        (x1 + nx * thick * 0.8, y1 + ny * thick * 0.8),
        ((x1 + x2) / 2 + nx * thick, (y1 + y2) / 2 + ny * thick),
        (x2 + nx * thick * 0.6, y2 + ny * thick * 0.6),
        (x2 - nx * thick * 0.6, y2 - ny * thick * 0.6),
        ((x1 + x2) / 2 - nx * thick * 0.9, (y1 + y2) / 2 - ny * thick * 0.9),
        (x1 - nx * thick * 0.8, y1 - ny * thick * 0.8),
    )
    return "M" + "L".join(f"{x:.2f} {y:.2f}" for x, y in corners) + "Z"


def _svg(css: str, shape: SafeString, *, label: str, size: int, box: int = 24) -> SafeString:
    name = format_html('role="img" aria-label="{}"', label) if label else mark_safe('aria-hidden="true"')
    return format_html(
        '<svg class="{}" width="{}" height="{}" viewBox="0 0 {} {}" {}>{}</svg>',
        css,
        size,
        size,
        box,
        box,
        name,
        shape,
    )
