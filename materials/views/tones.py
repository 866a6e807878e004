from django.core.exceptions import ValidationError
from django.db.models import Count
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, render
from django.urls import reverse
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods, require_POST

from materials import tones
from materials.forms.catalog import ToneGroupForm
from materials.models import Material, ToneGroup
from workshop.actions import Stale
from workshop.forms import ActionForm
from workshop.pages import Block, Cell, Link, done, refused


def _block(request: HttpRequest, page: str, material: Material) -> Block:
    url = reverse("materials:material", args=[material.pk])
    around = [Link(_("Material"), url), Link(_("Lots"), reverse("materials:lots"))]
    cells = [Cell(_("Material"), material.name, url)]
    return Block(request, page=page, nav="sheets", cells=cells, around=around, about=[material])


@require_http_methods(["GET", "HEAD", "POST"])
def ladder(request: HttpRequest, pk: int) -> HttpResponse:
    """The tone groups of a sheet material from light to dark, and a form for one more."""
    material = get_object_or_404(Material, pk=pk, kind=Material.Kind.SHEET)
    form = ToneGroupForm(request.POST or None, initial={"color": tones.next_color(material)})
    context = {
        "form": form,
        "material": material,
        "block": _block(request, _("Tone groups"), material),
        "groups": material.tone_groups.annotate(sheet_count=Count("sheets")),
        "most": tones.MOST_GROUPS,
    }
    if request.method != "POST":
        return render(request, "materials/tone_list.html", context)
    if form.is_valid():
        try:
            tones.add(material=material, by=form.hand(request), **form.values())
            return done(reverse("materials:tones", args=[material.pk]))
        except ValidationError as error:
            form.refuse(error)
    return refused(request, form, "materials/tone_list.html", context)


@require_http_methods(["GET", "HEAD", "POST"])
def tone(request: HttpRequest, pk: int) -> HttpResponse:
    group = get_object_or_404(ToneGroup.objects.select_related("material"), pk=pk)
    form = ToneGroupForm(request.POST or None, instance=group)
    block = _block(request, _("Tone group %(name)s") % {"name": group.name}, group.material)
    context = {"form": form, "group": group, "block": block, "is_used": group.sheets.exists()}
    if request.method != "POST":
        return render(request, "materials/tone_form.html", context)
    if form.is_valid():
        try:
            tones.change(group=group, by=form.hand(request), version=form.version, **form.values())
            return done(reverse("materials:tones", args=[group.material_id]))
        except Stale as stale:
            form.stale(stale.row)
        except ValidationError as error:
            form.refuse(error)
    return refused(request, form, "materials/tone_form.html", context)


@require_POST
def tone_remove(request: HttpRequest, pk: int) -> HttpResponse:
    group = get_object_or_404(ToneGroup.objects.select_related("material"), pk=pk)
    form = ActionForm(request.POST)
    if form.is_valid():
        try:
            tones.remove(group=group, by=form.hand(request))
            return done(reverse("materials:tones", args=[group.material_id]))
        except ValidationError as error:
            form.refuse(error)
    block = _block(request, _("Tone group %(name)s") % {"name": group.name}, group.material)
    shown = ToneGroupForm(instance=group)
    context = {"form": shown, "refused": form, "group": group, "block": block, "is_used": True}
    return refused(request, form, "materials/tone_form.html", context)
