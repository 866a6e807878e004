"""The one-time code of the first start: six figures, good until used, renewed after ten wrong tries."""

from collections.abc import Iterator

import pytest

from workshop import first_start


@pytest.fixture(autouse=True)
def nothing_kept(monkeypatch: pytest.MonkeyPatch) -> Iterator[None]:
    monkeypatch.setattr(first_start, "PAUSE_SECONDS", 0)
    first_start.used()
    yield
    first_start.used()


def wrong(code: str) -> str:
    return "000000" if code != "000000" else "111111"


def test_the_code_is_six_figures_and_stays_until_it_is_used() -> None:
    code = first_start.code()

    assert len(code) == 6 and code.isdecimal()
    assert first_start.code() == code


@pytest.mark.parametrize("typed", ["{}", " {} ", "{}\n"])
def test_the_code_is_taken_with_spaces_around_it(typed: str) -> None:
    assert first_start.check(typed.format(first_start.code())) is True


def test_the_code_is_taken_in_two_groups() -> None:
    code = first_start.code()

    assert first_start.check(f"{code[:3]} {code[3:]}") is True
    assert first_start.check(f"{code[:3]}-{code[3:]}") is True


@pytest.mark.parametrize("typed", ["", "12345", "1234567", "½½½½½½", "١٢٣٤٥٦", "\0" * 6, "9" * 100_000])
def test_anything_else_is_refused(typed: str) -> None:
    first_start.code()

    assert first_start.check(typed) is False


def test_a_used_code_is_good_no_more() -> None:
    code = first_start.code()

    first_start.used()

    assert first_start.check(code) is False


def test_before_a_code_was_shown_none_is_good() -> None:
    assert first_start.check("") is False


def test_after_nine_wrong_tries_the_code_is_still_good(capsys: pytest.CaptureFixture[str]) -> None:
    code = first_start.code()

    for _try in range(9):
        first_start.check(wrong(code))

    assert first_start.check(code) is True
    assert capsys.readouterr().out == ""


def test_the_tenth_wrong_try_prints_a_new_code_and_ends_the_old_one(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    numbers = iter([123456, 654321])
    monkeypatch.setattr(first_start.secrets, "randbelow", lambda _limit: next(numbers))
    code = first_start.code()

    for _try in range(10):
        first_start.check(wrong(code))

    assert capsys.readouterr().out == "Ten wrong tries. The new one-time code is 654321\n"
    assert first_start.check(code) is False
    assert first_start.check("654321") is True
