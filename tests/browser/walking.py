"""One job on foot: every step a click on what the page shows, so that a page which leads nowhere ends the walk.

The job is a library annex of the invented school: two rooms, twelve sheets, one order that comes late.
"""

import io
import re

from playwright.sync_api import Locator, expect
from pypdf import PdfReader

from tests.browser.visit import Visit
from tests.workshop.running import Running

ASH = "Ash-veneered plywood 3/4 in"
SUPPLIER = "Northern Veneer Supply"
PASSWORD = "a long enough one"


class Walk:
    def __init__(self, visit: Visit, server: Running) -> None:
        self.visit, self.page, self.server = visit, visit.page, server

    # What a hand does

    def found(self, name: str) -> Locator:
        """The first link or button of this name that can be seen."""
        link = self.page.get_by_role("link", name=name, exact=True)
        return link.or_(self.page.get_by_role("button", name=name, exact=True)).filter(visible=True).first

    def press(self, name: str, *, then: str) -> None:
        """Press what has this name; the page it leads to has this title, and leads on."""
        self.found(name).click()
        expect(self.page).to_have_title(re.compile(f"^{re.escape(then)} - Flitchbook$"))
        onward = self.page.locator("main a, main button, .around a").filter(visible=True)
        expect(onward.first, f"nothing leads on from {then}").to_be_enabled()

    def type(self, **typed: str) -> None:
        for name, text in typed.items():
            field = self.page.locator(f"main [name={name}]").first
            if field.evaluate("field => field.tagName") == "SELECT":
                field.select_option(label=text)
            else:
                field.fill(text)

    def reads(self, *words: str) -> None:
        for each in words:
            expect(self.page.locator("main")).to_contain_text(each)

    # The way

    def first_start(self) -> None:
        self.visit.go("/")
        code = re.search(r"one-time code for it is (\d{6})", self.server.printed)[1]
        self.type(code=code, name="Rosa Marten", username="rosa", password=PASSWORD)
        self.press("Make account", then="Shop")

    def settle_the_shop(self) -> None:
        self.type(name="Lakeside Woodwork", hour_price_micro="64", overhead_ppm="10", profit_ppm="15", tax_ppm="8.25")
        self.press("Save settings", then="Today")

    def start_the_job(self) -> None:
        self.press("New job", then="New job")
        self.type(name="Library annex", new_client="Lakeside Music School")
        self.press("Open the job", then="Add rooms")
        self.type(name="Library", starts_on="2026-12-28", wanted_on="2027-01-22")
        self.press("Add and next", then="Add rooms")
        self.type(name="Listening room", starts_on="2027-01-11", wanted_on="2027-02-12")
        self.press("Add and finish", then="1 Library annex")

    def name_material_supplier_and_price(self) -> None:
        """Each is added where it is missed: the material at the room, the supplier at the price."""
        self.press("Library", then="Library")
        self.press("List what it takes", then="Add a need")
        self.press("Add a material", then="New material")
        self.press("Sheet material", then="New material")
        self.type(name=ASH, species="Ash", thickness_nm="3/4", width_nm="48", length_nm="96")
        self.press("Save material", then="Add a need")
        self.type(quantity_micro="7")
        self.press("Add and finish", then="Library")
        self.press("More", then="More")
        self.press("Materials", then="Materials")
        self.press(ASH, then=ASH)
        self.press("Add a price", then=f"Price of {ASH}")
        self.press("Add a supplier", then="New supplier")
        self.type(name=SUPPLIER, phone="555-0134", lead_count="4", lead_unit="weeks")
        self.press("Save supplier", then=f"Price of {ASH}")
        self.type(price_micro="71.50")
        self.press("Save price", then=ASH)

    def to_the_room(self, room: str) -> None:
        self.press("Jobs", then="Jobs")
        self.press("1 Library annex", then="1 Library annex")
        self.press(room, then=room)

    def list_needs_and_plan(self) -> None:
        self.to_the_room("Listening room")
        self.press("List what it takes", then="Add a need")
        self.type(material=f"{ASH} (sheets)", quantity_micro="4 1/2")
        self.press("Add and finish", then="Listening room")
        self.to_the_room("Library")
        self.press("Plan the stages", then="Plan, Library")
        for stage, hours in ((0, "6"), (4, "3:30")):
            self.page.locator("main [name^=hours_]").nth(stage).fill(hours)
            self.page.locator("main [name^=total_]").nth(stage).fill("7")
        self.press("Save plan", then="Library")

    def order_with_a_promise_that_slips(self) -> None:
        self.press("Buying", then="Lead times")
        self.press(f"{ASH}, 11 1/2 sheets", then="New order")
        self.type(supplier=SUPPLIER, quantity_micro="12", freight_minor="120")
        self.press("Make the order", then="Order 1")
        self.reads("$858.00", "$978.00")
        self.press("Mark as placed", then="Order 1")
        self.press("New promise", then="New promise for order 1")
        self.type(promised_on="2026-12-29", note="The mill is behind")
        self.press("Save promise", then="Order 1")

    def see_which_room_waits(self) -> None:
        self.press("Buying", then="Lead times")
        self.reads("Promised Tue, Dec 29, was Wed, Dec 23", "Library needs it Fri, Dec 25", "4 days late")

    def take_in_and_count(self) -> None:
        self.press("Take in a delivery", then="Take in a delivery")
        self.type(supplier=SUPPLIER, slip_number="NV-2207", bundles="1")
        self.press("Take it in", then="Delivery 1")
        self.press("Count it", then="Count delivery 1")
        self.type(good_1="12")
        self.press("Count done", then="Delivery 1")
        self.reads("12 sheets", "$978.00")

    def sort_twelve_sheets(self, *, by_key: bool) -> None:
        """Odd ones are light, even ones are of the middle; by digit keys where there is a keyboard."""
        self.press("Sort lot 1", then="Lot 1")
        for number in range(1, 13):
            expect(self.page.locator("#in-hand")).to_have_text(f"Sheet {number}")
            if by_key:
                self.page.keyboard.press("2" if number % 2 == 0 else "1")
            else:
                self.page.locator(".tone").nth(1 if number % 2 == 0 else 0).click()
        self.reads("all 12 sheets are sorted", "Sheet 12 is on the Middle stack, place 6 from the bottom")

    def give_sheets(self) -> None:
        self.press("Give them to rooms", then="Give sheets to rooms")
        self.press("Listening room", then="Sheets of Listening room")
        self.type(pieces="4, 6A")
        self.press("Give these sheets", then="Sheets of Listening room")
        expect(self.page.locator("input[name=halves]")).to_have_count(3)
        self.press("All rooms", then="Give sheets to rooms")
        self.press("Give all as suggested", then="Give sheets to rooms")
        self.reads("11 1/2 of 11 1/2", "1/2 sheet free")
        self.press("Pull list", then="Pull list")

    def tick_in_place(self) -> None:
        self.to_the_room("Library")
        self.press("Tick Edge panels", then="Library")
        expect(self.found("Not done : Edge panels")).to_be_visible()
        for done in ("1 of 7", "2 of 7"):
            self.press("+1 Cut panels", then="Library")
            expect(self.page.locator("#step-1")).to_contain_text(done)

    def log_hours(self) -> None:
        self.press("Log hours", then="Hours")
        self.type(minutes="1:30", stage="Cut panels")
        self.press("Log hours", then="Hours")
        self.reads("Cut panels", "1.5 h")

    def fill_the_estimate(self) -> str:
        """The total the page shows."""
        self.press("Jobs", then="Jobs")
        self.press("1 Library annex", then="1 Library annex")
        self.press("Estimate", then="Estimate")
        self.press("Fill from needs and hours", then="Estimate")
        self.reads("500.50", "321.75", "608.00")
        return self.page.locator(".sum .is-total dd").inner_text()

    def text_of_the_pdf(self) -> str:
        link = self.found("PDF for the client").get_attribute("href")
        answer = self.page.context.request.get(self.visit.address + link)
        assert (answer.status, answer.headers["content-type"]) == (200, "application/pdf")
        return "\n".join(page.extract_text() for page in PdfReader(io.BytesIO(answer.body())).pages)
