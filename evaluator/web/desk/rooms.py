"""The rooms of the shop's desk, each with its own doors."""

from .fleet import fleets
from .front import desk
from .programs import programs

DESK = (desk, fleets, programs)
