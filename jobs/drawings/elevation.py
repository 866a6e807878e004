"""A wall or ceiling as one looks at it from the room: outline, panels, openings, cut-outs, sizes."""

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass

from jobs.calculations import surfaces as calc
from jobs.calculations.panels.layout import Layout
from jobs.calculations.panels.pieces import Panel
from jobs.calculations.panels.wishes import Run, Up
from jobs.calculations.surfaces import regions
from workshop.drawings import Chain, Drawing, Grain, Line, Mark, Piece, Shape, Tally, Words

NM_OF_MM = 1_000_000
BEYOND, LEVEL_BEYOND = 60, 40
NAME_LIFT, TOP_MARK, TALLY_DROP = -20, 8, 8
NUMBER_AT = 0.54


@dataclass(frozen=True)
class Seen:
    """What is known of one panel: its state, the sheet it is cut from and that sheet's tone, and where it leads."""

    state: str = "to cut"
    sheet: str = ""
    tone: str = ""
    tone_place: int = 0
    href: str = ""
    chosen: bool = False


ROLES = {"to cut": "hidden", "cut": "thin", "hung": "frame"}
Show = Callable[[int], str]


def elevation(
    face: calc.Face,
    layout: Layout | None,
    *,
    show: Show,
    show_whole: Show,
    sentence: str,
    seen: Mapping[str, Seen] | None = None,
    level_nm: int | None = None,
) -> Drawing:
    """Return a surface drawn in mm, from its left end and its foot.

    Args:
        face: the surface with what is in it [nm]
        layout: its panels, None where none are laid out yet [nm]
        show: how the size of a panel is written, from nanometers
        show_whole: how a size of the whole surface is written
        sentence: what is seen, for readers
        seen: what is known of the panels, by name
        level_nm: the level line's height, None where it is not drawn [nm]
    """
    surface = face.surface
    width, height = _mm(surface.width_nm), _mm(surface.height_nm)
    pieces = [Piece([Line([(-BEYOND, 0), (width + BEYOND, 0)], "base")])]
    pieces += [Piece([Shape(_corners(surface.outline), "thin" if layout else "object")])]
    if layout is not None:
        pieces += [_panel(panel, (seen or {}).get(panel.name, Seen())) for panel in layout.panels]
    pieces += [_opening(opening) for opening in surface.openings]
    pieces += [Piece(list(_cut_out(each))) for each in surface.cut_outs]
    if level_nm is not None:
        line = [(-LEVEL_BEYOND, _mm(level_nm)), (width + LEVEL_BEYOND, _mm(level_nm))]
        pieces.append(Piece([Line(line, "center")]))
    pieces.append(Piece(list(_sizes(face, layout, show, show_whole))))
    return Drawing(sentence, pieces, 0, 0, width, height)


def _panel(panel: Panel, seen: Seen) -> Piece:
    left, foot, right, top = (_mm(value) for value in regions.bounds(panel.shape))
    role = "chosen" if seen.chosen else ROLES[seen.state]
    items = [Shape(_corners(outline), role, seen.tone) for outline in panel.shape]
    middle, tall = (left + right) / 2, top - foot
    if seen.tone:
        items.append(Grain(left, foot, right - left, tall, across=panel.run is Run.ACROSS))
    if panel.up is Up.TOP:
        items.append(Mark((middle, top), "up", TOP_MARK))
    number = seen.sheet or (panel.name if panel.run is Run.ACROSS or panel.piece > 1 else "")
    if number:
        items.append(Words((middle, foot + NUMBER_AT * tall), number, "number", room=(right - left) * 0.9))
    if seen.tone_place:
        items.append(Tally((middle, foot + NUMBER_AT * tall), seen.tone_place, TALLY_DROP))
    if seen.state == "hung":
        items.append(Mark((middle, foot + tall * 0.06), "tick"))
    if panel.run is Run.UP and panel.piece == 1:
        items.append(Words((middle, 0), panel.name, "name", lift=NAME_LIFT, room=(right - left) * 1.2))
    return Piece(items, seen.href, panel.name)


def _opening(opening: calc.Opening) -> Piece:
    left, foot, right, top = (_mm(v) for v in (opening.left_nm, opening.foot_nm, opening.right_nm, opening.top_nm))
    box = Shape([(left, foot), (right, foot), (right, top), (left, top)], "object", "paper")
    return Piece([box, Line([(left, foot), (right, top)], "thin"), Line([(right, foot), (left, top)], "thin")])


def _cut_out(cut_out: calc.CutOut) -> Iterator[Shape]:
    for outline in cut_out.region:
        yield Shape(_corners(outline), "object", "paper")


def _sizes(face: calc.Face, layout: Layout | None, show: Show, show_whole: Show) -> Iterator[Chain]:
    surface = face.surface
    if layout is not None and layout.wish.run is Run.UP:
        yield _chain(_along(layout), show)
    elif layout is not None:
        yield _chain(_along(layout), show, axis="y", row=1)
    width, height = surface.width_nm, surface.height_nm
    yield Chain([0, _mm(width)], [show_whole(width)], 0, row=1, whole=True)
    yield Chain([0, _mm(height)], [show_whole(height)], 0, axis="y", whole=True)


def _along(layout: Layout) -> list[tuple[int, int]]:
    """Start and end of what lies along the layout: columns, and openings where no panel stands at the foot."""
    stretches = [(column.start, column.end) for column in layout.columns if _stands(column, layout)]
    if layout.wish.run is Run.UP:
        stretches += [(o.left_nm, o.right_nm) for o in layout.face.surface.openings if o.foot_nm == 0]
    kept: list[tuple[int, int]] = []
    for start, end in sorted(stretches):
        if not kept or start >= kept[-1][1]:
            kept.append((start, end))
    return kept


def _stands(column: object, layout: Layout) -> bool:
    """Whether a panel of this column stands on the floor; others lie over an opening."""
    if layout.wish.run is not Run.UP:
        return True
    for panel in layout.panels:
        left, foot, right, _ = regions.bounds(panel.shape)
        if column.start <= left and right <= column.end:
            low = regions.bounds(layout.face.region)[1]
            return foot <= low
    return False


def _chain(stretches: Sequence[tuple[int, int]], show: Show, *, axis: str = "x", row: int = 0) -> Chain:
    """One size for each stretch; the reveals between lie at the ticks."""
    places = [_mm(stretches[0][0])] if stretches else [0.0, 0.0]
    texts = []
    for (start, end), following in zip(stretches, [*stretches[1:], None], strict=True):
        places.append(_mm(following[0] if following else end))
        texts.append(show(end - start))
    return Chain(places, texts if stretches else [""], 0, row=row, axis=axis)


def _corners(outline: Sequence[tuple]) -> list[tuple[float, float]]:
    return [(_mm(x), _mm(y)) for x, y in outline]


def _mm(value: object) -> float:
    return float(value) / NM_OF_MM
