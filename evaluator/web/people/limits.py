"""How often one address may try: names, codes and private links cannot be guessed in a row.

Counted in the memory of this process; where several serve one shop, Flask-Limiter takes a shared store by its address.
"""

from flask import Response
from flask_limiter import Limiter
from flask_limiter.util import get_remote_address

TRIES = "5 per minute; 30 per hour"
MISSES = "20 per minute; 200 per hour"

limiter = Limiter(get_remote_address, storage_uri="memory://", strategy="moving-window")


def is_miss(response: Response) -> bool:
    """Whether a private link led nowhere."""
    return response.status_code == 404
