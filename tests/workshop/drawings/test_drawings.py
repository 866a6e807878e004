"""One drawing, on the screen and on paper: to scale, its sizes where the trade looks for them."""

import io
from xml.etree import ElementTree

import pytest
from pypdf import PdfReader
from reportlab.pdfgen.canvas import Canvas

from workshop.drawings import Chain, Drawing, Grain, Line, Mark, Piece, Shape, Tally, Words, on_paper, on_screen, svg
from workshop.drawings.pdf import PT_OF_MM, draw, fitted
from workshop.drawings.plotting import Path, Plot, Text

SPACE = "{http://www.w3.org/2000/svg}"


def wall(*more: Piece, widths: tuple[float, ...] = (600, 600, 1200)) -> Drawing:
    """Panels side by side, 2,400 mm high, dimensioned singly and as a whole."""
    places, pieces = [0.0], []
    for number, width in enumerate(widths):
        left, right = places[-1], places[-1] + width
        corners = [(left, 0), (right, 0), (right, 2400), (left, 2400)]
        pieces.append(Piece([Shape(corners, "object", "#eadfc9")], f"/panels/{number}/", f"Panel {number}"))
        places.append(right)
    chains = Chain(places, [f"{width:g}" for width in widths], 0), Chain([0, places[-1]], ["whole"], 0, 1, whole=True)
    return Drawing("A wall of panels", [*pieces, Piece(chains), *more], 0, 0, places[-1], 2400)


def paths(plot: Plot) -> list[Path]:
    return [path for piece in plot.pieces for path in piece.paths if isinstance(path, Path)]


def texts(plot: Plot) -> dict[str, Text]:
    return {text.text: text for piece in plot.pieces for text in piece.paths if isinstance(text, Text)}


def drawn(drawing: Drawing, width: float = 900) -> ElementTree.Element:
    return ElementTree.fromstring(svg(on_screen(drawing, width)).replace("<svg ", f'<svg xmlns="{SPACE[1:-1]}" ', 1))


@pytest.mark.parametrize("ratio", [1, 10, 20, 50])
def test_on_paper_a_length_is_drawn_at_its_scale(ratio: int) -> None:
    plot = on_paper(wall(), PT_OF_MM / ratio)

    panel = paths(plot)[2]

    (left, _), (right, _) = panel.points[0], panel.points[1]
    assert right - left == pytest.approx(1200 / ratio * 72 / 25.4)


def test_on_the_screen_a_drawing_is_as_wide_as_it_was_told() -> None:
    plot = on_screen(wall(), 340)

    assert plot.width == pytest.approx(340)
    assert all(0 <= x <= 340 for path in paths(plot) for x, _ in path.points)


def test_single_sizes_stand_under_the_object_and_the_whole_further_down() -> None:
    plot = on_screen(wall(), 900)
    foot = max(y for path in paths(plot)[:3] for _, y in path.points)

    written = texts(plot)

    assert foot < written["1200"].at[1] < written["whole"].at[1] < plot.height


def test_a_height_is_read_from_the_right() -> None:
    height = Piece([Chain([0, 2400], ["2400"], 0, axis="y")])

    figure = texts(on_screen(wall(height), 900))["2400"]

    assert figure.turned
    assert figure.at[0] < min(x for path in paths(on_screen(wall(height), 900))[:3] for x, _ in path.points)


def test_equal_neighbors_too_narrow_for_their_size_are_gathered() -> None:
    plot = on_screen(wall(widths=(100, *[600] * 8, 100)), 240)

    assert "8 × 600" in texts(plot)
    assert "600" not in texts(plot)


def test_neighbors_with_room_for_their_size_stand_singly() -> None:
    plot = on_screen(wall(widths=(600, 600, 600)), 900)

    figures = [text for piece in plot.pieces for text in piece.paths if isinstance(text, Text) and text.text == "600"]
    assert len(figures) == 3


def test_a_size_too_wide_for_its_gap_goes_to_the_other_side_of_its_line() -> None:
    plot = on_screen(wall(widths=(30, 2000)), 500)

    written = texts(plot)

    assert written["30"].at[1] > written["2000"].at[1]


def test_words_get_smaller_to_fit_and_are_left_out_where_they_could_not_be_read() -> None:
    number = Words((0, 1200), "31A", "number", room=600)
    label = Words((0, 1200), "a long name of a piece", room=100)

    written = texts(on_screen(wall(Piece([number, label])), 300))

    assert 11 <= written["31A"].size <= 18
    assert "a long name of a piece" not in written


def test_a_tone_is_told_by_its_strokes_too() -> None:
    plot = on_screen(wall(Piece([Tally((300, 1200), 3)])), 900)

    assert len([path for path in paths(plot) if path.role == "tally"]) == 3


def test_every_piece_that_leads_somewhere_is_a_link_with_its_name() -> None:
    links = drawn(wall()).findall(f"{SPACE}a")

    named = [(link.get("href"), link.get("aria-label")) for link in links]
    assert named == [("/panels/0/", "Panel 0"), ("/panels/1/", "Panel 1"), ("/panels/2/", "Panel 2")]


def test_a_drawing_says_in_a_sentence_what_is_seen() -> None:
    plain = Drawing("Two boards", [Piece([Line([(0, 0), (10, 0)])])], 0, 0, 10, 10)

    assert drawn(plain).get("aria-label") == "Two boards"
    assert drawn(plain).get("role") == "img"
    assert drawn(wall()).get("role") == "group"


def test_nothing_in_the_svg_needs_an_inline_style_and_markup_in_words_stays_text() -> None:
    odd = '"><script>alert(1)</script>'
    every = Piece([Words((0, 0), odd), Mark((10, 10)), Mark((10, 10), "tick"), Grain(0, 0, 600, 2400)], "/x/", odd)

    text = svg(on_screen(wall(every), 900))

    assert " style=" not in text
    assert "<script" not in text
    assert any(odd == "".join(part.itertext()) for part in drawn(wall(every)).iter(f"{SPACE}text"))


def test_the_grain_runs_across_where_it_is_told_to() -> None:
    up, across = (paths(on_screen(wall(Piece([Grain(0, 0, 600, 2400, turn)])), 900))[-1] for turn in (False, True))

    assert up.points[0][1] == pytest.approx(up.points[3][1])
    assert across.points[0][0] == pytest.approx(across.points[3][0])


def test_the_pdf_holds_the_same_words_as_the_screen() -> None:
    sheet = io.BytesIO()
    canvas = Canvas(sheet, pagesize=(800, 800))

    draw(canvas, on_paper(wall(), PT_OF_MM / 10), 20, 780)
    canvas.save()

    printed = PdfReader(sheet).pages[0].extract_text()
    assert all(words in printed for words in texts(on_screen(wall(), 900)))


def test_the_largest_usual_scale_that_fits_is_taken() -> None:
    scaled = fitted(wall(), 500, 700)

    assert scaled.ratio == 20
    assert scaled.plot.width <= 500
    assert on_paper(wall(), PT_OF_MM / 10).width > 500
