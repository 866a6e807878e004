from django.contrib.auth import login as sign_in
from django.contrib.auth.decorators import login_not_required
from django.contrib.auth.views import LoginView, LogoutView
from django.core.exceptions import ValidationError
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils.decorators import method_decorator
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods

from workshop import first_start, people
from workshop.front.forms.people import FirstStartForm, SignInForm
from workshop.models import Person
from workshop.pages import Block, done, refused


@method_decorator(login_not_required, name="dispatch")
class Login(LoginView):
    template_name = "front/login.html"
    authentication_form = SignInForm
    redirect_authenticated_user = True

    def get(self, request: HttpRequest, *args: object, **options: object) -> HttpResponse:
        if not Person.objects.exists():
            return redirect("front:first_start")
        return super().get(request, *args, **options)

    def form_invalid(self, form: SignInForm) -> HttpResponse:
        return self.render_to_response(self.get_context_data(form=form), status=422)

    def get_context_data(self, **options: object) -> dict[str, object]:
        return super().get_context_data(**options, block=Block(self.request, page=_("Sign in")))


class Logout(LogoutView):
    http_method_names = ["post", "options"]


@login_not_required
@require_http_methods(["GET", "HEAD", "POST"])
def first_start_page(request: HttpRequest) -> HttpResponse:
    """The owner's account, made once, with the code that stands in the terminal."""
    if Person.objects.exists():
        return redirect("front:login")
    form = FirstStartForm(request.POST or None)
    context = {"form": form, "block": Block(request, page=_("First start"))}
    if request.method != "POST":
        return render(request, "front/first_start.html", context)
    if form.is_valid():
        try:
            owner = people.make_owner(by=form.hand(request), **form.values("code"))
            first_start.used()
            sign_in(request, owner, backend="django.contrib.auth.backends.ModelBackend")
            return done(reverse("front:shop"))
        except ValidationError as error:
            form.refuse(error)
    return refused(request, form, "front/first_start.html", context)
