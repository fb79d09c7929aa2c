"""The script that opens a visit again without a net: browsers take it from the root alone, else it could not."""

from flask import Blueprint, Response, current_app

offline = Blueprint("offline", __name__)


@offline.get("/worker.js")
def worker() -> Response:
    return current_app.send_static_file("worker.js")
