"""The workshop's answers to what a customer asked on a line of a quote; they stand on the page that she has."""

from flask import Blueprint, redirect, request, url_for

from ...basis.problem import Problem
from ...store.workshop.remarks import add_remark
from ..looking.pages import View
from ..people.doors import name_now
from ..service import service
from .quotes import quote_or_404, refused

remarks = Blueprint("remarks", __name__)


@remarks.post("/quotes/<identity>/remarks")
def answer(identity: str) -> View:
    """Answer on a line, or on all of it."""
    kept, job = quote_or_404(identity), request.form.get("job", "")
    known = job if kept.quote.line(job) else ""
    text = request.form.get("text", "")
    wrong = add_remark(service().engine, kept.id, known, text, name_now(), True, service().now())
    if isinstance(wrong, Problem):
        return refused(kept, (wrong,))
    return redirect(url_for("quotes.quote", identity=identity) + (f"#said-{known}" if known else ""))
