"""What both applications have, the shop's and the customers': settings, headers, and what templates may use."""

import secrets
from collections.abc import Callable

from flask import Flask, Response, request

from ...basis import show
from ...papers.valued.sales_story import lasting_sentence
from ...store.folders import templates_folder
from ...store.people import SESSION_HOLDS
from ...wording import names, phrases, reasons, shops, words
from ...wording import quotes as quote_words
from ...wording.answer.extras import known_words, when_words
from ...wording.answer.source import source_words
from ...wording.answer.verdict import words_of
from ..lighter import lighter
from ..mishaps import hang_mishaps
from ..people.limits import limiter
from ..result.pictures import picture, reading_picture
from ..service import Service, service
from ..understood import asked_price
from ..words import marked, word, words_again, words_met
from ..workshop.my_shop import follow
from ..workshop.opinions import follow_opinions

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
    app.jinja_env.globals.update(names=names, phrases=phrases, reasons=reasons, shops=shops, front=front)
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
        follow(service())
        follow_opinions(service())


def _with_headers(response: Response) -> Response:
    response.headers.update(HEADERS)
    if request.endpoint not in KEPT_BY_BROWSERS or response.status_code >= 400:
        response.headers["Cache-Control"] = "no-store"
    return response
