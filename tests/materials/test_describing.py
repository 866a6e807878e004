"""A material in one line, as it stands on orders."""

import pytest

from materials.describing import bought_as, described
from materials.models import Material
from tests.makers import make_material

INCH_NM = 25_400_000
PLYWOOD = {
    "species": "ash",
    "thickness_nm": 3 * INCH_NM // 4,
    "width_nm": 49 * INCH_NM,
    "length_nm": 97 * INCH_NM,
    "cut": "plain",
    "match": "book",
    "face_grade": "A",
    "back_grade": "2",
    "core": "MDF",
    "fire_class": "C",
}
WOOD = {"kind": "lumber", "species": "ash", "thickness_nm": 2 * INCH_NM}


def made(**fields: object) -> Material:
    kind = fields.setdefault("kind", Material.Kind.SHEET)
    return Material(name="Material", unit=Material.UNITS_OF_KIND[kind][0], **fields)


@pytest.mark.parametrize(
    ("fields", "words"),
    [
        (PLYWOOD, "3/4″, 49″ × 97″, ash, plain sliced, book match, A/2, MDF core, bare; Class C (ASTM E84)"),
        ({"core": "Veneer core"}, "Veneer core, bare"),
        ({"is_bought_finished": True, "emission_class": "E1"}, "bought finished; E1"),
        ({"thickness_nm": 3 * INCH_NM // 4, "real_thickness_nm": 23 * INCH_NM // 32}, "3/4″ (23/32″ real), bare"),
        ({"thickness_nm": 3 * INCH_NM // 4, "real_thickness_nm": 18_200_000}, "3/4″ (18.2 mm real), bare"),
        ({"face_grade": "AA"}, "face AA, bare"),
        (
            {**WOOD, "surface": "rough", "lumber_grade": "fas", "dryness": "kd", "tally": "gross"},
            "8/4 rough, ash, FAS, kiln-dried, gross tally",
        ),
        ({**WOOD, "surface": "s2s"}, "8/4 S2S, planed to 1 3/4″, ash"),
        ({"kind": "fastener", "length_nm": 13 * INCH_NM // 8}, "1 5/8″"),
        ({"kind": "finish"}, ""),
    ],
)
def test_a_material_is_told_with_all_that_is_known_of_it(fields: dict[str, object], words: str) -> None:
    assert described(made(**fields), "us") == words


def test_sizes_are_told_in_millimeters_in_a_metric_shop() -> None:
    sizes = {"thickness_nm": 19_000_000, "width_nm": 1_220_000_000, "length_nm": 2_440_000_000}

    assert described(made(**sizes), "metric") == "19 mm, 1220 mm × 2440 mm, bare"


@pytest.mark.parametrize(
    ("fields", "words"),
    [
        (
            {"kind": "fastener", "unit": "piece", "buy_unit": "box", "buy_contains_micro": 500_000_000},
            "in boxes of 500 pieces",
        ),
        (
            {"kind": "finish", "unit": "gallon", "buy_unit": "pail", "buy_contains_micro": 5_000_000},
            "in pails of 5 gal",
        ),
        (
            {
                "kind": "lumber",
                "unit": "board_foot",
                "buy_unit": "thousand_board_feet",
                "buy_contains_micro": 1_000_000_000,
            },
            "in MBF",
        ),
        ({"kind": "finish", "unit": "gallon"}, ""),
    ],
)
@pytest.mark.django_db
def test_how_it_is_bought_is_told_where_that_is_not_as_it_is_used(fields: dict[str, object], words: str) -> None:
    assert bought_as(make_material(**fields)) == words
