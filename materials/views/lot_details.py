"""What is told of a lot later: what the veneer mill says of its sheets, the batch of a finish."""

from django.core.exceptions import ValidationError
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, render
from django.urls import reverse
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods

from materials import batches, veneer
from materials.forms.lots import BatchForm, VeneerForm
from materials.models import Lot, Material
from materials.views.lots import block_of
from workshop.actions import Stale
from workshop.pages import done, refused


@require_http_methods(["GET", "HEAD", "POST"])
def lot_veneer(request: HttpRequest, pk: int) -> HttpResponse:
    lot = get_object_or_404(Lot.objects.select_related("material"), pk=pk, material__kind=Material.Kind.SHEET)
    form = VeneerForm(request.POST or None)
    context = {"form": form, "lot": lot, "block": block_of(request, _("Flitch, set and top end"), lot)}
    if request.method != "POST":
        return render(request, "materials/lot_veneer.html", context)
    if form.is_valid():
        try:
            veneer.describe_run(lot=lot, by=form.hand(request), **form.told())
            return done(reverse("materials:lot", args=[lot.pk]))
        except ValidationError as error:
            form.refuse(error)
    return refused(request, form, "materials/lot_veneer.html", context)


@require_http_methods(["GET", "HEAD", "POST"])
def lot_batch(request: HttpRequest, pk: int) -> HttpResponse:
    lot = get_object_or_404(Lot.objects.select_related("material"), pk=pk, material__kind=Material.Kind.FINISH)
    form = BatchForm(request.POST or None, instance=lot)
    context = {"form": form, "lot": lot, "block": block_of(request, _("Batch of lot %(n)s") % {"n": lot.number}, lot)}
    if request.method != "POST":
        return render(request, "materials/lot_batch.html", context)
    if form.is_valid():
        try:
            batches.describe(lot=lot, by=form.hand(request), version=form.version, **form.values())
            return done(reverse("materials:lot", args=[lot.pk]))
        except Stale as stale:
            form.stale(stale.row)
        except ValidationError as error:
            form.refuse(error)
    return refused(request, form, "materials/lot_batch.html", context)
