"""Styles, scripts and drawings packed for the way to a phone. Pages are not: one that holds a secret beside what
somebody typed tells by its packed length what the secret is (the attack called BREACH, 2013).
"""

import gzip
from functools import lru_cache

from flask import Response, request

PACKED = frozenset({"text/css", "text/javascript", "application/javascript", "image/svg+xml", "application/json"})
FILES = frozenset({"static", "sheets.sheet", "looking.told", "guests.told"})  # nothing typed and no secret in them
WORTH_IT = 500  # bytes


def lighter(response: Response) -> Response:
    """The style, script or drawing as gzip, where the browser takes that."""
    if request.endpoint not in FILES or response.mimetype not in PACKED or response.status_code != 200:
        return response
    response.vary.add("Accept-Encoding")
    if request.accept_encodings["gzip"] <= 0 or request.range:
        return response
    response.direct_passthrough = False
    content = response.get_data()
    if len(content) >= WORTH_IT:
        response.set_data(_packed(content))
        response.headers["Content-Encoding"] = "gzip"
    return response


@lru_cache(maxsize=64)
def _packed(content: bytes) -> bytes:
    return gzip.compress(content, mtime=0)
