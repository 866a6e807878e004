from django.core.exceptions import ValidationError
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, render
from django.urls import reverse
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods, require_POST

from materials import order_lines
from materials.forms.orders import OrderLineChangeForm, OrderLineForm
from materials.models import Order, OrderLine
from materials.views.orders import block_of
from workshop.actions import Stale
from workshop.doors import owner_only
from workshop.forms import ActionForm
from workshop.pages import done, refused

LINES = OrderLine.objects.select_related("order__supplier", "material")


@owner_only
@require_http_methods(["GET", "HEAD", "POST"])
def order_line_new(request: HttpRequest, pk: int) -> HttpResponse:
    order = get_object_or_404(Order.objects.select_related("supplier"), pk=pk)
    form = OrderLineForm(request.POST or None, currency=order.currency)
    block = block_of(request, _("Add to order %(number)s") % {"number": order.number}, order)
    context = {"form": form, "order": order, "line": None, "refused": None, "block": block}
    if request.method != "POST":
        return render(request, "materials/order_line_form.html", context)
    if form.is_valid():
        try:
            order_lines.add(order=order, by=form.hand(request), **form.values())
            return done(reverse("materials:order", args=[order.pk]))
        except ValidationError as error:
            form.refuse(error)
    return refused(request, form, "materials/order_line_form.html", context)


def _context(request: HttpRequest, line: OrderLine, form: OrderLineChangeForm) -> dict[str, object]:
    words = {"number": line.order.number, "material": line.material.name}
    page = _("Order %(number)s: %(material)s") % words
    block = block_of(request, page, line.order)
    return {"form": form, "order": line.order, "line": line, "refused": None, "block": block}


@owner_only
@require_http_methods(["GET", "HEAD", "POST"])
def order_line(request: HttpRequest, pk: int) -> HttpResponse:
    line = get_object_or_404(LINES, pk=pk)
    form = OrderLineChangeForm(request.POST or None, instance=line)
    context = _context(request, line, form)
    if request.method != "POST":
        return render(request, "materials/order_line_form.html", context)
    if form.is_valid():
        try:
            order_lines.change(line=line, by=form.hand(request), version=form.version, **form.values())
            return done(reverse("materials:order", args=[line.order_id]))
        except Stale as stale:
            form.stale(stale.row)
        except ValidationError as error:
            form.refuse(error)
    return refused(request, form, "materials/order_line_form.html", context)


@owner_only
@require_POST
def order_line_remove(request: HttpRequest, pk: int) -> HttpResponse:
    line = get_object_or_404(LINES, pk=pk)
    form = ActionForm(request.POST)
    if form.is_valid():
        try:
            order_lines.remove(line=line, by=form.hand(request))
            return done(reverse("materials:order", args=[line.order_id]))
        except ValidationError as error:
            form.refuse(error)
    context = _context(request, line, OrderLineChangeForm(instance=line)) | {"refused": form}
    return refused(request, form, "materials/order_line_form.html", context)
