"""Who may sign in, and as what."""

from django.contrib.auth.password_validation import validate_password
from django.core.exceptions import ValidationError
from django.urls import reverse
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from workshop import actions
from workshop.actions import Hand, recorded
from workshop.models import Person, Shop


def make_owner(*, by: Hand, username: str, name: str, password: str) -> Person:
    """The first account, on the first start; refused once there is any."""
    owner = _with_password(Person(username=username, name=name, role=Person.Role.OWNER), password)
    with recorded(by, "person.first", name=name) as record:
        _one_at_a_time()
        if Person.objects.exists():
            raise ValidationError(_("The owner's account was made before. Sign in instead."))
        record.answer = reverse("front:login")
        record.add(owner)
    return owner


def add(*, by: Hand, username: str, name: str, role: str, password: str) -> Person:
    person = _with_password(Person(username=username, name=name, role=role), password)
    with recorded(by, "person.add", name=name) as record:
        record.answer = reverse("front:people")
        record.add(person)
    return person


def change(*, person: Person, by: Hand, version: int, password: str = "", **fields: object) -> Person:
    """Change a person's name, role or door; a new password where one is typed."""
    if password:
        _with_password(person, password)
    with recorded(by, "person.change", person, name=person.name) as record:
        record.answer = reverse("front:people")
        _one_at_a_time()
        record.save(person, version=version, **fields)
        _keep_an_owner()
        if password:
            _save_password(record, person)
    return person


def change_own_password(*, by: Hand, password: str) -> None:
    _with_password(by.person, password, field="new")
    with recorded(by, "person.password", by.person, name=by.person.name) as record:
        record.answer = reverse("front:more")
        _save_password(record, by.person)


def _one_at_a_time() -> None:
    """Two owners, each making the other staff in the same moment, would leave none."""
    Shop.get()
    Shop.objects.select_for_update().get(pk=1)


def _with_password(person: Person, password: str, field: str = "password") -> Person:
    """The person with the password, not saved: working it out takes long, and no transaction is to wait for it."""
    try:
        validate_password(password, person)
    except ValidationError as error:
        raise ValidationError({field: error.messages}) from error
    person.set_password(password)
    return person


def _save_password(record: actions.Record, person: Person) -> None:
    person.save(update_fields=["password"])
    record.keep()


def _keep_an_owner() -> None:
    if not Person.objects.filter(role=Person.Role.OWNER, is_active=True).exists():
        raise ValidationError({"role": _("The shop needs one owner who may sign in. Make somebody else owner first.")})


actions.say("person.first", gettext_lazy("Owner %(name)s added"), undo=False)
actions.say("person.add", gettext_lazy("%(name)s may sign in"), undo=False)
actions.say("person.change", gettext_lazy("Account of %(name)s changed"), undo=False)
actions.say("person.password", gettext_lazy("%(name)s has a new password"), undo=False)
