"""The family look of documents: what is given is printed, fits, and goes over pages in whole rows."""

from datetime import date
from io import BytesIO

import pytest
from pypdf import PageObject, PdfReader
from reportlab.platypus import Flowable

from workshop.documents import (
    Column,
    Fact,
    Foot,
    Grand,
    Group,
    Letterhead,
    Sum,
    Tone,
    Tones,
    build,
    facts,
    full_date,
    notes,
    table,
    title,
)
from workshop.documents.lettering import Style, width_of

DAY = date(2026, 11, 25)
FOOT = Foot("Shop A", "12 Music school", "Pull list 12", "Nov 25, 2026", ("Revision", "C"))
SHOP = Letterhead("Shop A", "Custom woodwork", ("1 Example Street", "555-0100"))

HOSTILE = {
    "markup": "<b>Practice</b> <para>1</para> &amp; &lt; <img src='x'>",
    "no space in 300 letters": "W" * 300,
    "ten thousand letters": "m" * 10_000,
    "control characters": "Prac\0tice\x07 1\x1b[31m\r\nsecond\tline",
    "half a surrogate pair": "Practice \ud800 1",
    "letters the font does not hold": "練習 😀 קול שלום",
    "nothing": "",
    "nothing but spaces": "   ",
    "percent signs": "100 %s %(name)s {0}",
}


def made(story: list[Flowable], paper: str = "letter", name: str = "Pull list 12", foot: Foot = FOOT) -> bytes:
    return build(story, title=name, language="en-us", day=DAY, paper=paper, letterhead=SHOP, foot=foot)


def pages_of(data: bytes) -> list[PageObject]:
    return list(PdfReader(BytesIO(data)).pages)


def texts_of(data: bytes) -> list[str]:
    return [page.extract_text() for page in pages_of(data)]


def pieces_of(page: PageObject) -> list[tuple[str, float, float, float]]:
    """Every line of text on the page: the text, where it begins, its size."""
    pieces = []

    def seen(text: str, cm: list[float], tm: list[float], _font: object, size: float) -> None:
        if text.strip():
            pieces.append((text.strip("\n"), tm[4] * cm[0] + cm[4], tm[5] * cm[3] + cm[5], size))

    page.extract_text(visitor_text=seen)
    return pieces


def rooms(count: int, name: str = "Rooms") -> Flowable:
    columns = [Column("Room"), Column("Total", right=True)]
    rows = [[f"Practice {number}", f"{number},000.00"] for number in range(1, count + 1)]
    return table(name, columns, rows, [Sum(["Subtotal", "9.00"], strong=True)], Grand("Total", "9.00"))


# Pages


@pytest.mark.parametrize(("paper", "size"), [("letter", (612, 792)), ("a4", (595.28, 841.89))])
def test_paper_is_letter_or_a4(paper: str, size: tuple[float, float]) -> None:
    """Letter is 8 1/2 by 11 in (ANSI/ASME Y14.1), A4 210 by 297 mm (ISO 216); 72 points are an inch."""
    box = pages_of(made([rooms(3)], paper))[0].mediabox

    assert (float(box.width), float(box.height)) == pytest.approx(size, abs=0.01)


def test_another_paper_is_refused_with_two_that_would_do() -> None:
    with pytest.raises(ValueError, match=r"^Paper 'a5' is not known; letter or a4 would do$"):
        made([rooms(3)], "a5")


def test_every_page_carries_the_title_block_with_its_own_number() -> None:
    texts = texts_of(made([rooms(90)]))

    assert len(texts) > 2
    for number, text in enumerate(texts, start=1):
        assert f"Page\n{number} of {len(texts)}" in text
        assert "Job\n12 Music school\nDocument\nPull list 12\nDate\nNov 25, 2026\nRevision\nC\n" in text


def test_title_author_language_and_day_are_in_the_file() -> None:
    reader = PdfReader(BytesIO(made([rooms(1)], name="Łódź 1\n2")))

    root = reader.trailer["/Root"]
    assert reader.metadata.title == "Łódź 1 2"
    assert reader.metadata.author == "Shop A"
    assert reader.metadata.creation_date.date() == DAY
    assert root["/Lang"] == "en-us"
    assert root["/ViewerPreferences"]["/DisplayDocTitle"]


def test_every_font_is_the_shops_own_and_embedded() -> None:
    story = [title("Pull list", "Sheets", "31"), rooms(40), notes([("Notes", ["Łódź ½ ′ ″ Ω"])])]

    named = [page["/Resources"]["/Font"].get_object() for page in pages_of(made(story))]

    fonts = [font.get_object() for one in named for font in one.values()]
    assert fonts
    assert all("FlitchbookSans" in font["/BaseFont"] for font in fonts)
    assert all("/FontFile2" in font["/FontDescriptor"] for font in fonts)


def test_the_same_story_and_day_give_the_same_bytes() -> None:
    assert made([rooms(30)]) == made([rooms(30)])


def test_a_day_is_written_with_its_year() -> None:
    assert full_date(date(2026, 12, 28), "en-us") == "Dec 28, 2026"


# Tables


def test_a_table_without_rows_says_none() -> None:
    text = texts_of(made([table("Rooms", [Column("Room"), Column("Total", right=True)], [])]))[0]

    assert "Rooms\nRoom\nTotal\nNone\n" in text


def test_every_row_stands_whole_on_one_page_under_a_head() -> None:
    texts = texts_of(made([rooms(120)]))

    for number in range(1, 121):
        assert sum(f"Practice {number}\n{number},000.00\n" in text for text in texts) == 1
    assert all("Room\nTotal\n" in text for text in texts)
    assert all("Rooms, continued" in text for text in texts[1:])


@pytest.mark.parametrize("above", range(0, 40, 3))
def test_a_head_is_never_left_behind_wherever_its_table_begins(above: int) -> None:
    texts = texts_of(made([rooms(above, "Before"), rooms(6, "After")]))

    for text in texts:
        if "After\n" in text:
            assert text.partition("After\nRoom\nTotal\n")[2].count("Practice ") >= 2


@pytest.mark.parametrize("count", [1, 2, *range(20, 32), *range(48, 60)])
def test_sums_stand_on_a_page_with_the_last_row(count: int) -> None:
    texts = texts_of(made([rooms(count)]))

    last = next(text for text in texts if "Subtotal" in text)
    assert f"Practice {count}\n" in last
    assert "Total\n9.00" in last


def test_a_group_cut_by_the_end_of_the_page_is_named_again_on_the_next() -> None:
    columns = [Column("Room"), Column("Material")]
    group = Group([["" if number else "Recital room", f"Kind {number}"] for number in range(50)])

    first, second = texts_of(made([table("Materials", columns, [group])]))

    assert "Recital room\nKind 0\n" in first
    assert "Recital room, continued\n" in second


def test_a_tone_group_prints_its_name_beside_its_swatch() -> None:
    cell = Tones((Tone("Pale", "#eadfc9", 1, "4"), Tone("Cream", "#dfcca9", 2, "2")))

    text = texts_of(made([table("Sheets", [Column("Room"), Column("Tone group")], [["Practice 5", cell]])]))[0]

    assert "Practice 5\nPale 4\nCream 2\n" in text


# Notes


def test_long_notes_go_on_over_pages_and_lose_no_word() -> None:
    words = [f"word{number}" for number in range(3000)]
    story = [rooms(12), notes([("Not included", ["Electrical work"]), ("Notes", [" ".join(words)])])]

    text = "\n".join(texts_of(made(story)))

    assert [word for word in text.split() if word.startswith("word")] == words


@pytest.mark.parametrize("count", range(12, 28))
def test_short_notes_stay_together_on_one_page(count: int) -> None:
    sentences = [f"Sentence {number}." for number in range(8)]

    texts = texts_of(made([rooms(count), notes([("Notes", sentences)])]))

    assert any(all(sentence in text for sentence in ["Notes", *sentences]) for text in texts)


# Whatever is typed


def with_everywhere(typed: str) -> list[Flowable]:
    tone = Tones((Tone(typed, typed, 7, "3"), Tone("Pale", "#eadfc9", 1)))
    columns = [Column(typed), Column(typed, right=True), Column(typed)]
    rows = [[typed, "1.00", tone], Group([[typed, typed[:400], tone], ["", "2.00", "Trim"]])]
    return [
        title(typed, typed, typed),
        facts([Fact(typed, typed, typed)] * 4),
        table(typed, columns, rows, sums=[Sum([typed, "", "3.00"])], grand=Grand(typed, typed)),
        notes([(typed, [typed[:3000]]), (typed, [])]),
    ]


@pytest.mark.parametrize("paper", ["letter", "a4"])
@pytest.mark.parametrize("typed", HOSTILE.values(), ids=HOSTILE)
def test_whatever_is_typed_stays_inside_the_frame(typed: str, paper: str) -> None:
    data = build(
        with_everywhere(typed),
        title=typed,
        language="en-us",
        day=DAY,
        paper=paper,
        letterhead=Letterhead(typed, typed, (typed,) * 9),
        foot=Foot(typed, typed, typed, typed, (typed, typed)),
    )

    for page in pages_of(data):
        wide, high = float(page.mediabox.width), float(page.mediabox.height)
        for text, x, y, size in pieces_of(page):
            longest = max(text.split("\n"), key=len)
            assert x > 32 and x + width_of(longest, Style(size)) < wide - 32
            assert 32 < y < high - 32


def test_markup_in_a_name_prints_as_typed() -> None:
    story = [table("Rooms", [Column("Room")], [["<b>Lobby</b> & <para>"]]), facts([Fact("For", "A < B & C")])]

    text = texts_of(made(story))[0]

    assert "<b>Lobby</b> & <para>" in text
    assert "A < B & C" in text


def test_a_long_name_wraps_and_none_of_it_is_lost() -> None:
    name = "Recital room " * 12 + "W" * 200
    columns = [Column("Room"), Column("Materials", right=True), Column("Total", right=True)]

    text = texts_of(made([table("Rooms", columns, [[name, "10,000,000,000.000", "10,000,000,000.000"]])]))[0]

    assert name.replace(" ", "") in text.replace("\n", "").replace(" ", "")
    assert text.count("10,000,000,000.000") == 2
