"""The sheets of one room: chosen by stack or by number, and taken back; and its shares of other lots."""

from dataclasses import dataclass

from django.core.exceptions import ValidationError
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, render
from django.urls import reverse
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods, require_POST

from jobs import giving
from jobs.forms.giving import GiveForm, GivePiecesForm, LotShareForm, SwapForm, TakeBackForm
from jobs.giving import RoomRow, Stack
from jobs.models import Room
from jobs.views import blocks
from materials.models import Material
from workshop.forms import Form, initial_from
from workshop.pages import Block, Link, done, refused


@dataclass(frozen=True)
class Choice:
    """A sheet material of the room: what the room needs and has of it, and its stacks, each with its form."""

    material: Material
    row: RoomRow | None
    stacks: list[tuple[Stack, GiveForm]]


def _block(request: HttpRequest, room: Room, page: str) -> Block:
    around = [
        Link(_("All rooms"), reverse("jobs:giving", args=[room.job_id])),
        Link(_("Pull list"), reverse("jobs:pull_list", args=[room.job_id])),
    ]
    block = blocks.of_room(request, room, page, around)
    block.nav = "sheets"
    return block


def shown(request: HttpRequest, room: Room, refusal: Form | None = None) -> dict[str, object]:
    """What the page of a room's sheets shows; a refused form takes the place of its empty one."""
    pieces = refusal if isinstance(refusal, GivePiecesForm) else GivePiecesForm(room=room, auto_id="pieces_%s")
    swapping = refusal if isinstance(refusal, SwapForm) else _beside(refusal, room)
    taking = refusal if isinstance(refusal, TakeBackForm) else swapping
    return {
        "block": _block(request, room, _("Sheets")),
        "room": room,
        "choices": [_choice(room, material, refusal) for material in giving.sheet_materials(room.job, room)],
        "pieces": pieces,
        "taking": taking,
        "swapping": swapping,
        "given": giving.halves_of(room).count(),
        "refusal": refusal,
    }


def _beside(refusal: Form | None, room: Room) -> SwapForm:
    """The swap's own fields stand in the form of taking back: what was typed there stays when that is refused."""
    typed = {name: refusal.data.get(name) for name in ("lot", "pieces")} if isinstance(refusal, TakeBackForm) else {}
    return SwapForm(room=room, auto_id="swap_%s", initial=typed)


def _choice(room: Room, material: Material, refusal: Form | None) -> Choice:
    row = next((row for row in giving.room_rows(room.job, material) if row.room.pk == room.pk), None)
    stacks = giving.stacks(material)
    return Choice(material, row, [(stack, _give_form(stack, row, refusal)) for stack in stacks])


def _give_form(stack: Stack, row: RoomRow | None, refusal: Form | None) -> GiveForm:
    """The form of one stack; a count that was refused stays in the others too, ready for another tone group."""
    auto_id, count = f"group_{stack.group.pk}_%s", min(row.short_halves if row else 0, stack.free_halves) or None
    if isinstance(refusal, GiveForm):
        count = refusal["count"].value()
    form = GiveForm(initial={"group": stack.group.pk, "count": count}, auto_id=auto_id)
    if isinstance(refusal, GiveForm) and str(refusal["group"].value()) == str(stack.group.pk):
        form, refusal.auto_id = refusal, auto_id
    form["count"].label = _("Sheets of %(group)s") % {"group": stack.group.name}
    return form


@require_http_methods(["GET", "HEAD", "POST"])
def room_sheets(request: HttpRequest, pk: int) -> HttpResponse:
    """The sheets of one room; a POST gives single sheets and halves by their numbers."""
    room = get_object_or_404(Room.objects.select_related("job"), pk=pk)
    if request.method != "POST":
        return render(request, "jobs/room_sheets.html", shown(request, room))
    form = GivePiecesForm(request.POST, room=room, auto_id="pieces_%s")
    if form.is_valid():
        try:
            giving.give_pieces(room=room, by=form.hand(request), **form.gift)
            return done(reverse("jobs:room_sheets", args=[room.pk]))
        except giving.WouldMix as mixing:
            form.question = mixing.question
        except ValidationError as error:
            form.refuse(error)
    return refused(request, form, "jobs/room_sheets.html", shown(request, room, form))


@require_POST
def take_back(request: HttpRequest, pk: int) -> HttpResponse:
    room = get_object_or_404(Room.objects.select_related("job"), pk=pk)
    form = TakeBackForm(request.POST, room=room, auto_id="take_%s")
    if form.is_valid():
        try:
            giving.take_back(room=room, by=form.hand(request), **form.values())
            return done(reverse("jobs:room_sheets", args=[room.pk]))
        except ValidationError as error:
            form.refuse(error)
    return refused(request, form, "jobs/room_sheets.html", shown(request, room, form))


@require_POST
def swap(request: HttpRequest, pk: int) -> HttpResponse:
    """Give single sheets and take others back, in one step."""
    room = get_object_or_404(Room.objects.select_related("job"), pk=pk)
    form = SwapForm(request.POST, room=room, auto_id="swap_%s")
    if form.is_valid():
        try:
            giving.swap(room=room, by=form.hand(request), **form.gift)
            return done(reverse("jobs:room_sheets", args=[room.pk]))
        except giving.WouldMix as mixing:
            form.question = mixing.question
        except ValidationError as error:
            form.refuse(error)
    return refused(request, form, "jobs/room_sheets.html", shown(request, room, form))


@require_http_methods(["GET", "HEAD", "POST"])
def lot_share(request: HttpRequest, pk: int) -> HttpResponse:
    """Give a room a quantity of a lot that is not counted in sheets."""
    room = get_object_or_404(Room.objects.select_related("job"), pk=pk)
    lots = giving.lots_for(room)
    form = LotShareForm(request.POST or None, lots=lots, initial=initial_from(request, {"lot": "lot"}))
    context = {
        "block": _block(request, room, _("Material from lots")),
        "room": room,
        "form": form,
        "lots": lots,
        "shares": room.lot_shares.select_related("lot__material"),
    }
    if request.method != "POST":
        return render(request, "jobs/lot_share.html", context)
    if form.is_valid():
        try:
            giving.give_quantity(room=room, by=form.hand(request), **form.values())
            return done(reverse("jobs:room", args=[room.pk]))
        except ValidationError as error:
            form.refuse(error)
    return refused(request, form, "jobs/lot_share.html", context)
