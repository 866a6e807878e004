"""A plotted drawing as svg: one class per role, no style attribute, every piece a link where it leads somewhere."""

from collections.abc import Iterator

from django.utils.html import format_html
from django.utils.safestring import SafeString, mark_safe

from workshop.drawings.plotting import Path, Plot, Plotted, Text

FILLS = {"paper": "draw-paper", "ink": "draw-ink"}


def svg(plot: Plot, *, css: str = "drawing") -> SafeString:
    """Return the drawing, an image with one sentence for readers; links within keep their names."""
    parts = mark_safe("".join(part for piece in plot.pieces for part in _piece(piece)))
    return format_html(
        '<svg class="{}" viewBox="0 0 {} {}" width="{}" height="{}" role="{}" aria-label="{}">{}</svg>',
        css,
        _number(plot.width),
        _number(plot.height),
        _number(plot.width),
        _number(plot.height),
        "group" if any(piece.href for piece in plot.pieces) else "img",
        plot.sentence,
        parts,
    )


def _piece(piece: Plotted) -> Iterator[str]:
    drawn = [_text(part) if isinstance(part, Text) else _path(part) for part in piece.paths]
    inner = mark_safe("".join(drawn))
    if piece.href:
        yield format_html('<a href="{}" aria-label="{}">{}</a>', piece.href, piece.label, inner)
    else:
        yield inner


def _path(path: Path) -> SafeString:
    steps = [f"{_number(x)} {_number(y)}" for x, y in path.points]
    if path.curve:
        line = f"M{steps[0]}C{steps[1]} {steps[2]} {steps[3]}"
    else:
        line = "M" + "L".join(steps) + ("Z" if path.closed else "")
    css = f"draw-{path.role}"
    if path.fill in FILLS:
        return format_html('<path class="{} {}" d="{}"/>', css, FILLS[path.fill], line)
    if path.fill:
        fill = f"url(#{path.fill})" if path.fill.startswith("hatch-") else path.fill
        return format_html('<path class="draw-fill" fill="{}" d="{}"/><path class="{}" d="{}"/>', fill, line, css, line)
    return format_html('<path class="{}" d="{}"/>', css, line)


def _text(text: Text) -> SafeString:
    x, y = (_number(value) for value in text.at)
    turn = format_html(' transform="rotate(-90 {} {})"', x, y) if text.turned else ""
    return format_html(
        '<text class="letter-{}" x="{}" y="{}" font-size="{}" text-anchor="{}"{}>{}</text>',
        text.lettering,
        x,
        y,
        _number(text.size),
        text.anchor,
        turn,
        text.text,
    )


def _number(value: float) -> str:
    return f"{value:.2f}".rstrip("0").rstrip(".")
