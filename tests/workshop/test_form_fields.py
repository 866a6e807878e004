"""Fields read what the shop types into whole numbers, or say what was typed and what would do."""

from datetime import date

import pytest
from django import forms
from django.core.exceptions import ValidationError

from tests import hostile
from workshop import clock
from workshop.forms import (
    CountField,
    CurrencyField,
    DayField,
    Form,
    HoursField,
    LengthField,
    MoneyField,
    PercentField,
    PriceField,
    QuantityField,
)

BIGGEST = 2**63 - 1
FIELDS = {
    "length": LengthField(),
    "length in mm": LengthField(system="metric"),
    "position": LengthField(size=False),
    "quantity": QuantityField(code="board_foot"),
    "whole quantity": QuantityField(code="sheet", whole=True),
    "money": MoneyField(),
    "money without minor unit": MoneyField(currency="JPY"),
    "discount or credit": MoneyField(negative=True),
    "price": PriceField(),
    "per cent": PercentField(below=1_000_000),
    "per cent up to the most": PercentField(),
    "hours": HoursField(),
    "count": CountField(),
}


def refusal(field: forms.Field, text: str) -> ValidationError:
    with pytest.raises(ValidationError) as refused:
        field.clean(text)
    return refused.value


@pytest.mark.parametrize(
    ("field", "text", "kept"),
    [
        (LengthField(), "12'-3 1/2\"", 3_746_500_000),
        (LengthField(), "3/4", 19_050_000),
        (LengthField(system="metric"), "19", 19_000_000),
        (QuantityField(code="board_foot"), "12 1/2", 12_500_000),
        (QuantityField(code="sheet", whole=True), "42", 42_000_000),
        (QuantityField(code="piece", positive=False), "0", 0),
        (MoneyField(), "3,318.00", 331_800),
        (MoneyField(currency="JPY"), "3318", 3318),
        (MoneyField(currency="KWD"), "1.234", 1234),
        (MoneyField(negative=True), "-5", -500),
        (PriceField(), "71.5", 71_500_000),
        (PriceField(), "0.000001", 1),
        (PercentField(), "8.25", 82_500),
        (HoursField(), "1.5", 90),
        (HoursField(), "1:30", 90),
        (HoursField(), "1 1/2", 90),
        (HoursField(), "90 min", 90),
        (HoursField(), "2 h 15", 135),
        (HoursField(), "2h15", 135),
        (HoursField(), "2 hrs 5 min", 125),
        (HoursField(), "2 h", 120),
        (HoursField(), "24", 1440),
        (HoursField(zero=True), "0", 0),
        (CountField(), " 5 ", 5),
        (CountField(), "9999", 9999),
        (DayField(), "2028-02-29", date(2028, 2, 29)),
        (CurrencyField(), "KWD", "KWD"),
    ],
)
def test_what_is_typed_is_kept_exactly(field: forms.Field, text: str, kept: object) -> None:
    assert field.clean(text) == kept


@pytest.mark.parametrize(
    ("field", "kept", "shown"),
    [
        (LengthField(), 3_746_500_000, "147 1/2"),
        (LengthField(system="metric"), 19_000_000, "19"),
        (QuantityField(code="board_foot"), 12_500_000, "12 1/2"),
        (MoneyField(), 331_800, "3318.00"),
        (PriceField(), 71_500_000, "71.50"),
        (PercentField(), 82_500, "8.25"),
        (HoursField(), 90, "1.5"),
        (HoursField(), 100, "1:40"),
    ],
)
def test_what_was_kept_is_shown_so_that_it_is_read_as_the_same(field: forms.Field, kept: int, shown: str) -> None:
    assert field.prepare_value(kept) == shown
    assert field.clean(shown) == kept
    assert not field.has_changed(kept, shown)


@pytest.mark.parametrize("text", hostile.NO_NUMBER.values(), ids=hostile.NO_NUMBER)
@pytest.mark.parametrize("field", FIELDS.values(), ids=FIELDS)
def test_hostile_values_are_refused_in_words_or_are_numbers_that_fit(field: forms.Field, text: str) -> None:
    try:
        kept = field.clean(text)
    except ValidationError as refused:
        assert all(len(words) < 400 for words in refused.messages)
    else:
        assert isinstance(kept, int)
        assert -BIGGEST <= kept <= BIGGEST


@pytest.mark.parametrize("field", FIELDS.values(), ids=FIELDS)
def test_an_empty_field_is_refused_where_it_is_needed_and_nothing_where_not(field: forms.Field) -> None:
    assert refusal(field, "  ").code == "required"
    field_not_needed = type(field)(required=False)
    assert field_not_needed.clean("") is None


@pytest.mark.parametrize(
    ("field", "text", "words"),
    [
        (LengthField(), "21-2", "21-2 cannot be read as a size: it can be read two ways"),
        (LengthField(), "5%", "5% cannot be read as a size"),
        (MoneyField(), "5% off", "5% off cannot be read as an amount"),
        (MoneyField(), "-1", "-1 cannot be read as an amount: it is below zero"),
        (PercentField(), "%(what)s", "%(what)s cannot be read as a percentage"),
        (QuantityField(code="gallon"), "3 sheets", "3 sheets cannot be read as an amount in gal"),
    ],
)
def test_what_cannot_be_read_is_quoted_with_two_things_that_would_do(field: forms.Field, text: str, words: str) -> None:
    refused = refusal(field, text)

    assert refused.messages[0].startswith(words)
    assert len(refused.params["would_do"]) == 2
    assert all(field.clean(each) is not None for each in refused.params["would_do"])


@pytest.mark.parametrize(
    ("field", "text", "would_do"),
    [
        (QuantityField(code="sheet"), "5 1/3", ["5", "6"]),
        (QuantityField(code="sheet", whole=True), "5 1/3", ["5", "6"]),
        (QuantityField(code="sheet", whole=True), "1 3/2", ["5", "12"]),
        (QuantityField(code="sheet", whole=True), "1,250", ["1250", "5"]),
        (HoursField(), "2 15", ["2:15", "2 h 15"]),
    ],
)
def test_what_would_do_is_of_the_kind_that_was_typed(field: forms.Field, text: str, would_do: list[str]) -> None:
    refused = refusal(field, text)

    assert refused.params["would_do"] == would_do
    assert all(field.clean(each) for each in would_do)


@pytest.mark.parametrize(
    ("field", "text", "words"),
    [
        (QuantityField(), "0", "This is 0. Type 1 or more, or leave the line out."),
        (QuantityField(code="sheet", whole=True), "2.5", "2.5 is not a whole number. Type 2 or 3."),
        (PercentField(below=1_000_000), "100", "100 is too much here. Type less than 100%."),
        (HoursField(), "25", "25 is outside what this takes: up to 24 hours. Type 1.5 or 1:30."),
        (HoursField(), "0", "0 is outside what this takes: up to 24 hours. Type 1.5 or 1:30."),
        (HoursField(), "9999:59", "9999:59 is outside what this takes: up to 24 hours. Type 1.5 or 1:30."),
        (DayField(), "1989-12-31", "1989-12-31 is too far away. A day from 1990-01-01 to 2100-12-31 does."),
        (DayField(), "0001-01-01", "0001-01-01 is too far away. A day from 1990-01-01 to 2100-12-31 does."),
        (MoneyField(), "9" * 41, "This is too long, or has a sign that cannot be typed. At most 40 letters do."),
    ],
)
def test_what_is_out_of_range_is_told_with_the_range(field: forms.Field, text: str, words: str) -> None:
    assert refusal(field, text).messages == [words]


@pytest.mark.parametrize("text", ["2026-02-30", "30 February", "02/03/2026", "NaN", "2026-11-02\x00", hostile.LONG])
def test_a_day_that_is_not_is_told_with_today_as_the_way_to_write_it(text: str) -> None:
    with clock.as_if(date(2026, 11, 25)):
        refused = refusal(DayField(), text)

    assert refused.messages == ["There is no such day. Write it as 2026-11-25."]


@pytest.mark.parametrize("text", ["XAU", "usd", "", hostile.LONG, hostile.NUL])
def test_a_currency_is_one_of_the_list(text: str) -> None:
    assert refusal(CurrencyField(), text).code in ("invalid_choice", "required")


class Plain(Form):
    """Django's own fields as a form of ours has them."""

    name = forms.CharField(max_length=5)
    email = forms.EmailField(required=False)
    count = CountField(max_value=60)
    unit = forms.ChoiceField(choices=[("a", "A")])
    note = forms.CharField(required=False, error_messages={"null_characters_not_allowed": "Ours"})


@pytest.mark.parametrize(
    ("name", "text", "words"),
    [
        ("name", "", "This is empty. Fill it in."),
        ("name", "Elm Street", "10 letters are too many here. At most 5 do; make it shorter."),
        ("name", "a\0", "There is a sign in it that cannot be typed. Type it anew."),
        ("email", "nobody", "This is not an email address. Write it as name@example.com, or leave it out."),
        ("count", "five", "This is not a whole number. Type 5 or 12."),
        ("count", "٣", "This is not a whole number. Type 5 or 12."),
        ("count", "1_0", "This is not a whole number. Type 5 or 12."),
        ("count", "61", "61 is too much here. Type 60 or less."),
        ("count", "-1", "-1 is too little here. Type 0 or more."),
        ("unit", "", "This is empty. Fill it in."),
        ("unit", "b", "This is not one of the choices. Choose one from the list."),
        ("note", "\0", "Ours"),
    ],
)
def test_djangos_own_refusals_are_told_in_our_words(name: str, text: str, words: str) -> None:
    form = Plain({name: text})

    assert form.errors[name] == [words]
