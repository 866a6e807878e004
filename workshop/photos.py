"""Pictures people take: read by their content, kept upright and small, without the place they were taken at.

What is kept is drawn anew as a JPEG, so that nothing of the file that was sent is in it but what can be seen.
The files lie under `settings.MEDIA_ROOT`, under names nobody can guess, and are shown by a view to people who
are signed in. A photo that is taken out leaves its file, so that it can be brought back.
"""

import io
import secrets
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from threading import Lock
from typing import IO

from django.conf import settings
from django.core.exceptions import ValidationError
from django.utils.translation import gettext as _
from PIL import Image, ImageCms, ImageOps

from workshop import clock
from workshop.models import Person, Photo

MOST_BYTES = 20 * 1024 * 1024
MOST_PIXELS = 60_000_000
LONGEST_SIDE_PX = 2_000
FORMATS = ["JPEG", "PNG", "WEBP"]
CONTENT_TYPE = "image/jpeg"
QUALITY = 82

_HEIC_BRANDS = (b"heic", b"heix", b"heim", b"heis", b"hevc", b"hevx", b"mif1", b"msf1", b"avif", b"avis")
_BOMBS = (Image.DecompressionBombError, Image.DecompressionBombWarning)
_ONE_AT_A_TIME = Lock()  # sixty megapixels are a quarter of a gigabyte while they are read


@dataclass(frozen=True)
class Picture:
    """A picture as it will be kept, not written yet."""

    content: bytes
    width: int
    height: int


def read(file: IO[bytes], name: str, size: int) -> Picture:
    """What will be kept of a file somebody sent.

    Args:
        file: open at its beginning
        name: what the file was called, for the words of a refusal
        size: its length in bytes

    Raises:
        ValidationError: it is too large, of another kind, or broken; the words name the file and the way out.
    """
    words = {"name": Path(name).name[:60] or _("The file")}
    if size > MOST_BYTES:
        message = _("%(name)s has %(size)s MB. At most %(most)s MB do: take it at a smaller size, or cut it.")
        limits = {"size": -(-size // 1024**2), "most": MOST_BYTES // 1024**2}
        raise ValidationError(message, params=words | limits)
    if _is_heic(file):
        message = _(
            "%(name)s is a HEIC picture, which many browsers cannot show. Send it as JPEG, "
            "or set the phone's camera to the most compatible format."
        )
        raise ValidationError(message, params=words)
    try:
        with _ONE_AT_A_TIME:
            return _drawn_anew(file, words)
    except ValidationError:
        raise
    except Exception as error:  # whatever a decoder trips over, the file cannot be shown
        message = _("%(name)s cannot be read as a picture. Take it again, or send a JPEG, PNG or WebP.")
        raise ValidationError(message, params=words) from error


@contextmanager
def stored(pictures: Sequence[Picture], by: Person | None) -> Iterator[list[Photo]]:
    """The pictures written as files, each with its row, not added yet; the files go again if adding fails."""
    written: list[Path] = []
    rows = []
    try:
        for picture in pictures:
            row = Photo(
                file_name=f"{secrets.token_hex(16)}.jpg",
                pixels_across=picture.width,
                pixels_down=picture.height,
                size_bytes=len(picture.content),
                taken_by=by,
                added_at=clock.now(),
            )
            path = path_of(row)
            path.parent.mkdir(parents=True, exist_ok=True)
            written.append(path)
            with path.open("xb") as file:
                file.write(picture.content)
            rows.append(row)
        yield rows
    except BaseException:
        for path in written:
            path.unlink(missing_ok=True)
        raise


def path_of(photo: Photo) -> Path:
    return Path(settings.MEDIA_ROOT) / "photos" / photo.file_name


def _is_heic(file: IO[bytes]) -> bool:
    head = file.read(12)
    file.seek(0)
    return head[4:8] == b"ftyp" and head[8:12] in _HEIC_BRANDS


def _drawn_anew(file: IO[bytes], words: dict[str, str]) -> Picture:
    """The first picture of the file: small, upright, in the colors every screen knows, on white."""
    try:
        image = Image.open(file, formats=FORMATS)
    except _BOMBS as error:
        raise _too_many_pixels(words) from error
    with image:
        if image.width * image.height > MOST_PIXELS:
            raise _too_many_pixels(words)
        image.draft("RGB", (LONGEST_SIDE_PX, LONGEST_SIDE_PX))
        if image.mode in ("P", "1"):
            image = image.convert("RGBA")
        image.thumbnail((LONGEST_SIDE_PX, LONGEST_SIDE_PX), Image.Resampling.LANCZOS)
        image = _in_srgb(ImageOps.exif_transpose(image))
        drawn = Image.new("RGB", image.size, "white")
        drawn.paste(image, mask=image.getchannel("A") if "A" in image.getbands() else None)
    content = io.BytesIO()
    drawn.save(content, format="JPEG", quality=QUALITY, optimize=True)
    return Picture(content.getvalue(), drawn.width, drawn.height)


def _in_srgb(image: Image.Image) -> Image.Image:
    """The same colors in sRGB; as they are where the file's own profile cannot be read."""
    profile = image.info.get("icc_profile")
    if profile and image.mode == "RGB":
        try:
            own = ImageCms.ImageCmsProfile(io.BytesIO(profile))
            return ImageCms.profileToProfile(image, own, ImageCms.createProfile("sRGB"), outputMode="RGB")
        except (ImageCms.PyCMSError, OSError):
            return image
    return image if image.mode in ("RGB", "RGBA") else image.convert("RGBA" if "A" in image.getbands() else "RGB")


def _too_many_pixels(words: dict[str, str]) -> ValidationError:
    message = _("%(name)s has more than %(most)s million dots. Take it at a smaller size, or cut it.")
    return ValidationError(message, params=words | {"most": MOST_PIXELS // 1_000_000})
