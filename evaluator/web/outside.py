"""The application that those outside the shop meet, a quote behind its private link and nothing else; and the frame
that it has in common with the shop's: settings, headers, what templates may use, and files packed for the way to a
phone.

It has its own addresses, its own cookie under a key of its own, and no page of the shop: what it does not name it
cannot show, whatever is added to the shop's. Both answer at one address; the path decides which.
"""

import gzip
import secrets
from collections.abc import Callable, Iterable
from functools import lru_cache
from hashlib import sha256
from typing import TYPE_CHECKING

from flask import Flask, Response, render_template, request
from flask_wtf.csrf import CSRFProtect
from werkzeug.wrappers import Response as AnyResponse

from ..basis import show
from ..papers.valued.sales_story import lasting_sentence
from ..store.folders import templates_folder
from ..store.people import SESSION_HOLDS
from ..store.workshop.figures import newest_versions
from ..wording import names, phrases, reasons, words
from ..wording import quotes as quote_words
from ..wording.answer import source
from ..wording.answer.extras import known_words, when_words
from ..wording.answer.source import source_words
from ..wording.answer.verdict import words_of
from .asked import asked_price, understood
from .mishaps import hang_mishaps
from .people.doors import limiter
from .people.house import CUSTOMERS
from .quoting.customer import quote_link
from .result.pictures import picture, reading_picture
from .service import Service, service
from .words import marked, word, words_again, words_met
from .workshop.my_shop import follow
from .workshop.opinions import follow_opinions

if TYPE_CHECKING:
    from _typeshed.wsgi import StartResponse, WSGIApplication, WSGIEnvironment


MOST_BYTES = 1_000_000
HEADERS = {
    "Content-Security-Policy": (
        "default-src 'self'; img-src 'self' blob:; object-src 'none'; base-uri 'none'; form-action 'self'; "
        "frame-ancestors 'none'"  # blob: a photo just taken is shown before the net has it
    ),
    "X-Content-Type-Options": "nosniff",
    "Referrer-Policy": "same-origin",
    "Permissions-Policy": "camera=(), microphone=(), geolocation=()",
    "Cross-Origin-Opener-Policy": "same-origin",
}
KEPT_BY_BROWSERS = {"static", "sheets.sheet", "photos.photo"}
PACKED = frozenset({"text/css", "text/javascript", "application/javascript", "image/svg+xml", "application/json"})
FILES = frozenset({"static", "sheets.sheet", "looking.told", "guests.told"})  # nothing typed and no secret in them
WORTH_IT = 500  # bytes


def customers_app(service: Service, key: str) -> Flask:
    """The application for customers; `key` is the shop's, from which another is made."""
    app = framed(service, sha256(f"customers {key}".encode()).hexdigest(), lambda: "", f"{CUSTOMERS}/static")
    app.config.update(SESSION_COOKIE_NAME="customer", SESSION_COOKIE_PATH=CUSTOMERS)
    app.before_request(_known_host)
    app.before_request(follow_figures)
    CSRFProtect(app)
    app.register_blueprint(quote_link)
    app.register_blueprint(understood, url_prefix=CUSTOMERS)
    return app


def _known_host() -> tuple[str, int] | AnyResponse | None:
    """A foreign Host header is refused here too."""
    if service().house.knows(request.host):
        return None
    title, text = "This service does not go by that name", "Open the link as it was sent to you."
    return render_template("error.html", title=title, text=text), 400


def by_door(shop: "WSGIApplication", customers: "WSGIApplication") -> "WSGIApplication":
    """Both as one: what begins with the customers' path is theirs, all else the shop's."""

    def answer(environ: "WSGIEnvironment", start: "StartResponse") -> Iterable[bytes]:
        path = environ.get("PATH_INFO", "")
        theirs = path == CUSTOMERS or path.startswith(f"{CUSTOMERS}/")
        return (customers if theirs else shop)(environ, start)

    return answer


def framed(service: Service, key: str, front: Callable[[], str], static: str = "/static") -> Flask:
    """An application without a page yet. `front`: the address of its front page, empty where it has none; `static`:
    under which its styles and scripts lie.
    """
    app = Flask(
        "evaluator.web.app", template_folder=str(templates_folder()), static_folder="static", static_url_path=static
    )
    app.config.update(
        SECRET_KEY=key or secrets.token_hex(32),
        MAX_CONTENT_LENGTH=MOST_BYTES,
        MAX_FORM_PARTS=2_000,
        WTF_CSRF_TIME_LIMIT=None,
        SESSION_COOKIE_SAMESITE="Lax",
        SESSION_COOKIE_HTTPONLY=True,
        SESSION_COOKIE_SECURE=service.house.address.startswith("https://"),
        PERMANENT_SESSION_LIFETIME=SESSION_HOLDS,
        RATELIMIT_HEADERS_ENABLED=False,
    )
    app.jinja_env.trim_blocks = app.jinja_env.lstrip_blocks = True
    app.jinja_env.globals.update(names=names, phrases=phrases, reasons=reasons, shops=source, front=front)
    app.jinja_env.globals.update(show=show, words=words, quote_words=quote_words, picture=picture)
    app.jinja_env.globals.update(reading_picture=reading_picture, asked_price=asked_price)
    app.jinja_env.globals.update(lasting_sentence=lasting_sentence, words_of=words_of, source_words=source_words)
    app.jinja_env.globals.update(when_words=when_words, known_words=known_words)
    app.jinja_env.globals.update(marked=marked, word=word, words_again=words_again, words_met=words_met)
    app.extensions["evaluator"] = service
    limiter.init_app(app)
    app.after_request(_with_headers)
    app.after_request(lighter)
    hang_mishaps(app)
    return app


def follow_figures() -> None:
    """Before a page: the shop's figures and opinions as they were saved last, also by another process."""
    if request.endpoint not in KEPT_BY_BROWSERS:
        figures, opinions = newest_versions(service().engine)
        follow(service(), figures)
        follow_opinions(service(), opinions)


def _with_headers(response: Response) -> Response:
    response.headers.update(HEADERS)
    if request.endpoint not in KEPT_BY_BROWSERS or response.status_code >= 400:
        response.headers["Cache-Control"] = "no-store"
    return response


def lighter(response: Response) -> Response:
    """The style, script or drawing as gzip, where the browser takes that. Pages are not packed: one that holds a secret
    beside what somebody typed tells by its packed length what the secret is (the attack called BREACH, 2013).
    """
    if request.endpoint not in FILES or response.mimetype not in PACKED or response.status_code != 200:
        return response
    response.vary.add("Accept-Encoding")
    if request.accept_encodings["gzip"] <= 0 or request.range:
        return response
    response.direct_passthrough = False
    content = response.get_data()
    if len(content) >= WORTH_IT:
        response.set_data(_packed(content))
        response.headers["Content-Encoding"] = "gzip"
    return response


@lru_cache(maxsize=64)
def _packed(content: bytes) -> bytes:
    return gzip.compress(content, mtime=0)
