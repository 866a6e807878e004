"""Landed cost, worked by hand from the house rule: refused pieces are not owed unless billed, freight is owed
whole and spread over what was kept.
"""

from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from materials.calculations.landed_cost import CreditTooLarge, DeliveryLine, LandedCostError, landed
from workshop.calculations.costs import Rate, cost
from workshop.calculations.units import quantity

PANEL = Rate(Fraction("71.50"), "USD", "sheet")
ASH = Rate(Fraction("6.35"), "USD", "board_foot")
FINISH = Rate(Fraction("58.40"), "USD", "gallon")
FREIGHT = 31500


def _panels(kept: int = 42, **fields: object) -> DeliveryLine:
    return DeliveryLine(kept=kept, rate=PANEL, **fields)


def test_freight_is_part_of_every_sheet() -> None:
    (line,) = landed([_panels()], FREIGHT).lines

    assert line.total_minor == 331800
    assert line.pieces_minor == (7900,) * 42


@pytest.mark.parametrize("fields", [{"refused": 3}, {"short": 3}, {"refused": 1, "short": 2}])
def test_refused_and_short_sheets_are_not_owed_and_the_rest_carries_the_freight_to_the_cent(
    fields: dict,
) -> None:
    (line,) = landed([_panels(39, **fields)], FREIGHT).lines

    assert line.total_minor == 310350
    assert line.pieces_minor == (7958,) * 27 + (7957,) * 12


@pytest.mark.parametrize(
    "fields",
    [{"refused": 3, "refused_billed": True}, {"short": 3, "short_billed": True}],
)
def test_refused_and_short_sheets_that_are_billed_are_paid_by_the_kept_ones(fields: dict) -> None:
    (line,) = landed([_panels(39, **fields)], FREIGHT).lines

    assert line.goods_minor == 300300
    assert line.total_minor == 331800
    assert line.pieces_minor == (8508,) * 27 + (8507,) * 12


def test_only_what_is_billed_of_refused_and_short_is_owed() -> None:
    (line,) = landed([_panels(39, refused=2, refused_billed=True, short=1)], 0).lines

    assert line.goods_minor == 41 * 7150


def test_freight_goes_over_the_lines_by_the_value_of_what_was_kept() -> None:
    """3,003.00 panels, 555.63 ash, 116.80 finish: 315.00 is 257.3698..., 47.6198... and 10.0102...."""
    lines = [
        _panels(),
        DeliveryLine(kept=Fraction("87.5"), rate=ASH),
        DeliveryLine(kept=2, rate=FINISH),
    ]

    result = landed(lines, FREIGHT)

    assert [line.charges_minor for line in result.lines] == [25737, 4762, 1001]
    assert [line.total_minor for line in result.lines] == [326037, 60325, 12681]


def test_billed_refused_sheets_do_not_draw_more_freight_to_their_line() -> None:
    lines = [_panels(10, refused=10, refused_billed=True), _panels(10)]

    result = landed(lines, 10000)

    assert [line.charges_minor for line in result.lines] == [5000, 5000]
    assert [line.goods_minor for line in result.lines] == [143000, 71500]


def test_a_measured_line_has_one_landed_total() -> None:
    (line,) = landed([DeliveryLine(kept=Fraction("87.5"), rate=ASH)], 5000).lines

    assert line.total_minor == 60563
    assert line.pieces_minor == ()


@pytest.mark.parametrize(
    ("basis", "shares"),
    [("count", [2000, 8000]), ("area", [3333, 6667]), ("weight", [3333, 6667])],
)
def test_charges_can_go_by_count_area_or_weight(basis: str, shares: list[int]) -> None:
    lines = [_panels(10, size=Fraction(32)), _panels(40, size=Fraction(16))]

    result = landed(lines, 10000, basis)

    assert [line.charges_minor for line in result.lines] == shares


def test_goods_without_a_price_share_the_freight_alike() -> None:
    free = Rate(Fraction(0), "USD", "sheet")

    result = landed([DeliveryLine(kept=1, rate=free), DeliveryLine(kept=3, rate=free)], 1001)

    assert [line.charges_minor for line in result.lines] == [501, 500]


def test_a_damaged_sheet_that_is_kept_costs_like_any_other_less_its_credit() -> None:
    (line,) = landed([_panels(piece_credits={6: 2000})], FREIGHT).lines

    assert line.pieces_minor[6] == 5900
    assert set(line.pieces_minor[:6] + line.pieces_minor[7:]) == {7900}
    assert line.total_minor == 331800 - 2000


def test_a_credit_on_a_line_lowers_all_its_sheets_and_no_other_line() -> None:
    before = landed([_panels(), _panels()], FREIGHT)

    after = landed([_panels(credit_minor=4200), _panels()], FREIGHT)

    assert after.lines[0].pieces_minor == tuple(piece - 100 for piece in before.lines[0].pieces_minor)
    assert after.lines[1] == before.lines[1]


def test_a_line_of_which_nothing_was_kept_carries_no_freight() -> None:
    result = landed([_panels(0, refused=42), _panels()], FREIGHT)

    assert result.lines[0].total_minor == 0
    assert result.lines[1].charges_minor == FREIGHT
    assert result.unspread_minor == 0


def test_freight_of_a_delivery_that_was_refused_whole_is_told_apart() -> None:
    result = landed([_panels(0, refused=42)], FREIGHT)

    assert result.lines[0].pieces_minor == ()
    assert result.unspread_minor == FREIGHT
    assert result.total_minor == FREIGHT


def test_what_is_billed_of_a_line_of_which_nothing_was_kept_is_told_apart() -> None:
    result = landed([_panels(0, refused=2, refused_billed=True), _panels(1)], 1000)

    assert result.unspread_minor == 14300
    assert result.lines[1].total_minor == 8150


def test_a_delivery_without_lines_leaves_its_charges_unspread() -> None:
    assert landed([], FREIGHT).unspread_minor == FREIGHT


@pytest.mark.parametrize(
    ("line", "message"),
    [
        (_panels(-1), "line 1: -1 is below zero; 0 or 1 would do"),
        (_panels(5, refused=-2), "-2 is below zero"),
        (_panels(5, short=-2), "-2 is below zero"),
        (_panels(5, credit_minor=-1), "-1 is below zero"),
        (_panels(Fraction(5, 2)), "5/2 is not a whole count; 2 or 3 would do"),
        (_panels(5, piece_credits={5: 100}), "5 is not one of the kept pieces; 0 or 4 would do"),
        (DeliveryLine(kept=5, rate=ASH, piece_credits={0: 100}), "0 is not one of the kept pieces"),
    ],
)
def test_a_line_that_contradicts_itself_is_refused(line: DeliveryLine, message: str) -> None:
    with pytest.raises(LandedCostError, match=message):
        landed([line], FREIGHT)


def test_a_credit_of_more_than_a_sheet_costs_is_refused() -> None:
    with pytest.raises(CreditTooLarge, match="7901 is credited for a piece of 7900; 0 or 7900 would do"):
        landed([_panels(piece_credits={0: 7901})], FREIGHT)


def test_a_credit_of_more_than_a_line_costs_is_refused() -> None:
    with pytest.raises(CreditTooLarge, match="is credited for more than the line costs; 0 or 331800 would do"):
        landed([_panels(credit_minor=331801)], FREIGHT)


def test_a_second_currency_in_one_delivery_is_refused() -> None:
    yen = DeliveryLine(kept=1, rate=Rate(Fraction(9000), "JPY", "sheet"))

    with pytest.raises(
        LandedCostError, match="line 2: JPY is a second currency; USD or a delivery of its own would do"
    ):
        landed([_panels(), yen], FREIGHT)


def test_an_unknown_way_to_spread_charges_is_refused() -> None:
    with pytest.raises(LandedCostError, match="color is no way to spread charges; value or count would do"):
        landed([_panels()], FREIGHT, "color")


def test_spreading_by_weight_asks_for_the_weight() -> None:
    with pytest.raises(LandedCostError, match="line 1: no weight is known for sheet; its weight or value would do"):
        landed([_panels()], FREIGHT, "weight")


delivery_lines = st.builds(
    DeliveryLine,
    kept=st.integers(0, 60),
    rate=st.builds(
        Rate, st.fractions(0, 900, max_denominator=1000), st.just("USD"), st.sampled_from(["sheet", "gallon"])
    ),
    refused=st.integers(0, 9),
    refused_billed=st.booleans(),
    short=st.integers(0, 9),
    short_billed=st.booleans(),
)


@settings(deadline=None)
@given(st.lists(delivery_lines, max_size=8), st.integers(0, 10**7), st.sampled_from(["value", "count"]))
def test_everything_owed_lands_and_nothing_else(lines: list[DeliveryLine], charges: int, basis: str) -> None:
    result = landed(lines, charges, basis)

    owed = sum(cost(quantity(line.owed, line.rate.per), line.rate) for line in lines) + charges
    assert result.total_minor == owed
    for line, its_cost in zip(lines, result.lines, strict=True):
        if line.is_counted and line.kept:
            assert sum(its_cost.pieces_minor) == its_cost.total_minor
            assert len(its_cost.pieces_minor) == line.kept
            assert max(its_cost.pieces_minor) - min(its_cost.pieces_minor) <= 1


def test_what_is_invoiced_takes_the_place_of_count_times_price() -> None:
    """42 sheets invoiced at 72.00 are 3,024.00; with 315.00 freight 3,339.00, which is 79.50 each."""
    (line,) = landed([_panels(invoiced_minor=302_400)], FREIGHT).lines

    assert line.goods_minor == 302_400
    assert line.pieces_minor == (7_950,) * 42


def test_freight_follows_the_invoiced_value_of_what_was_kept() -> None:
    """Of 200.00 invoiced for two sheets, one refused and billed, the kept one is worth 100.00, as the other line."""
    plain = Rate(Fraction(100), "USD", "sheet")
    lines = [
        DeliveryLine(kept=1, rate=plain, refused=1, refused_billed=True, invoiced_minor=20_000),
        DeliveryLine(kept=1, rate=plain),
    ]

    result = landed(lines, 1_000)

    assert [line.charges_minor for line in result.lines] == [500, 500]
    assert result.total_minor == 31_000


def test_what_is_invoiced_for_a_line_that_was_refused_has_nothing_to_land_on() -> None:
    result = landed([_panels(0, refused=3, invoiced_minor=5_000), _panels(10)], 0)

    assert (result.unspread_minor, result.lines[1].total_minor) == (5_000, 71_500)


@given(invoiced=st.integers(0, 10**9), charges=st.integers(0, 10**8), kept=st.integers(1, 60), billed=st.integers(0, 9))
def test_an_invoice_is_conserved_to_the_cent(invoiced: int, charges: int, kept: int, billed: int) -> None:
    lines = [_panels(kept, short=billed, short_billed=True, invoiced_minor=invoiced), _panels(3)]

    result = landed(lines, charges)

    assert result.total_minor == invoiced + 3 * 7_150 + charges
    assert all(sum(line.pieces_minor) == line.total_minor for line in result.lines)


def test_an_invoice_below_zero_is_refused() -> None:
    with pytest.raises(LandedCostError, match="-1 is below zero"):
        landed([_panels(invoiced_minor=-1)], 0)
