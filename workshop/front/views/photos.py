from django.http import FileResponse, Http404, HttpRequest
from django.shortcuts import get_object_or_404
from django.views.decorators.http import require_safe

from workshop import photos
from workshop.models import Photo


@require_safe
def photo(request: HttpRequest, pk: int) -> FileResponse:
    """A photo, for people who are signed in; always the JPEG the app drew itself."""
    row = get_object_or_404(Photo, pk=pk)
    try:
        file = photos.path_of(row).open("rb")
    except OSError as error:
        raise Http404 from error
    answer = FileResponse(file, content_type=photos.CONTENT_TYPE)
    answer["Content-Disposition"] = f'inline; filename="photo-{row.pk}.jpg"'
    answer["X-Content-Type-Options"] = "nosniff"
    return answer
