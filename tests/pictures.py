"""Pictures made in the test, as a phone would send them."""

import io
import struct
import zlib

from django.core.files.uploadedfile import SimpleUploadedFile
from PIL import Image, PngImagePlugin

ORIENTATION, MODEL, GPS, LATITUDE = 0x0112, 0x0110, 0x8825, 2
TURNED_RIGHT = 6


def picture(width: int = 40, height: int = 30, kind: str = "JPEG", *, mode: str = "RGB", **options: object) -> bytes:
    """A picture, its left half red and its right half blue."""
    image = Image.new(mode, (width, height), "blue")
    image.paste("red", (0, 0, width // 2, height))
    content = io.BytesIO()
    image.save(content, format=kind, **options)
    return content.getvalue()


def with_place(width: int = 40, height: int = 30) -> bytes:
    """A picture that knows the phone and the place it was taken with, and lies on its side."""
    exif = Image.Exif()
    exif[ORIENTATION], exif[MODEL] = TURNED_RIGHT, "Phone of the shop"
    exif.get_ifd(GPS)[LATITUDE] = (52.0, 31.0, 12.0)
    return picture(width, height, exif=exif, comment=b"at the back door")


def huge(width: int, height: int) -> bytes:
    """A few bytes that say they are a picture of this size."""

    def chunk(name: bytes, data: bytes) -> bytes:
        return struct.pack(">I", len(data)) + name + data + struct.pack(">I", zlib.crc32(name + data))

    head = struct.pack(">IIBBBBB", width, height, 8, 2, 0, 0, 0)
    return (
        b"\x89PNG\r\n\x1a\n"
        + chunk(b"IHDR", head)
        + chunk(b"IDAT", zlib.compress(b"\0" * 10_000))
        + chunk(b"IEND", b"")
    )


def with_words(text: str) -> bytes:
    """A PNG with a text beside its dots."""
    info = PngImagePlugin.PngInfo()
    info.add_text("Comment", text)
    return picture(kind="PNG", pnginfo=info)


def sent(content: bytes | None = None, name: str = "door.jpg") -> SimpleUploadedFile:
    return SimpleUploadedFile(name, picture() if content is None else content, content_type="image/jpeg")
