from django.core.exceptions import ValidationError
from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.urls import reverse
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods

from estimates import operation_rates
from estimates.forms.rates import RatesForm
from workshop.actions import Stale
from workshop.doors import owner_only
from workshop.models import Shop
from workshop.pages import Block, Link, done, refused


@require_http_methods(["GET", "HEAD", "POST"])
@owner_only
def rates(request: HttpRequest) -> HttpResponse:
    """The price of an hour of each operation, in one form."""
    form, shop = RatesForm(request.POST or None), Shop.get()
    around = [Link(_("Estimates"), reverse("estimates:estimates")), Link(_("Shop"), reverse("front:shop"))]
    block = Block(request, page=_("Rates"), nav="estimates", around=around, about=[shop])
    context = {"form": form, "shop": shop, "block": block}
    if request.method != "POST":
        return render(request, "estimates/rates.html", context)
    if form.is_valid():
        try:
            asked = {"from_on": form.cleaned_data["from_on"], "prices": form.prices(), "was": form.was()}
            operation_rates.change(by=form.hand(request), **asked)
            return done(reverse("estimates:rates"))
        except Stale:
            form.stale()
        except ValidationError as error:
            form.refuse(error)
    return refused(request, form, "estimates/rates.html", context)
