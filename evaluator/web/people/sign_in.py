"""The way in: name and password, or a one-time code from the computer's screen; and the way out."""

from argon2 import PasswordHasher
from argon2.exceptions import InvalidHashError, VerificationError
from flask import Blueprint, redirect, render_template, request, session, url_for
from flask_login import current_user, login_user, logout_user

from ...store.engine import reading
from ...store.people import begin_session, find_person, hashed, note_deed, use_code, withdraw_session
from ..looking.pages import View
from ..service import service
from .doors import TRIES, Visitor, limiter

people = Blueprint("people", __name__)
HASHER = PasswordHasher()
MOST_TYPED = 200
# Checked where the name is unknown, so that a wrong name takes as long as a wrong password.
NOBODY = HASHER.hash("nobody")
WRONG = "Name and password do not fit. Look at both, or ask the owner for a new password."
WRONG_CODE = "This code does not open, or was used, or is older than twenty minutes. Ask for a new one."


@people.get("/health")
def health() -> dict[str, str]:
    """That it runs and its database answers, for whoever watches over it; else 503 (`web.mishaps`). It is open to all,
    so it tells nothing else.
    """
    with reading(service().engine) as connection:
        connection.exec_driver_sql("SELECT 1")
    return {"status": "well"}


@people.route("/sign-in", methods=["GET", "POST"])
@limiter.limit(TRIES, methods=["POST"])
def sign_in() -> View:
    then = _inside(request.values.get("then", ""))
    if request.method == "GET":
        return render_template("people/sign_in.html", then=then, wrong="", typed="")
    name, password = (request.form.get(key, "")[:MOST_TYPED] for key in ("name", "password"))
    person = find_person(service().engine, name.strip())
    if not _fits(person.password_hash if person else NOBODY, password) or person is None:
        return render_template("people/sign_in.html", then=then, wrong=WRONG, typed=name), 422
    _let_in(person.role, person.name, person.id)
    return redirect(then or url_for("pages.front"))


@people.route("/in", methods=["GET", "POST"])
@limiter.limit(TRIES, methods=["POST"])
def come_in() -> View:
    """A code opens with one press, so that whoever only previews its link does not use it up."""
    code = request.values.get("code", "")[:MOST_TYPED]
    if request.method == "GET":
        return render_template("people/come_in.html", code=code, name="", wrong="")
    name = request.form.get("name", "").strip()[:60]
    role = use_code(service().engine, code, service().now())
    if role is None:
        return render_template("people/come_in.html", code=code, name=name, wrong=WRONG_CODE), 422
    label = name or {"owner": "this computer", "phone": "a phone"}.get(role, role)
    _let_in(role, label, None)
    return redirect(url_for("pages.front"))


@people.post("/sign-out")
def sign_out() -> View:
    if current_user.is_authenticated:
        withdraw_session(service().engine, hashed(current_user.token), service().now())
    logout_user()
    return redirect(url_for("people.sign_in"))


def _let_in(role: str, label: str, person: str | None) -> None:
    now = service().now()
    token = begin_session(service().engine, role, label, now, person)
    session.permanent = True  # until it ends or is withdrawn, also where the phone closes its browser
    login_user(Visitor(token, label, role))
    note_deed(service().engine, now, label, "came in", role)


def _fits(kept: str, password: str) -> bool:
    try:
        return HASHER.verify(kept, password)
    except (VerificationError, InvalidHashError):
        return False


def _inside(path: str) -> str:
    """A path of this service to go on to; anything else is dropped, so that nobody is led elsewhere."""
    return path if path.startswith("/") and not path.startswith(("//", "/\\")) and "\\" not in path else ""
