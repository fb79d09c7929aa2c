"""Who may see which page, and how often one address may try: what is not named here is the owner's, so a new page is
closed until somebody opens it; names, codes and private links cannot be guessed in a row.

A foreign Host header is refused: else a page elsewhere could make this service believe that it lies there. Tries are
counted in the memory of this process; where several serve one shop, Flask-Limiter takes a shared store by its address.
"""

from collections.abc import Mapping
from dataclasses import dataclass

from flask import Flask, Response, abort, redirect, render_template, request, url_for
from flask_limiter import Limiter
from flask_limiter.util import get_remote_address
from flask_login import LoginManager, current_user

from ...store.people import session_of
from ..looking.pages import View
from ..service import service

RANK: Mapping[str, int] = {"phone": 0, "assistant": 1, "luthier": 2, "owner": 3}
# Pages for everybody: how it looks, the way in, what a private link alone opens, and how a typed figure is read.
FOR_ALL = frozenset({
    "static", "offline.worker", "sheets.sheet", "people.sign_in", "people.come_in", "people.health", "understood.read",
    "api.openapi", "words_pages.every_word",
})  # fmt: skip
BY_LINK = frozenset({"feed", "guests"})
# Operations for programs: each asks for a token with its own scope, whoever sends it, and from which house.
BY_TOKEN = frozenset({"api"})
# The least rank that each subject asks for.
NEEDS: Mapping[str, str] = {
    "pages": "phone",
    "finding": "phone",
    "looking": "phone",
    "photos": "phone",
    "measuring": "phone",
    "readings": "phone",
    "results": "phone",
    "covering": "luthier",
    "identity": "assistant",
    "sections": "phone",
    "budget": "phone",
    "scale": "phone",
    "calculators": "phone",
    "renting": "phone",
    "owning": "phone",
    "invitations": "phone",
    "one_file": "phone",
    "decisions": "assistant",
    "sales": "assistant",
    "quotes": "assistant",
    "editing": "luthier",
    "bills": "assistant",
    "customers": "assistant",
    "board": "assistant",
    "remarks": "assistant",
    "again": "phone",
    "after": "assistant",
    "desk": "assistant",
    "fleets": "assistant",
    "offers": "assistant",
    "stock": "luthier",
    "year": "luthier",
    "bench": "luthier",
    "second_quotes": "luthier",
    "own_hours": "luthier",
    "learnt": "owner",
    "known_sales": "luthier",
    "one_sale": "luthier",
    "my_shop": "owner",
    "own_guide": "owner",
    "opinions": "owner",
    "moving": "owner",
}
NEEDS_ENDPOINT: Mapping[str, str] = {"people.sign_out": "phone"}
TRIES = "5 per minute; 30 per hour"
MISSES = "20 per minute; 200 per hour"
limiter = Limiter(get_remote_address, storage_uri="memory://", strategy="moving-window")


@dataclass(frozen=True, slots=True)
class Visitor:
    """Who sends this request. `token` is the cookie's; `name` stands in the record of what was done."""

    token: str
    name: str
    role: str
    is_active: bool = True
    is_authenticated: bool = True
    is_anonymous: bool = False

    def get_id(self) -> str:
        return self.token


def hang_doors(app: Flask) -> None:
    """Guard every page of the app."""
    manager = LoginManager(app)
    manager.session_protection = None  # the session ends by being withdrawn, not by a changed address of the phone
    manager.user_loader(_visitor)
    app.before_request(_guard)


def _visitor(token: str) -> Visitor | None:
    found = session_of(service().engine, token, service().now())
    return None if found is None else Visitor(token, found.label, found.role)


def may(role: str, endpoint: str) -> bool:
    """Whether somebody of this role may see the page."""
    subject = endpoint.partition(".")[0]
    needed = NEEDS_ENDPOINT.get(endpoint, NEEDS.get(subject, "owner"))
    return RANK[role] >= RANK[needed]


def role_now() -> str | None:
    """The role of whoever sends this request: the owner's in an open house, None for a stranger."""
    if service().house.open_:
        return "owner"
    return current_user.role if current_user.is_authenticated else None


def name_now() -> str:
    """How whoever sends this request is called in the record; empty in an open house."""
    return current_user.name if not service().house.open_ and current_user.is_authenticated else ""


def _guard() -> View | None:
    if not service().house.knows(request.host):
        return _told(400, "This service does not go by that name", "Open it by the address that it told at its start.")
    endpoint = request.endpoint
    if endpoint is None:
        return None
    if endpoint in FOR_ALL or endpoint.partition(".")[0] in BY_LINK | BY_TOKEN:
        return None
    role = role_now()
    if role is None:
        if request.method == "GET" and request.accept_mimetypes.best != "application/json":
            return redirect(url_for("people.sign_in", then=request.full_path.rstrip("?")))
        abort(403)
    if not may(role, endpoint):
        return _told(403, "This page is not yours to see", "Ask the owner to open it to you.")
    return None


def _told(code: int, title: str, text: str) -> tuple[str, int]:
    return render_template("error.html", title=title, text=text), code


def is_miss(response: Response) -> bool:
    """Whether a private link led nowhere."""
    return response.status_code == 404
