from django.core.exceptions import ValidationError
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, render
from django.urls import reverse
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods, require_POST

from materials import delivery_photos
from materials.forms.deliveries import PhotosForm
from materials.models import Delivery, DeliveryPhoto
from materials.views.deliveries import block_of
from workshop.forms import ActionForm
from workshop.pages import done, refused

PAGE = "materials/delivery_photos_form.html"


@require_http_methods(["GET", "HEAD", "POST"])
def photos_new(request: HttpRequest, pk: int) -> HttpResponse:
    delivery = get_object_or_404(Delivery.objects.select_related("supplier"), pk=pk)
    form = PhotosForm(request.POST or None, request.FILES or None)
    block = block_of(request, _("Photos of delivery %(number)s") % {"number": delivery.number}, delivery)
    context = {"form": form, "delivery": delivery, "block": block}
    if request.method != "POST":
        return render(request, PAGE, context)
    if form.is_valid():
        try:
            delivery_photos.add(delivery=delivery, by=form.hand(request), **form.values())
            return done(reverse("materials:delivery", args=[delivery.pk]))
        except ValidationError as error:
            form.refuse(error)
    return refused(request, form, PAGE, context)


@require_POST
def photo_remove(request: HttpRequest, pk: int) -> HttpResponse:
    photo = get_object_or_404(DeliveryPhoto.objects.select_related("delivery__supplier", "photo"), pk=pk)
    form = ActionForm(request.POST)
    if form.is_valid():
        try:
            delivery_photos.remove(photo=photo, by=form.hand(request))
            return done(reverse("materials:delivery", args=[photo.delivery_id]))
        except ValidationError as error:
            form.refuse(error)
    block = block_of(request, _("Photos of delivery %(number)s") % {"number": photo.delivery.number}, photo.delivery)
    return refused(request, form, PAGE, {"form": form, "delivery": photo.delivery, "block": block})
