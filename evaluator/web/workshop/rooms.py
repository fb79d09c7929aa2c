"""The pages of the workshop's days, by subject."""

from flask import Blueprint

from ..quoting.remarks import remarks
from .again import again
from .bills import bills
from .board import board, feed
from .customers import customers
from .editing import editing
from .my_shop import my_shop
from .opinions import opinions
from .scale import scale

ROOMS: tuple[Blueprint, ...] = (my_shop, editing, bills, customers, again, scale, board, feed, opinions, remarks)
