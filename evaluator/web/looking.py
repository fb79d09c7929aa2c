"""Pages for going on: a visit of ten minutes in a good order, and a message to the seller. Drawn from the snapshot."""

from collections.abc import Mapping
from typing import Any

from flask import Blueprint, render_template

from .pages import kept_or_404
from .service import service

looking = Blueprint("looking", __name__)


@looking.get("/evaluations/<identity>/visit")
def visit(identity: str) -> str:
    """The looks that are worth most in ten minutes, in the order to take them."""
    kept = kept_or_404(identity)
    snapshot = service().snapshot(kept)
    minutes = sum(look["minutes"] for look in snapshot["visit"])
    return render_template("visit.html", kept=kept, snapshot=snapshot, minutes=minutes)


@looking.get("/evaluations/<identity>/message")
def message(identity: str) -> str:
    """Numbered questions and photographs to ask for, ready to be copied."""
    kept = kept_or_404(identity)
    snapshot = service().snapshot(kept)
    return render_template("message.html", kept=kept, snapshot=snapshot, text=message_text(snapshot))


def message_text(snapshot: Mapping[str, Any]) -> str:
    """The message in plain text: a greeting line, numbered questions, then the photographs."""
    lines = ["Good day,", "", "I am interested in this instrument. Could you tell me:"]
    lines += [f"{number}. {text}" for number, text in enumerate(snapshot["questions"], 1)]
    if snapshot["photos_to_ask_for"]:
        lines += ["", "And could you send sharp photographs in daylight of:"]
        lines += [f"- {text}" for text in snapshot["photos_to_ask_for"]]
    return "\n".join([*lines, "", "Thank you."])
