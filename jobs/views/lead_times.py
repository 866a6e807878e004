from django.http import HttpRequest, HttpResponse
from django.urls import reverse
from django.utils.translation import gettext as _
from django.views.decorators.http import require_safe

from jobs import fire, lead_times
from materials import buying
from workshop import clock
from workshop.pages import Block, Link, page_or_fragment


@require_safe
def lead_times_page(request: HttpRequest) -> HttpResponse:
    """Every order on its way, every need not ordered yet, and how each supplier keeps its word."""
    state = lead_times.outlook(clock.today(), lead_times.kept_stock())
    words = buying.order_words({row.material: row.missing_micro for row in state.to_order})
    for row in state.to_order:
        row.order_words = words.get(row.material.pk, "")
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
        "has_cautions": any(row.cautions for row in state.to_order),
        "who_decides": fire.WHO_DECIDES,
    }
    return page_or_fragment(request, "jobs/lead_times.html", "jobs/_lead_times.html", context)
