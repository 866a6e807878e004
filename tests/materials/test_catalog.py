"""Materials and their prices: the kind says which sizes and units there are."""

from datetime import date
from urllib.parse import quote

import pytest
from django.core.exceptions import ValidationError
from django.test import Client as Browser
from django.urls import reverse

from materials.models import Material, Price
from tests.makers import hand, make_material, make_order, make_supplier, post
from tests.queries import queries_of
from workshop.actions import new_key, undo
from workshop.models import Action, Person, Shop

INCH_NM = 25_400_000  # NIST Handbook 44, appendix C: 1 in is 25.4 mm exactly
SHEET = {"name": "Ash-veneered plywood", "species": "ash", "thickness_nm": "3/4", "width_nm": "49", "length_nm": "97"}


def new(kind: str) -> str:
    return f"{reverse('materials:material_new')}?kind={kind}"


def test_two_materials_whose_names_read_alike_are_refused(staff_client: Browser) -> None:
    make_material(name="Ash-veneered plywood")

    answer = post(staff_client, new("sheet"), **SHEET | {"name": "ASH-veneered  plywood"})

    assert answer.status_code == 422
    words = "There is a material named Ash-veneered plywood. Add what tells them apart."
    assert answer.context["form"].errors["name"] == [words]
    assert Material.objects.count() == 1


def price_url(material: Material) -> str:
    return reverse("materials:price_new", args=[material.pk])


def test_a_new_material_begins_with_its_kind(staff_client: Browser) -> None:
    page = staff_client.get(reverse("materials:material_new")).content.decode()

    assert all(f"?kind={kind}" in page for kind in Material.Kind.values)


@pytest.mark.parametrize(
    ("back", "leads_to"),
    [
        ("/rooms/4/needs/new/", "/rooms/4/needs/new/?material={pk}"),
        ("/orders/new/?supplier=2", "/orders/new/?supplier=2&material={pk}"),
        ("//elsewhere.example/", "/materials/{pk}/"),
        ("https://elsewhere.example/", "/materials/{pk}/"),
        ("/\\elsewhere.example", "/materials/{pk}/"),
    ],
)
def test_a_new_material_leads_back_to_the_page_that_asked_for_it(
    staff_client: Browser, back: str, leads_to: str
) -> None:
    answer = post(staff_client, f"{new('sheet')}&back={quote(back, safe='')}", **SHEET)

    assert answer.url == leads_to.format(pk=Material.objects.get().pk)


@pytest.mark.parametrize(
    ("kind", "there", "missing"),
    [
        ("sheet", ["thickness_nm", "width_nm", "length_nm", "species"], ["unit"]),
        ("lumber", ["thickness_nm", "unit", "species"], ["width_nm", "length_nm"]),
        ("finish", ["unit"], ["thickness_nm", "width_nm", "length_nm", "species"]),
        ("service", ["unit"], ["thickness_nm"]),
    ],
)
def test_the_kind_says_which_fields_there_are(
    staff_client: Browser, kind: str, there: list[str], missing: list[str]
) -> None:
    form = staff_client.get(new(kind)).context["form"]

    assert set(there) <= set(form.fields)
    assert not set(missing) & set(form.fields)


def test_a_sheet_material_is_kept_with_exact_sizes(staff_client: Browser) -> None:
    answer = post(staff_client, new("sheet"), **SHEET)

    material = Material.objects.get()
    assert answer.url == reverse("materials:material", args=[material.pk])
    assert (material.kind, material.unit) == ("sheet", "sheet")
    assert (material.width_nm, material.length_nm) == (49 * INCH_NM, 97 * INCH_NM)
    assert "3/4″" in staff_client.get(answer.url).content.decode()
    assert "49″ × 97″" in staff_client.get(answer.url).content.decode()


def test_a_sheet_material_begins_with_three_tone_groups(staff_client: Browser) -> None:
    post(staff_client, new("sheet"), **SHEET)

    ladder = Material.objects.get().tone_groups.values_list("place", "name")

    assert list(ladder) == [(1, "Light"), (2, "Middle"), (3, "Dark")]


def test_lumber_is_typed_in_quarters_and_shown_so(staff_client: Browser) -> None:
    # 8/4 rough is 2 in thick (NHLA standard thicknesses).
    answer = post(staff_client, new("lumber"), name="Solid ash", unit="board_foot", thickness_nm="8/4")

    assert Material.objects.get().thickness_nm == 2 * INCH_NM
    assert "8/4" in staff_client.get(answer.url).content.decode()


def test_the_same_form_sent_twice_adds_one(staff_client: Browser) -> None:
    key = new_key()

    post(staff_client, new("sheet"), key=key, **SHEET)
    post(staff_client, new("sheet"), key=key, **SHEET)

    assert Material.objects.count() == 1


@pytest.mark.parametrize(
    ("field", "value"),
    [
        ("name", ""),
        ("name", "a" * 100_000),
        ("width_nm", ""),
        ("width_nm", "49-2"),
        ("width_nm", "0"),
        ("width_nm", "-1"),
        ("width_nm", "1e400"),
        ("width_nm", "NaN"),
        ("width_nm", "10" * 30),
        ("width_nm", "4\0009"),
        ("usual_supplier", "999999"),
        ("usual_supplier", str(10**30)),
        ("usual_supplier", "\0"),
    ],
)
def test_what_cannot_be_taken_is_refused_at_its_field(staff_client: Browser, field: str, value: str) -> None:
    answer = post(staff_client, new("sheet"), **{**SHEET, field: value})

    assert answer.status_code == 422
    assert answer.context["form"].errors[field]
    assert not Material.objects.exists()


def test_a_unit_of_another_kind_is_refused(staff_client: Browser) -> None:
    answer = post(staff_client, new("lumber"), name="Solid ash", unit="gallon")

    assert answer.status_code == 422
    assert not Material.objects.exists()


def test_an_unknown_kind_shows_the_kinds_again(staff_client: Browser) -> None:
    answer = post(staff_client, new("tiles"), name="Tiles")

    assert answer.status_code == 422
    assert "What kind is it" in answer.content.decode()


def test_a_material_that_is_ordered_keeps_its_unit(staff_client: Browser) -> None:
    material = make_material(kind="lumber", unit="board_foot")
    make_order(material=material)
    url = reverse("materials:material_edit", args=[material.pk])

    answer = post(staff_client, url, name=material.name, unit="foot", version="1")

    material.refresh_from_db()
    assert answer.status_code == 422
    assert answer.context["form"].errors["unit"]
    assert material.unit == "board_foot"


def test_a_change_of_unit_stays_once_something_is_counted_in_it(staff_client: Browser, owner: Person) -> None:
    material = make_material(kind="lumber", unit="board_foot")
    url = reverse("materials:material_edit", args=[material.pk])
    post(staff_client, url, name=material.name, unit="foot", version="1")
    make_order(material=material)

    with pytest.raises(ValidationError, match="is counted in its new unit already"):
        undo(action=Action.objects.get(), by=hand(owner))

    material.refresh_from_db()
    assert material.unit == "foot"


def test_a_stale_change_shows_both_values(staff_client: Browser) -> None:
    material = make_material(species="ash")
    url = reverse("materials:material_edit", args=[material.pk])
    post(staff_client, url, **{**SHEET, "species": "white ash"}, version="1")

    answer = post(staff_client, url, **{**SHEET, "species": "black ash"}, version="1")

    assert answer.status_code == 422
    assert "Stored now: white ash" in answer.content.decode()
    assert "black ash" in answer.content.decode()


def test_an_added_material_is_taken_back_with_its_tone_groups(staff_client: Browser, owner: Person) -> None:
    post(staff_client, new("sheet"), **SHEET)

    undo(action=Action.objects.get(verb="material.add"), by=hand(owner))

    assert not Material.objects.exists()


def test_a_price_holds_from_its_day_until_the_next(owner_client: Browser) -> None:
    material, supplier = make_material(), make_supplier()
    post(owner_client, price_url(material), supplier=supplier.pk, price_micro="71.50", from_on="2026-01-01")
    post(owner_client, price_url(material), supplier=supplier.pk, price_micro="74", from_on="2026-12-01")

    asked = {"material": material, "supplier": supplier, "currency": "USD"}

    assert Price.objects.asked(**asked, on=date(2025, 12, 31)) is None
    assert Price.objects.asked(**asked, on=date(2026, 11, 30)).price_micro == 71_500_000
    assert Price.objects.asked(**asked, on=date(2026, 12, 1)).price_micro == 74_000_000


def test_a_second_price_from_the_same_day_is_refused(owner_client: Browser) -> None:
    material, supplier = make_material(), make_supplier()
    typed = {"supplier": supplier.pk, "price_micro": "71.50", "from_on": "2026-01-01"}
    post(owner_client, price_url(material), **typed)

    answer = post(owner_client, price_url(material), **typed)

    assert answer.status_code == 422
    assert "This supplier has a price from this day" in answer.content.decode()
    assert Price.objects.count() == 1


@pytest.mark.parametrize(
    ("field", "value"),
    [
        ("price_micro", ""),
        ("price_micro", "-1"),
        ("price_micro", "1e400"),
        ("price_micro", str(10**30)),
        ("from_on", "2026-02-30"),
        ("from_on", ""),
        ("supplier", "999999"),
    ],
)
def test_a_price_that_cannot_be_taken_is_refused(owner_client: Browser, field: str, value: str) -> None:
    material, supplier = make_material(), make_supplier()
    typed = {"supplier": supplier.pk, "price_micro": "71.50", "from_on": "2026-01-01", field: value}

    answer = post(owner_client, price_url(material), **typed)

    assert answer.status_code == 422
    assert answer.context["form"].errors[field]
    assert not Price.objects.exists()


def test_staff_see_no_price(staff_client: Browser) -> None:
    supplier = make_supplier()
    material = make_material(usual_supplier=supplier)
    Price.objects.create(
        material=material, supplier=supplier, price_micro=71_500_000, currency="USD", from_on=date(2026, 1, 1)
    )

    pages = [reverse("materials:materials"), reverse("materials:material", args=[material.pk])]

    assert all("71.50" not in staff_client.get(page).content.decode() for page in pages)
    assert staff_client.get(price_url(material)).status_code == 403


def test_sizes_are_typed_and_shown_in_millimeters_in_a_metric_shop(staff_client: Browser) -> None:
    Shop.objects.update_or_create(pk=1, defaults={"unit_system": "metric"})

    answer = post(
        staff_client, new("sheet"), **{**SHEET, "thickness_nm": "19", "width_nm": "1220", "length_nm": "2440"}
    )

    assert Material.objects.get().width_nm == 1_220_000_000
    assert "1220 mm × 2440 mm" in staff_client.get(answer.url).content.decode()


def test_the_list_costs_the_same_with_one_row_and_with_fifty(owner_client: Browser) -> None:
    make_material(usual_supplier=make_supplier())
    few = queries_of(owner_client, reverse("materials:materials"))

    for _ in range(50):
        make_material(usual_supplier=make_supplier())

    assert queries_of(owner_client, reverse("materials:materials")) <= few


ATTRIBUTES = {
    "real_thickness_nm": "18.2 mm",
    "cut": "plain",
    "match": "book",
    "face_grade": "A",
    "back_grade": "2",
    "core": "MDF",
    "fire_class": "C",
    "emission_class": "TSCA Title VI",
}


class TestAttributes:
    @pytest.mark.parametrize(
        ("kind", "there", "missing"),
        [
            ("sheet", [*ATTRIBUTES, "is_bought_finished"], ["lumber_grade", "tally", "buy_unit"]),
            ("lumber", ["lumber_grade", "surface", "dryness", "tally", "fire_class", "buy_unit"], ["cut", "core"]),
            ("trim", ["is_bought_finished", "fire_class", "emission_class"], ["lumber_grade", "face_grade"]),
            ("finish", ["buy_unit"], ["fire_class", "cut"]),
            ("fastener", ["buy_unit", "length_nm"], ["fire_class"]),
            ("light", ["buy_unit"], ["cut"]),
            ("service", [], ["buy_unit", "fire_class"]),
        ],
    )
    def test_the_kind_says_which_attributes_there_are(
        self, staff_client: Browser, kind: str, there: list[str], missing: list[str]
    ) -> None:
        form = staff_client.get(new(kind)).context["form"]

        assert set(there) <= set(form.fields)
        assert not set(missing) & set(form.fields)

    def test_a_sheet_is_kept_with_all_that_is_known_of_it(self, staff_client: Browser) -> None:
        answer = post(staff_client, new("sheet"), **SHEET, **ATTRIBUTES)

        material, shown = Material.objects.get(), staff_client.get(answer.url).content.decode()
        assert material.real_thickness_nm == 18_200_000
        for words in ("really 18.2 mm", "plain sliced", "book match", "A/2", "MDF", "Class C (ASTM E84)", "Bare"):
            assert words in shown

    @pytest.mark.parametrize(
        ("field", "value"),
        [
            ("real_thickness_nm", "0"),
            ("real_thickness_nm", "1e400"),
            ("real_thickness_nm", "NaN"),
            ("cut", "crown"),
            ("match", "\0"),
            ("fire_class", "Z"),
            ("face_grade", "a" * 100_000),
            ("back_grade", "\0"),
            ("core", "a" * 61),
            ("emission_class", "a" * 41),
        ],
    )
    def test_an_attribute_that_cannot_be_taken_is_refused_and_seen(
        self, staff_client: Browser, field: str, value: str
    ) -> None:
        answer = post(staff_client, new("sheet"), **{**SHEET, field: value})

        assert answer.status_code == 422
        assert answer.context["form"].errors[field]
        assert '<details class="fold" open>' in answer.content.decode()
        assert not Material.objects.exists()

    def test_what_not_every_material_has_folds_away_until_it_is_filled_in(self, staff_client: Browser) -> None:
        assert '<details class="fold">' in staff_client.get(new("sheet")).content.decode()

        post(staff_client, new("sheet"), **SHEET, **ATTRIBUTES)

        url = reverse("materials:material_edit", args=[Material.objects.get().pk])
        assert '<details class="fold" open>' in staff_client.get(url).content.decode()

    def test_lumber_is_kept_with_grade_surface_dryness_and_tally(self, staff_client: Browser) -> None:
        typed = {"lumber_grade": "fas", "surface": "s2s", "dryness": "kd", "tally": "gross"}

        answer = post(staff_client, new("lumber"), name="Solid ash", unit="board_foot", thickness_nm="8/4", **typed)

        shown = staff_client.get(answer.url).content.decode()
        assert all(words in shown for words in ("FAS", "S2S", "kiln-dried", "gross tally"))

    def test_changed_attributes_are_taken_back(self, staff_client: Browser, owner: Person) -> None:
        material = make_material(core="veneer")
        url = reverse("materials:material_edit", args=[material.pk])
        post(staff_client, url, **SHEET, **ATTRIBUTES, version="1")

        undo(action=Action.objects.get(), by=hand(owner))

        material.refresh_from_db()
        assert (material.core, material.fire_class) == ("veneer", "")

    def test_all_of_it_stands_on_the_order(self, staff_client: Browser) -> None:
        post(staff_client, new("sheet"), **SHEET, **ATTRIBUTES)
        order = make_order(material=Material.objects.get())

        shown = staff_client.get(reverse("materials:order", args=[order.pk])).content.decode()

        assert "3/4″ (18.2 mm real), 49″ × 97″, ash, plain sliced, book match, A/2, MDF core, bare" in shown
