from django.core.exceptions import ValidationError
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404
from django.urls import reverse
from django.utils.translation import gettext as _
from django.views.decorators.http import require_POST, require_safe
from django_htmx.http import replace_url

from materials import leading_on, pad, sizes, sorting
from materials.forms.sorting import SetAsideForm, SortForm
from materials.models import Lot, Material, Sheet
from materials.pad import Pad
from materials.sorting import SortedMeanwhile
from materials.views.lists import number_of
from materials.views.lots import block_of, sheet_or_404
from workshop.actions import Stale
from workshop.forms import Form
from workshop.models import Shop
from workshop.pages import Cell, done, page_or_fragment, refused

PAGE, FRAGMENT = "materials/sort.html", "materials/_pad.html"


@require_safe
def sort(request: HttpRequest, pk: int) -> HttpResponse:
    """The sorting pad: one sheet after another."""
    lots = Lot.objects.select_related("material").filter(material__kind=Material.Kind.SHEET)
    lot = get_object_or_404(lots, pk=pk)
    shown = pad.read(lot, request.user, number_of(request.GET.get("sheet")))
    shown.is_choosing_reason = request.GET.get("aside") == "1" and shown.sheet is not None
    return page_or_fragment(request, PAGE, FRAGMENT, _context(request, shown))


@require_POST
def sheet_sort(request: HttpRequest, pk: int) -> HttpResponse:
    sheet = sheet_or_404(pk)
    form = SortForm(request.POST, lot=sheet.lot)
    if form.is_valid():
        try:
            group, version = form.cleaned_data["group"], form.cleaned_data["version"]
            sorting.sort(sheet=sheet, group=group, by=form.hand(request), version=version)
            return _next(request, sheet.lot)
        except SortedMeanwhile as meanwhile:
            return _next(request, sheet.lot, pad.met(meanwhile.sheet))
        except Stale:
            form.add_error(None, _moved())
        except ValidationError as error:
            form.refuse(error)
    return _again(request, sheet, form)


@require_POST
def sheet_set_aside(request: HttpRequest, pk: int) -> HttpResponse:
    sheet = sheet_or_404(pk)
    form = SetAsideForm(request.POST)
    if form.is_valid():
        try:
            why, version = form.cleaned_data["reason"], form.cleaned_data["version"]
            sorting.set_aside(sheet=sheet, why=why, by=form.hand(request), version=version)
            return _next(request, sheet.lot)
        except SortedMeanwhile as meanwhile:
            return _next(request, sheet.lot, pad.met(meanwhile.sheet))
        except Stale:
            form.add_error(None, _moved())
        except ValidationError as error:
            form.refuse(error)
    return _again(request, sheet, form, is_choosing_reason=True)


def _next(request: HttpRequest, lot: Lot, problem: str = "") -> HttpResponse:
    """The next sheet at once; without script, or after a page was left, by its own address."""
    url = reverse("materials:sort", args=[lot.pk])
    if not request.htmx and not problem:
        return done(url)
    shown = pad.read(lot, request.user)
    shown.problem, shown.is_answer = problem, True
    status = 409 if problem else 200
    return replace_url(page_or_fragment(request, PAGE, FRAGMENT, _context(request, shown), status), url)


def _again(request: HttpRequest, sheet: Sheet, form: Form, *, is_choosing_reason: bool = False) -> HttpResponse:
    shown = pad.read(sheet.lot, request.user, sheet.number)
    shown.problem = " ".join(message for messages in form.errors.values() for message in messages)
    shown.is_choosing_reason = is_choosing_reason
    return refused(request, form, PAGE, _context(request, shown) | {"typed": form.data.get("other", "")}, FRAGMENT)


def _moved() -> str:
    return _("Somebody handled this sheet meanwhile. Look where it is now, then tap again if it should move.")


def _context(request: HttpRequest, shown: Pad) -> dict[str, object]:
    people = pad.people_at(shown.lot, request.user)
    words = _("1 person sorting") if people == 1 else _("%(count)s people sorting") % {"count": people}
    name = _("Lot %(number)s") % {"number": shown.lot.number}
    return {
        "block": block_of(request, name, shown.lot, Cell(_("Now"), words)),
        "pad": shown,
        "lot": shown.lot,
        "size": sizes.face_text(shown.lot.material, Shop.get().unit_system),
        "reasons": sorting.REASONS,
        "give_url": "" if shown.sheet else leading_on.next_url(shown.lot),
        "typed": "",
    }
