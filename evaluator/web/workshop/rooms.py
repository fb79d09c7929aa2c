"""The pages of the workshop's days, by subject."""

from flask import Blueprint

from .bills import bills
from .editing import editing
from .my_shop import my_shop
from .scale import scale

ROOMS: tuple[Blueprint, ...] = (my_shop, editing, bills, scale)
