"""The customers' application: a quote behind its private link, and nothing else.

It has its own addresses, its own cookie under a key of its own, and no page of the shop: what it does not name it
cannot show, whatever is added to the shop's. Both answer at one address; the path decides which.
"""

from collections.abc import Iterable
from hashlib import sha256
from typing import TYPE_CHECKING

from flask import Flask, render_template, request
from flask_wtf.csrf import CSRFProtect
from werkzeug.wrappers import Response as AnyResponse

from ..asked import understood
from ..people.house import CUSTOMERS
from ..quoting.customer import quote_link
from ..service import Service, service
from .frame import follow_figures, framed

if TYPE_CHECKING:
    from _typeshed.wsgi import StartResponse, WSGIApplication, WSGIEnvironment


def customers_app(service: Service, key: str) -> Flask:
    """The application for customers; `key` is the shop's, from which another is made."""
    app = framed(service, sha256(f"customers {key}".encode()).hexdigest(), lambda: "", f"{CUSTOMERS}/static")
    app.config.update(SESSION_COOKIE_NAME="customer", SESSION_COOKIE_PATH=CUSTOMERS)
    app.before_request(_known_host)
    app.before_request(follow_figures)
    CSRFProtect(app)
    app.register_blueprint(quote_link)
    app.register_blueprint(understood, url_prefix=CUSTOMERS)
    return app


def _known_host() -> tuple[str, int] | AnyResponse | None:
    """A foreign Host header is refused here too."""
    if service().house.knows(request.host):
        return None
    title, text = "This service does not go by that name", "Open the link as it was sent to you."
    return render_template("error.html", title=title, text=text), 400


def by_door(shop: "WSGIApplication", customers: "WSGIApplication") -> "WSGIApplication":
    """Both as one: what begins with the customers' path is theirs, all else the shop's."""

    def answer(environ: "WSGIEnvironment", start: "StartResponse") -> Iterable[bytes]:
        path = environ.get("PATH_INFO", "")
        theirs = path == CUSTOMERS or path.startswith(f"{CUSTOMERS}/")
        return (customers if theirs else shop)(environ, start)

    return answer
