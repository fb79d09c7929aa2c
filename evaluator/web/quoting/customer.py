"""The customer's private link: the quote line by line, the answers looked over, and sent. No account is needed."""

from collections.abc import Mapping
from datetime import date, datetime, timedelta, timezone

from flask import Blueprint, Response, abort, render_template, request, url_for
from flask import redirect as to_page

from ...basis.problem import Problem
from ...quoting.answers import Answers
from ...quoting.consent import head, wrong_names
from ...quoting.supplement import joint
from ...store.photos import small_photo
from ...store.quotes import KeptQuote, answer, find_by_token, successor
from ...store.workshop.texts import add_remark, remarks_of
from ...wording.quotes import until
from ..looking.pages import View, kept_or_404
from ..people.doors import MISSES, is_miss, limiter
from ..people.house import CUSTOMERS
from ..service import service
from .family import agreed_more, first_of, joint_of, limits
from .view import Sheet, answers_for, sheet, told, typed_amount, typed_answers

quote_link = Blueprint("quote_link", __name__, url_prefix=CUSTOMERS)
limiter.limit(MISSES, deduct_when=is_miss)(quote_link)
MOST_OFFSET = 14 * 60  # minutes; no place is further from UTC
MOST_PHOTOS = 3  # beside one line; a phone holds three in a row


@quote_link.get("/<token>")
def ask(token: str) -> View:
    """The quote to be answered, or what became of it in one sentence."""
    kept = _kept_or_404(token)
    if kept.quote.state == "draft":
        abort(404)
    closed = _closed(kept)
    if closed:
        return _closed_page(kept, token, closed)
    return _choose(kept, token, dict(kept.chain[-1].answers) if kept.chain else {})


@quote_link.post("/<token>")
def answered(token: str) -> View:
    """Preset answers, the look at what they come to, or the answers sent."""
    kept = _kept_or_404(token)
    form = request.form
    answers = typed_answers(kept.quote, form)
    wanted = form.get("go", "review")
    if wanted == "send":
        return _send(kept, token, answers)
    closed = _closed(kept)
    if closed:
        return _closed_page(kept, token, closed, answers), 409
    if wanted.startswith("remark:"):
        return _remark(kept, token, answers, wanted.removeprefix("remark:"))
    if wanted in ("required", "with_recommended", "everything"):
        return _choose(kept, token, answers_for(kept.quote, wanted))
    if wanted == "change":
        return _choose(kept, token, answers)
    if not answers:
        return _choose(kept, token, answers, ("No line is answered yet. Say yes, no or later to each.",)), 422
    return _review(kept, token, answers)


@quote_link.get("/<token>/quote.pdf")
def paper(token: str) -> Response:
    """The quote as a paper, with what was answered."""
    from .quotes import quote_paper

    kept = _kept_or_404(token)
    if kept.quote.state == "draft":
        abort(404)
    return quote_paper(kept)


@quote_link.get("/<token>/done.pdf")
def done_paper(token: str) -> Response:
    """What was done, and what it changed, once the work is done."""
    from .after import after_pdf

    kept = first_of(_kept_or_404(token))
    if kept.quote.state != "done":
        abort(404)
    return after_pdf(kept)


@quote_link.get("/<token>/photos/<name>.jpg")
def photo(token: str, name: str) -> Response:
    """A photograph of what was found, as small as a phone shows it; none but those of this quote."""
    kept = _kept_or_404(token)
    shown = {one for names in photos_of(kept).values() for one in names} if kept.quote.state != "draft" else set()
    content = small_photo(service().photos_folder, name) if name in shown else None
    if content is None:
        abort(404)
    return Response(content, mimetype="image/jpeg", headers={"Cache-Control": "private, max-age=3600"})


def _kept_or_404(token: str) -> KeptQuote:
    kept = find_by_token(service().engine, token)
    if kept is None:
        abort(404)
    return kept


def _closed(kept: KeptQuote) -> str | None:
    """Why it cannot be answered any more; None while it can."""
    quote = kept.quote
    if quote.state == "superseded":
        newer = successor(service().engine, quote.number)
        name = f"quote {newer.quote.number}" if newer else "a newer one"
        return f"This quote was replaced by {name}. Ask the workshop for its link; this one cannot be answered."
    if quote.state == "offered" and date.fromisoformat(service().now()[:10]) > quote.valid_until:
        return f"This quote was valid until {until(quote)}. Ask the workshop for a new one; prices may have changed."
    if quote.state == "withdrawn":
        return "The workshop has withdrawn this quote. Nothing is asked of you."
    if quote.belongs_to and quote.state == "declined":
        return "You have declined. Only what was agreed before is done."
    if quote.belongs_to and quote.state in ("agreed", "work_begun"):
        return "You have agreed. It is done along with the other work."
    return {
        "agreed": "You have agreed. The workshop will begin.",
        "declined": "You have declined. No work will be done.",
        "work_begun": "The work has begun.",
        "done": "The work is done.",
    }.get(quote.state)


def _send(kept: KeptQuote, token: str, answers: Answers) -> View:
    form, quote = request.form, kept.quote
    ceiling = typed_amount(form.get("ceiling", ""), quote.terms.currency)
    now = service().now()
    by = form.get("by", "")[:120]
    limit = ceiling if isinstance(ceiling, Problem) else limits(kept, answers, ceiling)
    if isinstance(limit, Problem):
        return _review(kept, token, answers, told((limit, *wrong_names(quote, by, "link")))), 422
    found = answer(
        service().engine, kept.id, form.get("seen", ""), answers, by, "link", _here(now), now, limit.ceiling,
        whole=limit.whole,
    )  # fmt: skip
    if isinstance(found, KeptQuote):
        return to_page(url_for("quote_link.ask", token=token))
    return _refused(_kept_or_404(token), token, answers, found)


def _remark(kept: KeptQuote, token: str, answers: Answers, job: str) -> View:
    """Keep a question or remark on a line; what was answered so far stands on the page that comes back."""
    line = kept.quote.line(job)
    text = request.form.get(f"r-{job}", "") if line or not job else ""
    wrong = add_remark(service().engine, kept.id, job, text, "", False, service().now())
    return _choose(kept, token, answers, told((wrong,)) if wrong else ()), 422 if wrong else 200


def _here(now: str) -> datetime:
    """The present in the customer's own time zone, as far as her browser told it."""
    present, told_minutes = datetime.fromisoformat(now), request.form.get("offset", "")
    minutes = int(told_minutes) if told_minutes.lstrip("-").isdecimal() and len(told_minutes) < 5 else 0
    return present.astimezone(timezone(timedelta(minutes=minutes))) if abs(minutes) <= MOST_OFFSET else present


def _refused(kept: KeptQuote, token: str, answers: Answers, problems: tuple[Problem, ...]) -> View:
    """The answers again with what speaks against them; where somebody was quicker, beside what that one said."""
    codes = {one.code for one in problems}
    if "consent.meanwhile" in codes:
        last = kept.chain[-1].by if kept.chain else "Somebody"
        said = f"{last} answered this quote a moment ago. Your answers were not counted; both are below."
        if kept.quote.state == "offered":
            return _choose(kept, token, answers, (f"{said} Send yours again if they should count instead.",)), 409
        return _closed_page(kept, token, f"{said} To change what was decided, speak to the workshop.", answers), 409
    closed = _closed(kept)
    if closed:
        return _closed_page(kept, token, closed, answers), 409
    return _review(kept, token, answers, told(problems)), 422


def _choose(kept: KeptQuote, token: str, answers: Answers, wrong: tuple[str, ...] = ()) -> str:
    return render_template("quoting/link.html", **_common(kept, token, answers), wrong=wrong, photos=photos_of(kept))


def _review(kept: KeptQuote, token: str, answers: Answers, wrong: tuple[str, ...] = ()) -> str:
    return render_template("quoting/review.html", **_common(kept, token, answers), wrong=wrong, form=request.form)


def _closed_page(kept: KeptQuote, token: str, closed: str, mine: Answers | None = None) -> str:
    """What became of it, what was agreed, and the answers that did not count, so that nothing typed is lost."""
    agreed = dict(kept.chain[-1].answers) if kept.chain else {}
    common = _common(kept, token, agreed)
    lost = sheet(kept.quote, mine) if mine and mine != agreed else None
    return render_template("quoting/closed.html", **common, closed=closed, lost=lost)


def _common(kept: KeptQuote, token: str, answers: Answers) -> Mapping[str, object]:
    seen = head(kept.chain)
    title = kept_or_404(kept.evaluation).title
    found = sheet(kept.quote, answers)
    return {
        "kept": kept,
        "quote": kept.quote,
        "token": token,
        "sheet": found,
        "seen": seen,
        "title": title,
        "joint": joint_of(kept),
        "before": _before(kept, found),
        "said": remarks_of(service().engine, kept.id),
    }


def _before(kept: KeptQuote, found: Sheet) -> Mapping[str, object] | None:
    """For a second quote: what was agreed before it, the ceiling then, and both with what is chosen now."""
    first = first_of(kept)
    if first is kept or not first.chain:
        return None
    others = [one.chain[-1] for one in agreed_more(first) if one.id != kept.id]
    was = joint(first.chain[-1], others)
    both = was.agreed + found.chosen.total if found.chosen else was.agreed
    return {
        "number": first.quote.number,
        "agreed": was.agreed,
        "ceiling": was.ceiling,
        "both": both,
        "beyond": was.ceiling < both,
    }


def photos_of(kept: KeptQuote) -> Mapping[str, tuple[str, ...]]:
    """The names of the photographs of what each line of a quote cures, by its job, and no others; lines without any are
    left out.
    """
    result = service().result(kept_or_404(kept.evaluation))
    taken = {
        check.check: tuple(name for answer in check.observations for name in answer.photos) for check in result.checks
    }
    asked = {line.job for line in kept.quote.lines}
    found = {
        line.job: tuple(dict.fromkeys(name for check in line.cures for name in taken.get(check, ())))[:MOST_PHOTOS]
        for line in (*result.plan.lines, *result.optional)
        if line.job in asked
    }
    return {job: names for job, names in found.items() if names}
