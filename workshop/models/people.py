from django.contrib.auth.base_user import AbstractBaseUser, BaseUserManager
from django.db import models
from django.utils.translation import gettext_lazy as _


class PersonManager(BaseUserManager):
    def create_user(self, username: str, password: str | None = None, **fields) -> "Person":
        person = self.model(username=username, **fields)
        person.set_password(password)
        person.full_clean(exclude=["password"])
        person.save(using=self._db)
        return person


class Person(AbstractBaseUser):
    """Somebody who signs in: the owner, who sees money, or staff, who do not."""

    class Role(models.TextChoices):
        OWNER = "owner", _("Owner")
        STAFF = "staff", _("Staff")

    username = models.CharField(
        _("Sign-in name"),
        max_length=60,
        unique=True,
        error_messages={"unique": _("This sign-in name is taken. Add a letter or a number to it.")},
    )
    name = models.CharField(_("Name"), max_length=80)
    role = models.CharField(_("Role"), max_length=10, choices=Role.choices, default=Role.STAFF)
    is_active = models.BooleanField(_("May sign in"), default=True)
    language = models.CharField(max_length=10, default="en-us")
    version = models.PositiveIntegerField(default=1, editable=False)

    USERNAME_FIELD = "username"
    REQUIRED_FIELDS = ["name"]
    objects = PersonManager()

    class Meta:
        ordering = ["name", "pk"]

    def __str__(self) -> str:
        return self.name

    @property
    def is_owner(self) -> bool:
        return self.role == self.Role.OWNER

    @property
    def initials(self) -> str:
        return " ".join(f"{word[0].upper()}." for word in self.name.split()[:3])
