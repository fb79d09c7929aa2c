"""The rooms of the shop's desk, each with its own doors."""

from .fleet import fleets
from .front import desk
from .moving import moving, one_file
from .programs import programs

DESK = (desk, fleets, moving, one_file, programs)
