"""A whole job on foot: three rooms, an order that waits for a sample, a delivery with damage, sheets for every room.

The job is the east wing of the invented school: 36 sheets, 11 lengths of trim, a fire class the plywood does not meet.
"""

from playwright.sync_api import expect

from tests.browser.walking import ASH, SUPPLIER, Walk

JOB = "1 East wing"
TRIM = "Ash trim 3/4 x 2 1/2"
SCREWS = "Trim-head screws 1 5/8"


class WholeWalk(Walk):
    def to_the_job(self) -> None:
        self.press("Jobs", then="Jobs")
        self.press(JOB, then=JOB)

    def add_needs(self, room: str, **needs: str) -> None:
        self.to_the_job()
        self.press(room, then=room)
        for material, quantity in needs.items():
            self.press("Add a need", then="Add a need")
            self.page.locator("main [name=material]").select_option(label=material)
            self.type(quantity_micro=quantity)
            self.press("Add and finish", then=room)

    def start_the_job(self) -> None:
        self.press("New job", then="New job")
        self.type(
            name="East wing",
            new_client="Lakeside Music School",
            site="12 Oak Street",
            architect="Oak Street Architects",
            general_contractor="Harbor Builders",
        )
        self.press("Open the job", then="Add rooms")
        self.type(name="Recital room", starts_on="2026-12-28", wanted_on="2027-01-22")
        self.type(fire_class="Class B (ASTM E84)")
        self.press("Add and next", then="Add rooms")
        self.type(name="Practice room 1", starts_on="2027-01-11", wanted_on="2027-02-12")
        self.press("Add and next", then="Add rooms")
        self.type(name="Lobby", starts_on="2027-01-25", wanted_on="2027-02-26")
        self.press("Add and finish", then=JOB)

    def list_sheets_trim_and_screws(self) -> None:
        """Each material is described where it is missed first, then listed for the other rooms."""
        self.press("Recital room", then="Recital room")
        self.press("List what it takes", then="Add a need")
        self.new_material("Sheet material", name=ASH, species="Ash", thickness_nm="3/4", width_nm="49", length_nm="97")
        self.type(quantity_micro="16")
        self.press("Add and next", then="Add a need")
        self.new_material("Bought trim", name=TRIM, unit="ft", buy_unit="pieces", buy_contains_micro="8")
        self.type(quantity_micro="40")
        self.press("Add and next", then="Add a need")
        self.new_material("Fasteners", name=SCREWS, unit="pieces", buy_unit="boxes", buy_contains_micro="500")
        self.type(quantity_micro="640")
        self.press("Add and finish", then="Recital room")
        self.reads("Class B (ASTM E84) is required; it is Class C (ASTM E84)")
        self.add_needs("Practice room 1", **{f"{ASH} (sheets)": "10", f"{TRIM} (ft)": "30"})
        self.add_needs("Lobby", **{f"{ASH} (sheets)": "8", f"{TRIM} (ft)": "16"})

    def new_material(self, kind: str, **typed: str) -> None:
        self.press("Add a material", then="New material")
        self.press(kind, then="New material")
        self.type(**typed)
        if kind == "Sheet material":
            self.page.locator("main summary").first.click()
            self.type(real_thickness_nm="23/32", cut="plain sliced", match="book match", face_grade="A", back_grade="2")
            self.type(core="veneer", fire_class="Class C (ASTM E84)", emission_class="TSCA Title VI")
        self.press("Save material", then="Add a need")

    def order_all(self) -> None:
        self.press("Buying", then="Lead times")
        self.reads("order 11 pieces (88 ft)", "order 2 boxes", "Class B (ASTM E84) is required")
        self.press(f"{ASH}, 34 sheets", then="New order")
        self.press("Add a supplier", then="New supplier")
        self.type(name=SUPPLIER, lead_count="7", lead_unit="weeks", inspect_days="5")
        self.press("Save supplier", then="New order")
        self.type(quantity_micro="36", price_micro="71.50", freight_minor="315")
        self.type(charges_minor="40", charges_what="Crate")
        self.press("Make the order", then="Order 1")
        self.press("Add a line", then="Add to order 1")
        self.type(material=f"{TRIM}, in pieces of 8 ft", quantity_micro="11", price_micro="24")
        self.press("Add the line", then="Order 1")
        self.press("Add a payment", then="Payment for order 1")
        self.type(what="Deposit", due_on="2026-12-01", amount_minor="1000")
        self.press("Add the payment", then="Order 1")
        self.reads("49″ × 97″, Ash, plain sliced, book match, A/2, veneer core, bare", "$3,193.00")

    def wait_for_the_sample(self) -> None:
        self.press("Send a sample", then="Send a sample")
        self.type(what="Finish panel, satin", sent_to="Oak Street Architects", sent_on="2026-11-20")
        self.press("Save sample", then="Finish panel, satin")
        self.press("1, Northern Veneer Supply", then="Order 1")
        self.reads("To place, held")
        self.press("Finish panel, satin", then="Finish panel, satin")
        self.page.get_by_label("Approved").check()
        self.press("Save the answer", then="Finish panel, satin")
        self.press("1, Northern Veneer Supply", then="Order 1")
        self.press("Mark as placed", then="Order 1")
        self.reads("Wed, Jan 13, 2027")

    def see_it_is_late(self) -> None:
        self.press("Buying", then="Lead times")
        self.reads("19 days late", "13 working", "Recital room needs it Fri, Dec 25")

    def take_in_and_count(self) -> None:
        self.press("Take in a delivery", then="Take in a delivery")
        self.type(supplier=SUPPLIER, slip_number="NV-2207", bundles="2", damage="Corner of the upper bundle")
        self.press("Take it in", then="Delivery 1")
        self.press("Count it", then="Count delivery 1")
        self.type(good_1="33", damaged_1="3", numbers_1="5, 17, 36", good_2="11")
        self.press("Count done", then="Delivery 1")
        self.reads("36 sheets", "$2,895.98", "$297.02")

    def credit_the_damage(self) -> None:
        """Landed costs follow: 321.98 of the freight and the crate, 2,574.00 less the credit of 90.00."""
        self.press("Enter a credit note", then="Credit note for delivery 1")
        self.type(number="CN-7", sheets_1="5, 17, 36", each_1="30")
        self.press("Enter the credit note", then="Delivery 1")
        self.reads("$2,805.98")

    def sort_them(self, *, by_key: bool) -> None:
        self.press("Sort lot 1", then="Lot 1")
        for number in range(1, 37):
            expect(self.page.locator("#in-hand")).to_have_text(f"Sheet {number}")
            group = 0 if number % 3 == 0 else 1
            if by_key:
                self.page.keyboard.press(str(group + 1))
            else:
                self.page.locator(".tone").nth(group).click()
        self.reads("all 36 sheets are sorted", "Sheet 36 is on the Light stack, place 12 from the bottom")

    def give_as_suggested(self) -> None:
        self.press("Give them to rooms", then="Give sheets to rooms")
        self.reads("Recital room gets 16 Middle. Practice room 1 gets 10 Light. Lobby gets 8 Middle.")
        self.press("Give all as suggested", then="Give sheets to rooms")
        self.reads("34 of 34", "2 sheets free")

    def plan_and_tick(self) -> None:
        self.to_the_job()
        self.press("Recital room", then="Recital room")
        self.press("Plan the stages", then="Plan, Recital room")
        for stage, hours in ((0, "8"), (1, "4")):
            self.page.locator("main [name^=hours_]").nth(stage).fill(hours)
            self.page.locator("main [name^=total_]").nth(stage).fill("16")
        self.press("Save plan", then="Recital room")
        for done in ("1 of 16", "2 of 16"):
            self.press("+1 Cut panels", then="Recital room")
            expect(self.page.locator("#step-1")).to_contain_text(done)

    def log_hours_on_all(self) -> None:
        self.to_the_job()
        self.press("Hours", then="Hours")
        self.press("Log on several rooms", then="Hours on several rooms")
        self.type(minutes="6", stage="Cut panels")
        for room in self.page.locator("main input[type=checkbox]").all():
            room.check()
        self.press("Log hours", then="Hours")
        self.reads("Recital room, Practice room 1, Lobby; Cut panels", "6 of 12 h")

    def fill_the_estimate(self) -> str:
        self.to_the_job()
        self.press("Estimate", then="Estimate")
        self.press("Fill from needs and hours", then="Estimate")
        self.reads("1 line has no rate", "as ordered from Northern Veneer Supply")
        return self.page.locator(".sum .is-total dd").inner_text()
