"""Documents over several pages and in other alphabets: no notes alone, no name lost, no letter as an empty box."""

from dataclasses import replace

import pytest
from reportlab.platypus import Flowable

from tests.workshop.test_documents import made, pages_of, rooms, texts_of
from workshop.documents import Column, Group, Sum, facts, notes, table, title
from workshop.documents.lettering import width_of
from workshop.documents.parts import Fact
from workshop.documents.rows import BODY, STRONG, group_rows

LACKS = "stands for a letter this typeface does not hold."


def materials(rows: int, name: str) -> Flowable:
    group = Group([["" if number else name, f"Kind {number}"] for number in range(rows)])
    return table("Materials", [Column("Room"), Column("Material", share=4)], [group], [Sum(["All rooms", "Ash"])])


# Notes at the end


@pytest.mark.parametrize("count", range(1, 60))
def test_short_notes_never_stand_on_a_page_without_rows(count: int) -> None:
    texts = texts_of(made([title("Cost summary"), rooms(count), notes([("Notes", ["Wood varies."])])]))

    assert all("Practice " in text for text in texts)
    assert "Wood varies." in texts[-1]


@pytest.mark.parametrize("count", range(14, 32))
def test_rows_without_sums_go_over_with_the_notes_two_by_two(count: int) -> None:
    rows = [[f"Practice {number}"] for number in range(1, count + 1)]
    story = [title("Pull list"), table("Rooms", [Column("Room")], rows), notes([("Notes", ["Line"] * 12)])]

    texts = texts_of(made(story))

    assert all(text.count("Practice ") >= 2 for text in texts)
    for number in range(1, count + 1):
        assert sum(f"Practice {number}\n" in text for text in texts) == 1


@pytest.mark.parametrize("count", range(1, 28))
def test_a_short_table_goes_over_whole_with_its_notes(count: int) -> None:
    payments = table("Payments", [Column("Payment")], [["Deposit"], ["Balance"]])

    texts = texts_of(made([rooms(count), payments, notes([("Notes", ["Deliver before noon."])])]))

    assert "Payments\nPayment\nDeposit\nBalance\n" in next(text for text in texts if "Deliver before noon." in text)


# A group on the next page


def test_a_group_that_goes_on_is_named_whole_in_two_lines() -> None:
    texts = texts_of(made([materials(60, "Practice room 48")]))

    assert "Practice room 48,\ncontinued\n" in texts[1]


def test_a_name_too_long_for_the_rows_that_are_left_is_shortened_and_still_says_that_it_goes_on() -> None:
    whole = group_rows([["Recital room " * 8, ""], ["", "Ash"]], [(0, 100), (114, 300)], [BODY, BODY], [False, False])
    last = replace(whole[-1], to_end=16.0)

    (line,) = last.named_again()

    assert line.startswith("Rec")
    assert line.endswith("…, continued")
    assert width_of(line, STRONG) <= 100


# Letters


def test_letters_of_other_alphabets_print_and_their_fonts_are_embedded() -> None:
    words = "Ωδείο, Музыка, Łódź, Ǎ, ẞ, ½, ′, ″, Ω, Ø, ñ, €, £, ¥, ₹, ₩"
    story = [title(words[:14], "Total", "₩ 1,200"), facts([Fact("For", words)]), notes([("Notes", [words])])]

    (page,) = pages_of(made(story))

    text = "".join(page.extract_text().split())
    assert text.count(words.replace(" ", "")) == 2
    assert "₩1,200" in text
    fonts = [font.get_object() for font in page["/Resources"]["/Font"].get_object().values()]
    assert any("FlitchbookSansMore" in font["/BaseFont"] for font in fonts)
    assert all("/FontFile2" in font["/FontDescriptor"] for font in fonts)


def test_a_letter_that_has_no_outline_is_told_at_the_foot_of_its_page() -> None:
    texts = texts_of(made([notes([("Notes", ["漢字"])]), rooms(60)]))

    assert "\ufffd\ufffd" in texts[0]
    assert LACKS in texts[0]
    assert all(LACKS not in text for text in texts[1:])
