"""What is worked out from the whole shop once after each action, and kept until the next."""

from collections.abc import Callable
from typing import TypeVar

from django.core.cache import cache

from workshop.models import Action

KEPT_SECONDS = 60
Worked = TypeVar("Worked")


def last_action() -> int | None:
    """The key of the last action: whatever was worked out before it is out of date."""
    return Action.objects.order_by("-pk").values_list("pk", flat=True).first()


def kept(name: str, work_out: Callable[[], Worked]) -> Worked:
    """What was worked out under this name since the last action, or is worked out now."""
    key = f"{name}-{last_action()}"
    found = cache.get(key)
    if found is None:
        found = work_out()
        cache.set(key, found, KEPT_SECONDS)
    return found
