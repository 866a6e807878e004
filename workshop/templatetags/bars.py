"""Bars as svg: counts, stages of a room, lead times and stacks, drawn as dimension lines or as they stand.

Places along a bar are written in per cent, so that a bar fits any width without script or style attribute.
"""

from collections.abc import Iterable, Mapping
from datetime import date, timedelta
from functools import lru_cache
from math import ceil
from typing import Any, Final

from django import template
from django.utils.formats import date_format
from django.utils.html import format_html, format_html_join
from django.utils.safestring import SafeString, mark_safe
from django.utils.translation import gettext as _

register = template.Library()

LANE_Y: Final = {"top": 7, "bottom": 25, "both": 16}
WORD_Y: Final = {"top": 14, "bottom": 34, "both": 24}
LETTER_PX: Final = 6.1
KEY_LETTERS: Final = "abcdefghkmnprstuvwxyz"
FIT_STEPS: Final = range(300, 2001, 100)
STACK_LIMITS: Final = ((40, 5), (100, 2))
STACK_BASE: Final = 3


@register.simple_tag
def count_bar(value: float, total: float, label: str) -> SafeString:
    """A count between both its ends, drawn as a dimension line."""
    share = _share(value, total)
    ticks = _joined(_use("tick-wide", place, 7) for place in sorted({0.0, share, 1.0}))
    return format_html(
        '<div class="bar-row"><progress class="count-bar" value="{}" max="{}" aria-label="{}">{}</progress>'
        '<svg class="bar-ticks" width="100%" height="14" aria-hidden="true">{}</svg></div>',
        _plain(share * (total or 1)),
        _plain(total or 1),
        label,
        label,
        ticks,
    )


@register.simple_tag
def lanes(slots: Iterable[Any], label: str) -> SafeString:
    """The stages of one room under the common ruler: panels above, trim below, one lane on site."""
    drawn, ends = [], {}
    for slot in slots:
        start, width, y = _get(slot, "start"), _get(slot, "width"), LANE_Y[_get(slot, "lane")]
        drawn.append(_stage(_get(slot, "state"), _share(_get(slot, "done"), 1), start, width, y))
        ends[(_per_cent(start), y)] = ends[(_per_cent(start + width), y)] = True
    return format_html(
        '<svg class="lanes" role="img" aria-label="{}" width="100%" height="32">{}{}</svg>',
        label,
        _joined(drawn),
        _ticks(tuple(ends)),
    )


@lru_cache(maxsize=1024)
def _ticks(ends: tuple[tuple[str, int], ...]) -> SafeString:
    return format_html_join("", '<use href="#tick" x="{}" y="{}"/>', ends)


@lru_cache(maxsize=4096)
def _stage(state: str, share: float, start: float, width: float, y: int) -> SafeString:
    done = 1.0 if state == "done" else share
    reached = start + width * done
    parts = []
    if done < 1 and state == "in_work":
        parts.append(_block("lane-work", reached, width * (1 - done), y, fill="url(#hatch-work)"))
    elif done < 1:
        parts.append(_line("lane-late" if state == "late" else "lane", reached, start + width, y))
    if done > 0:
        parts.append(_block("lane-done", start, width * done, y))
    return _joined(parts)


@register.simple_tag
def ruler(slots: Iterable[Any]) -> SafeString:
    """The stage names over the bars; a name too long for its stage is a letter, explained below."""
    words, keys, names = [], [], []
    for at, slot in enumerate(slots):
        name, middle = str(_get(slot, "name")), _get(slot, "start") + _get(slot, "width") / 2
        fit, y = _fit(name, _get(slot, "width")), WORD_Y[_get(slot, "lane")]
        names.append(name)
        keys.append((fit, _letter(at), name))
        words.append((fit, _per_cent(middle), y, name, fit, _per_cent(middle), y, _letter(at)))
    return format_html(
        '<div class="ruler-fit"><svg class="ruler" role="img" aria-label="{}" width="100%" height="44"'
        '>{}</svg><p class="ruler-key" aria-hidden="true">{}</p></div>',
        _("Stages in order: %(names)s") % {"names": ", ".join(names)},
        format_html_join(
            "",
            '<text class="ruler-word {}" x="{}" y="{}" text-anchor="middle">{}</text>'
            '<text class="ruler-letter {}" x="{}" y="{}" text-anchor="middle">{}</text>',
            words,
        ),
        format_html_join(" ", '<span class="{}"><b>{}</b> {}</span>', keys),
    )


def _fit(name: str, width: float) -> str:
    """The class that says from which width of the whole bar the name has room in its share."""
    needed = (len(name) * LETTER_PX + 5) / max(width, 0.0001)
    step = next((step for step in FIT_STEPS if step >= needed), None)
    return f"fit-{step}" if step else "fit-never"


def _letter(at: int) -> str:
    return KEY_LETTERS[at % len(KEY_LETTERS)] * (at // len(KEY_LETTERS) + 1)


@register.simple_tag
def lanes_key() -> SafeString:
    """The signs of the stage bars, as items of a list."""
    work = _block("lane-work", 0, 1, 5, fill="url(#hatch-work)")
    return _key(
        (_block("lane-done", 0, 1, 5), _("done")),
        (work, _("in work")),
        (_line("lane", 0, 1, 5), _("not started")),
        (_line("lane-late", 0, 1, 5), _("material late")),
    )


@register.simple_tag
def time_axis(scale: Any) -> SafeString:
    """Weeks as small ticks, a date every second week, every fourth on a phone."""
    first, last = _get(scale, "first"), _get(scale, "last")
    weeks = max((last - first).days // 7, 1)
    step = 2 * ceil(weeks / 14)
    tick_step = 1 if weeks <= 30 else step // 2
    ticks = format_html_join(
        "",
        '<line class="time-week" x1="{0}" x2="{0}" y1="25" y2="31"/>',
        ((_on(scale, first + timedelta(weeks=week)),) for week in range(0, weeks + 1, tick_step)),
    )
    dates = format_html_join(
        "",
        '<text class="time-date{}" x="{}" y="18" dx="3">{}</text>',
        (
            (
                " is-second" if week // step % 2 else "",
                _on(scale, first + timedelta(weeks=week)),
                date_format(first + timedelta(weeks=week), "M j"),
            )
            for week in range(0, weeks + 1, step)
            if _place(scale, first + timedelta(weeks=week)) <= 0.93
        ),
    )
    return format_html(
        '<svg class="time-axis" width="100%" height="32" aria-hidden="true">'
        '<line class="time-rule" x1="0%" x2="100%" y1="31" y2="31"/>{}{}</svg>',
        ticks,
        dates,
    )


@register.simple_tag
def time_bar(scale: Any, bar: Any, label: str) -> SafeString:
    """One order on the common scale: waited, still to wait, late or in hand, and when it is needed."""
    today, y = _get(scale, "today"), 18
    placed, promised, was, needed = (_get(bar, part) for part in ("placed", "promised", "was", "needed"))
    come = max(promised, today) if promised else None
    parts = [format_html('<line class="time-today" x1="{0}" x2="{0}" y1="0" y2="40"/>', _on(scale, today))]
    if placed:
        parts.append(_line("time-waited", _place(scale, placed), _place(scale, today), y))
    if promised:
        parts.append(_line("time-open", _place(scale, max(placed or today, today)), _place(scale, come), y))
    if come and needed and come > needed:
        parts.append(_line("time-late", _place(scale, needed), _place(scale, come), y))
    elif come and needed:
        parts.append(_line("time-slack", _place(scale, come), _place(scale, needed), y))
    if was and was != promised:
        parts.append(_use("tick-was", _place(scale, was), y))
    parts += [_use("tick-wide", _place(scale, day), y) for day in (placed, promised) if day]
    if needed:
        parts.append(_use("need", _place(scale, needed), y))
    return format_html(
        '<svg class="time-bar" role="img" aria-label="{}" width="100%" height="40">{}</svg>',
        label,
        _joined(parts),
    )


@register.simple_tag
def time_key() -> SafeString:
    """The signs of the time bars, as items of a list."""
    today = mark_safe('<line class="time-today" x1="50%" x2="50%" y1="-4" y2="14"/>')
    return _key(
        (_line("time-waited", 0, 1, 5), _("waited")),
        (_use("tick-wide", 0.5, 5), _("placed, promised")),
        (mark_safe('<use href="#need" x="50%" y="-4"/>'), _("needed")),
        (_line("time-late", 0, 1, 5), _("late")),
        (_line("time-slack", 0, 1, 5), _("in hand")),
        (today, _("today")),
    )


@register.simple_tag
def stack(total: int, free: int, color: str | None) -> SafeString:
    """Sheets seen from the edge on their base; those given away are broken lines, from the top down.

    Over 100 sheets only a count bar is drawn.
    """
    each = next((px for limit, px in STACK_LIMITS if total <= limit), None)
    if each is None:
        return count_bar(free, total, _("%(free)s free of %(total)s") % {"free": free, "total": total})
    height = total * each
    left = max(0, min(free, total))
    gone = format_html_join(
        "",
        '<line class="stack-gone" x1="0" x2="100%" y1="{0}" y2="{0}"/>',
        ((at * each + each / 2,) for at in range(total - left)),
    )
    edges = format_html_join(
        "",
        '<line class="stack-edge" x1="0" x2="100%" y1="{0}" y2="{0}"/>',
        ((at * each,) for at in range(total - left + 1, total)),
    )
    body = format_html(
        '<rect class="stack-body" x="0" y="{}" width="100%" height="{}" fill="{}"/>',
        height - left * each,
        left * each,
        color or "none",
    )
    return format_html(
        '<svg class="stack" width="100%" height="{}" aria-hidden="true">{}{}{}'
        '<rect class="stack-base" x="0" y="{}" width="100%" height="{}"/></svg>',
        height + STACK_BASE,
        body if left else "",
        edges,
        gone,
        height,
        STACK_BASE,
    )


def _key(*signs: tuple[SafeString, str]) -> SafeString:
    return format_html_join(
        "",
        '<li><svg width="34" height="10" aria-hidden="true">{}</svg> {}</li>',
        signs,
    )


def _line(css: str, start: float, end: float, y: float) -> SafeString:
    return format_html(
        '<line class="{}" x1="{}" x2="{}" y1="{}" y2="{}"/>', css, _per_cent(start), _per_cent(end), y, y
    )


def _block(css: str, start: float, width: float, y: float, fill: str = "currentColor") -> SafeString:
    return format_html(
        '<rect class="{}" x="{}" y="{}" width="{}" height="9" fill="{}"/>',
        css,
        _per_cent(start),
        y - 4.5,
        _per_cent(width),
        fill,
    )


def _use(symbol: str, place: float, y: float) -> SafeString:
    return format_html('<use href="#{}" x="{}" y="{}"/>', symbol, _per_cent(place), y)


def _on(scale: Any, day: date) -> str:
    return _per_cent(_place(scale, day))


def _place(scale: Any, day: date) -> float:
    """Where a day lies on the scale, 0 to 1 [-]; days outside stand at its end."""
    first, last = _get(scale, "first"), _get(scale, "last")
    return _share((day - first).days, (last - first).days)


def _share(value: float, total: float) -> float:
    return min(max(float(value) / float(total), 0.0), 1.0) if total else 0.0


def _per_cent(share: float) -> str:
    return f"{_plain(round(float(share) * 100, 3))}%"


def _plain(number: float) -> str:
    return f"{float(number):.3f}".rstrip("0").rstrip(".")


def _joined(parts: Iterable[SafeString]) -> SafeString:
    return mark_safe("".join(parts))


def _get(thing: Any, name: str) -> Any:
    return thing[name] if isinstance(thing, Mapping) else getattr(thing, name)
