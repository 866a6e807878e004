from django.core.exceptions import ValidationError
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, render
from django.urls import reverse
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods, require_POST

from materials import payments
from materials.forms.payments import PaymentForm
from materials.models import Order, OrderPayment
from materials.views.orders import block_of, shown
from workshop import clock
from workshop.actions import Stale
from workshop.doors import owner_only
from workshop.forms import ActionForm
from workshop.pages import done, refused

PAYMENTS = OrderPayment.objects.select_related("order__supplier")


@owner_only
@require_http_methods(["GET", "HEAD", "POST"])
def payment_new(request: HttpRequest, pk: int) -> HttpResponse:
    order = get_object_or_404(Order.objects.select_related("supplier"), pk=pk)
    form = PaymentForm(request.POST or None, currency=order.currency)
    block = block_of(request, _("Payment for order %(number)s") % {"number": order.number}, order)
    context = {"form": form, "order": order, "payment": None, "refused": None, "block": block}
    if request.method != "POST":
        return render(request, "materials/payment_form.html", context)
    if form.is_valid():
        try:
            payments.add(order=order, by=form.hand(request), **form.values())
            return done(reverse("materials:order", args=[order.pk]))
        except ValidationError as error:
            form.refuse(error)
    return refused(request, form, "materials/payment_form.html", context)


def _context(request: HttpRequest, payment: OrderPayment, form: PaymentForm) -> dict[str, object]:
    words = {"number": payment.order.number, "what": payment.what}
    block = block_of(request, _("Order %(number)s: %(what)s") % words, payment.order)
    return {"form": form, "order": payment.order, "payment": payment, "refused": None, "block": block}


@owner_only
@require_http_methods(["GET", "HEAD", "POST"])
def payment(request: HttpRequest, pk: int) -> HttpResponse:
    payment = get_object_or_404(PAYMENTS, pk=pk)
    form = PaymentForm(request.POST or None, instance=payment, currency=payment.order.currency)
    context = _context(request, payment, form)
    if request.method != "POST":
        return render(request, "materials/payment_form.html", context)
    if form.is_valid():
        try:
            payments.change(payment=payment, by=form.hand(request), version=form.version, **form.values())
            return done(reverse("materials:order", args=[payment.order_id]))
        except Stale as stale:
            form.stale(stale.row)
        except ValidationError as error:
            form.refuse(error)
    return refused(request, form, "materials/payment_form.html", context)


@owner_only
@require_POST
def payment_paid(request: HttpRequest, pk: int) -> HttpResponse:
    """Paid today, with one press; another day is typed on the payment's page."""
    payment = get_object_or_404(PAYMENTS, pk=pk)
    form = ActionForm(request.POST)
    if form.is_valid():
        try:
            payments.pay(payment=payment, paid_on=clock.today(), by=form.hand(request))
            return done(reverse("materials:order", args=[payment.order_id]))
        except ValidationError as error:
            form.refuse(error)
    return refused(request, form, "materials/order.html", shown(request, payment.order, form))


@owner_only
@require_POST
def payment_remove(request: HttpRequest, pk: int) -> HttpResponse:
    payment = get_object_or_404(PAYMENTS, pk=pk)
    form = ActionForm(request.POST)
    if form.is_valid():
        try:
            payments.remove(payment=payment, by=form.hand(request))
            return done(reverse("materials:order", args=[payment.order_id]))
        except ValidationError as error:
            form.refuse(error)
    edit = PaymentForm(instance=payment, currency=payment.order.currency)
    context = _context(request, payment, edit) | {"refused": form}
    return refused(request, form, "materials/payment_form.html", context)
