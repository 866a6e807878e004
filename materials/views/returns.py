from django.core.exceptions import ValidationError
from django.db.models import Sum
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, render
from django.urls import reverse
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from materials import returns
from materials.forms.returns import CollectForm, CreditForm, ReturnForm
from materials.models import DeliveryLine, Lot, Material, SheetReturn
from materials.views.lists import page_of
from materials.views.lots import block_of
from workshop.doors import owner_only
from workshop.forms import ActionForm
from workshop.pages import Block, Cell, Link, done, refused

LIST, NEW, ONE = "materials/return_list.html", "materials/return_new.html", "materials/return.html"
SHOWN = "sheet__lot__material", "sheet__lot__delivery_line__delivery__supplier"


def _list_context(request: HttpRequest, form: CollectForm) -> dict[str, object]:
    rows = SheetReturn.objects.select_related(*SHOWN)
    due = rows.filter(credited_on=None).values("sheet__lot__currency").order_by("sheet__lot__currency")
    to_collect, page = rows.filter(collected_on=None), page_of(request, rows.exclude(collected_on=None))
    for row in [*to_collect, *page]:
        row.line = _line_of(row)
    around = [Link(_("Deliveries"), reverse("materials:deliveries")), Link(_("Lots"), reverse("materials:lots"))]
    return {
        "block": Block(request, page=_("Returns"), nav="buying", around=around),
        "form": form,
        "to_collect": to_collect,
        "page": page,
        "due": [(row["sheet__lot__currency"], row["all"]) for row in due.annotate(all=Sum("credit_expected_minor"))],
    }


@require_safe
def return_list(request: HttpRequest) -> HttpResponse:
    """What goes back, what was collected, and what is still expected for it."""
    return render(request, LIST, _list_context(request, CollectForm()))


@require_POST
def collect(request: HttpRequest) -> HttpResponse:
    form = CollectForm(request.POST)
    if form.is_valid():
        try:
            returns.collect(by=form.hand(request), **form.values())
            return done(reverse("materials:returns"))
        except ValidationError as error:
            form.refuse(error)
    return refused(request, form, LIST, _list_context(request, form))


@require_http_methods(["GET", "HEAD", "POST"])
def return_new(request: HttpRequest, pk: int) -> HttpResponse:
    lots = Lot.objects.select_related("material", "delivery_line__delivery__supplier")
    lot = get_object_or_404(lots, pk=pk, material__kind=Material.Kind.SHEET)
    asked = request.GET.get("sheets", "")[:40].replace("\0", "")
    form = ReturnForm(request.POST or None, lot=lot, sees_money=request.user.is_owner, initial={"numbers": asked})
    context = {"form": form, "lot": lot, "block": block_of(request, _("Send sheets back"), lot)}
    if request.method != "POST":
        return render(request, NEW, context)
    if form.is_valid():
        try:
            returns.ask(lot=lot, by=form.hand(request), **form.values())
            return done(reverse("materials:returns"))
        except ValidationError as error:
            form.refuse(error)
    return refused(request, form, NEW, context)


def _return_or_404(pk: int) -> SheetReturn:
    row = get_object_or_404(SheetReturn.objects.select_related(*SHOWN), pk=pk)
    row.line = _line_of(row)
    return row


def _line_of(row: SheetReturn) -> DeliveryLine | None:
    """The line of the delivery the sheet came in; none where its lot is of no delivery."""
    return getattr(row.sheet.lot, "delivery_line", None)


def _context(request: HttpRequest, row: SheetReturn, form: CreditForm | None = None) -> dict[str, object]:
    page = _("Return of sheet %(sheet)s") % {"sheet": row.sheet.number}
    block = block_of(request, page, row.sheet.lot, Cell(_("Sheet"), str(row.sheet.number)))
    block.about = [row, row.sheet]
    credit_form = form or CreditForm(row=row)
    return {"block": block, "row": row, "form": credit_form, "collect_form": CollectForm(), "asked": None}


@require_safe
def sheet_return(request: HttpRequest, pk: int) -> HttpResponse:
    return render(request, ONE, _context(request, _return_or_404(pk)))


@owner_only
@require_POST
def credit(request: HttpRequest, pk: int) -> HttpResponse:
    row = _return_or_404(pk)
    form = CreditForm(request.POST, row=row)
    if form.is_valid():
        try:
            returns.credit(row=row, by=form.hand(request), **form.values())
            return done(reverse("materials:return", args=[row.pk]))
        except ValidationError as error:
            form.refuse(error)
    return refused(request, form, ONE, _context(request, row, form))


@require_POST
def cancel(request: HttpRequest, pk: int) -> HttpResponse:
    row, form = _return_or_404(pk), ActionForm(request.POST)
    if form.is_valid():
        try:
            returns.cancel(row=row, by=form.hand(request))
            return done(reverse("materials:sheet", args=[row.sheet_id]))
        except ValidationError as error:
            form.refuse(error)
    return refused(request, form, ONE, _context(request, row) | {"asked": form})
