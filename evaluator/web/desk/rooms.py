"""The rooms of the shop's desk, each with its own doors."""

from .fleet import fleets
from .front import desk
from .learnt import learnt
from .moving import moving, one_file
from .offers import offers
from .programs import programs
from .stock import stock
from .year import year

DESK = (desk, fleets, learnt, moving, offers, one_file, programs, stock, year)
