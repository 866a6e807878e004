"""Sheet and half numbers as they are written on a list; the ways are a house rule, DEVELOPERS.md "Pieces"."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from jobs.calculations.piece_numbers import MOST_PIECES, PieceNumbersError, read_pieces, show_pieces


@pytest.mark.parametrize(
    ("text", "pieces"),
    [
        ("31", "31A 31B"),
        ("31A", "31A"),
        ("31b", "31B"),
        ("31, 32A", "31A 31B 32A"),
        ("31 32A;33", "31A 31B 32A 33A 33B"),
        ("40-42", "40A 40B 41A 41B 42A 42B"),
        ("40 – 41", "40A 40B 41A 41B"),
        ("40 -41,  7A", "40A 40B 41A 41B 7A"),
        ("31, 31A, 30-31", "31A 31B 30A 30B"),
        ("7-7", "7A 7B"),
        ("31A\n31B\t", "31A 31B"),
    ],
)
def test_a_list_of_sheets_names_its_halves_in_the_order_written_each_once(text: str, pieces: str) -> None:
    assert [f"{number}{side}" for number, side in read_pieces(text)] == pieces.split()


@pytest.mark.parametrize(
    ("text", "message"),
    [
        ("", "An empty list names no sheet. Type 31, 32 or 31A, 40-44."),
        (" , ;", ", ; names no sheet. Type 31, 32 or 31A, 40-44."),
        ("thirty", "thirty is no sheet number. Type 31, 32 or 31A, 40-44."),
        ("31C", "31C is no sheet number. Type 31, 32 or 31A, 40-44."),
        ("-1", "-1 is no sheet number. Type 31, 32 or 31A, 40-44."),
        ("3.5", "3.5 is no sheet number. Type 31, 32 or 31A, 40-44."),
        ("1\0", "1\0 is no sheet number. Type 31, 32 or 31A, 40-44."),
        ("٣١", "٣١ is no sheet number. Type 31, 32 or 31A, 40-44."),
        ("1234567", "1234567 is no sheet number. Type 31, 32 or 31A, 40-44."),
        ("31A-33", "31A-33 is a half and a run at once. Type 31A or 31-33."),
        ("44-40", "44-40 runs backwards. Type 40-44 or 44."),
        ("1-999999", "1-999999 names too many sheets at once. Type 1-100 or 1."),
    ],
)
def test_what_is_no_list_of_sheets_is_refused_with_two_that_are(text: str, message: str) -> None:
    with pytest.raises(PieceNumbersError) as refused:
        read_pieces(text)

    assert str(refused.value) == message
    assert all(read_pieces(would_do) for would_do in refused.value.would_do)


def test_more_halves_than_one_list_takes_are_refused() -> None:
    assert len(read_pieces("1-250")) == MOST_PIECES

    with pytest.raises(PieceNumbersError, match="names too many sheets at once"):
        read_pieces("1-250, 300A")


@pytest.mark.parametrize(
    ("typed", "shown"),
    [
        ("44-49", "44-49"),
        ("44A, 44B, 45, 46A", "44, 45, 46A"),
        ("40-42, 43A, 44-46", "40-42, 43A, 44-46"),
        ("3, 1, 2A, 2B", "1-3"),
        ("31B", "31B"),
    ],
)
def test_pieces_are_told_with_whole_sheets_and_runs_drawn_together(typed: str, shown: str) -> None:
    assert show_pieces(read_pieces(typed)) == shown


@given(st.lists(st.tuples(st.integers(1, 40), st.sampled_from("AB")), min_size=1))
def test_what_is_told_of_pieces_is_read_as_the_same_pieces(pieces: list[tuple[int, str]]) -> None:
    assert set(read_pieces(show_pieces(pieces))) == set(pieces)


@given(st.text(max_size=60))
def test_any_text_is_read_or_refused_in_words(text: str) -> None:
    try:
        pieces = read_pieces(text)
    except PieceNumbersError as refused:
        assert len(refused.would_do) == 2
    else:
        assert 0 < len(set(pieces)) == len(pieces) <= MOST_PIECES
