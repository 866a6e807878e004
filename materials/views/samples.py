from django.core.exceptions import ValidationError
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, render
from django.urls import reverse
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from materials import samples
from materials.forms.samples import AnswerForm, SampleForm
from materials.models import Order, Sample
from materials.views.lists import number_of, page_of, words_of
from workshop.actions import Stale
from workshop.forms import Form
from workshop.pages import Block, Cell, Link, done, refused

SAMPLES = Sample.objects.select_related("material", "order__supplier", "photo")


def _block(request: HttpRequest, page: str, sample: Sample | None = None) -> Block:
    around = [Link(_("Orders"), reverse("materials:orders")), Link(_("Materials"), reverse("materials:materials"))]
    if sample is None:
        return Block(request, page=page, nav="buying", around=around)
    cells = [Cell(_("Sample"), sample.what, reverse("materials:sample", args=[sample.pk]))]
    if sample.order:
        cells.append(Cell(_("Order"), str(sample.order), reverse("materials:order", args=[sample.order_id])))
    return Block(request, page=page, nav="buying", cells=cells, around=around, about=[sample])


@require_safe
def sample_list(request: HttpRequest) -> HttpResponse:
    """Those that wait for an answer first, then those that have one."""
    words = words_of(request)
    found = SAMPLES.matching(words)
    context = {
        "block": _block(request, _("Samples")),
        "words": words,
        "waiting": found.waiting().order_by("sent_on", "pk")[:50],
        "page": page_of(request, found.exclude(answered_on=None)),
    }
    return render(request, "materials/sample_list.html", context)


@require_http_methods(["GET", "HEAD", "POST"])
def sample_new(request: HttpRequest) -> HttpResponse:
    order = Order.objects.filter(pk=number_of(request.GET.get("order"))).first()
    material = number_of(request.GET.get("material")) or (
        order and order.lines.values_list("material", flat=True).first()
    )
    form = SampleForm(request.POST or None, initial={"order": order and order.pk, "material": material})
    context = {"form": form, "sample": None, "block": _block(request, _("Send a sample"))}
    if request.method != "POST":
        return render(request, "materials/sample_form.html", context)
    if form.is_valid():
        try:
            sample = samples.add(by=form.hand(request), **form.values())
            return done(reverse("materials:sample", args=[sample.pk]))
        except ValidationError as error:
            form.refuse(error)
    return refused(request, form, "materials/sample_form.html", context)


def _shown(request: HttpRequest, sample: Sample, form: Form | None = None) -> dict[str, object]:
    is_holding = Sample.objects.holding().filter(pk=sample.pk).exists()
    form = form or AnswerForm()
    return {"block": _block(request, sample.what, sample), "sample": sample, "is_holding": is_holding, "form": form}


@require_safe
def sample(request: HttpRequest, pk: int) -> HttpResponse:
    return render(request, "materials/sample.html", _shown(request, get_object_or_404(SAMPLES, pk=pk)))


@require_POST
def sample_answer(request: HttpRequest, pk: int) -> HttpResponse:
    sample = get_object_or_404(SAMPLES, pk=pk)
    form = AnswerForm(request.POST, request.FILES)
    if form.is_valid():
        try:
            samples.answer(sample=sample, by=form.hand(request), **form.values())
            return done(reverse("materials:sample", args=[sample.pk]))
        except ValidationError as error:
            form.refuse(error)
    return refused(request, form, "materials/sample.html", _shown(request, sample, form))


@require_http_methods(["GET", "HEAD", "POST"])
def sample_edit(request: HttpRequest, pk: int) -> HttpResponse:
    sample = get_object_or_404(SAMPLES, pk=pk)
    form = SampleForm(request.POST or None, instance=sample)
    context = {"form": form, "sample": sample, "block": _block(request, _("Change the sample"), sample)}
    if request.method != "POST":
        return render(request, "materials/sample_form.html", context)
    if form.is_valid():
        try:
            samples.change(sample=sample, by=form.hand(request), version=form.version, **form.values())
            return done(reverse("materials:sample", args=[sample.pk]))
        except Stale as stale:
            form.stale(stale.row)
        except ValidationError as error:
            form.refuse(error)
    return refused(request, form, "materials/sample_form.html", context)
