from django.contrib.auth import update_session_auth_hash
from django.core.exceptions import ValidationError
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, render
from django.urls import reverse
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods, require_safe

from jobs.models import Job
from workshop import people, shop
from workshop.actions import Stale
from workshop.doors import owner_only
from workshop.front.forms.people import PasswordForm, PersonForm
from workshop.front.forms.shop import ShopForm
from workshop.models import Person, Shop
from workshop.pages import Block, Link, done, refused


@require_safe
@owner_only
def person_list(request: HttpRequest) -> HttpResponse:
    block = Block(request, page=_("People"), nav="more", around=[Link(_("Shop"), reverse("front:shop"))])
    return render(request, "front/person_list.html", {"block": block, "people": Person.objects.all()})


@require_http_methods(["GET", "HEAD", "POST"])
@owner_only
def person_new(request: HttpRequest) -> HttpResponse:
    form = PersonForm(request.POST or None)
    context = {"form": form, "block": Block(request, page=_("New person"), nav="more")}
    if request.method != "POST":
        return render(request, "front/person_form.html", context)
    if form.is_valid():
        try:
            people.add(by=form.hand(request), **form.values())
            return done(reverse("front:people"))
        except ValidationError as error:
            form.refuse(error)
    return refused(request, form, "front/person_form.html", context)


@require_http_methods(["GET", "HEAD", "POST"])
@owner_only
def person_edit(request: HttpRequest, pk: int) -> HttpResponse:
    person = get_object_or_404(Person, pk=pk)
    form = PersonForm(request.POST or None, instance=person)
    context = {"form": form, "block": Block(request, page=person.name, nav="more", about=[person])}
    if request.method != "POST":
        return render(request, "front/person_form.html", context)
    if form.is_valid():
        try:
            people.change(person=person, by=form.hand(request), version=form.version, **form.values())
            if person.pk == request.user.pk:
                update_session_auth_hash(request, person)
            return done(reverse("front:people"))
        except Stale as stale:
            form.stale(stale.row)
        except ValidationError as error:
            form.refuse(error)
    return refused(request, form, "front/person_form.html", context)


@require_http_methods(["GET", "HEAD", "POST"])
def password(request: HttpRequest) -> HttpResponse:
    form = PasswordForm(request.POST or None, person=request.user)
    context = {"form": form, "block": Block(request, page=_("Your password"), nav="more")}
    if request.method != "POST":
        return render(request, "front/password.html", context)
    if form.is_valid():
        try:
            people.change_own_password(by=form.hand(request), password=form.cleaned_data["new"])
            update_session_auth_hash(request, request.user)
            return done(reverse("front:more"))
        except ValidationError as error:
            form.refuse(error)
    return refused(request, form, "front/password.html", context)


@require_http_methods(["GET", "HEAD", "POST"])
@owner_only
def shop_page(request: HttpRequest) -> HttpResponse:
    row = Shop.get()
    form = ShopForm(request.POST or None, instance=row)
    around = [Link(_("People"), reverse("front:people")), Link(_("Backups"), reverse("front:backups"))]
    context = {"form": form, "block": Block(request, page=_("Shop"), nav="more", about=[row], around=around)}
    if request.method != "POST":
        return render(request, "front/shop.html", context)
    if form.is_valid():
        try:
            shop.change(shop=row, by=form.hand(request), version=form.version, **form.values())
            return done(reverse("front:shop" if Job.objects.exists() else "front:today"))
        except Stale as stale:
            form.stale(stale.row)
        except ValidationError as error:
            form.refuse(error)
    return refused(request, form, "front/shop.html", context)
