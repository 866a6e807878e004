from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404
from django.views.decorators.http import require_safe

from materials import order_sheet
from materials.models import Order
from workshop.doors import owner_only


@require_safe
@owner_only
def order_pdf(request: HttpRequest, pk: int) -> HttpResponse:
    """The order as it goes to the supplier, with the figures of its page."""
    order = get_object_or_404(Order, pk=pk)
    response = HttpResponse(order_sheet.pdf(order), content_type="application/pdf")
    response["Content-Disposition"] = f'inline; filename="order-{order.number}.pdf"'
    return response
