"""The shop's application: all its rooms behind their doors, the desk from which the shop's work begins, and the
customers' application beside it.
"""

import secrets

from flask import Blueprint, Flask, render_template, request, url_for
from flask_wtf.csrf import CSRFProtect

from ..fleet.sources import MOST_SHEET
from ..store.photos import MOST_BYTES as PHOTO_BYTES
from .api.routes import api, limited
from .asked import understood
from .calculators import calculators
from .choosing.decisions import decisions
from .choosing.known_sales import known_sales
from .choosing.one_sale import one_sale
from .choosing.own_guide import own_guide
from .choosing.owning import owning
from .choosing.renting import renting
from .choosing.sales import sales
from .desk.fleet import fleets
from .desk.learnt import learnt
from .desk.offers import offers
from .desk.programs import programs
from .desk.records import MOST_ARCHIVE, moving, one_file, records
from .desk.stock import stock
from .desk.year import year
from .finding import finding
from .looking.looks import looking
from .looking.measuring import measuring
from .looking.pages import View, pages
from .looking.photos import ENVELOPE, photos
from .looking.readings import readings
from .looking.sending import offline
from .looking.sheets import sheets
from .outside import by_door, customers_app, follow_figures, framed
from .people.doors import hang_doors, may, role_now
from .people.guests import guests, invitations
from .people.sign_in import people
from .people.team import team
from .quoting.after import after
from .quoting.bench import bench
from .quoting.drafts import hours_page
from .quoting.quotes import quotes, remarks
from .quoting.second_quotes import second
from .result.house_style import covering
from .result.identity import identity
from .result.results import results
from .result.sections import budget, sections
from .service import Service
from .words import words_pages
from .workshop.again import again
from .workshop.bills import bills
from .workshop.board import board, feed
from .workshop.customers import customers
from .workshop.editing import editing
from .workshop.my_shop import my_shop
from .workshop.opinions import opinions
from .workshop.scale import scale

desk = Blueprint("desk", __name__)
ROOMS: tuple[Blueprint, ...] = (
    pages, calculators, results, covering, identity, sections, looking, sheets, photos, measuring, offline, finding,
    people, team, invitations, guests, readings, quotes, bench, second, after, hours_page, budget,
    decisions, sales, known_sales, one_sale, owning, own_guide, renting, understood, words_pages, records,
    my_shop, editing, bills, customers, again, scale, board, feed, opinions, remarks,
    desk, fleets, learnt, moving, offers, one_file, programs, stock, year,
)  # fmt: skip
# What the desk leads to: endpoint, what it is called, what it is for.
WAYS = (
    ("offers.every", "Offers", "What was offered for instruments, until when, and how it was answered."),
    ("stock.every", "Our stock", "What is ours: cost so far, price tag, sold."),
    ("fleets.page", "A fleet in one go", "Sixty instruments from a folder or a sheet: a table, and a paper each."),
    ("moving.page", "Everything out and in", "One archive of open formats, and back into this or another house."),
    ("year.page", "The year in figures", "What fails most, hours, open work, stock, offers, and how well we foretold."),
    ("programs.page", "Other programs", "Tokens for programs that read and write here, each for what it needs."),
    ("records.overview", "Records and backups", "Whether all is well, how old the backup is, and making one now."),
)

LARGER = {
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
    for blueprint in ROOMS:
        app.register_blueprint(blueprint)
    limited(app)
    protect.exempt(api)  # a token is sent by a program and by nothing else
    theirs = app.extensions["customers"] = customers_app(service, key)
    app.wsgi_app = by_door(app.wsgi_app, theirs)  # type: ignore[method-assign,assignment]
    return app


def _room_for_photos() -> None:
    if request.endpoint in LARGER:
        request.max_content_length = LARGER[request.endpoint] + ENVELOPE


@desk.get("/desk")
def front() -> View:
    """The desk, with the ways that whoever asks may go."""
    role = role_now()
    ways = [one for one in WAYS if role is not None and may(role, one[0])]
    return render_template("desk/front.html", ways=ways)
