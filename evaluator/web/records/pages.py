"""The owner's page of the records: whether all is well, how old the backup is, and making one now."""

from datetime import datetime

from flask import Blueprint, redirect, render_template, url_for

from ...store.people import note_deed
from ..looking.pages import View
from ..people.doors import name_now
from ..service import service
from .examine import Looked, examined, worst

records = Blueprint("records", __name__)
SAID = {
    "well": "All is well.",
    "look": "It works; something wants a look.",
    "wrong": "Something is wrong. What to do stands beside it.",
}


def looked() -> Looked | None:
    """Where to look; None where the service runs without records of its own, as in a test."""
    keeper, now = service().keeper, datetime.fromisoformat(service().now())
    return None if keeper is None else Looked(keeper.records, service().engine, keeper.folder, now, keeper.failed)


@records.get("/records")
def overview() -> str:
    at = looked()
    findings = () if at is None else examined(at)
    return render_template(
        "records/records.html", findings=findings, said=SAID[worst(findings)], keeper=service().keeper
    )


@records.post("/records/backup")
def back_up_now() -> View:
    """A backup now, whatever the age of the last one."""
    keeper = service().keeper
    if keeper is not None and keeper.make() is not None:
        note_deed(service().engine, service().now(), name_now(), "made a backup", "")
    return redirect(url_for("records.overview"))
