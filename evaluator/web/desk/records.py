"""The owner's records: whether all is well, how old the backup is and making one now, and everything out and in as one
archive of open formats, into this or another installation.
"""

import tempfile
from datetime import datetime

from flask import Blueprint, Response, redirect, render_template, request, send_file, url_for

from ...basis.problem import Problem
from ...exchange.archive import evaluation_yaml, write_archive
from ...exchange.bringing import read_archive
from ...exchange.putting_in import Came, bring_in
from ...result.json_form import result_json
from ...store.people import note_deed
from ..looking.pages import View, kept_or_404
from ..people.doors import name_now
from ..service import service
from .examine import Looked, examined, worst

moving = Blueprint("moving", __name__)
one_file = Blueprint("one_file", __name__)
MOST_ARCHIVE = 1_000_000_000
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


@moving.get("/everything")
def page() -> View:
    return _page()


@moving.get("/everything.zip")
def out() -> Response:
    """The archive, written into a temporary file that goes with the answer."""
    file = tempfile.TemporaryFile()  # noqa: SIM115
    here = service()
    write_archive(file, here.engine, here.photos_folder, lambda kept: result_json(here.result(kept)), here.now())
    note_deed(here.engine, here.now(), name_now(), "wrote everything out", "")
    file.seek(0)
    name = f"evaluations-{here.today().isoformat()}.zip"
    answer = send_file(file, mimetype="application/zip", as_attachment=True, download_name=name)
    answer.call_on_close(file.close)
    return answer


@moving.post("/everything")
def bring() -> View:
    """Bring an archive in; one that is not as it was written is told, and nothing of it comes in."""
    sent = request.files.get("file")
    if sent is None or not sent.filename:
        return _page(wrong="No file was sent: choose the archive."), 422
    here = service()
    found = read_archive(sent.stream)
    if isinstance(found, Problem):
        return _page(wrong=str(found)), 422
    came = bring_in(here.engine, here.photos_folder, found, here.now())
    note_deed(here.engine, here.now(), name_now(), "brought an archive in", f"{came.evaluations} evaluations")
    return _page(came=came)


def _page(wrong: str = "", came: Came | None = None) -> str:
    return render_template("desk/everything.html", wrong=wrong, came=came, action=url_for("moving.bring"))


@one_file.get("/evaluations/<identity>/evaluation.yaml")
def as_yaml(identity: str) -> Response:
    """The evaluation as the file that the command line takes."""
    kept = kept_or_404(identity)
    headers = {"Content-Disposition": f'attachment; filename="evaluation-{kept.id}.yaml"'}
    return Response(evaluation_yaml(kept), mimetype="application/yaml", headers=headers)
