from django.core.exceptions import ValidationError
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, render
from django.urls import reverse
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from materials import buying, describing, line_notes, order_lines, orders, payments, samples
from materials.forms.fields import typed_material
from materials.forms.orders import CancelForm, OrderChangeForm, OrderForm, PlaceForm, PromiseForm
from materials.models import Material, Order, Supplier
from materials.order_lines import amount_minor, last_price, total_minor
from materials.views.lists import number_of, page_of, words_of
from workshop.actions import Stale
from workshop.doors import owner_only
from workshop.forms import ActionForm, Form
from workshop.models import Shop
from workshop.pages import Block, Cell, Link, done, refused


def block_of(request: HttpRequest, page: str, order: Order | None = None) -> Block:
    around = [
        Link(_("Lead times"), reverse("jobs:lead_times")),
        Link(_("Deliveries"), reverse("materials:deliveries")),
    ]
    if order is None:
        return Block(request, page=page, nav="buying", around=around)
    cells = [
        Cell(_("Order"), str(order), reverse("materials:order", args=[order.pk])),
        Cell(_("Supplier"), order.supplier.name, reverse("materials:supplier", args=[order.supplier_id])),
    ]
    return Block(request, page=page, nav="buying", cells=cells, around=around, about=[order])


def _pending() -> list[int]:
    """The orders to place and on their way, looked for once: what is to come is worked out for every line there is."""
    return list(Order.objects.pending().order_by().values_list("pk", flat=True))


@require_safe
def order_list(request: HttpRequest) -> HttpResponse:
    words, shows_all = words_of(request), request.GET.get("all") == "1"
    found = Order.objects.all() if shows_all or words else Order.objects.filter(pk__in=_pending())
    found = found.matching(words).with_state().select_related("supplier")
    page = page_of(request, found.prefetch_related("lines__material", "promises"))
    held, overdue = samples.holding(page), payments.overdue(page)
    for order in page:
        order.due, order.total_minor = orders.due(order), total_minor(order)
        order.holding, order.overdue = held.get(order.pk, []), overdue.get(order.pk, [])
        order.words = [order_lines.said(line) for line in order.lines.all()]
    context = {
        "block": block_of(request, _("Orders")),
        "page": page,
        "words": words,
        "shows_all": shows_all,
        "has_any": bool(page.paginator.count) or Order.objects.exists(),
    }
    return render(request, "materials/order_list.html", context)


@owner_only
@require_http_methods(["GET", "HEAD", "POST"])
def order_new(request: HttpRequest) -> HttpResponse:
    currency = Shop.get().currency
    initial = _first_values(request, currency)
    form = OrderForm(request.POST or None, initial=initial, currency=currency)
    context = {
        "form": form,
        "block": block_of(request, _("New order")),
        "has_suppliers": Supplier.objects.exists(),
        "has_materials": Material.objects.exists(),
    }
    if request.method != "POST":
        return render(request, "materials/order_new.html", context)
    if form.is_valid():
        try:
            order = orders.add(by=form.hand(request), **form.values())
            return done(reverse("materials:order", args=[order.pk]))
        except ValidationError as error:
            form.refuse(error)
    return refused(request, form, "materials/order_new.html", context)


def _first_values(request: HttpRequest, currency: str) -> dict[str, object]:
    """What an address as /orders/new/?material=3&quantity=12 settles, and what follows from it.

    `quantity` is in the bought unit; `quantity_micro` is what is wanted of the used unit, in millionths.
    """
    material = typed_material(request.GET.get("material"))
    supplier = Supplier.objects.filter(pk=number_of(request.GET.get("supplier"))).first()
    supplier = supplier or (material and material.usual_supplier)
    values: dict[str, object] = {"material": material and material.pk, "supplier": supplier and supplier.pk}
    if supplier:
        values |= {"lead_count": supplier.lead_count, "lead_unit": supplier.lead_unit}
    if supplier and material:
        values["price_micro"] = last_price(material, supplier, currency)
    wanted_micro = number_of(request.GET.get("quantity_micro"))
    if wanted_micro and material:
        asked = supplier and order_lines.asked(material, supplier, currency)
        wanted_micro = buying.to_buy_micro(material, wanted_micro, asked)
    values["quantity_micro"] = wanted_micro or request.GET.get("quantity", "")[:40].replace("\0", "")
    return values


def shown(request: HttpRequest, order: Order, refusal: Form | None = None) -> dict[str, object]:
    """What the page of an order shows; a refused form takes the place of its empty one."""
    order = Order.objects.with_state().select_related("supplier").get(pk=order.pk)
    lines = list(order.lines.with_arrived().select_related("material"))
    system = Shop.get().unit_system
    for line in lines:
        line.amount_minor, line.ordered = amount_minor(line, order), buying.line_text(line)
        line.described = describing.described(line.material, system)
    line_notes.put_on(lines)
    return {
        "block": block_of(request, _("Order %(number)s") % {"number": order.number}, order),
        "order": order,
        "due": orders.due(order),
        "lead": orders.lead_text(order),
        "lines": lines,
        "total_minor": total_minor(order),
        "promises": order.promises.all(),
        "deliveries": orders.deliveries_of(order),
        "samples": order.samples.all(),
        "holding": list(order.samples.holding()) if order.is_waiting else [],
        "payments": payments.standing(order) if request.user.is_owner else None,
        "refused": refusal if isinstance(refusal, ActionForm) else None,
        "place_form": refusal if isinstance(refusal, PlaceForm) else PlaceForm(),
        "cancel_form": refusal if isinstance(refusal, CancelForm) else CancelForm(),
    }


@require_safe
def order(request: HttpRequest, pk: int) -> HttpResponse:
    return render(request, "materials/order.html", shown(request, get_object_or_404(Order, pk=pk)))


@owner_only
@require_http_methods(["GET", "HEAD", "POST"])
def order_edit(request: HttpRequest, pk: int) -> HttpResponse:
    order = get_object_or_404(Order.objects.select_related("supplier"), pk=pk)
    form = OrderChangeForm(request.POST or None, instance=order)
    block = block_of(request, _("Change order %(number)s") % {"number": order.number}, order)
    context = {"form": form, "order": order, "block": block}
    if request.method != "POST":
        return render(request, "materials/order_form.html", context)
    if form.is_valid():
        try:
            orders.change(order=order, by=form.hand(request), version=form.version, **form.values())
            return done(reverse("materials:order", args=[order.pk]))
        except Stale as stale:
            form.stale(stale.row)
        except ValidationError as error:
            form.refuse(error)
    return refused(request, form, "materials/order_form.html", context)


@owner_only
@require_POST
def order_place(request: HttpRequest, pk: int) -> HttpResponse:
    order = get_object_or_404(Order.objects.select_related("supplier"), pk=pk)
    form = PlaceForm(request.POST)
    if form.is_valid():
        try:
            orders.place(order=order, by=form.hand(request), **form.values())
            return done(reverse("materials:order", args=[order.pk]))
        except ValidationError as error:
            form.refuse(error)
    return refused(request, form, "materials/order.html", shown(request, order, form))


@owner_only
@require_http_methods(["GET", "HEAD", "POST"])
def promise_new(request: HttpRequest, pk: int) -> HttpResponse:
    order = get_object_or_404(Order.objects.select_related("supplier"), pk=pk)
    form = PromiseForm(request.POST or None)
    block = block_of(request, _("New promise for order %(number)s") % {"number": order.number}, order)
    context = {"form": form, "order": order, "due": orders.due(order), "block": block}
    if request.method != "POST":
        return render(request, "materials/promise_form.html", context)
    if form.is_valid():
        try:
            orders.promise(order=order, by=form.hand(request), **form.values())
            return done(reverse("materials:order", args=[order.pk]))
        except ValidationError as error:
            form.refuse(error)
    return refused(request, form, "materials/promise_form.html", context)


@owner_only
@require_POST
def order_cancel(request: HttpRequest, pk: int) -> HttpResponse:
    order = get_object_or_404(Order.objects.select_related("supplier"), pk=pk)
    form = CancelForm(request.POST)
    if form.is_valid():
        try:
            orders.cancel(order=order, by=form.hand(request), **form.values())
            return done(reverse("materials:order", args=[order.pk]))
        except ValidationError as error:
            form.refuse(error)
    return refused(request, form, "materials/order.html", shown(request, order, form))
