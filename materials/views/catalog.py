from django.core.exceptions import ValidationError
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, render
from django.urls import reverse
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods, require_safe

from materials import buying, catalog, describing, sizes
from materials.forms.catalog import PriceForm
from materials.forms.materials import MaterialForm
from materials.models import Material, OrderLine
from materials.views.lists import page_of, words_of
from workshop import clock
from workshop.actions import Stale
from workshop.doors import owner_only
from workshop.forms import initial_from
from workshop.models import Shop
from workshop.pages import Block, Cell, Link, back_to_ask, done, refused, way_back

AT_MOST = 10


def _block(request: HttpRequest, page: str, material: Material | None = None) -> Block:
    around = [
        Link(_("Suppliers"), reverse("materials:suppliers")),
        Link(_("Materials"), reverse("materials:materials")),
    ]
    if material is None:
        return Block(request, page=page, nav="buying", around=around)
    url = reverse("materials:material", args=[material.pk])
    cells = [Cell(_("Material"), material.name, url)]
    return Block(request, page=page, nav="buying", cells=cells, around=around, about=[material])


@require_safe
def material_list(request: HttpRequest) -> HttpResponse:
    words, system = words_of(request), Shop.get().unit_system
    found = Material.objects.matching(words).select_related("usual_supplier").with_usual_price()
    page = page_of(request, found)
    for material in page:
        material.size = sizes.size_text(material, system)
    context = {"block": _block(request, _("Materials")), "words": words, "page": page}
    return render(request, "materials/material_list.html", context)


@require_http_methods(["GET", "HEAD", "POST"])
def material_new(request: HttpRequest) -> HttpResponse:
    """The kind is chosen first: it settles which sizes and units there are."""
    kind = request.GET.get("kind", "")
    back = way_back(request)
    context = {"block": _block(request, _("New material")), "kinds": Material.Kind, "back": back}
    if kind not in Material.Kind.values:
        return render(
            request, "materials/material_kinds.html", context, status=422 if request.method == "POST" else 200
        )
    form = MaterialForm(request.POST or None, kind=kind, shop=Shop.get())
    context |= {"form": form, "kind": Material.Kind(kind)}
    if request.method != "POST":
        return render(request, "materials/material_form.html", context)
    if form.is_valid():
        try:
            asked = back_to_ask(back, "material")
            material = catalog.add(by=form.hand(request), kind=kind, back=asked, **form.values())
            return done(f"{asked}{material.pk}" if asked else reverse("materials:material", args=[material.pk]))
        except ValidationError as error:
            form.refuse(error)
    return refused(request, form, "materials/material_form.html", context)


@require_http_methods(["GET", "HEAD", "POST"])
def material_edit(request: HttpRequest, pk: int) -> HttpResponse:
    material = get_object_or_404(Material, pk=pk)
    form = MaterialForm(request.POST or None, instance=material, kind=material.kind, shop=Shop.get())
    block = _block(request, _("Change %(material)s") % {"material": material.name}, material)
    context = {"form": form, "material": material, "kind": Material.Kind(material.kind), "block": block}
    if request.method != "POST":
        return render(request, "materials/material_form.html", context)
    if form.is_valid():
        try:
            catalog.change(material=material, by=form.hand(request), version=form.version, **form.values())
            return done(reverse("materials:material", args=[material.pk]))
        except Stale as stale:
            form.stale(stale.row)
        except ValidationError as error:
            form.refuse(error)
    return refused(request, form, "materials/material_form.html", context)


@require_safe
def material(request: HttpRequest, pk: int) -> HttpResponse:
    material = get_object_or_404(Material.objects.select_related("usual_supplier"), pk=pk)
    system = Shop.get().unit_system
    to_come = OrderLine.objects.outstanding().filter(material=material, order__cancelled_on=None)
    context = {
        "block": _block(request, material.name, material),
        "material": material,
        "thickness": sizes.thickness_text(material, system),
        "face": sizes.face_text(material, system),
        "real": describing.real_text(material, system),
        "grades": describing.grades_text(material),
        "bought_as": describing.bought_as(material),
        "groups": material.tone_groups.all(),
        "prices": material.prices.select_related("supplier")[:AT_MOST] if request.user.is_owner else [],
        "today": clock.today(),
        "to_come": [(line, buying.line_text(line)) for line in to_come.select_related("order__supplier")[:AT_MOST]],
        "lots": material.lots.all()[:AT_MOST],
        "samples": material.samples.all()[:AT_MOST],
    }
    return render(request, "materials/material.html", context)


@owner_only
@require_http_methods(["GET", "HEAD", "POST"])
def price_new(request: HttpRequest, pk: int) -> HttpResponse:
    material = get_object_or_404(Material, pk=pk)
    initial = initial_from(request, {"supplier": "supplier"})
    form = PriceForm(request.POST or None, material=material, shop=Shop.get(), initial=initial)
    block = _block(request, _("Price of %(material)s") % {"material": material.name}, material)
    context = {"form": form, "material": material, "block": block}
    if request.method != "POST":
        return render(request, "materials/price_form.html", context)
    if form.is_valid():
        try:
            catalog.add_price(material=material, by=form.hand(request), **form.values())
            return done(reverse("materials:material", args=[material.pk]))
        except ValidationError as error:
            form.refuse(error)
    return refused(request, form, "materials/price_form.html", context)
