"""Who may open which page."""

from collections.abc import Callable
from functools import wraps

from django.core.exceptions import PermissionDenied
from django.http import HttpRequest, HttpResponse


def owner_only(view: Callable[..., HttpResponse]) -> Callable[..., HttpResponse]:
    """The page shows or settles money, people or the shop itself: staff get 403."""

    @wraps(view)
    def guarded(request: HttpRequest, *args: object, **options: object) -> HttpResponse:
        if not request.user.is_owner:
            raise PermissionDenied
        return view(request, *args, **options)

    guarded.is_owner_only = True
    return guarded
