"""Photos beside the database, by the hash of their content: turned upright, shrunk, and without what a camera writes
into them (place, device, time).

A picture is believed only as far as it can be opened; whatever is kept was encoded anew.
"""

import hashlib
import io
import warnings
from pathlib import Path
from typing import TYPE_CHECKING

from ..basis.problem import Message, Messages, Problem, problem
from .records import write_private

if TYPE_CHECKING:
    from PIL import Image

MOST_BYTES = 30_000_000
MOST_PIXELS = 80_000_000  # a phone's largest; more is a bomb or a scan
LONGEST_SIDE = 1600
ON_PAPER = 560
QUALITY = 84
FORMATS = ("JPEG", "PNG", "WEBP", "HEIF", "AVIF", "GIF", "TIFF")
HASH_LETTERS = 64
# What a camera writes into its picture (Exif): the part that holds it, its focal length as film's, the whole size.
EXIF_PART, FILM_FOCAL, WHOLE_SIZE = 0x8769, 0xA405, (0xA002, 0xA003)
FOCAL_RANGE = (8.0, 300.0)
CUT_SHARE = 0.02

MESSAGES: Messages = {
    "photo.empty": Message("no photo was sent.", "Choose or take one, and send it again."),
    "photo.too_large": Message("the file is larger than 30 MB.", "Send a smaller one, or take it at a lower setting."),
    "photo.too_many_pixels": Message(
        "the picture has more points than a phone's camera takes.", "Send a photo, or make it smaller first."
    ),
    "photo.unknown": Message("this is not a photo that can be opened.", "Send a JPEG, PNG, WebP or HEIC picture."),
    "photo.broken": Message("the picture breaks off before its end.", "Take it or send it once more."),
}


def keep_photo(folder: Path, content: bytes) -> str | Problem:
    """Keep a photo; gives its name (the SHA-256 of what is kept), or what is wrong with what was sent."""
    if not content:
        return problem(MESSAGES, "photo.empty", "the photo")
    if len(content) > MOST_BYTES:
        return problem(MESSAGES, "photo.too_large", "the photo")
    shrunk = _shrunk(content)
    if isinstance(shrunk, Problem):
        return shrunk
    name = hashlib.sha256(shrunk).hexdigest()
    place = place_of(folder, name)
    if not place.exists():
        write_private(place, shrunk)
    return name


def photo_path(folder: Path, name: str) -> Path | None:
    """Where a kept photo lies; None where there is none of this name, or its file is gone."""
    if len(name) != HASH_LETTERS or not set(name) <= set("0123456789abcdef"):
        return None
    place = place_of(folder, name)
    return place if place.is_file() else None


def small_photo(folder: Path, name: str) -> bytes | None:
    """A kept photo as large as a paper shows it (a third of its width, at 250 dots an inch); None where it is gone."""
    from PIL import Image

    place = photo_path(folder, name)
    if place is None:
        return None
    written = io.BytesIO()
    try:
        with Image.open(place) as picture:
            picture.draft("RGB", (ON_PAPER, ON_PAPER))
            picture.thumbnail((ON_PAPER, ON_PAPER))
            picture.convert("RGB").save(written, "JPEG", quality=QUALITY, optimize=True)
    except (OSError, ValueError, SyntaxError):  # what Pillow raises on damaged files
        return None
    return written.getvalue()


def kept_photos(folder: Path) -> tuple[str, ...]:
    """The names of all photos that lie in the folder, in order."""
    return tuple(sorted(path.stem for path in folder.glob("??/*.jpg") if len(path.stem) == HASH_LETTERS))


def place_of(folder: Path, name: str) -> Path:
    """Where a photo of this name lies, or would."""
    return folder / name[:2] / f"{name}.jpg"


def photo_size(place: Path) -> tuple[int, int]:
    """Width and height of a kept photo in px."""
    from PIL import Image

    with Image.open(place) as picture:
        return picture.size


def film_focal(content: bytes) -> float | None:
    """The focal length that the camera wrote into its picture, as that of 36 x 24 mm film, in mm.

    None where it wrote none, where it cannot be true, or where the picture was cut since: then it says nothing.
    """
    import pillow_heif
    from PIL import Image

    pillow_heif.register_heif_opener()
    try:
        with Image.open(io.BytesIO(content), formats=FORMATS) as picture:
            told, size = picture.getexif().get_ifd(EXIF_PART), sorted(picture.size)
        focal, whole = float(told.get(FILM_FOCAL, 0)), sorted(float(told.get(tag, 0)) for tag in WHOLE_SIZE)
    except (Image.DecompressionBombError, OSError, ValueError, TypeError, SyntaxError, EOFError, ZeroDivisionError):
        return None
    was_cut = min(whole) > 0 and abs(whole[1] / whole[0] - size[1] / size[0]) > CUT_SHARE
    return focal if FOCAL_RANGE[0] <= focal <= FOCAL_RANGE[1] and not was_cut else None


def _shrunk(content: bytes) -> bytes | Problem:
    """The photo upright, at most so long, as JPEG without metadata."""
    import pillow_heif
    from PIL import Image, ImageOps, UnidentifiedImageError

    pillow_heif.register_heif_opener()
    Image.init()
    with warnings.catch_warnings():
        warnings.simplefilter("error", Image.DecompressionBombWarning)
        try:
            picture = Image.open(io.BytesIO(content), formats=FORMATS)
            if picture.width * picture.height > MOST_PIXELS:
                return problem(MESSAGES, "photo.too_many_pixels", "the photo")
            if picture.format == "JPEG":
                picture.draft("RGB", (LONGEST_SIDE, LONGEST_SIDE))
            upright = ImageOps.exif_transpose(picture)
            upright.thumbnail((LONGEST_SIDE, LONGEST_SIDE))
            written = io.BytesIO()
            _on_white(upright).save(written, "JPEG", quality=QUALITY, optimize=True)
        except (Image.DecompressionBombWarning, Image.DecompressionBombError):
            return problem(MESSAGES, "photo.too_many_pixels", "the photo")
        except UnidentifiedImageError:
            return problem(MESSAGES, "photo.unknown", "the photo")
        except (OSError, ValueError, SyntaxError, EOFError):  # what Pillow raises on damaged files
            return problem(MESSAGES, "photo.broken", "the photo")
    return written.getvalue()


def _on_white(picture: "Image.Image") -> "Image.Image":
    """In plain colours: what is see-through becomes white paper."""
    from PIL import Image

    if picture.mode in {"RGBA", "LA", "PA"} or "transparency" in picture.info:
        paper = Image.new("RGBA", picture.size, "white")
        paper.alpha_composite(picture.convert("RGBA"))
        picture = paper
    return picture.convert("RGB")
