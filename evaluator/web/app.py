"""The shop's application: all its pages behind their doors, with the customers' beside it."""

import secrets

from flask import Flask, request, url_for
from flask_wtf.csrf import CSRFProtect

from ..fleet.sources import MOST_SHEET
from ..store.photos import MOST_BYTES as PHOTO_BYTES
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
from .looking.looks import looking
from .looking.measuring import measuring
from .looking.pages import pages
from .looking.photos import ENVELOPE, photos
from .looking.readings import readings
from .looking.sheets import sheets
from .offline import offline
from .outside.customers import by_door, customers_app
from .outside.frame import follow_figures, framed
from .people.doors import hang_doors
from .people.guests import guests, invitations
from .people.sign_in import people
from .people.team import team
from .quoting.after import after
from .quoting.bench import bench
from .quoting.own_hours import own_hours
from .quoting.quotes import quotes
from .quoting.second_quotes import second
from .records.pages import records
from .result.budget import budget
from .result.covering import covering
from .result.identity import identity
from .result.results import results
from .result.sections import sections
from .service import Service
from .understood import understood
from .words import words_pages
from .workshop.rooms import ROOMS

ROOM = {
    "photos.add": PHOTO_BYTES,
    "identity.keep": PHOTO_BYTES,
    "measuring.take": PHOTO_BYTES,
    "my_shop.logo": PHOTO_BYTES,
    "my_shop.signature": PHOTO_BYTES,
    "fleets.send": MOST_SHEET,
    "moving.bring": MOST_ARCHIVE,
}  # what takes files that are larger than a page


def create_app(service: Service, secret_key: str | None = None) -> Flask:
    """The shop's app around one service, the customers' beside it; without a key a random one is made, and open forms
    end with the process.
    """
    key = secret_key or secrets.token_hex(32)
    app = framed(service, key, lambda: url_for("pages.front"))
    hang_doors(app)
    app.before_request(follow_figures)
    app.before_request(_room_for_photos)  # before the form is read for its token
    protect = CSRFProtect(app)
    app.register_blueprint(pages)
    app.register_blueprint(calculators)
    app.register_blueprint(results)
    app.register_blueprint(covering)
    app.register_blueprint(identity)
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
    for blueprint in (quotes, bench, second, after, own_hours, budget):
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
    customers = app.extensions["customers"] = customers_app(service, key)
    app.wsgi_app = by_door(app.wsgi_app, customers)  # type: ignore[method-assign,assignment]
    return app


def _room_for_photos() -> None:
    if request.endpoint in ROOM:
        request.max_content_length = ROOM[request.endpoint] + ENVELOPE
