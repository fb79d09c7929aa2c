"""The owner's page for other programs: tokens, each for what it needs, made, seen once, and withdrawn."""

from collections.abc import Mapping

from flask import Blueprint, redirect, render_template, request, url_for

from ...store.desk.tokens import all_tokens, make_token, withdraw_token
from ...store.people import note_deed
from ..api.operations import SCOPES, Scope
from ..api.problems import BASE
from ..looking.pages import View
from ..people.doors import name_now
from ..service import service

programs = Blueprint("programs", __name__)

MOST_NAME = 60
HOLDS: Mapping[str, tuple[str, int | None]] = {
    "90": ("ninety days", 90),
    "365": ("a year", 365),
    "": ("until it is withdrawn", None),
}


@programs.get("/programs")
def page() -> View:
    return _page()


@programs.post("/programs")
def make() -> View:
    """A new token, shown this once."""
    label = " ".join(request.form.get("label", "").split())
    scopes: tuple[Scope, ...] = tuple(name for name in SCOPES if name in request.form.getlist("scopes"))
    if not label or len(label) > MOST_NAME:
        return _page(f"Say which program it is for, in at most {MOST_NAME} letters.", label, scopes), 422
    if not scopes:
        return _page("Tick what it may do.", label, scopes), 422
    _, days = HOLDS.get(request.form.get("holds", "90"), HOLDS["90"])
    now = service().now()
    token = make_token(service().engine, label, scopes, now, days)
    note_deed(service().engine, now, name_now(), "made a token", f"{label}: {', '.join(scopes)}")
    return _page(token=token)


@programs.post("/programs/<key>/withdraw")
def withdraw(key: str) -> View:
    now = service().now()
    label = withdraw_token(service().engine, key, now)
    if label:
        note_deed(service().engine, now, name_now(), "withdrew a token", label)
    return redirect(url_for("programs.page"))


def _page(wrong: str = "", label: str = "", chosen: tuple[Scope, ...] = (), token: str = "") -> str:
    return render_template(
        "desk/programs.html",
        tokens=all_tokens(service().engine),
        scopes=SCOPES,
        holds={value: say for value, (say, _) in HOLDS.items()},
        wrong=wrong,
        label=label,
        chosen=chosen,
        token=token,
        base=service().house.link(BASE),
        document=url_for("api.openapi"),
        now=service().now(),
    )
