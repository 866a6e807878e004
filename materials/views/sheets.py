from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.utils.translation import gettext as _
from django.views.decorators.http import require_safe

from materials import sheet_list, sorting, veneer
from materials.views.lists import page_of_long, words_of
from materials.views.lots import block_of


@require_safe
def sheets(request: HttpRequest) -> HttpResponse:
    """All sheets: `?q=8-31&state=free&tone=Cream&order=oldest`."""
    names = sheet_list.group_names()
    chosen = {name: _one_of(request.GET.get(name, ""), known) for name, known in _choices(names).items()}
    words = words_of(request)
    found = sheet_list.find(words=words, state=chosen["state"], group=chosen["tone"], order=chosen["order"] or "newest")
    page = page_of_long(request, found, sheet_list.SHOWN, at_once=chosen["state"] in ("free", "given"))
    rooms = sorting.held(list(page))
    for sheet in page:
        sheet.room, sheet.veneer = rooms.get(sheet.pk, ""), veneer.text_of(sheet)
    context = {
        "block": block_of(request, _("All sheets")),
        "page": page,
        "words": words,
        "chosen": chosen,
        "states": sheet_list.STATES,
        "orders": sheet_list.ORDERS,
        "tones": names,
        "is_filtered": bool(words or chosen["state"] or chosen["tone"]),
    }
    return render(request, "materials/sheet_list.html", context)


def _choices(names: list[str]) -> dict[str, list[str]]:
    return {"state": list(sheet_list.STATES), "tone": names, "order": list(sheet_list.ORDERS)}


def _one_of(text: str, known: list[str]) -> str:
    return text if text in known else ""
