from django import forms
from django.contrib.auth.forms import AuthenticationForm
from django.contrib.auth.password_validation import validate_password
from django.core.exceptions import ValidationError
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from workshop import first_start
from workshop.forms import Form, RowForm, Spoken
from workshop.models import Person

MOST_PASSWORD = 128


def _password(label: str, **options: object) -> forms.CharField:
    field = forms.CharField(
        label=label,
        strip=False,
        max_length=MOST_PASSWORD,
        widget=forms.PasswordInput(render_value=False),
        **options,
    )
    field.widget.attrs["autocomplete"] = "new-password"
    field.unit = gettext_lazy("12 or more")
    return field


class SignInForm(Spoken, AuthenticationForm):
    username = forms.CharField(label=gettext_lazy("Sign-in name"), max_length=60)
    password = forms.CharField(
        label=gettext_lazy("Password"), strip=False, max_length=MOST_PASSWORD, widget=forms.PasswordInput
    )
    error_messages = {
        "invalid_login": gettext_lazy("This name and password do not belong together. Type them again."),
        "inactive": gettext_lazy("This account may not sign in. The owner can change that."),
    }

    def __init__(self, *args: object, **options: object) -> None:
        super().__init__(*args, **options)
        self.fields["username"].widget.attrs.update(autocomplete="username", autocapitalize="none")
        self.fields["password"].widget.attrs["autocomplete"] = "current-password"


class FirstStartForm(Form):
    code = forms.CharField(
        label=gettext_lazy("Code"),
        max_length=20,
        widget=forms.TextInput(attrs={"inputmode": "numeric", "autocomplete": "off"}),
    )
    name = forms.CharField(label=gettext_lazy("Your name"), max_length=80)
    username = forms.CharField(
        label=gettext_lazy("Sign-in name"),
        max_length=60,
        widget=forms.TextInput(attrs={"autocapitalize": "none"}),
    )
    password = _password(gettext_lazy("Password"))

    def __init__(self, *args: object, **options: object) -> None:
        super().__init__(*args, **options)
        self.fields["code"].unit = gettext_lazy("6 digits")

    def clean_code(self) -> str:
        code = self.cleaned_data["code"]
        if not first_start.check(code):
            raise ValidationError(
                _("This is not the code. It stands in the window where Flitchbook was started, six digits.")
            )
        return code

    def clean_password(self) -> str:
        """Checked here too, so that a wrong code does not hide what is wrong with the password."""
        words = {name: self.cleaned_data.get(name, "") for name in ("name", "username")}
        validate_password(self.cleaned_data["password"], Person(**words))
        return self.cleaned_data["password"]


class PersonForm(RowForm):
    class Meta:
        model = Person
        fields = ["name", "username", "role", "is_active"]

    def __init__(self, *args: object, **options: object) -> None:
        super().__init__(*args, **options)
        is_new = self.instance.pk is None
        self.fields["password"] = _password(
            gettext_lazy("Password") if is_new else gettext_lazy("New password"), required=is_new
        )
        if is_new:
            del self.fields["is_active"]
        else:
            self.fields["password"].help_text = _("Left empty, the password stays.")


class PasswordForm(Form):
    now = forms.CharField(
        label=gettext_lazy("Password now"), strip=False, max_length=MOST_PASSWORD, widget=forms.PasswordInput
    )
    new = _password(gettext_lazy("New password"))

    def __init__(self, *args: object, person: Person, **options: object) -> None:
        self.person = person
        super().__init__(*args, **options)
        self.fields["now"].widget.attrs["autocomplete"] = "current-password"

    def clean_now(self) -> str:
        if not self.person.check_password(self.cleaned_data["now"]):
            raise ValidationError(_("This is not your password now. Type it again, or ask the owner for a new one."))
        return self.cleaned_data["now"]

    def clean_new(self) -> str:
        validate_password(self.cleaned_data["new"], self.person)
        return self.cleaned_data["new"]
