from django.core.exceptions import ValidationError
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, render
from django.urls import reverse
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods, require_POST

from materials import bills
from materials.forms.bills import BillChangeForm, BillForm
from materials.landing import figures
from materials.models import Bill, Delivery
from materials.views.deliveries import block_of
from workshop.actions import Stale
from workshop.doors import owner_only
from workshop.forms import ActionForm
from workshop.pages import done, refused

NEW, CHANGE = "materials/bill_new.html", "materials/bill.html"


@owner_only
@require_http_methods(["GET", "HEAD", "POST"])
def bill_new(request: HttpRequest, pk: int) -> HttpResponse:
    """An invoice, or with `?kind=credit` a credit note."""
    delivery = get_object_or_404(Delivery.objects.select_related("supplier"), pk=pk)
    url = reverse("materials:delivery", args=[delivery.pk])
    if not delivery.counted_on:
        return done(url)
    kind = Bill.Kind.CREDIT if request.GET.get("kind") == Bill.Kind.CREDIT else Bill.Kind.INVOICE
    form = BillForm(request.POST or None, delivery=delivery, kind=kind, figures=figures(delivery))
    page = _("Credit note for delivery %(number)s") if form.is_credit else _("Invoice for delivery %(number)s")
    block = block_of(request, page % {"number": delivery.number}, delivery)
    context = {"form": form, "delivery": delivery, "block": block}
    if request.method != "POST":
        return render(request, NEW, context)
    if form.is_valid():
        try:
            paper = {name: form.cleaned_data[name] for name in ("number", "dated_on", "note")}
            bills.add(delivery=delivery, kind=kind, lines=form.lines(), by=form.hand(request), **paper)
            return done(url)
        except ValidationError as error:
            form.refuse(error)
    return refused(request, form, NEW, context)


def _bill_or_404(pk: int) -> Bill:
    return get_object_or_404(Bill.objects.select_related("delivery__supplier", "line__material", "sheet__lot"), pk=pk)


def _context(request: HttpRequest, bill: Bill, form: BillChangeForm) -> dict[str, object]:
    page = f"{bill.get_kind_display()} {bill.number}"
    block = block_of(request, page, bill.delivery)
    return {"form": form, "bill": bill, "what": bills.what_text(bill), "asked": None, "block": block}


@owner_only
@require_http_methods(["GET", "HEAD", "POST"])
def bill(request: HttpRequest, pk: int) -> HttpResponse:
    bill = _bill_or_404(pk)
    form = BillChangeForm(request.POST or None, instance=bill)
    context = _context(request, bill, form)
    if request.method != "POST":
        return render(request, CHANGE, context)
    if form.is_valid():
        try:
            bills.change(bill=bill, by=form.hand(request), version=form.version, **form.values())
            return done(reverse("materials:delivery", args=[bill.delivery_id]))
        except Stale as stale:
            form.stale(stale.row)
        except ValidationError as error:
            form.refuse(error)
    return refused(request, form, CHANGE, context)


@owner_only
@require_POST
def bill_remove(request: HttpRequest, pk: int) -> HttpResponse:
    bill, asked = _bill_or_404(pk), ActionForm(request.POST)
    if asked.is_valid():
        try:
            bills.remove(bill=bill, by=asked.hand(request))
            return done(reverse("materials:delivery", args=[bill.delivery_id]))
        except ValidationError as error:
            asked.refuse(error)
    context = _context(request, bill, BillChangeForm(instance=bill)) | {"asked": asked}
    return refused(request, asked, CHANGE, context)
