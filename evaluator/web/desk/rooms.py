"""The rooms of the shop's desk, each with its own doors, and the page on which its work begins."""

from flask import Blueprint, render_template

from ..looking.pages import View
from ..people.doors import may, role_now
from .fleet import fleets
from .learnt import learnt
from .moving import moving, one_file
from .offers import offers
from .programs import programs
from .stock import stock
from .year import year

desk = Blueprint("desk", __name__)
DESK = (desk, fleets, learnt, moving, offers, one_file, programs, stock, year)

# Endpoint, what it is called, what it is for.
WAYS = (
    ("offers.every", "Offers", "What was offered for instruments, until when, and how it was answered."),
    ("stock.every", "Our stock", "What is ours: cost so far, price tag, sold."),
    ("fleets.page", "A fleet in one go", "Sixty instruments from a folder or a sheet: a table, and a paper each."),
    ("moving.page", "Everything out and in", "One archive of open formats, and back into this or another house."),
    ("year.page", "The year in figures", "What fails most, hours, open work, stock, offers, and how well we foretold."),
    ("programs.page", "Other programs", "Tokens for programs that read and write here, each for what it needs."),
    ("records.overview", "Records and backups", "Whether all is well, how old the backup is, and making one now."),
)


@desk.get("/desk")
def front() -> View:
    role = role_now()
    ways = [one for one in WAYS if role is not None and may(role, one[0])]
    return render_template("desk/front.html", ways=ways)
