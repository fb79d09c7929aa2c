"""The owner's page: who belongs here, who is in now, letting a phone in, and what was done."""

import segno
from flask import Blueprint, redirect, render_template, request, url_for
from markupsafe import Markup

from ...store.people import (
    add_person,
    everybody,
    last_deeds,
    make_code,
    note_deed,
    sessions_now,
    take_off,
    withdraw_session,
)
from ..looking.pages import View
from ..service import service
from .doors import name_now
from .sign_in import HASHER

team = Blueprint("team", __name__)
LEAST_PASSWORD, MOST_PASSWORD = 10, 200
MOST_NAME = 60
ROLES = {
    "owner": "Owner: everything, people too",
    "luthier": "Luthier: looks, quotes, the bench, sales",
    "assistant": "Assistant: looks, results, quotes",
}


@team.get("/people")
def everyone() -> str:
    return _page()


@team.post("/people")
def add() -> View:
    name, role = request.form.get("name", "").strip(), request.form.get("role", "")
    password = request.form.get("password", "")
    wrong = _wrong(name, role, password)
    if wrong:
        return _page(wrong=wrong, typed=name), 422
    now = service().now()
    if add_person(service().engine, name, role, HASHER.hash(password), now) is None:
        return _page(wrong=f"Somebody is called {name} already. Choose another name.", typed=name), 422
    note_deed(service().engine, now, name_now(), "added a person", f"{name}, {role}")
    return redirect(url_for("team.everyone"))


def _wrong(name: str, role: str, password: str) -> str:
    if not name or len(name) > MOST_NAME:
        return f"Enter a name of at most {MOST_NAME} letters."
    if role not in ROLES:
        return "Choose what this person does."
    if not LEAST_PASSWORD <= len(password) <= MOST_PASSWORD:
        return f"Choose a password of {LEAST_PASSWORD} letters or more; four plain words are good."
    return ""


@team.post("/people/<identity>/leave")
def leave(identity: str) -> View:
    now = service().now()
    if not take_off(service().engine, identity, now):
        return _page(wrong="This is the only owner. Make another person owner first."), 422
    note_deed(service().engine, now, name_now(), "took a person off", identity)
    return redirect(url_for("team.everyone"))


@team.post("/people/sessions/<key>/out")
def show_out(key: str) -> View:
    now = service().now()
    withdraw_session(service().engine, key, now)
    note_deed(service().engine, now, name_now(), "showed a browser out", key[:8])
    return redirect(url_for("team.everyone"))


@team.post("/people/phone")
def phone() -> View:
    """A fresh code for one phone, as letters and as a QR code; shown once."""
    code = make_code(service().engine, "phone", service().now())
    note_deed(service().engine, service().now(), name_now(), "made a code for a phone", "")
    address = service().house.link(url_for("people.come_in", code=code))
    return render_template("people/phone.html", code=code, address=address, drawn=qr(address))


def qr(text: str) -> Markup:
    """A QR code as inline SVG: dark on white by day and night, since a camera needs it so."""
    return Markup(
        segno.make(text, error="m").svg_inline(scale=6, border=3, light="white", lineclass=None, svgclass="qr")
    )


def _page(wrong: str = "", typed: str = "") -> str:
    engine, now = service().engine, service().now()
    return render_template(
        "people/team.html",
        house=service().house,
        people=everybody(engine),
        sessions=sessions_now(engine, now),
        deeds=last_deeds(engine, 40),
        roles=ROLES,
        wrong=wrong,
        typed=typed,
    )
