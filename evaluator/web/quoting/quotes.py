"""The shop's side of a quote: made from a finished evaluation, offered, a spoken yes noted, a customer's questions
answered, and its papers.
"""

from datetime import date

from flask import Blueprint, Response, abort, redirect, render_template, request, session, url_for

from ...basis.problem import Problem
from ...quoting.answers import Answers
from ...quoting.changes import Change
from ...quoting.consent import How, first_wrong, head, wrong_names
from ...quoting.lines import with_grades
from ...quoting.quote import Quote
from ...quoting.records import quote_json, to_data
from ...result.json_form import result_json
from ...store.evaluations import DRAFT, Conflict, Kept, finish
from ...store.quotes import KeptQuote, Offered, find_quote, new_link, offer, quotes_of
from ...store.quotes import answer as keep_answer
from ...store.workshop.customers import find_customer, find_instrument
from ...store.workshop.drafts import add_change, edited, keep_draft
from ...store.workshop.texts import add_remark, covering_of, remarks_of
from ...store.workshop.timeline import Marks, belongs_to, marks_of
from ...wording.names import HOW
from ...wording.phrases import capital, without_reach
from ...wording.quotes import tax_since
from ..looking.pages import View, kept_or_404, sent_version
from ..people.doors import name_now
from ..result.house_style import dressed, pdf
from ..service import service
from .drafts import extras_recorded, jobs_recorded, made_quote
from .family import first_of, joint_of, limits, second_quotes
from .view import answers_for, sheet, told, typed_amount, typed_answers, typed_time

quotes = Blueprint("quotes", __name__)
remarks = Blueprint("remarks", __name__)
ON_PAPER = ("label", "serial")  # of the instrument's card; how to reach its owner is never printed on a quote
CLASHES = ("consent.meanwhile", "consent.not_offered", "quote.move", "quote.grade_late", "edit.late", "edit.meanwhile")


@quotes.get("/evaluations/<identity>/quotes")
def of_evaluation(identity: str) -> View:
    """The quotes of an evaluation, and a button to make one."""
    return _list_page(kept_or_404(identity))


@quotes.post("/evaluations/<identity>/quotes")
def make(identity: str) -> View:
    """A draft from a finished evaluation (one that is open is finished first, as the page showed it); while a draft
    lies there, it is made anew under its number.
    """
    kept = kept_or_404(identity)
    if kept.state == DRAFT and sent_version():
        finished = _finished(kept)
        if isinstance(finished, Conflict):
            return render_template("looking/changed.html", kept=finished.kept), 409
        kept = finished or kept
    about, haste = request.form.get("about", "").strip()[:200], request.form.get("haste") == "yes"
    own, chances = (request.form.get(name) == "yes" for name in ("own", "chances"))
    made = made_quote(kept, about, in_haste=haste, own_hours=own, chances=chances)
    if isinstance(made, Problem):
        return _list_page(kept, told((made,))), 422
    return redirect(url_for("quotes.quote", identity=keep_draft(service().engine, kept.id, made, service().now())))


@quotes.get("/quotes/<identity>")
def quote(identity: str) -> View:
    """The quote as the shop sees it; the private link shows once, after it was made."""
    kept = quote_or_404(identity)
    token = session.pop(f"link-{kept.id}", None)
    answers = dict(kept.chain[-1].answers) if kept.chain else answers_for(kept.quote, "required")
    return quote_page(kept, answers, token=token)


@quotes.post("/quotes/<identity>/parts")
def parts(identity: str) -> View:
    """Price a draft with the grades of parts that were chosen."""
    kept = quote_or_404(identity)
    wanted = {
        (line.job, part.part): request.form[name]
        for line in kept.quote.lines
        for part in line.used
        if (name := f"g-{line.job}-{part.part}") in request.form
    }
    made = with_grades(kept.quote, wanted)
    if not isinstance(made, Quote):
        return refused(kept, made)
    grades = tuple((job, part, grade) for (job, part), grade in wanted.items())
    change = Change("grades", "", grades=grades, by=name_now(), at=service().now())
    saved = add_change(service().engine, identity, int(request.form.get("changes") or 0), change, service().now())
    if isinstance(saved, Problem):
        return refused(kept, (saved,))
    return redirect(url_for("quotes.quote", identity=identity))


@quotes.post("/quotes/<identity>/offer")
def offer_it(identity: str) -> View:
    """Offer a draft, or make another link for an offered quote."""
    kept = quote_or_404(identity)
    engine = service().engine
    found = offer(engine, identity, service().now()) if kept.quote.state == "draft" else new_link(engine, identity)
    if isinstance(found, Offered):
        session[f"link-{identity}"] = found.token
        return redirect(url_for("quotes.quote", identity=identity))
    return refused(kept, (found,))


@quotes.post("/quotes/<identity>/spoken")
def spoken(identity: str) -> View:
    """Note a yes that was said or signed: who, when, how, and who noted it."""
    kept, form, now = quote_or_404(identity), request.form, service().now()
    answers = typed_answers(kept.quote, form)
    if form.get("go") == "look":
        return quote_page(kept, answers)
    ceiling = typed_amount(form.get("ceiling", ""), kept.quote.terms.currency)
    at = typed_time(form.get("at", ""), now, kept.quote.made_on)
    wrong = tuple(one for one in (ceiling, at) if isinstance(one, Problem))
    how: How = "on_paper" if form.get("how") == "on_paper" else "spoken"
    by, noted_by = form.get("by", "")[:120], form.get("noted_by", "").strip()[:120] or None
    if isinstance(ceiling, Problem) or isinstance(at, Problem):
        return refused(kept, (*wrong, *wrong_names(kept.quote, by, how, noted_by)), answers)
    limit = limits(kept, answers, ceiling)
    if isinstance(limit, Problem):
        return refused(kept, (limit,), answers)
    seen = form.get("seen", "")
    found = keep_answer(
        service().engine, identity, seen, answers, by, how, at, now, limit.ceiling, noted_by, limit.whole
    )
    if isinstance(found, KeptQuote):
        return redirect(url_for("quotes.quote", identity=identity))
    return refused(quote_or_404(identity), found, answers)


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


@quotes.get("/quotes/<identity>/quote.pdf")
def paper(identity: str) -> Response:
    return quote_paper(quote_or_404(identity))


@quotes.get("/quotes/<identity>/quote.json")
def as_json(identity: str) -> dict[str, object]:
    """The quote, its totals and every answer to it, for other programs."""
    kept = quote_or_404(identity)
    chain = {"answers": [to_data(one) for one in kept.chain], "first_altered": first_wrong(kept.quote, kept.chain)}
    second = [{"number": one.quote.number, "state": one.quote.state} for one in second_quotes(kept)]
    family = {"second_quotes": second, "together": to_data(joint_of(kept))}
    return {**quote_json(kept.quote), **chain, "work": to_data(kept.work), **family}


def quote_or_404(identity: str) -> KeptQuote:
    kept = find_quote(service().engine, identity)
    if kept is None:
        abort(404)
    return kept


def quote_page(kept: KeptQuote, answers: Answers, wrong: tuple[str, ...] = (), token: str | None = None) -> str:
    link = service().house.quote_link(token) if token else None
    tax = service().shop.tax
    return render_template(
        "quoting/quote.html",
        kept=kept,
        quote=kept.quote,
        evaluation=kept_or_404(kept.evaluation),
        sheet=sheet(kept.quote, answers),
        seen=head(kept.chain),
        tax_told=tax_since(kept.quote, tax.labour, tax.parts) if kept.quote.state == "draft" else "",
        altered=first_wrong(kept.quote, kept.chain),
        expired=_expired(kept.quote),
        wrong=wrong,
        link=link,
        how=HOW,
        first=first_of(kept) if kept.quote.belongs_to else None,
        more=second_quotes(kept),
        joint=joint_of(kept),
        said=remarks_of(service().engine, kept.id),
        changes=len(edited(service().engine, kept).changes) if kept.quote.state == "draft" else 0,
        form=request.form,
        now=service().now()[:16].replace("T", " "),
    )


def refused(kept: KeptQuote, problems: tuple[Problem, ...], answers: Answers | None = None) -> View:
    """The page again with what speaks against it; what was typed stands in the form."""
    clash = any(one.code in CLASHES for one in problems)
    shown = answers if answers is not None else answers_for(kept.quote, "required")
    return quote_page(kept, shown, told(problems)), 409 if clash else 422


def quote_paper(kept: KeptQuote) -> Response:
    from ...papers.printing.pdf import PAPERS
    from ...papers.quote_story import quote_paper as story

    size = request.args.get("paper", "A4")
    if size not in PAPERS:
        abort(404)
    rests_on = kept_or_404(kept.evaluation)
    about = service().result(rests_on)
    ready_by = marks_of(service().engine).get(kept.id, Marks()).ready_by
    words = covering_of(service().engine, kept.evaluation)
    told = words.text if words else ""
    paper = story(kept.quote, about, kept.chain, joint_of(kept), ready_by, told, whose(kept.evaluation))
    content = service().drawn(dressed(paper, rests_on), size)
    return pdf(content, f"quote-{kept.quote.number.replace('/', '-')}.pdf")


def whose(evaluation: str) -> str:
    """'For Anna Example. Serial: 1907.' Empty where it stands on no card."""
    engine = service().engine
    instrument = find_instrument(engine, belongs_to(engine, evaluation))
    if instrument is None:
        return ""
    owner = find_customer(engine, instrument.customer)
    marks = [f"{name}: {instrument.record[name]}" for name in ON_PAPER if instrument.record.get(name)]
    said = [f"For {owner.name}", capital("; ".join(marks))] if owner else [capital("; ".join(marks))]
    return " ".join(f"{without_reach(one).rstrip('.')}." for one in said if one)


def _finished(kept: Kept) -> Kept | Conflict | None:
    """The open evaluation finished as its page showed it; None where there is no work to quote: then it stays open."""
    figures = service().result(kept)
    if figures.quotable is None:
        return None
    now = service().now()
    return finish(service().engine, kept.id, sent_version(), result_json(figures), figures.rubric.hash, now)


def _list_page(kept: Kept, wrong: tuple[str, ...] = ()) -> str:
    return render_template(
        "quoting/list.html",
        kept=kept,
        result=service().result(kept),
        made=quotes_of(service().engine, kept.id),
        shop=service().shop,
        records=jobs_recorded(service().rubric(kept.rubric)),
        extras=len(extras_recorded()),
        wrong=wrong,
        form=request.form,
    )


def _expired(quote: Quote) -> bool:
    return date.fromisoformat(service().now()[:10]) > quote.valid_until
