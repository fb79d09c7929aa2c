"""Photos of a look: taken or chosen on the phone, kept beside the database, shown with the answer."""

from flask import Blueprint, Response, abort, redirect, request, send_file, url_for

from ...basis.problem import Problem
from ...store.evaluations import DRAFT, add_photo, remove_photo
from ...store.photos import film_focal, keep_photo, photo_path
from ..service import service
from .answering import sentence
from .pages import View, kept_or_404

photos = Blueprint("photos", __name__)
MOST_A_LOOK = 6
A_YEAR = 31_536_000
ENVELOPE = 100_000  # what a form adds to the picture in it
MOST_NAME = 60


@photos.post("/evaluations/<identity>/photos/<check>")
def add(identity: str, check: str) -> View | tuple[dict[str, object], int]:
    """Keep a photo of this look; a script gets what became of it, a plain form goes back to the look."""
    kept = kept_or_404(identity)
    if check not in service().rubric(kept.rubric).checks:
        abort(404)
    told = added(identity, check)
    if request.accept_mimetypes.best == "application/json":
        wrong = isinstance(told, str)
        return {"problem": told if wrong else "", "photos": [] if wrong else list(told)}, 422 if wrong else 200
    said = told if isinstance(told, str) else ""
    return redirect(url_for("looking.looks", identity=identity, at=check, photo=said))


def added(identity: str, check: str) -> tuple[str, ...] | str:
    """Names of the look's photos with the one that was sent, last; or one sentence that says why not."""
    kept = kept_or_404(identity)
    before = kept.typed.get("photos", {}).get(check, ())
    if kept.state != DRAFT:
        return "This evaluation is finished. Look again to add a photo."
    if len(before) >= MOST_A_LOOK:
        return f"A look holds {MOST_A_LOOK} photos. Take one off first."
    sent = request.files.get("photo")
    content = sent.read() if sent else b""
    name = keep_photo(service().photos_folder, content)
    if isinstance(name, Problem):
        return sentence(name)
    given = {"by": request.form.get("by", "")[:MOST_NAME].strip(), "at": service().now()}
    focal = film_focal(content)  # the one thing that is kept of what a camera writes: a length in the photo needs it
    given |= {} if focal is None else {"film_mm": f"{focal:g}"}
    saved = add_photo(service().engine, identity, check, {"name": name, **given}, service().now())
    return tuple(photo["name"] for photo in (saved.typed if saved else kept.typed).get("photos", {}).get(check, ()))


@photos.post("/evaluations/<identity>/photos/<check>/remove")
def remove(identity: str, check: str) -> View:
    kept_or_404(identity)
    remove_photo(service().engine, identity, check, request.form.get("name", ""), service().now())
    return redirect(url_for("looking.looks", identity=identity, at=check))


@photos.get("/photos/<name>.jpg")
def photo(name: str) -> Response:
    place = photo_path(service().photos_folder, name)
    if place is None:
        abort(404)
    response = send_file(place.resolve(), mimetype="image/jpeg", max_age=A_YEAR)
    response.headers["Cache-Control"] = f"private, max-age={A_YEAR}, immutable"
    return response
