"""The unit a material is bought in: what one holds, least quantities and whole packs, from the order to the room.

A box of 500 screws at 24.25 is the example: 4 boxes are 2,000 pieces and 97.00, 0.0485 a piece (worked out by hand).
"""

from datetime import date

import pytest
from django.core.exceptions import ValidationError
from django.test import Client as Browser
from django.urls import reverse

from estimates import rates
from jobs import lead_times
from materials import buying, deliveries, orders
from materials.deliveries import Counted
from materials.models import Lot, Material, Order, OrderLine, Price, Supplier
from tests.makers import hand, make_delivery, make_material, make_need, make_order, make_supplier, post
from tests.queries import queries_of
from tests.typed import NUMBERS
from workshop.actions import undo
from workshop.models import Action, Person

MICRO = 1_000_000
NEW = "/orders/new/"


def new(kind: str) -> str:
    return f"{reverse('materials:material_new')}?kind={kind}"


@pytest.fixture
def supplier(db: None) -> Supplier:
    return make_supplier(name="Supplier A")


@pytest.fixture
def screws(supplier: Supplier) -> Material:
    return make_material(
        kind="fastener",
        name="Panel screws",
        unit="piece",
        buy_unit="box",
        buy_contains_micro=500 * MICRO,
        usual_supplier=supplier,
    )


def price(material: Material, **fields: object) -> Price:
    supplier = fields.pop("supplier", material.usual_supplier)
    asked = {"price_micro": 24_250_000, "currency": "USD", "from_on": date(2026, 1, 1), **fields}
    return Price.objects.create(material=material, supplier=supplier, **asked)


class TestTheMaterial:
    def test_a_box_and_what_it_holds_are_kept(self, staff_client: Browser) -> None:
        answer = post(
            staff_client, new("fastener"), name="Screws", unit="piece", buy_unit="box", buy_contains_micro="500"
        )

        material = Material.objects.get()
        assert (material.bought_unit, material.buy_contains_micro) == ("box", 500 * MICRO)
        assert "in boxes of 500 pieces" in staff_client.get(answer.url).content.decode()

    def test_bought_as_it_is_used_one_holds_one(self, staff_client: Browser) -> None:
        post(staff_client, new("fastener"), name="Screws", unit="box", buy_unit="box", buy_contains_micro="500")

        material = Material.objects.get()
        assert (material.buy_unit, material.buy_contains_micro) == ("", MICRO)

    @pytest.mark.parametrize(
        ("kind", "unit", "buy_unit", "holds"),
        [
            # NIST Handbook 44, appendix C: a gallon is 4 quarts, 3.785411784 L. MBF: a thousand board feet (AHEC).
            ("finish", "quart", "gallon", 4 * MICRO),
            ("finish", "liter", "gallon", 3_785_412),
            ("lumber", "board_foot", "thousand_board_feet", 1_000 * MICRO),
        ],
    )
    def test_a_unit_of_the_same_kind_holds_what_it_holds(
        self, staff_client: Browser, kind: str, unit: str, buy_unit: str, holds: int
    ) -> None:
        post(staff_client, new(kind), name="Material", unit=unit, buy_unit=buy_unit)

        assert Material.objects.get().buy_contains_micro == holds

    def test_a_gallon_of_five_quarts_is_refused(self, staff_client: Browser) -> None:
        answer = post(
            staff_client, new("finish"), name="Sealer", unit="quart", buy_unit="gallon", buy_contains_micro="5"
        )

        assert answer.status_code == 422
        assert "One gal is 4 qt." in answer.context["form"].errors["buy_contains_micro"][0]
        assert not Material.objects.exists()

    @pytest.mark.parametrize("typed", NUMBERS)
    def test_what_no_box_holds_is_refused_at_its_field(self, staff_client: Browser, typed: str) -> None:
        answer = post(
            staff_client, new("fastener"), name="Screws", unit="piece", buy_unit="box", buy_contains_micro=typed
        )

        assert answer.status_code == 422
        assert answer.context["form"].errors["buy_contains_micro"]
        assert not Material.objects.exists()

    @pytest.mark.parametrize("typed", ["0", "1000001"])
    def test_a_box_holds_something_and_not_without_end(self, staff_client: Browser, typed: str) -> None:
        answer = post(
            staff_client, new("fastener"), name="Screws", unit="piece", buy_unit="box", buy_contains_micro=typed
        )

        assert answer.status_code == 422
        assert answer.context["form"].errors["buy_contains_micro"]

    @pytest.mark.parametrize("unit", ["pail", "\0", "parsec"])
    def test_a_unit_it_is_not_bought_in_is_refused(self, staff_client: Browser, unit: str) -> None:
        answer = post(staff_client, new("fastener"), name="Screws", unit="piece", buy_unit=unit)

        assert answer.status_code == 422
        assert answer.context["form"].errors["buy_unit"]

    @pytest.mark.parametrize("kind", ["sheet", "service"])
    def test_sheets_and_services_are_bought_as_they_are_used(self, staff_client: Browser, kind: str) -> None:
        assert "buy_unit" not in staff_client.get(new(kind)).context["form"].fields

    def test_the_bought_unit_stays_once_something_is_ordered_in_it(
        self, staff_client: Browser, screws: Material
    ) -> None:
        make_order(material=screws)
        url = reverse("materials:material_edit", args=[screws.pk])

        answer = post(
            staff_client, url, name=screws.name, unit="piece", buy_unit="pack", buy_contains_micro="100", version=1
        )

        assert answer.status_code == 422
        assert answer.context["form"].errors["buy_unit"]

    def test_a_new_size_of_box_is_taken_back(self, staff_client: Browser, owner: Person, screws: Material) -> None:
        url = reverse("materials:material_edit", args=[screws.pk])
        post(staff_client, url, name=screws.name, unit="piece", buy_unit="box", buy_contains_micro="400", version=1)

        undo(action=Action.objects.get(), by=hand(owner))

        screws.refresh_from_db()
        assert screws.buy_contains_micro == 500 * MICRO


class TestPrices:
    def test_the_least_quantity_and_packs_stand_beside_the_price(
        self, owner_client: Browser, screws: Material, supplier: Supplier
    ) -> None:
        typed = {"price_micro": "24.25", "from_on": "2026-01-01", "minimum_micro": "4", "pack_micro": "2"}

        answer = post(owner_client, reverse("materials:price_new", args=[screws.pk]), supplier=supplier.pk, **typed)

        shown = owner_client.get(answer.url).content.decode()
        assert "Per box" in shown
        assert "4 boxes at least, in packs of 2 boxes" in shown

    def test_a_least_quantity_that_is_no_whole_pack_is_refused(
        self, owner_client: Browser, screws: Material, supplier: Supplier
    ) -> None:
        typed = {"price_micro": "24.25", "from_on": "2026-01-01", "minimum_micro": "5", "pack_micro": "2"}

        answer = post(owner_client, reverse("materials:price_new", args=[screws.pk]), supplier=supplier.pk, **typed)

        error = answer.context["form"].errors.as_data()["minimum_micro"][0]
        assert answer.status_code == 422
        assert error.params["would_do"] == ["4", "6"]
        assert not Price.objects.exists()

    @pytest.mark.parametrize("field", ["minimum_micro", "pack_micro"])
    @pytest.mark.parametrize("typed", ["0", "-1", "1e400", "NaN", "2 1/2", str(10**30), "4\0009", "a" * 100_000])
    def test_what_is_no_quantity_is_refused_at_its_field(
        self, owner_client: Browser, screws: Material, supplier: Supplier, field: str, typed: str
    ) -> None:
        fields = {"price_micro": "24.25", "from_on": "2026-01-01", field: typed}

        answer = post(owner_client, reverse("materials:price_new", args=[screws.pk]), supplier=supplier.pk, **fields)

        assert answer.status_code == 422
        assert answer.context["form"].errors[field]


class TestOrdering:
    def test_an_order_counts_in_boxes_and_says_how_many_pieces(self, owner_client: Browser, screws: Material) -> None:
        price(screws)

        answer = post(owner_client, NEW, supplier=screws.usual_supplier_id, material=screws.pk, quantity_micro="4")

        shown = owner_client.get(answer.url).content.decode()
        assert "4 boxes (2000 pieces)" in shown
        assert "$97.00" in shown
        assert OrderLine.objects.get().contains_micro == 500 * MICRO

    def test_a_part_of_a_box_is_refused(self, owner_client: Browser, screws: Material) -> None:
        price(screws)

        answer = post(owner_client, NEW, supplier=screws.usual_supplier_id, material=screws.pk, quantity_micro="2.5")

        assert answer.status_code == 422
        assert answer.context["form"].errors["quantity_micro"]

    @pytest.mark.parametrize(
        ("asked", "typed", "words", "would_do"),
        [
            (
                {"minimum_micro": 5 * MICRO},
                "2",
                "Supplier A sells 5 boxes at least. Order 5 boxes or 6 boxes.",
                ["5", "6"],
            ),
            (
                {"pack_micro": 4 * MICRO},
                "6",
                "Supplier A sells it in packs of 4 boxes. Order 4 boxes or 8 boxes.",
                ["4", "8"],
            ),
            (
                {"minimum_micro": 8 * MICRO, "pack_micro": 4 * MICRO},
                "6",
                "Supplier A sells 8 boxes at least. Order 8 boxes or 12 boxes.",
                ["8", "12"],
            ),
        ],
    )
    def test_what_the_supplier_does_not_sell_is_refused_with_two_that_would_do(
        self,
        owner_client: Browser,
        screws: Material,
        asked: dict[str, int],
        typed: str,
        words: str,
        would_do: list[str],
    ) -> None:
        price(screws, **asked)

        answer = post(owner_client, NEW, supplier=screws.usual_supplier_id, material=screws.pk, quantity_micro=typed)

        error = answer.context["form"].errors.as_data()["quantity_micro"][0]
        assert answer.status_code == 422
        assert error.messages == [words]
        assert error.params["would_do"] == would_do
        assert not Order.objects.exists()

    def test_a_line_cannot_be_changed_to_what_is_not_sold(self, owner_client: Browser, screws: Material) -> None:
        price(screws, pack_micro=4 * MICRO)
        order = make_order(material=screws, quantity_micro=4 * MICRO)
        url = reverse("materials:order_line", args=[order.lines.get().pk])

        answer = post(owner_client, url, quantity_micro="5", price_micro="24.25", version="1")

        assert answer.status_code == 422
        assert answer.context["form"].errors["quantity_micro"]
        assert order.lines.get().quantity_micro == 4 * MICRO

    def test_a_line_ordered_before_the_pack_was_known_can_still_be_closed(
        self, owner_client: Browser, screws: Material
    ) -> None:
        order = make_order(material=screws, quantity_micro=5 * MICRO)
        price(screws, pack_micro=4 * MICRO)
        url = reverse("materials:order_line", args=[order.lines.get().pk])

        post(owner_client, url, quantity_micro="5", price_micro="24.25", is_closed="on", version="1")

        assert order.lines.get().closed_on

    def test_another_suppliers_packs_do_not_matter(self, owner_client: Browser, screws: Material) -> None:
        price(screws, supplier=make_supplier(), pack_micro=4 * MICRO)
        typed = {"supplier": screws.usual_supplier_id, "material": screws.pk, "price_micro": "24.25"}

        post(owner_client, NEW, quantity_micro="3", **typed)

        assert OrderLine.objects.get().quantity_micro == 3 * MICRO

    @pytest.mark.parametrize(
        ("asked", "boxes"), [({}, "4"), ({"pack_micro": 5 * MICRO}, "5"), ({"minimum_micro": 9 * MICRO}, "9")]
    )
    def test_what_a_room_misses_is_filled_in_as_whole_packs(
        self, owner_client: Browser, screws: Material, asked: dict[str, int], boxes: str
    ) -> None:
        price(screws, **asked)

        form = owner_client.get(NEW, {"material": screws.pk, "quantity_micro": 1_600 * MICRO}).context["form"]

        assert form["quantity_micro"].value() == boxes
        assert form.fields["quantity_micro"].unit == "boxes"

    def test_more_pieces_than_can_be_kept_are_refused(self, owner: Person, supplier: Supplier) -> None:
        crate = make_material(kind="fastener", buy_unit="box", buy_contains_micro=10**6 * MICRO)
        line = {"material": crate, "quantity_micro": 10**4 * MICRO, "price_micro": 0}

        with pytest.raises(ValidationError, match="more than can be kept"):
            orders.add(by=hand(owner), supplier=supplier, **line)


class TestComing:
    @pytest.fixture
    def order(self, owner: Person, screws: Material) -> Order:
        price(screws)
        line = {"material": screws, "quantity_micro": 4 * MICRO, "freight_minor": 0}
        order = orders.add(by=hand(owner), supplier=screws.usual_supplier, **line)
        return orders.place(order=order, placed_on=date(2026, 11, 2), by=hand(owner))

    def test_what_is_to_come_covers_needs_in_the_used_unit(self, order: Order, screws: Material) -> None:
        make_need(material=screws, quantity_micro=2_500 * MICRO)

        state = lead_times.outlook(date(2026, 11, 25))

        assert [row.outstanding_micro for row in state.orders] == [2_000 * MICRO]
        assert [row.missing_micro for row in state.to_order] == [500 * MICRO]

    def test_the_lead_time_page_says_how_many_boxes_to_order(
        self, owner_client: Browser, order: Order, screws: Material
    ) -> None:
        make_need(material=screws, quantity_micro=2_700 * MICRO)

        shown = owner_client.get("/buying/").content.decode()

        assert "Panel screws, 2000 pieces" in shown
        assert "Panel screws, 700 pieces" in shown
        assert "order 2 boxes (1000 pieces)" in shown

    def test_what_is_counted_in_boxes_makes_a_lot_of_pieces(
        self, owner: Person, order: Order, screws: Material
    ) -> None:
        screws.buy_contains_micro = 400 * MICRO
        screws.save()
        delivery = make_delivery(supplier=order.supplier)
        line = order.lines.select_related("order", "material").get()
        row = Counted(name="1", material=screws, order_line=line, good_micro=4 * MICRO)

        deliveries.count(delivery=delivery, rows=[row], by=hand(owner))

        lot = Lot.objects.get()
        assert (lot.quantity_micro, lot.landed_minor) == (2_000 * MICRO, 9_700)
        assert not lead_times.outlook(date(2026, 11, 25)).orders

    def test_a_lot_says_what_a_piece_costs_landed(
        self, owner_client: Browser, staff_client: Browser, owner: Person, order: Order, screws: Material
    ) -> None:
        row = Counted(name="1", material=screws, good_micro=4 * MICRO)
        deliveries.count(delivery=make_delivery(supplier=order.supplier), rows=[row], by=hand(owner))
        url = reverse("materials:lot", args=[Lot.objects.get().pk])

        assert "$0.0485 a piece" in owner_client.get(url).content.decode()
        assert "a piece" not in staff_client.get(url).content.decode()

    def test_a_landed_cost_that_is_rounded_says_so(self, db: None, screws: Material) -> None:
        lot = Lot(material=screws, quantity_micro=3 * MICRO, landed_minor=100, currency="USD")

        assert buying.landed_each_text(lot) == "≈ $0.3333 a piece"

    def test_the_count_asks_for_boxes(self, staff_client: Browser, order: Order) -> None:
        delivery = make_delivery(supplier=order.supplier)

        form = staff_client.get(reverse("materials:delivery_count", args=[delivery.pk])).context["form"]

        assert form.fields[f"good_{order.lines.get().pk}"].unit == "boxes"

    def test_freight_and_charges_of_the_order_land_on_what_came(
        self, owner: Person, supplier: Supplier, screws: Material
    ) -> None:
        charged = {"freight_minor": 1_500, "charges_minor": 850, "charges_what": "Pallet"}
        line = {"material": screws, "quantity_micro": 4 * MICRO, "price_micro": 24_250_000}
        order = orders.add(by=hand(owner), supplier=supplier, **line, **charged)
        orders.place(order=order, placed_on=date(2026, 11, 2), by=hand(owner))
        row = Counted(name="1", material=screws, order_line=order.lines.get(), good_micro=4 * MICRO)

        deliveries.count(delivery=make_delivery(supplier=supplier), rows=[row], by=hand(owner))

        assert Lot.objects.get().landed_minor == 9_700 + 1_500 + 850

    def test_the_lead_time_page_costs_the_same_with_one_material_and_with_twenty(
        self, owner_client: Browser, supplier: Supplier, screws: Material
    ) -> None:
        make_need(material=screws)
        few = queries_of(owner_client, "/buying/")

        for _ in range(20):
            make_need(material=make_material(kind="fastener", buy_unit="box", usual_supplier=supplier))

        assert queries_of(owner_client, "/buying/") <= few


def test_an_estimate_takes_the_price_of_what_a_box_holds(screws: Material) -> None:
    price(screws)

    assert rates.of_materials([screws], "USD")[screws.pk].price_micro == 48_500
