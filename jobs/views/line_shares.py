from django.core.exceptions import ValidationError
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, render
from django.urls import reverse
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods

from jobs import line_shares
from jobs.forms.line_shares import LineSharesForm
from materials import buying
from materials.models import OrderLine
from materials.views.orders import block_of
from workshop.actions import Stale
from workshop.doors import owner_only
from workshop.pages import done, refused


@owner_only
@require_http_methods(["GET", "HEAD", "POST"])
def line_jobs(request: HttpRequest, pk: int) -> HttpResponse:
    """How much of an order line is for which job; the rest is for stock."""
    line = get_object_or_404(OrderLine.objects.select_related("order__supplier", "material"), pk=pk)
    form = LineSharesForm(request.POST or None, line=line)
    block = block_of(request, _("Whom it is for"), line.order)
    context = {"block": block, "line": line, "form": form, "ordered": buying.line_text(line)}
    if request.method != "POST":
        return render(request, "jobs/line_jobs.html", context)
    if form.is_valid():
        try:
            line_shares.share_out(line=line, by=form.hand(request), shares=form.shares(), was=form.was())
            return done(reverse("materials:order", args=[line.order_id]))
        except Stale:
            form.stale()
        except ValidationError as error:
            form.refuse(error)
    return refused(request, form, "jobs/line_jobs.html", context)
