from django.core.exceptions import ValidationError
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, render
from django.urls import reverse
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods, require_safe

from materials import suppliers
from materials.forms.suppliers import SupplierForm
from materials.models import Supplier
from materials.views.lists import page_of, words_of
from workshop.actions import Stale
from workshop.pages import Block, Cell, Link, back_to_ask, done, refused, way_back


def _around() -> list[Link]:
    return [Link(_("Materials"), reverse("materials:materials")), Link(_("Orders"), reverse("materials:orders"))]


@require_safe
def supplier_list(request: HttpRequest) -> HttpResponse:
    words = words_of(request)
    context = {
        "block": Block(request, page=_("Suppliers"), nav="buying", around=_around()),
        "words": words,
        "page": page_of(request, Supplier.objects.matching(words)),
    }
    return render(request, "materials/supplier_list.html", context)


@require_http_methods(["GET", "HEAD", "POST"])
def supplier_new(request: HttpRequest) -> HttpResponse:
    form, back = SupplierForm(request.POST or None), way_back(request)
    context = {
        "form": form,
        "back": back,
        "block": Block(request, page=_("New supplier"), nav="buying", around=_around()),
    }
    if request.method != "POST":
        return render(request, "materials/supplier_form.html", context)
    if form.is_valid():
        try:
            asked = back_to_ask(back, "supplier")
            supplier = suppliers.add(by=form.hand(request), back=asked, **form.values())
            return done(f"{asked}{supplier.pk}" if asked else reverse("materials:supplier", args=[supplier.pk]))
        except ValidationError as error:
            form.refuse(error)
    return refused(request, form, "materials/supplier_form.html", context)


@require_http_methods(["GET", "HEAD", "POST"])
def supplier_edit(request: HttpRequest, pk: int) -> HttpResponse:
    supplier = get_object_or_404(Supplier, pk=pk)
    form = SupplierForm(request.POST or None, instance=supplier)
    cells = [Cell(_("Supplier"), supplier.name)]
    block = Block(request, page=supplier.name, nav="buying", cells=cells, around=_around(), about=[supplier])
    context = {
        "form": form,
        "block": block,
        "supplier": supplier,
        "orders": supplier.orders.with_state()[:5],
    }
    if request.method != "POST":
        return render(request, "materials/supplier_form.html", context)
    if form.is_valid():
        try:
            suppliers.change(supplier=supplier, by=form.hand(request), version=form.version, **form.values())
            return done(reverse("materials:supplier", args=[supplier.pk]))
        except Stale as stale:
            form.stale(stale.row)
        except ValidationError as error:
            form.refuse(error)
    return refused(request, form, "materials/supplier_form.html", context)
