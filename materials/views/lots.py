from django.core.exceptions import ValidationError
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, render
from django.urls import reverse
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from materials import buying, inspection, leading_on, pad, sizes, sorting, stacks, veneer
from materials.forms.sorting import PutBackForm, SheetNoteForm
from materials.models import Lot, Sheet
from materials.views.lists import page_of, words_of
from workshop.actions import Stale, thing_of
from workshop.models import Shop
from workshop.pages import Block, Cell, Link, done, refused


def block_of(request: HttpRequest, page: str, lot: Lot | None = None, second: Cell | None = None) -> Block:
    around = [
        Link(_("Deliveries"), reverse("materials:deliveries")),
        Link(_("Rooms"), reverse("jobs:jobs")),
    ]
    if lot is None:
        return Block(request, page=page, nav="sheets", around=around)
    name = _("%(lot)s, %(material)s") % {"lot": lot.number, "material": lot.material.name}
    cells = [Cell(_("Lot"), name, reverse("materials:lot", args=[lot.pk])), *([second] if second else [])]
    return Block(request, page=page, nav="sheets", cells=cells, around=around, about=[lot])


@require_safe
def lot_list(request: HttpRequest) -> HttpResponse:
    words = words_of(request)
    found = Lot.objects.matching(words).select_related("material")
    to_sort, page = list(found.to_sort()[:50]), page_of(request, found)
    stacks.count_sheets([*to_sort, *page])
    context = {"block": block_of(request, _("Lots")), "words": words, "to_sort": to_sort, "page": page}
    return render(request, "materials/lot_list.html", context)


@require_safe
def lot(request: HttpRequest, pk: int) -> HttpResponse:
    lot = get_object_or_404(Lot.objects.select_related("material", "delivery_line__delivery__supplier"), pk=pk)
    sheets = lot.sheets.here().with_shown_place().select_related("tone_group")
    page = page_of(request, sheets)
    rooms = sorting.held(list(page))
    for sheet in page:
        sheet.room, sheet.veneer = rooms.get(sheet.pk, ""), veneer.text_of(sheet)
    line, tally = getattr(lot, "delivery_line", None), lot.sheets.all().tally()
    context = {
        "block": block_of(request, _("Lot %(number)s") % {"number": lot.number}, lot),
        "lot": lot,
        "give_url": "" if tally["unsorted"] else leading_on.next_url(lot),
        "line": line,
        "tell_by": inspection.tell_by(line.delivery) if line else None,
        "size": sizes.size_text(lot.material, Shop.get().unit_system),
        "tally": tally,
        "landed_each": "" if lot.material.is_sheet else buying.landed_each_text(lot),
        "stacks": stacks.stacks_of(lot),
        "page": page,
    }
    return render(request, "materials/lot.html", context)


def _sheet_context(request: HttpRequest, sheet: Sheet) -> dict[str, object]:
    name = _("Sheet %(number)s") % {"number": sheet.number}
    block = block_of(request, name, sheet.lot, Cell(_("Sheet"), str(sheet.number)))
    block.about = [sheet]
    return {
        "block": block,
        "sheet": sheet,
        "where": pad.where(sheet),
        "veneer": veneer.text_of(sheet),
        "going_back": getattr(sheet, "sheet_return", None),
        "room": sorting.held([sheet]).get(sheet.pk, ""),
        "put_back_form": PutBackForm(initial={"version": sheet.version}),
        "trace": thing_of(sheet),
        "back": after_note(sheet),
        "form": None,
    }


def sheet_or_404(pk: int) -> Sheet:
    sheets = Sheet.objects.select_related("lot__material", "tone_group", "sorted_by", "sheet_return")
    return get_object_or_404(sheets, pk=pk)


@require_safe
def sheet(request: HttpRequest, pk: int) -> HttpResponse:
    return render(request, "materials/sheet.html", _sheet_context(request, sheet_or_404(pk)))


@require_http_methods(["GET", "HEAD", "POST"])
def sheet_note(request: HttpRequest, pk: int) -> HttpResponse:
    sheet = sheet_or_404(pk)
    form = SheetNoteForm(request.POST or None, instance=sheet)
    context = _sheet_context(request, sheet) | {"form": form}
    if request.method != "POST":
        return render(request, "materials/sheet_note.html", context)
    if form.is_valid():
        try:
            sorting.describe(sheet=sheet, by=form.hand(request), version=form.version, **form.values())
            return done(after_note(sheet))
        except Stale as stale:
            form.stale(stale.row)
        except ValidationError as error:
            form.refuse(error)
    return refused(request, form, "materials/sheet_note.html", context)


def after_note(sheet: Sheet) -> str:
    """Back to the pad with a sheet that is not sorted yet, else to the sheet."""
    if sheet.tone_group_id or sheet.set_aside_on:
        return reverse("materials:sheet", args=[sheet.pk])
    return f"{reverse('materials:sort', args=[sheet.lot_id])}?sheet={sheet.number}"


@require_POST
def sheet_put_back(request: HttpRequest, pk: int) -> HttpResponse:
    sheet = sheet_or_404(pk)
    form = PutBackForm(request.POST)
    if form.is_valid():
        try:
            version = form.cleaned_data["version"] or 0
            sorting.put_back(sheet=sheet, by=form.hand(request), version=version)
            return done(reverse("materials:sheet", args=[sheet.pk]))
        except Stale:
            form.add_error(None, _("Somebody handled the sheet meanwhile. Look where it is now, then decide."))
        except ValidationError as error:
            form.refuse(error)
    sheet = sheet_or_404(pk)
    return refused(request, form, "materials/sheet.html", _sheet_context(request, sheet) | {"form": form})
