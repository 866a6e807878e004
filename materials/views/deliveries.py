from django.core.exceptions import ValidationError
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, render
from django.urls import reverse
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods, require_safe

from materials import bills, deliveries, inspection, leading_on
from materials.deliveries import SlipTakenIn
from materials.forms.deliveries import CountForm, DeliveryForm
from materials.landing import figures
from materials.models import Delivery, Lot, Order, Supplier
from materials.views.lists import number_of, page_of, words_of
from workshop.forms import initial_from
from workshop.pages import Block, Cell, Link, done, refused


def block_of(request: HttpRequest, page: str, delivery: Delivery | None = None) -> Block:
    around = [Link(_("Orders"), reverse("materials:orders")), Link(_("Lots"), reverse("materials:lots"))]
    if delivery is None:
        return Block(request, page=page, nav="buying", around=around)
    supplier = delivery.supplier
    cells = [
        Cell(_("Delivery"), str(delivery), reverse("materials:delivery", args=[delivery.pk])),
        Cell(_("Supplier"), supplier.name, reverse("materials:supplier", args=[supplier.pk])),
    ]
    return Block(request, page=page, nav="buying", cells=cells, around=around, about=[delivery])


@require_safe
def delivery_list(request: HttpRequest) -> HttpResponse:
    words = words_of(request)
    found = Delivery.objects.matching(words).select_related("supplier")
    context = {
        "block": block_of(request, _("Deliveries")),
        "words": words,
        "to_count": found.to_count(),
        "page": page_of(request, found.exclude(counted_on=None)),
    }
    return render(request, "materials/delivery_list.html", context)


@require_http_methods(["GET", "HEAD", "POST"])
def delivery_new(request: HttpRequest) -> HttpResponse:
    """Taken in while the driver waits; counted later."""
    order = Order.objects.filter(pk=number_of(request.GET.get("order"))).first()
    initial = {"supplier": order.supplier_id} if order else initial_from(request, {"supplier": "supplier"})
    form = DeliveryForm(request.POST or None, request.FILES or None, initial=initial)
    context = {
        "form": form,
        "block": block_of(request, _("Take in a delivery")),
        "has_suppliers": Supplier.objects.exists(),
        "first": None,
    }
    if request.method != "POST":
        return render(request, "materials/delivery_new.html", context)
    if form.is_valid():
        try:
            delivery = deliveries.take_in(by=form.hand(request), **form.values())
            return done(reverse("materials:delivery", args=[delivery.pk]))
        except SlipTakenIn as error:
            form.refuse(error)
            context["first"] = error.delivery
        except ValidationError as error:
            form.refuse(error)
    return refused(request, form, "materials/delivery_new.html", context)


@require_safe
def delivery(request: HttpRequest, pk: int) -> HttpResponse:
    delivery = get_object_or_404(Delivery.objects.select_related("supplier"), pk=pk)
    context = {
        "block": block_of(request, _("Delivery %(number)s") % {"number": delivery.number}, delivery),
        "delivery": delivery,
        "photos": delivery.photos.select_related("photo__taken_by"),
        "tell_by": inspection.tell_by(delivery),
        "expected": [] if delivery.counted_on else deliveries.expected_lines(delivery),
    }
    if delivery.counted_on:
        context |= _as_counted(delivery, sees_money=request.user.is_owner)
    return render(request, "materials/delivery.html", context)


def _as_counted(delivery: Delivery, *, sees_money: bool) -> dict[str, object]:
    """What the page of a counted delivery shows of its lines and its bills."""
    lines = list(delivery.lines.select_related("material", "lot__material", "order_line__order"))
    lots = [line.lot for line in lines if line.lot]
    to_sort = Lot.objects.to_sort().filter(pk__in=[lot.pk for lot in lots]).order_by("number").first()
    to_give = lots[0] if lots and not to_sort else None
    deliveries.tell_more(lines)
    rows = delivery.bills.select_related("line__material", "sheet__lot") if sees_money else []
    for bill in rows:
        bill.what = bills.what_text(bill)
    return {
        "lines": lines,
        "has_last_damaged": any(line.has_last_damaged for line in lines),
        "to_sort": to_sort,
        "to_give": to_give,
        "give_url": leading_on.next_url(to_give) if to_give else "",
        "figures": figures(delivery) if sees_money else None,
        "bills": rows,
    }


@require_http_methods(["GET", "HEAD", "POST"])
def delivery_count(request: HttpRequest, pk: int) -> HttpResponse:
    delivery = get_object_or_404(Delivery.objects.select_related("supplier"), pk=pk)
    if delivery.counted_on and request.method != "POST":
        return done(reverse("materials:delivery", args=[delivery.pk]))
    form = CountForm(
        request.POST or None,
        delivery=delivery,
        lines=deliveries.expected_lines(delivery),
        sees_money=request.user.is_owner,
    )
    block = block_of(request, _("Count delivery %(number)s") % {"number": delivery.number}, delivery)
    context = {"form": form, "delivery": delivery, "block": block}
    if request.method != "POST":
        return render(request, "materials/delivery_count.html", context)
    if form.is_valid():
        try:
            freight_minor = form.cleaned_data.get("freight_minor")
            deliveries.count(delivery=delivery, rows=form.counted(), by=form.hand(request), freight_minor=freight_minor)
            return done(reverse("materials:delivery", args=[delivery.pk]))
        except ValidationError as error:
            form.refuse(error)
    return refused(request, form, "materials/delivery_count.html", context)
