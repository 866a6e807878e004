from django.http import HttpRequest, HttpResponse
from django.urls import reverse
from django.utils.translation import gettext as _
from django.views.decorators.http import require_safe

from jobs import lead_times
from workshop import clock
from workshop.pages import Block, Link, page_or_fragment


@require_safe
def lead_times_page(request: HttpRequest) -> HttpResponse:
    """Every order on its way, every need not ordered yet, and how each supplier keeps its word."""
    state = lead_times.outlook(clock.today())
    context = {
        "block": Block(
            request,
            page=_("Lead times"),
            nav="buying",
            around=[
                Link(_("Orders"), reverse("materials:orders")),
                Link(_("Deliveries"), reverse("materials:deliveries")),
            ],
        ),
        "state": state,
        "scale": lead_times.scale_of(state),
        "suppliers": lead_times.supplier_records(),
    }
    return page_or_fragment(request, "jobs/lead_times.html", "jobs/_lead_times.html", context)
