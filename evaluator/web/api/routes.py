"""The addresses of the operations, and of the document that describes them. Without a token nothing else is told."""

from flask import Blueprint, Flask, Response, json

from ..people.limits import limiter
from . import evaluations, trading
from .openapi import document
from .operations import OPERATIONS, Operation, run
from .problems import BASE

api = Blueprint("api", __name__, url_prefix=BASE)
REFUSED_TOKENS = "60 per minute; 600 per hour"
PARTS = (evaluations, trading)  # importing them registers their operations


def is_refused(response: Response) -> bool:
    """Whether a token was refused."""
    return response.status_code in (401, 403)


@api.get("/openapi.json")
def openapi() -> Response:
    return Response(json.dumps(document()), mimetype="application/json")


def _hang(one: Operation) -> None:
    def view(**arguments: str) -> Response:
        return run(one, **arguments)

    view.__name__ = view.__qualname__ = one.name
    api.add_url_rule(one.rule, endpoint=one.name, view_func=view, methods=[one.method])


for found in OPERATIONS:
    _hang(found)


def limited(app: Flask) -> None:
    """Whoever guesses at tokens has to wait."""
    limiter.limit(REFUSED_TOKENS, deduct_when=is_refused)(api)
    app.register_blueprint(api)
