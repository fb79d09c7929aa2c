"""A length from a photo with a bank card in it: the photo is taken or chosen, its corners and ends are marked, and the
length with its doubt becomes the reading. Without JavaScript each tap on the picture is a form of its own.
"""

from dataclasses import dataclass

from flask import Blueprint, abort, redirect, render_template, request, url_for

from ...basis.problem import Problem
from ...lutherie.photographs.camera import lens_of
from ...lutherie.photographs.laying import LAYINGS
from ...lutherie.photographs.reading import Marks, PhotoLength, measured
from ...rubric.written.checks import Check
from ...store.evaluations import DRAFT, Kept
from ...store.photos import photo_path, photo_size
from ...wording.photographs import ASKED, doubt_words, length_words, marks_asked, typed_reading
from ..service import service
from .answering import sentence, writer
from .pages import View, kept_or_404
from .photos import added
from .plan import plan_of
from .sending import send

measuring = Blueprint("measuring", __name__)
TOOL = "card_photo"
# How well a place is marked, as standard uncertainty in px: under the magnifier, or by a bare tap. Judged, no source.
AIMED_PX, TAPPED_PX = 1.5, 3.0
MOST_TYPED = 400
Point = tuple[float, float]


@dataclass(frozen=True, slots=True)
class Photo:
    """A kept photo to measure in: its size in px, and the focal length that its camera wrote, if any."""

    name: str
    size: tuple[int, int]
    film_mm: float | None


@measuring.get("/evaluations/<identity>/photo-length/<check>")
def page(identity: str, check: str) -> View:
    kept = _draft(identity, check)
    if kept.state != DRAFT:
        return redirect(url_for("results.result", identity=identity))
    photo = _photo(kept, request.args.get("photo", ""))
    return _page(kept, check, photo, (), request.args.get("wrong", "")[:MOST_TYPED])


@measuring.post("/evaluations/<identity>/photo-length/<check>/photo")
def take(identity: str, check: str) -> View:
    """Keep the photo that was taken for this length, then on to its marks."""
    _draft(identity, check)
    told = added(identity, check)
    wrong, photo = (told, None) if isinstance(told, str) else (None, told[-1])
    return redirect(url_for("measuring.page", identity=identity, check=check, wrong=wrong, photo=photo))


@measuring.post("/evaluations/<identity>/photo-length/<check>")
def mark(identity: str, check: str) -> View:
    """One more mark, or one less; the length when all are there; its reading when it is kept."""
    kept = _draft(identity, check)
    photo = _photo(kept, request.form.get("photo", ""))
    if photo is None or kept.state != DRAFT:
        return redirect(url_for("measuring.page", identity=identity, check=check))
    points = _points(request.form.get("marks", "")[:MOST_TYPED])
    if isinstance(points, str):
        return _page(kept, check, photo, (), points), 422
    tapped = _tapped()
    points = points[:-1] if request.form.get("go") == "less" else (*points, tapped) if tapped else points
    wanted = marks_asked(check)
    if len(points) < len(wanted):
        return _page(kept, check, photo, points, "")
    found = _measured(check, photo, points[: len(wanted)])
    if isinstance(found, Problem):
        return _page(kept, check, photo, points, sentence(found)), 422
    if request.form.get("go") != "keep":
        return _page(kept, check, photo, points, "", found)
    return _keep(kept, check, photo, points, found)


def _keep(kept: Kept, check: str, photo: Photo, points: tuple[Point, ...], found: PhotoLength) -> View:
    answer = {"reading": typed_reading(found), "unit": "mm", "tool": TOOL}
    rubric = service().rubric(kept.rubric)
    told = send(rubric, kept, plan_of(kept), [{"check": check, "answer": answer}], writer())
    if told and told[0]["problem"]:
        return _page(kept, check, photo, points, str(told[0]["problem"]), found), 422
    return redirect(url_for("looking.looks", identity=kept.id, kept=check))


def _measured(check: str, photo: Photo, points: tuple[Point, ...]) -> PhotoLength | Problem:
    u_px = AIMED_PX if request.form.get("aimed") == "yes" else TAPPED_PX
    return measured(Marks(points[:4], points[4:], u_px), lens_of(photo.size, photo.film_mm), LAYINGS[check])


def _draft(identity: str, check: str) -> Kept:
    kept = kept_or_404(identity)
    if check not in LAYINGS or check not in service().rubric(kept.rubric).checks:
        abort(404)
    return kept


def _photo(kept: Kept, name: str) -> Photo | None:
    """A photo of this evaluation by its name; None where it has none of that name."""
    told = next((one for one in _photos(kept) if one["name"] == name), None)
    place = photo_path(service().photos_folder, name) if told else None
    if told is None or place is None:
        return None
    return Photo(name, photo_size(place), float(told["film_mm"]) if told.get("film_mm") else None)


def _photos(kept: Kept) -> tuple[dict[str, str], ...]:
    """The photos of all looks, each once."""
    listed = [dict(one) for of_look in kept.typed.get("photos", {}).values() for one in of_look]
    return tuple({one["name"]: one for one in listed}.values())


def _tapped() -> Point | None:
    """The place in the picture that was tapped, as a browser sends it with a picture that is a button."""
    told = [request.form.get(f"tap.{axis}", "") for axis in "xy"]
    return (float(told[0]), float(told[1])) if all(one.isascii() and one.isdigit() for one in told) else None


def _points(text: str) -> tuple[Point, ...] | str:
    """The marks as typed, 'x,y; x,y'; or a sentence about the first that cannot be read."""
    found = []
    for part in (one.strip() for one in text.split(";") if one.strip()):
        figures = part.replace(",", " ").split()
        if len(figures) != 2 or not all(
            one.replace(".", "", 1).isascii() and one.replace(".", "", 1).isdigit() for one in figures
        ):
            return f'"{part[:40]}" is no mark. Write each as two numbers of picture points, for example 412,655.'
        found.append((float(figures[0]), float(figures[1])))
    return tuple(found)


def _page(
    kept: Kept, check: str, photo: Photo | None, points: tuple[Point, ...], wrong: str, found: PhotoLength | None = None
) -> str:
    asked: Check = service().rubric(kept.rubric).checks[check]
    wanted = marks_asked(check)
    return render_template(
        "looking/measuring.html",
        kept=kept,
        check=asked,
        asked=ASKED[check],
        photo=photo,
        photos=_photos(kept),
        points=points,
        marks="; ".join(f"{x:g},{y:g}" for x, y in points),
        wanted=wanted,
        next=wanted[len(points)] if len(points) < len(wanted) else "",
        wrong=wrong,
        found=found,
        told=length_words(found) if found else "",
        doubt=doubt_words(found) if found else "",
    )
