"""Text on paper: the shop's typeface, which letters it holds, how wide a text is and where it breaks."""

import re
import unicodedata
from collections.abc import Iterator
from dataclasses import dataclass, replace
from functools import cache, lru_cache
from itertools import groupby
from pathlib import Path

from reportlab.lib.colors import Color, HexColor
from reportlab.pdfbase.pdfmetrics import registerFont
from reportlab.pdfbase.ttfonts import TTFont
from reportlab.pdfgen.canvas import Canvas

FONTS = Path(__file__).resolve().parent.parent / "fonts"
REGULAR, MEDIUM, SEMIBOLD = "FlitchbookSans-Regular", "FlitchbookSans-Medium", "FlitchbookSans-SemiBold"
MORE_REGULAR, MORE_SEMIBOLD = "FlitchbookSansMore-Regular", "FlitchbookSansMore-SemiBold"
MORE = {REGULAR: MORE_REGULAR, MEDIUM: MORE_REGULAR, SEMIBOLD: MORE_SEMIBOLD}

INK = HexColor("#17212b")
INK_2 = HexColor("#4b5864")
EDGE = HexColor("#6a7783")
HAIR = HexColor("#c3cacf")

MISSING = "\ufffd"
SMALLEST = 5.0
LONG = 200
LETTERS_ON_A_LINE = 500

_IN_PLACE = str.maketrans(
    {
        **dict.fromkeys("\u2007\u2009\u202f", "\u00a0"),
        **dict.fromkeys("\u2010\u2011", "-"),
        "\u2012": "–",
        "\u2015": "—",
        "\t": " ",
        "\r": "\n",
        "\u2028": "\n",
        "\u2029": "\n",
    }
)
_FRACTION = re.compile("(?<=[0-9])(?=[\u2150-\u215e])")


@dataclass(frozen=True)
class Style:
    """How a text is set: size and pitch of its lines in points."""

    size: float
    font: str = REGULAR
    color: Color = INK
    pitch: float = 0

    @property
    def leading(self) -> float:
        return self.pitch or self.size * 1.25


@cache
def typeface(name: str) -> TTFont:
    """One weight of the shop's typeface, read from its file once and then known to the PDF library."""
    font = TTFont(name, FONTS / f"{name}.ttf")
    registerFont(font)
    return font


@cache
def own_letters() -> frozenset[int]:
    """The code points the typeface holds; its three weights hold the same."""
    return frozenset(typeface(REGULAR).face.charToGlyph)


@cache
def letters() -> frozenset[int]:
    """The code points that print: those of the typeface, and those it borrows from the one of further alphabets."""
    return own_letters() | frozenset(typeface(MORE_REGULAR).face.charToGlyph)


def in_fonts(text: str, font: str) -> Iterator[tuple[str, str]]:
    """A printable text in runs, each with the font that holds its letters."""
    if text.isascii():
        yield font, text
        return
    for is_own, run in groupby(text, lambda char: ord(char) in own_letters()):
        yield (font if is_own else MORE[font]), "".join(run)


def printable(text: str) -> str:
    """The text in letters that print, with line feeds as its only control characters.

    A letter that has no outline becomes, in this order: the same letter written otherwise (7/8 for one sign),
    the letter without its mark, the sign � for a missing letter. Signs that print nothing are left out.
    """
    if text.isascii() and text.isprintable():
        return text
    return _printable(text) if len(text) > LONG else _printable_once(text)


def _printable(text: str) -> str:
    text = text.replace("\r\n", "\n").translate(_IN_PLACE)
    text = _FRACTION.sub(" ", unicodedata.normalize("NFC", text))
    return "".join(char if ord(char) in letters() or char == "\n" else _otherwise(char) for char in text)


_printable_once = lru_cache(maxsize=4096)(_printable)


@lru_cache(maxsize=4096)
def _otherwise(char: str) -> str:
    if unicodedata.category(char) in ("Cc", "Cf", "Mn", "Me"):
        return ""
    if char.isspace():
        return " "
    same = unicodedata.normalize("NFKC", char)
    if "\u2150" <= char <= "\u215e":
        same = same.replace("⁄", "/")
    if all(ord(part) in letters() for part in same):
        return same
    base = unicodedata.normalize("NFKD", char)[0]
    return base if ord(base) in letters() else MISSING


class _Widths(dict[str, float]):
    """Advance of each letter in thousandths of the size, asked of the typeface once."""

    def __init__(self, font: str) -> None:
        super().__init__()
        self.faces = [typeface(name).face for name in (font, MORE[font])]

    def __missing__(self, char: str) -> float:
        face = next((face for face in self.faces if ord(char) in face.charWidths), self.faces[0])
        self[char] = face.charWidths.get(ord(char), face.defaultWidth)
        return self[char]


@cache
def _widths(font: str) -> _Widths:
    return _Widths(font)


def width_of(text: str, style: Style) -> float:
    """The width of a text already printable, in points."""
    return sum(map(_widths(style.font).__getitem__, text)) * style.size / 1000


def wrapped(text: str, style: Style, width: float, most: int | None = None) -> list[str]:
    """The text in lines of at most the width; a word wider than that is broken where the line ends.

    Of more than `most` lines the rest is left out and an ellipsis says so.
    """
    lines: list[str] = []
    text = text[: most * LETTERS_ON_A_LINE] if most else text
    for part in printable(text).split("\n"):
        line = ""
        for word in part.split(" "):
            longer = f"{line} {word}" if line else word
            if width_of(longer, style) <= width:
                line = longer
                continue
            if line:
                lines.append(line)
            *full, line = _pieces(word, style, width)
            lines += full
            if most and len(lines) > most:
                break
        lines.append(line)
    if most and len(lines) > most:
        lines = [*lines[: most - 1], shortened(f"{lines[most - 1]}…", style, width, always=True)]
    return lines


def _pieces(word: str, style: Style, width: float) -> list[str]:
    """A word cut where the line ends; every piece holds one letter at least."""
    if width_of(word, style) <= width:
        return [word]
    pieces = []
    widths = _widths(style.font)
    whole = room = width * 1000 / style.size
    start = 0
    for at, char in enumerate(word):
        if widths[char] > room and at > start:
            pieces.append(word[start:at])
            start, room = at, whole
        room -= widths[char]
    return [*pieces, word[start:]]


def shortened(text: str, style: Style, width: float, always: bool = False) -> str:
    """The text on one line, cut with an ellipsis where it is wider than the width.

    With `always` the text ends in an ellipsis already, which stays.
    """
    text = printable(text[:LETTERS_ON_A_LINE]).replace("\n", " ")
    if width_of(text, style) <= width:
        return text
    whole = text.removesuffix("…") if always else text
    room = width - width_of("…", style)
    end = 0
    while end < len(whole) and (room := room - width_of(whole[end], style)) >= 0:
        end += 1
    return f"{whole[:end].rstrip()}…"


def fitted(text: str, style: Style, width: float, least: float = SMALLEST) -> Style:
    """The style at the size at which the text is no wider than the width, not under the least size."""
    wide = width_of(printable(text[:LETTERS_ON_A_LINE]), style)
    return style if wide <= width else replace(style, size=max(least, style.size * width / wide), pitch=0)


def write(canvas: Canvas, text: str, style: Style, x: float, baseline: float, right: bool = False) -> None:
    """Sets one line of printable text, beginning at x or ending there."""
    if right:
        x -= width_of(text, style)
    canvas.setFillColor(style.color)
    for font, run in in_fonts(text, style.font):
        typeface(font)
        canvas.setFont(font, style.size)
        canvas.drawString(x, baseline, run)
        x += width_of(run, style)


def rule(canvas: Canvas, x: float, y: float, width: float, weight: float, color: Color = INK) -> None:
    """A level line."""
    canvas.setStrokeColor(color)
    canvas.setLineWidth(weight)
    canvas.line(x, y, x + width, y)
