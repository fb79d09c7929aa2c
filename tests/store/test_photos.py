"""Photos: upright, small, without place or device, and what is no photo is told in one sentence."""

import io
import stat
from collections.abc import Callable
from pathlib import Path

import pillow_heif
import pytest
from PIL import Image

from evaluator.basis.problem import Problem
from evaluator.store.photos import LONGEST_SIDE, keep_photo, photo_path

ORIENTATION, MAKE, GPS = 0x0112, 0x010F, 0x8825


def picture(size: tuple[int, int] = (40, 30), kind: str = "JPEG", **saved: object) -> bytes:
    written = io.BytesIO()
    Image.new("RGB", size, (120, 60, 30)).save(written, kind, **saved)
    return written.getvalue()


def opened(folder: Path, content: bytes) -> Image.Image:
    name = keep_photo(folder, content)
    assert isinstance(name, str), name
    place = photo_path(folder, name)
    assert place is not None
    with Image.open(place) as kept:
        kept.load()
        return kept


def test_a_photo_is_turned_upright_and_loses_place_and_device(tmp_path: Path) -> None:
    exif = Image.Exif()
    exif[ORIENTATION], exif[MAKE] = 6, "A maker of phones"
    exif[GPS] = {1: "N", 2: (47.0, 0.0, 0.0)}
    kept = opened(tmp_path, picture((40, 30), exif=exif))
    assert kept.size == (30, 40)
    assert not kept.getexif()
    assert b"A maker of phones" not in next(tmp_path.rglob("*.jpg")).read_bytes()


def test_a_large_photo_is_shrunk_and_kept_once(tmp_path: Path) -> None:
    large = picture((4000, 3000))
    assert max(opened(tmp_path, large).size) == LONGEST_SIDE
    assert keep_photo(tmp_path, large) == keep_photo(tmp_path, large)
    assert len(list(tmp_path.rglob("*.jpg"))) == 1


def test_a_kept_photo_is_its_owners_to_read(tmp_path: Path) -> None:
    keep_photo(tmp_path, picture())
    mode = next(tmp_path.rglob("*.jpg")).stat().st_mode
    assert stat.S_IMODE(mode) == 0o600


@pytest.mark.parametrize("kind", ["PNG", "WEBP", "GIF", "TIFF"])
def test_other_kinds_are_read(tmp_path: Path, kind: str) -> None:
    assert opened(tmp_path, picture(kind=kind)).format == "JPEG"


def test_a_phones_heic_is_read(tmp_path: Path) -> None:
    pillow_heif.register_heif_opener()
    assert opened(tmp_path, picture(kind="HEIF")).format == "JPEG"


def test_what_is_see_through_becomes_white(tmp_path: Path) -> None:
    written = io.BytesIO()
    Image.new("RGBA", (20, 20), (0, 0, 0, 0)).save(written, "PNG")
    assert min(opened(tmp_path, written.getvalue()).getpixel((5, 5))) > 250


def bomb() -> bytes:
    written = io.BytesIO()
    Image.new("1", (15_000, 15_000)).save(written, "PNG")
    return written.getvalue()


def large() -> bytes:
    return b"\xff" * 30_000_001


@pytest.mark.parametrize(
    ("content", "code"),
    [
        (b"", "photo.empty"),
        (b"%PDF-1.7 not a picture", "photo.unknown"),
        (b"<svg xmlns='http://www.w3.org/2000/svg'/>", "photo.unknown"),
        (picture((400, 300))[:600], "photo.broken"),
        (bomb, "photo.too_many_pixels"),
        (large, "photo.too_large"),
    ],
    ids=["empty", "pdf", "svg", "broken", "bomb", "large"],
)
def test_what_is_no_photo_is_told(tmp_path: Path, content: bytes | Callable[[], bytes], code: str) -> None:
    told = keep_photo(tmp_path, content if isinstance(content, bytes) else content())
    assert isinstance(told, Problem)
    assert told.code == code
    assert not list(tmp_path.rglob("*.jpg"))


@pytest.mark.parametrize("name", ["", "../secret-key", "0" * 63, "g" * 64, "0" * 64])
def test_a_strange_name_leads_nowhere(tmp_path: Path, name: str) -> None:
    assert photo_path(tmp_path, name) is None
