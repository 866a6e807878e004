from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, render
from django.utils.translation import gettext as _
from django.views.decorators.http import require_safe

from jobs import lot_rooms
from materials.models import Lot
from materials.views.lots import block_of


@require_safe
def lot_give(request: HttpRequest, pk: int) -> HttpResponse:
    """The jobs that still need what a lot holds; the rooms, where it is not counted in sheets."""
    lot = get_object_or_404(Lot.objects.select_related("material"), pk=pk)
    found, is_sheet = lot_rooms.waiting(lot), lot.material.is_sheet
    context = {
        "block": block_of(request, _("Give lot %(number)s") % {"number": lot.number}, lot),
        "lot": lot,
        "jobs": lot_rooms.by_job(found) if is_sheet else [],
        "rooms": [] if is_sheet else [(row, lot_rooms.share_url(lot, row.room)) for row in found],
    }
    return render(request, "jobs/lot_give.html", context)
