from collections.abc import Callable

from django.conf import settings
from django.http import Http404, HttpRequest, HttpResponse, HttpResponseRedirect

from workshop.actions import AlreadyDone
from workshop.models import Action

CONTENT_SECURITY_POLICY = (
    "default-src 'self'; base-uri 'self'; form-action 'self'; frame-ancestors 'none'; object-src 'none'"
)


class PageHeaders:
    """The content security policy on every answer; pages of a signed-in person are kept by no cache."""

    def __init__(self, get_response: Callable[[HttpRequest], HttpResponse]) -> None:
        self.get_response = get_response

    def __call__(self, request: HttpRequest) -> HttpResponse:
        response = self.get_response(request)
        response.headers.setdefault("Content-Security-Policy", CONTENT_SECURITY_POLICY)
        if not request.path.startswith(f"/{settings.STATIC_URL.strip('/')}/"):
            response.headers.setdefault("Cache-Control", "private, no-store")
        return response


class FirstAnswer:
    """A form sent again with the same key gets the answer it got the first time."""

    def __init__(self, get_response: Callable[[HttpRequest], HttpResponse]) -> None:
        self.get_response = get_response

    def __call__(self, request: HttpRequest) -> HttpResponse:
        return self.get_response(request)

    def process_view(self, request: HttpRequest, *_args: object) -> HttpResponse | None:
        done = _done_with(request)
        return first_answer(done) if done else None

    def process_exception(self, request: HttpRequest, error: Exception) -> HttpResponse | None:
        """The same form sent twice at once: the second finds the key taken, or what it would remove gone."""
        if isinstance(error, AlreadyDone):
            return first_answer(error.action)
        done = _done_with(request) if isinstance(error, Http404) else None
        return first_answer(done) if done else None


def _done_with(request: HttpRequest) -> Action | None:
    key = request.POST.get("key", "") if request.method == "POST" else ""
    if len(key) != 32 or "\0" in key:
        return None
    return Action.objects.filter(key=key).only("answer").first()


def first_answer(action: Action) -> HttpResponse:
    return HttpResponseRedirect(action.answer or "/", status=303)
