"""What a visitor sees when something does not work: a page that says what to do, and keeps what was typed."""

import logging
import re
import secrets
import traceback

from flask import Flask, current_app, jsonify, render_template, request
from flask_wtf.csrf import CSRFError
from werkzeug.exceptions import HTTPException
from werkzeug.wrappers import Response as AnyResponse

from ..store.faults import fault_of
from .api.problems import RefusedError, is_for_programs, refused
from .api.problems import told as refusal_for_programs
from .service import service

View = str | AnyResponse | tuple[str, int] | tuple[AnyResponse, int]
HEALTH = "people.health"
TOKEN = "csrf_token"
CHOICE = re.compile(r"[a-z0-9_/]*")  # what was chosen, not typed
UNSEEN = frozenset({"version", "writer", "go", "seen", "currency"})  # what a form sends besides what was typed

log = logging.getLogger(__name__)


def hang_mishaps(app: Flask) -> None:
    """Tell every mistake, fault and bug of the app by a page of its own."""
    app.register_error_handler(CSRFError, form_too_old)
    app.register_error_handler(HTTPException, told)
    app.register_error_handler(Exception, fault_or_bug)


SAID = {
    400: ("This page could not read what was sent", "Go back, look at what you typed, and send it again."),
    403: ("This page is not yours to see", "Sign in, or ask the owner to open it to you."),
    404: ("There is no such page", "Go to the front page and choose from there."),
    405: ("This page does not take that", "Go back and use the buttons of the page."),
    429: ("Those were many tries", "Wait a minute, then try once more."),
    413: ("That is too much for one page", "Shorten your notes and send it again."),
}
TOO_LARGE = ("That file is too large", "Go back, where all you typed still stands, and send a smaller one.")
OUTSIDE = {404: ("There is no such page", "Open the link whole, as it was sent to you, or ask for a new one.")}


def told(error: HTTPException) -> View:
    if is_for_programs():
        return refusal_for_programs(error)
    code = error.code or 500
    if code == 413 and request.mimetype == "multipart/form-data":
        return render_template("error.html", title=TOO_LARGE[0], text=TOO_LARGE[1]), code
    said = SAID if "customers" in current_app.extensions else SAID | OUTSIDE
    title, text = said.get(code, ("This did not work", "Go back and try again."))
    return render_template("error.html", title=title, text=text), code


def form_too_old(_error: CSRFError) -> tuple[str, int]:
    text = "The page was open since before the service started again. Go back, reload it, and send it once more."
    return render_template("error.html", title="This page is too old to be saved", text=text), 400


def fault_or_bug(error: Exception) -> View:
    """What the world did to the records, with what was typed ready to be sent again; else a bug with its number."""
    fault = fault_of(error, service().photos_folder.parent)
    if fault is None:
        return _bug(error)
    log.error("at %s: %s: %s", request.url_rule, fault.code, error.__class__.__name__)
    if is_for_programs():
        return refused(RefusedError("unavailable", f"{fault.what} {fault.what_to_do}"))
    if request.endpoint == HEALTH:
        return jsonify(status="not well", say=fault.what), 503
    if request.is_json or request.accept_mimetypes.best == "application/json":
        return jsonify(say=f"{fault.what} {fault.what_to_do}"), 503
    fields = [(name, value) for name, value in request.form.items(multi=True) if name != TOKEN]
    secret = any("password" in name for name, _ in fields)
    page = render_template(
        "fault.html",
        fault=fault,
        sent=[] if secret else fields,
        shown=[] if secret else [value for name, value in fields if name not in UNSEEN and not CHOICE.fullmatch(value)],
        action=request.full_path.rstrip("?"),
        files=[file.filename for file in request.files.values() if file.filename],
        may_send=request.method == "POST" and not secret and not request.files,
    )
    return page, 503


def _bug(error: Exception) -> View:
    """The log names the page's rule, the kind of the error and where it arose: no address, no text of anybody's."""
    reference = secrets.token_hex(4)
    frames = "".join(traceback.format_tb(error.__traceback__))
    log.error("bug %s at %s: %s\n%s", reference, request.url_rule, type(error).__qualname__, frames)
    if is_for_programs():
        return refused(RefusedError("fault", f"Nothing was changed. Tell us the number {reference}."))
    text = f"The fault is ours, and nothing was changed. If it comes again, tell us the number {reference}."
    return render_template("error.html", title="Something went wrong in the program", text=text), 500
