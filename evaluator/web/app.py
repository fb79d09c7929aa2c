"""The Flask app: settings, headers, error pages, and what templates may use."""

import secrets

from flask import Flask, Response, request
from flask_wtf.csrf import CSRFProtect

from ..basis import show
from ..fleet.sources import MOST_SHEET
from ..papers.valued.sales_story import lasting_sentence
from ..store.folders import templates_folder
from ..store.people import SESSION_HOLDS
from ..store.photos import MOST_BYTES as PHOTO_BYTES
from ..wording import names, phrases, reasons, shops, words
from ..wording import quotes as quote_words
from ..wording.answer.source import source_words
from ..wording.answer.verdict import words_of
from .api.routes import api, limited
from .calculators import calculators
from .choosing.decisions import decisions
from .choosing.known_sales import known_sales
from .choosing.one_sale import one_sale
from .choosing.own_guide import own_guide
from .choosing.owning import owning
from .choosing.renting import renting
from .choosing.sales import sales
from .desk.moving import MOST_ARCHIVE
from .desk.rooms import DESK
from .finding.finding import finding
from .lighter import lighter
from .looking.looks import looking
from .looking.measuring import measuring
from .looking.pages import pages
from .looking.photos import ENVELOPE, photos
from .looking.readings import readings
from .looking.sheets import sheets
from .mishaps import hang_mishaps
from .offline import offline
from .people.doors import hang_doors
from .people.guests import guests, invitations
from .people.limits import limiter
from .people.sign_in import people
from .people.team import team
from .quoting.after import after
from .quoting.bench import bench
from .quoting.customer import quote_link
from .quoting.own_hours import own_hours
from .quoting.quotes import quotes
from .quoting.second_quotes import second
from .records.pages import records
from .result.budget import budget
from .result.covering import covering
from .result.pictures import picture, reading_picture
from .result.results import results
from .result.sections import sections
from .service import Service, service
from .understood import understood
from .words import marked, word, words_again, words_met, words_pages
from .workshop.my_shop import follow
from .workshop.opinions import follow_opinions
from .workshop.rooms import ROOMS

MOST_BYTES = 1_000_000
HEADERS = {
    "Content-Security-Policy": (
        "default-src 'self'; object-src 'none'; base-uri 'none'; form-action 'self'; frame-ancestors 'none'"
    ),
    "X-Content-Type-Options": "nosniff",
    "Referrer-Policy": "same-origin",
    "Permissions-Policy": "camera=(), microphone=(), geolocation=()",
    "Cross-Origin-Opener-Policy": "same-origin",
}

ROOM = {
    "photos.add": PHOTO_BYTES,
    "measuring.take": PHOTO_BYTES,
    "my_shop.logo": PHOTO_BYTES,
    "my_shop.signature": PHOTO_BYTES,
    "fleets.send": MOST_SHEET,
    "moving.bring": MOST_ARCHIVE,
}  # what takes files that are larger than a page
KEPT_BY_BROWSERS = {"static", "sheets.sheet", "photos.photo"}


def create_app(service: Service, secret_key: str | None = None) -> Flask:
    """The app around one service; without a key a random one is made, and open forms end with the process."""
    app = Flask(__name__, template_folder=str(templates_folder()))
    app.config.update(
        SECRET_KEY=secret_key or secrets.token_hex(32),
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
    app.jinja_env.globals.update(names=names, phrases=phrases, reasons=reasons, shops=shops)
    app.jinja_env.globals.update(show=show, words=words, quote_words=quote_words, picture=picture)
    app.jinja_env.globals.update(reading_picture=reading_picture)
    app.jinja_env.globals.update(lasting_sentence=lasting_sentence, words_of=words_of, source_words=source_words)
    app.jinja_env.globals.update(marked=marked, word=word, words_again=words_again, words_met=words_met)
    app.extensions["evaluator"] = service
    hang_doors(app)
    limiter.init_app(app)
    app.before_request(_own_figures)
    app.before_request(_room_for_photos)  # before the form is read for its token
    protect = CSRFProtect(app)
    app.register_blueprint(pages)
    app.register_blueprint(calculators)
    app.register_blueprint(results)
    app.register_blueprint(covering)
    app.register_blueprint(sections)
    app.register_blueprint(looking)
    app.register_blueprint(sheets)
    app.register_blueprint(photos)
    app.register_blueprint(measuring)
    app.register_blueprint(offline)
    app.register_blueprint(finding)
    for blueprint in (people, team, invitations, guests):
        app.register_blueprint(blueprint)
    app.register_blueprint(readings)
    for blueprint in (quotes, quote_link, bench, second, after, own_hours, budget):
        app.register_blueprint(blueprint)
    app.register_blueprint(decisions)
    app.register_blueprint(sales)
    app.register_blueprint(known_sales)
    app.register_blueprint(one_sale)
    app.register_blueprint(owning)
    app.register_blueprint(own_guide)
    app.register_blueprint(renting)
    app.register_blueprint(understood)
    app.register_blueprint(words_pages)
    app.register_blueprint(records)
    for blueprint in ROOMS:
        app.register_blueprint(blueprint)
    for blueprint in DESK:
        app.register_blueprint(blueprint)
    limited(app)
    protect.exempt(api)  # a token is sent by a program and by nothing else
    app.after_request(_with_headers)
    app.after_request(lighter)
    hang_mishaps(app)
    return app


def _own_figures() -> None:
    if request.endpoint not in KEPT_BY_BROWSERS:
        follow(service())
        follow_opinions(service())


def _room_for_photos() -> None:
    if request.endpoint in ROOM:
        request.max_content_length = ROOM[request.endpoint] + ENVELOPE


def _with_headers(response: Response) -> Response:
    response.headers.update(HEADERS)
    if request.endpoint not in KEPT_BY_BROWSERS or response.status_code >= 400:
        response.headers["Cache-Control"] = "no-store"
    return response
