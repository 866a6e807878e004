"""Who may do what: the table of role by page by action, as the contributor's guide shows it.

A door names an address, what it is for, whether it is opened (GET), sent to (POST) or both, and for whom it is there:
anybody, staff (and so the owner as well), or the owner alone.
"""

from dataclasses import dataclass
from typing import Literal

import pytest
from django.urls import reverse

from tests.world import World
from workshop.actions import thing_of

Who = Literal["anybody", "staff", "owner"]


@dataclass(frozen=True)
class Door:
    name: str
    path: str
    what: str
    opens: bool
    sends: bool
    who: Who

    @property
    def is_file(self) -> bool:
        """Whether it answers with a document or a picture instead of a page."""
        return self.path.endswith(".pdf") or self.name == "front:photo"


def _door(name: str, path: str, what: str, methods: str, who: Who) -> Door:
    return Door(name, path, what, "GET" in methods, "POST" in methods, who)


BOTH, OPEN, SEND = "GET POST", "GET", "POST"

DOORS = [
    _door("front:login", "login/", "Sign in", BOTH, "anybody"),
    _door(
        "front:first_start",
        "first-start/",
        "The owner's account, once, by the terminal's code",
        BOTH,
        "anybody",
    ),
    _door("front:health", "health", "Whether the app is well", OPEN, "anybody"),
    _door("front:logout", "logout/", "Sign out", SEND, "staff"),
    _door("front:today", "", "What needs somebody today", OPEN, "staff"),
    _door("front:find", "find/", "Find by number or name", OPEN, "staff"),
    _door("front:more", "more/", "The other pages", OPEN, "staff"),
    _door("front:key", "key/", "What marks and hatches mean", OPEN, "staff"),
    _door("front:password", "password/", "One's own password", BOTH, "staff"),
    _door("front:undo", "actions/<int:pk>/undo/", "Take back: staff their own, the owner all", SEND, "staff"),
    _door("front:trace", "trace/<str:thing>/", "The trace of a thing; for staff without amounts", OPEN, "staff"),
    _door("front:work", "work/<int:pk>/", "Long work: staff what they asked for, the owner all", OPEN, "staff"),
    _door("front:work_cancel", "work/<int:pk>/cancel/", "Stop long work, as above", SEND, "staff"),
    _door("front:photo", "photos/<int:pk>/", "A photo", OPEN, "staff"),
    _door("front:shop", "shop/", "Letterhead, units, rates", BOTH, "owner"),
    _door("front:people", "people/", "Who may sign in", OPEN, "owner"),
    _door("front:person_new", "people/new/", "Add a person", BOTH, "owner"),
    _door("front:person", "people/<int:pk>/", "Change a person", BOTH, "owner"),
    _door("front:backups", "backups/", "Backups: see them, ask for one", BOTH, "owner"),
    _door("jobs:jobs", "jobs/", "Jobs", OPEN, "staff"),
    _door("jobs:job_new", "jobs/new/", "Start a job", BOTH, "staff"),
    _door("jobs:job", "jobs/<int:pk>/", "Progress by room", OPEN, "staff"),
    _door("jobs:job_edit", "jobs/<int:pk>/edit/", "Change a job", BOTH, "staff"),
    _door("jobs:job_copy", "jobs/<int:pk>/copy/", "Copy a job", BOTH, "staff"),
    _door("jobs:job_close", "jobs/<int:pk>/close/", "Close a job", BOTH, "staff"),
    _door("jobs:job_reopen", "jobs/<int:pk>/reopen/", "Reopen a job", SEND, "staff"),
    _door("jobs:cutting_plan", "jobs/<int:pk>/cutting/", "How its panels are cut from sheets", OPEN, "staff"),
    _door("jobs:surfaces", "rooms/<int:pk>/surfaces/", "Walls and ceilings of a room", OPEN, "staff"),
    _door("jobs:surface_new", "rooms/<int:pk>/surfaces/new/", "Add a wall or ceiling", BOTH, "staff"),
    _door("jobs:surface_plain", "rooms/<int:pk>/surfaces/plain/", "A room by length, width and height", BOTH, "staff"),
    _door("jobs:surface_sketch", "rooms/<int:pk>/surfaces/sketch/", "A wall drawn as it is typed", OPEN, "staff"),
    _door("jobs:take_off", "rooms/<int:pk>/take-off/", "What its walls come to", OPEN, "staff"),
    _door("jobs:elevations", "rooms/<int:pk>/elevations.pdf", "Its elevations on paper", OPEN, "staff"),
    _door("jobs:surface", "surfaces/<int:pk>/", "A wall or ceiling: drawn, panels, openings", OPEN, "staff"),
    _door("jobs:surface_edit", "surfaces/<int:pk>/edit/", "Change a wall or ceiling", BOTH, "staff"),
    _door("jobs:surface_measure", "surfaces/<int:pk>/measure/", "Its sizes as measured", BOTH, "staff"),
    _door("jobs:surface_copy", "surfaces/<int:pk>/copy/", "Copy or mirror it", BOTH, "staff"),
    _door("jobs:surface_release", "surfaces/<int:pk>/release/", "Release it for cutting as drawn", SEND, "staff"),
    _door("jobs:surface_remove", "surfaces/<int:pk>/remove/", "Take it out", SEND, "staff"),
    _door("jobs:opening_new", "surfaces/<int:pk>/openings/new/", "Add a door, window or niche", BOTH, "staff"),
    _door("jobs:cutout_new", "surfaces/<int:pk>/cutouts/new/", "Add a cut-out", BOTH, "staff"),
    _door("jobs:opening", "openings/<int:pk>/", "Change an opening", BOTH, "staff"),
    _door("jobs:opening_remove", "openings/<int:pk>/remove/", "Take an opening out", SEND, "staff"),
    _door("jobs:cutout", "cutouts/<int:pk>/", "Change a cut-out", BOTH, "staff"),
    _door("jobs:cutout_remove", "cutouts/<int:pk>/remove/", "Take a cut-out out", SEND, "staff"),
    _door("jobs:drawings", "jobs/<int:pk>/drawings/", "Drawings of a job: see them, add one", BOTH, "staff"),
    _door("jobs:drawing", "drawings/<int:pk>/", "A drawing and its revisions", BOTH, "staff"),
    _door("jobs:drawing_remove", "drawings/<int:pk>/remove/", "Take a drawing off the list", SEND, "staff"),
    _door("jobs:revision_new", "drawings/<int:pk>/revisions/new/", "Add a revision", BOTH, "staff"),
    _door("jobs:revision", "revisions/<int:pk>/", "Correct a revision", BOTH, "staff"),
    _door("jobs:revision_remove", "revisions/<int:pk>/remove/", "Take a revision out", SEND, "staff"),
    _door("jobs:room_new", "jobs/<int:pk>/rooms/new/", "Add a room", BOTH, "staff"),
    _door("jobs:stages", "jobs/<int:pk>/stages/", "Names of the stages", BOTH, "staff"),
    _door("jobs:stage_new", "jobs/<int:pk>/stages/new/", "Add a stage", SEND, "staff"),
    _door("jobs:stage_remove", "stages/<int:pk>/remove/", "Take a stage out", SEND, "staff"),
    _door("jobs:room", "rooms/<int:pk>/", "A room: stages, needs, sheets", OPEN, "staff"),
    _door("jobs:room_edit", "rooms/<int:pk>/edit/", "Change a room", BOTH, "staff"),
    _door("jobs:room_remove", "rooms/<int:pk>/remove/", "Take a room out", SEND, "staff"),
    _door("jobs:room_plan", "rooms/<int:pk>/plan/", "Planned hours and pieces", BOTH, "staff"),
    _door("jobs:plan_copy", "rooms/<int:pk>/plan/copy/", "Copy another room's plan", SEND, "staff"),
    _door("jobs:need_new", "rooms/<int:pk>/needs/new/", "Add a need", BOTH, "staff"),
    _door("jobs:need", "needs/<int:pk>/", "Change a need", BOTH, "staff"),
    _door("jobs:need_remove", "needs/<int:pk>/remove/", "Take a need off", SEND, "staff"),
    _door("jobs:room_stage", "room-stages/<int:pk>/", "Count or tick a stage", SEND, "staff"),
    _door("jobs:hours", "rooms/<int:pk>/hours/", "Hours of a room: see and log", BOTH, "staff"),
    _door("jobs:hours_edit", "hours/<int:pk>/", "Change hours: staff their own, the owner all", BOTH, "staff"),
    _door("jobs:hours_remove", "hours/<int:pk>/remove/", "Take hours out, as above", SEND, "staff"),
    _door("jobs:job_hours", "jobs/<int:pk>/hours/", "All hours of a job", OPEN, "staff"),
    _door("jobs:hours_batch_new", "jobs/<int:pk>/hours/new/", "Log hours on several rooms", BOTH, "staff"),
    _door("jobs:hours_batch", "hours/batches/<int:pk>/", "Correct them: staff their own, the owner all", BOTH, "staff"),
    _door("jobs:hours_batch_remove", "hours/batches/<int:pk>/remove/", "Take them out, as above", SEND, "staff"),
    _door("jobs:giving", "jobs/<int:pk>/sheets/", "Sheets of a job: groups and rooms", OPEN, "staff"),
    _door("jobs:give", "rooms/<int:pk>/give/", "Give sheets to a room", SEND, "staff"),
    _door("jobs:give_suggested", "jobs/<int:pk>/suggestion/", "Give as suggested", SEND, "staff"),
    _door("jobs:room_sheets", "rooms/<int:pk>/sheets/", "Sheets of a room: see, give single ones", BOTH, "staff"),
    _door("jobs:take_back", "rooms/<int:pk>/take-back/", "Take sheets back", SEND, "staff"),
    _door("jobs:swap", "rooms/<int:pk>/swap/", "Swap sheets of a room", SEND, "staff"),
    _door("jobs:lot_give", "lots/<int:pk>/give/", "Where a lot goes next", OPEN, "staff"),
    _door("jobs:lot_share", "rooms/<int:pk>/lots/", "Give a quantity of a lot", BOTH, "staff"),
    _door("jobs:pull_list", "jobs/<int:pk>/pull-list/", "Which sheets to pull, by stack", OPEN, "staff"),
    _door("jobs:lead_times", "buying/", "Lead times and what to order", OPEN, "staff"),
    _door("jobs:line_jobs", "order-lines/<int:pk>/jobs/", "How much of an order line is for which job", BOTH, "owner"),
    _door("jobs:clients", "clients/", "Clients", OPEN, "staff"),
    _door("jobs:client_new", "clients/new/", "Add a client", BOTH, "staff"),
    _door("jobs:client", "clients/<int:pk>/", "Change a client", BOTH, "staff"),
    _door("materials:suppliers", "suppliers/", "Suppliers", OPEN, "staff"),
    _door("materials:supplier_new", "suppliers/new/", "Add a supplier", BOTH, "staff"),
    _door("materials:supplier", "suppliers/<int:pk>/", "Change a supplier", BOTH, "staff"),
    _door("materials:materials", "materials/", "Materials", OPEN, "staff"),
    _door("materials:material_new", "materials/new/", "Add a material", BOTH, "staff"),
    _door("materials:material", "materials/<int:pk>/", "A material; prices for the owner", OPEN, "staff"),
    _door("materials:material_edit", "materials/<int:pk>/edit/", "Change a material", BOTH, "staff"),
    _door("materials:price_new", "materials/<int:pk>/prices/new/", "Add a price", BOTH, "owner"),
    _door("materials:tones", "materials/<int:pk>/tones/", "Tone groups of a material", BOTH, "staff"),
    _door("materials:tone", "tones/<int:pk>/", "Change a tone group", BOTH, "staff"),
    _door("materials:tone_remove", "tones/<int:pk>/remove/", "Take a tone group out", SEND, "staff"),
    _door("materials:orders", "orders/", "Orders", OPEN, "staff"),
    _door("materials:order", "orders/<int:pk>/", "An order; prices for the owner", OPEN, "staff"),
    _door("materials:order_new", "orders/new/", "Make an order", BOTH, "owner"),
    _door("materials:order_edit", "orders/<int:pk>/edit/", "Change an order", BOTH, "owner"),
    _door("materials:order_line_new", "orders/<int:pk>/lines/new/", "Add a line to an order", BOTH, "owner"),
    _door("materials:order_line", "order-lines/<int:pk>/", "Change a line of an order", BOTH, "owner"),
    _door("materials:order_line_remove", "order-lines/<int:pk>/remove/", "Take a line off an order", SEND, "owner"),
    _door("materials:order_place", "orders/<int:pk>/place/", "Place an order", SEND, "owner"),
    _door("materials:promise_new", "orders/<int:pk>/promise/", "A new promised date", BOTH, "owner"),
    _door("materials:order_cancel", "orders/<int:pk>/cancel/", "Cancel an order", SEND, "owner"),
    _door("materials:order_pdf", "orders/<int:pk>/order.pdf", "The order to send", OPEN, "owner"),
    _door("materials:payment_new", "orders/<int:pk>/payments/new/", "A deposit or payment due", BOTH, "owner"),
    _door("materials:payment", "order-payments/<int:pk>/", "Change a payment", BOTH, "owner"),
    _door("materials:payment_paid", "order-payments/<int:pk>/paid/", "Mark a payment as paid", SEND, "owner"),
    _door("materials:payment_remove", "order-payments/<int:pk>/remove/", "Take a payment off", SEND, "owner"),
    _door("materials:samples", "samples/", "Samples sent out", OPEN, "staff"),
    _door("materials:sample_new", "samples/new/", "Send a sample", BOTH, "staff"),
    _door("materials:sample", "samples/<int:pk>/", "A sample and its answer", OPEN, "staff"),
    _door("materials:sample_answer", "samples/<int:pk>/answer/", "Approved or refused", SEND, "staff"),
    _door("materials:sample_edit", "samples/<int:pk>/edit/", "Change a sample", BOTH, "staff"),
    _door("materials:deliveries", "deliveries/", "Deliveries", OPEN, "staff"),
    _door("materials:delivery_new", "deliveries/new/", "Take a delivery in", BOTH, "staff"),
    _door("materials:delivery", "deliveries/<int:pk>/", "A delivery; costs for the owner", OPEN, "staff"),
    _door(
        "materials:delivery_count",
        "deliveries/<int:pk>/count/",
        "Count it; prices for the owner",
        BOTH,
        "staff",
    ),
    _door("materials:delivery_photos", "deliveries/<int:pk>/photos/", "Add photos", BOTH, "staff"),
    _door("materials:delivery_photo_remove", "delivery-photos/<int:pk>/remove/", "Take a photo off", SEND, "staff"),
    _door("materials:bill_new", "deliveries/<int:pk>/bills/new/", "An invoice or credit note", BOTH, "owner"),
    _door("materials:bill", "bills/<int:pk>/", "Change a bill", BOTH, "owner"),
    _door("materials:bill_remove", "bills/<int:pk>/remove/", "Take a bill out", SEND, "owner"),
    _door("materials:lots", "lots/", "Lots", OPEN, "staff"),
    _door("materials:lot_veneer", "lots/<int:pk>/veneer/", "Flitch, set and sequence of sheets", BOTH, "staff"),
    _door("materials:lot_batch", "lots/<int:pk>/batch/", "Batch number and use-by date", BOTH, "staff"),
    _door("materials:return_new", "lots/<int:pk>/return/", "Ask the supplier to take sheets back", BOTH, "staff"),
    _door("materials:returns", "returns/", "Sheets that go back", OPEN, "staff"),
    _door("materials:returns_collect", "returns/collect/", "Sheets were collected", SEND, "staff"),
    _door("materials:return", "returns/<int:pk>/", "A sheet that goes back; credit for the owner", OPEN, "staff"),
    _door("materials:return_credit", "returns/<int:pk>/credit/", "Credit received", SEND, "owner"),
    _door("materials:return_cancel", "returns/<int:pk>/cancel/", "It stays after all", SEND, "staff"),
    _door("materials:sheets", "sheets/", "All sheets", OPEN, "staff"),
    _door("materials:lot", "lots/<int:pk>/", "A lot and its stacks; costs for the owner", OPEN, "staff"),
    _door("materials:sort", "lots/<int:pk>/sort/", "The sorting pad", OPEN, "staff"),
    _door("materials:sheet", "sheets/<int:pk>/", "A sheet; its cost for the owner", OPEN, "staff"),
    _door("materials:sheet_note", "sheets/<int:pk>/note/", "Note on a sheet", BOTH, "staff"),
    _door("materials:sheet_sort", "sheets/<int:pk>/sort/", "Put a sheet on a stack", SEND, "staff"),
    _door("materials:sheet_set_aside", "sheets/<int:pk>/set-aside/", "Set a sheet aside", SEND, "staff"),
    _door("materials:sheet_put_back", "sheets/<int:pk>/put-back/", "Set aside no longer", SEND, "staff"),
    _door("estimates:estimates", "estimates/", "Estimates", OPEN, "owner"),
    _door("estimates:rates", "estimates/rates/", "The price of an hour of each operation", BOTH, "owner"),
    _door("estimates:estimate", "jobs/<int:pk>/estimate/", "A job's estimate", OPEN, "owner"),
    _door("estimates:estimate_fill", "jobs/<int:pk>/estimate/fill/", "Fill it from needs and hours", SEND, "owner"),
    _door("estimates:estimate_terms", "jobs/<int:pk>/estimate/terms/", "Its terms", BOTH, "owner"),
    _door("estimates:estimate_line_new", "jobs/<int:pk>/estimate/lines/new/", "Add a line", BOTH, "owner"),
    _door("estimates:estimate_line", "estimate-lines/<int:pk>/", "Change a line", BOTH, "owner"),
    _door("estimates:estimate_line_remove", "estimate-lines/<int:pk>/remove/", "Take a line out", SEND, "owner"),
    _door("estimates:summary_pdf", "jobs/<int:pk>/estimate/summary.pdf", "The client's cost summary", OPEN, "owner"),
]


def as_markdown() -> str:
    """The table as it stands in the contributor's guide."""
    lines = ["| Address | For | Anybody | Staff | Owner |", "| --- | --- | --- | --- | --- |"]
    for door in DOORS:
        does = {(True, True): "opens, sends", (True, False): "opens", (False, True): "sends"}[door.opens, door.sends]
        rank = ("anybody", "staff", "owner").index(door.who)
        cells = [does if rank <= place else "-" for place in range(3)]
        address = f"/{door.path.replace('<int:pk>', 'N').replace('<str:thing>', 'THING')}"
        lines.append(f"| `{address}` | {door.what} | {' | '.join(cells)} |")
    return "\n".join(lines) + "\n"


def cases(*who: str, opens: bool | None = None, sends: bool | None = None) -> list[object]:
    return [
        pytest.param(door, id=door.name)
        for door in DOORS
        if door.who in who and opens in (None, door.opens) and sends in (None, door.sends)
    ]


def numbered(doors: list[object]) -> list[object]:
    return [case for case in doors if "<int:pk>" in case.values[0].path]


def pages(found: list[object]) -> list[object]:
    return [case for case in found if not case.values[0].is_file]


def without(name: str, found: list[object]) -> list[object]:
    return [case for case in found if case.values[0].name != name]


def url_of(door: Door, world: World | None = None, pk: int = 1) -> str:
    """An address of the door: to what the world has for it, or to a number."""
    if "<str:thing>" in door.path:
        return reverse(door.name, args=[thing_of(world.things[0]) if world else "jobs.job:1"])
    if "<int:pk>" not in door.path:
        return reverse(door.name)
    if world:
        pk = (world.by_name.get(door.name) or world.by_path[door.path[: door.path.index("<")]]).pk
    return reverse(door.name, args=[pk])
