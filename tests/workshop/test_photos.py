"""Photos: judged by what is in the file, kept upright and small, without place or phone, shown to the shop only."""

import io
from pathlib import Path

import pytest
from django.core.exceptions import ValidationError
from django.test import Client as Browser
from django.urls import reverse
from django.utils.datastructures import MultiValueDict
from PIL import Image
from pytest_django import Settings

from tests.makers import hand
from tests.pictures import huge, picture, sent, with_place, with_words
from workshop import photos
from workshop.actions import recorded
from workshop.forms import Form, PhotosField
from workshop.models import Person, Photo

MEGABYTE = 1024 * 1024


class Asked(Form):
    photos = PhotosField()


@pytest.fixture(autouse=True)
def files(settings: Settings, tmp_path: Path) -> Path:
    settings.MEDIA_ROOT = tmp_path
    return tmp_path / "photos"


def read(content: bytes, name: str = "door.jpg") -> photos.Picture:
    return photos.read(io.BytesIO(content), name, len(content))


def drawn(content: bytes) -> Image.Image:
    return Image.open(io.BytesIO(read(content).content))


def keep(person: Person, *contents: bytes) -> list[Photo]:
    with (
        photos.stored([read(content) for content in contents], person) as rows,
        recorded(hand(person), "test") as record,
    ):
        return [record.add(row) for row in rows]


class TestReading:
    @pytest.mark.parametrize("kind", ["JPEG", "PNG", "WEBP"])
    @pytest.mark.parametrize("name", ["door.jpg", "door.txt", "door", "../../door.php", ""])
    def test_the_kind_is_read_from_the_content_and_not_from_the_name(self, kind: str, name: str) -> None:
        kept = read(picture(kind=kind), name)

        assert Image.open(io.BytesIO(kept.content)).format == "JPEG"
        assert (kept.width, kept.height) == (40, 30)

    def test_a_picture_on_its_side_is_turned_upright(self) -> None:
        image = drawn(with_place(40, 30))

        assert image.size == (30, 40)
        assert image.getpixel((15, 5))[0] > 200 > image.getpixel((15, 35))[0]

    def test_place_phone_and_words_are_not_kept(self) -> None:
        image = drawn(with_place())

        assert not dict(image.getexif())
        assert not {"exif", "comment", "icc_profile", "xmp"} & set(image.info)
        assert b"back door" not in read(with_place()).content
        assert b"secret" not in read(with_words("secret")).content

    @pytest.mark.parametrize(
        ("size", "kept"), [((4000, 3000), (2000, 1500)), ((1000, 5000), (400, 2000)), ((1, 1), (1, 1))]
    )
    def test_a_large_picture_is_made_smaller_and_a_small_one_stays(
        self, size: tuple[int, int], kept: tuple[int, int]
    ) -> None:
        assert drawn(picture(*size)).size == kept

    @pytest.mark.parametrize("mode", ["RGBA", "P", "L", "LA", "1", "CMYK"])
    def test_every_way_to_hold_colors_can_be_read(self, mode: str) -> None:
        content = io.BytesIO()
        Image.new(mode, (20, 10)).save(content, format="JPEG" if mode == "CMYK" else "PNG")

        assert drawn(content.getvalue()).mode == "RGB"

    def test_what_is_clear_becomes_white(self) -> None:
        content = io.BytesIO()
        Image.new("RGBA", (20, 10), (0, 0, 0, 0)).save(content, format="PNG")

        assert min(drawn(content.getvalue()).getpixel((10, 5))) > 250

    def test_of_a_moving_picture_the_first_is_kept(self) -> None:
        frames = [Image.new("RGB", (20, 10), color) for color in ("red", "blue")]
        content = io.BytesIO()
        frames[0].save(content, format="WEBP", save_all=True, append_images=frames[1:], duration=100)

        assert drawn(content.getvalue()).getpixel((10, 5))[0] > 200


class TestRefusing:
    @pytest.mark.parametrize("brand", [b"heic", b"heix", b"mif1", b"avif"])
    def test_heic_is_refused_with_the_way_out(self, brand: bytes) -> None:
        with pytest.raises(ValidationError, match=r"IMG_1\.HEIC is a HEIC picture.*Send it as JPEG"):
            read(b"\0\0\0\x18ftyp" + brand + b"\0" * 200, "IMG_1.HEIC")

    @pytest.mark.parametrize(
        "content",
        [
            b"",
            b"\0",
            b"no picture",
            b"<svg xmlns='http://www.w3.org/2000/svg'><script>alert(1)</script></svg>",
            b"<script>alert(1)</script>",
            b"\xff\xd8\xff" + b"\0" * 500,
            b"\x89PNG\r\n\x1a\n" + b"\0" * 500,
            b"RIFF\x10\0\0\0WEBPVP8 " + b"\0" * 50,
            b"GIF89a" + b"\0" * 50,
            b"BM" + b"\0" * 100,
            b"%PDF-1.7",
            b"PK\x03\x04" + b"\0" * 100,
            picture(400, 300)[:900],
            picture(400, 300, "PNG")[:200],
            picture(kind="GIF"),
            picture(kind="BMP"),
            picture(kind="TIFF"),
        ],
    )
    def test_what_is_no_picture_or_broken_is_refused(self, content: bytes) -> None:
        with pytest.raises(ValidationError, match=r"door\.jpg cannot be read as a picture\. Take it again"):
            read(content)

    def test_a_file_over_twenty_megabytes_is_refused_before_it_is_read(self) -> None:
        with pytest.raises(ValidationError, match=r"door\.jpg has 21 MB\. At most 20 MB do"):
            photos.read(io.BytesIO(b""), "door.jpg", 20 * MEGABYTE + 1)

    @pytest.mark.parametrize("size", [(10_000, 6_001), (12_000, 9_000), (60_000, 60_000), (2**31 - 1, 2**31 - 1)])
    def test_a_few_bytes_that_unpack_to_more_than_memory_are_refused(self, size: tuple[int, int]) -> None:
        with pytest.raises(ValidationError, match=r"(more than 60 million dots|cannot be read)"):
            read(huge(*size))


class TestField:
    def asked(self, *files: object) -> Asked:
        return Asked({"key": "0" * 32}, MultiValueDict({"photos": list(files)}))

    def test_several_are_read_at_once(self) -> None:
        form = self.asked(sent(), sent(picture(kind="PNG"), "b.png"))

        assert form.is_valid()
        assert len(form.cleaned_data["photos"]) == 2

    def test_none_is_fine_where_none_is_asked_for(self) -> None:
        form = self.asked()

        assert form.is_valid()
        assert form.cleaned_data["photos"] == []

    def test_each_file_that_cannot_be_read_is_named(self) -> None:
        form = self.asked(sent(), sent(b"", "empty.jpg"), sent(b"x", "b.jpg"))

        assert not form.is_valid()
        assert [words.split(" cannot")[0] for words in form.errors["photos"]] == ["empty.jpg", "b.jpg"]

    def test_eleven_at_once_are_refused(self) -> None:
        form = self.asked(*(sent() for _ in range(11)))

        assert form.errors["photos"] == ["These are 11 photos. Send 10 at once, then the others."]

    def test_a_text_in_place_of_a_file_is_no_photo(self) -> None:
        assert self.asked("door.jpg").is_valid()


@pytest.mark.django_db
class TestKeeping:
    def test_the_file_has_a_name_nobody_can_guess(self, staff: Person, files: Path) -> None:
        first, second = keep(staff, picture(), picture())

        assert {path.name for path in files.iterdir()} == {first.file_name, second.file_name}
        assert len(first.file_name) == 36
        assert first.file_name != second.file_name

    def test_nothing_is_left_behind_where_the_rest_fails(self, staff: Person, files: Path) -> None:
        with pytest.raises(ValidationError), photos.stored([read(picture())], staff):
            raise ValidationError("the slip was taken in before")

        assert list(files.iterdir()) == []


@pytest.mark.django_db
class TestShowing:
    def test_it_is_shown_to_people_who_are_signed_in(self, staff: Person, staff_client: Browser) -> None:
        (photo,) = keep(staff, picture())

        answer = staff_client.get(reverse("front:photo", args=[photo.pk]))

        assert (answer.status_code, answer["Content-Type"]) == (200, "image/jpeg")
        assert answer["X-Content-Type-Options"] == "nosniff"
        assert answer["Content-Disposition"].startswith("inline")
        assert answer["Cache-Control"] == "private, no-store"
        assert b"".join(answer.streaming_content)[:3] == b"\xff\xd8\xff"

    def test_nobody_else_sees_it(self, staff: Person) -> None:
        (photo,) = keep(staff, picture())

        answer = Browser().get(reverse("front:photo", args=[photo.pk]))

        assert answer.url.startswith(reverse("front:login"))

    @pytest.mark.parametrize("pk", [999999, 2**63 - 1])
    def test_a_photo_that_is_not_there_is_not_found(self, staff_client: Browser, pk: int) -> None:
        assert staff_client.get(f"/photos/{pk}/").status_code == 404

    def test_a_photo_whose_file_is_gone_is_not_found(self, staff: Person, staff_client: Browser) -> None:
        (photo,) = keep(staff, picture())
        photos.path_of(photo).unlink()

        assert staff_client.get(reverse("front:photo", args=[photo.pk])).status_code == 404

    def test_the_folder_is_none_of_those_that_are_served(self, settings: Settings) -> None:
        served = [settings.BASE_DIR / "workshop" / "static", *map(Path, settings.STATICFILES_DIRS)]

        assert not any(Path(settings.MEDIA_ROOT).is_relative_to(folder) for folder in served)
        assert not settings.MEDIA_URL.strip("/")
