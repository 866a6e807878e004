"""A field for pictures from a phone's camera or from files, several at once."""

from collections.abc import Sequence

from django import forms
from django.core.exceptions import ValidationError
from django.core.files.uploadedfile import UploadedFile
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from workshop import photos
from workshop.photos import Picture

MOST_AT_ONCE = 10


class PhotosInput(forms.FileInput):
    """Opens the camera or the pictures of a phone. The kinds are named one by one: a phone then sends no HEIC."""

    allow_multiple_selected = True

    def __init__(self) -> None:
        super().__init__({"accept": "image/jpeg,image/png,image/webp", "multiple": True})


class PhotosField(forms.FileField):
    """Pictures as they will be kept, a list of `Picture`, empty where none was sent."""

    widget = PhotosInput
    wide = True

    def __init__(self, **options: object) -> None:
        options.setdefault("label", gettext_lazy("Photos"))
        options.setdefault("required", False)
        options.setdefault("help_text", gettext_lazy("Up to 10 at once, 25 MB together."))
        super().__init__(**options)

    def clean(self, data: Sequence[UploadedFile] | None, initial: object = None) -> list[Picture]:
        files = [file for file in data or [] if isinstance(file, UploadedFile)]
        if not files:
            if self.required:
                raise ValidationError(_("No photo is chosen. Take one, or choose one from the files."))
            return []
        if len(files) > MOST_AT_ONCE:
            message = _("These are %(count)s photos. Send %(most)s at once, then the others.")
            raise ValidationError(message, params={"count": len(files), "most": MOST_AT_ONCE})
        pictures, refusals = [], []
        for file in files:
            try:
                pictures.append(photos.read(file, file.name or "", file.size or 0))
            except ValidationError as error:
                refusals.append(error)
        if refusals:
            raise ValidationError(refusals)
        return pictures
