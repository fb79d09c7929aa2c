"""The result of an evaluation: its page, finishing, looking again, and the papers."""

import segno
from flask import Blueprint, Response, abort, redirect, render_template, request, url_for
from flask_wtf.csrf import generate_csrf

from ...papers.readers import Issued
from ...papers.story import READERS
from ...result.json_form import result_json
from ...result.model.result import Result
from ...store.evaluations import DRAFT, Conflict, Kept, finish, stand_of
from ...store.photos import small_photo
from ...store.workshop.texts import covering_of
from ...wording.answer import first_screen
from ...wording.answer.verdict import with_words
from ...wording.phrases import undrawn
from ..looking.pages import View, kept_or_404, sent_version
from ..service import service
from ..workshop.again import begin
from .findings import good_seen, shown_reasons
from .house_style import logo_now, pdf, ways_now
from .identity import before_of, card_of, photos_of
from .sections import folds_of

results = Blueprint("results", __name__)
MOST_GOOD = 4  # named on the page itself; the rest is in the section of all that is good


@results.get("/evaluations/<identity>/result")
def result(identity: str) -> View:
    """The result so far of a draft, computed from what is typed now; of a finished one, as it was frozen.

    The page of a finished one is written once and kept: nothing on it is of one visitor but the token of its forms.
    """
    here = stand_of(service().engine, identity)
    if here is None:
        abort(404)
    if here.state == DRAFT:
        return _page(identity)
    key = (identity, str(here.version), service().rubric(here.rubric).hash)
    pieces = service().pages.of(key, lambda: tuple(_page(identity).split(generate_csrf())))
    token: str = generate_csrf()
    return token.join(pieces)


def _page(identity: str) -> str:
    kept = kept_or_404(identity)
    found, rubric = service().shown(kept), service().rubric(kept.rubric)
    reasons = shown_reasons(found)
    told = {one.check for one in first_screen.first_reasons(found)}
    return render_template(
        "result/result.html",
        kept=kept,
        result=found,
        pages={name: rubric.page_of(check) for name, check in rubric.checks.items()},
        first=first_screen,
        first_reasons=reasons,
        good_seen=[one for one in good_seen(found, rubric) if one.check not in told][:MOST_GOOD],
        folds=folds_of(kept, found),
        letters=_undrawn(found),
    )


def _undrawn(found: Result) -> str:
    """What a paper of it could not show, said to whoever typed it; empty for nothing."""
    from ...papers.printing.fonts import undrawable
    from ...papers.story import typed_in

    letters = undrawable(typed_in(found))
    return undrawn(letters) if letters else ""


@results.post("/evaluations/<identity>/finish")
def finish_evaluation(identity: str) -> View:
    """Freeze the figures that the page showed; refused where an answer changed since."""
    kept = kept_or_404(identity)
    found = service().result(kept)
    now = service().now()
    frozen = finish(service().engine, identity, sent_version(), result_json(found), found.rubric.hash, now)
    if isinstance(frozen, Conflict):
        return render_template("looking/changed.html", kept=frozen.kept), 409
    return redirect(url_for("results.result", identity=identity))


@results.post("/evaluations/<identity>/again")
def again(identity: str) -> View:
    """A new draft beside the finished one, to which the old answers stand as old until they are confirmed."""
    return redirect(url_for("again.page", identity=begin(kept_or_404(identity))))


@results.get("/evaluations/<identity>/report.pdf")
def report(identity: str) -> Response:
    """The paper for a reader, drawn from the result."""
    from ...papers.printing.pdf import PAPERS

    kept = kept_or_404(identity)
    reader, paper = request.args.get("for", "buyer"), request.args.get("paper", "A4")
    if reader not in READERS or paper not in PAPERS:
        abort(404)
    found = service().result(kept)
    content = service().report(found, reader, paper, _issued(kept, found))
    return pdf(content, f"evaluation-{kept.id}-{reader}.pdf")


def _issued(kept: Kept, found: Result) -> Issued:
    """Number, version and day of an evaluation, with how to reach the shop, its logo, the photographs and the code."""
    words = covering_of(service().engine, kept.id)
    house, folder = service().house, service().photos_folder
    page = house.link(url_for("results.result", identity=kept.id)) if house.reachable else ""
    names = {name for check in found.checks for answer in check.observations for name in answer.photos}
    pictures = {name: small_photo(folder, name) for name in sorted(names)}
    return Issued(
        kept.id,
        kept.version,
        kept.changed,
        kept.state == DRAFT,
        ways_now(),
        {name: content for name, content in pictures.items() if content},
        logo_now() or b"",
        page,
        tuple(tuple(bool(one) for one in row) for row in segno.make(page, error="m").matrix) if page else (),
        service().shop.units.shown,
        words.text if words else "",
        card_of(kept),
        photos_of(kept),
        before_of(kept),
    )


@results.get("/evaluations/<identity>/message")
def message(identity: str) -> str:
    """Numbered questions and photographs to ask for, ready to be copied."""
    kept = kept_or_404(identity)
    result = service().result(kept)
    return render_template("result/message.html", kept=kept, result=result, text=message_text(result))


def message_text(result: Result) -> str:
    """The message in plain text: a greeting line, numbered questions, then the photographs."""
    lines = ["Good day,"]
    if result.questions:
        family = result.instrument.family
        about = f"It is about your {family}." if result.purpose == "quote" else f"I am interested in this {family}."
        lines += ["", f"{about} Could you tell me:"]
        lines += [f"{number}. {text}" for number, text in enumerate(result.questions, 1)]
    if result.photos_to_ask_for:
        lines += ["", f"{'And could' if result.questions else 'Could'} you send sharp photographs in daylight of:"]
        lines += [f"- {text}" for text in result.photos_to_ask_for]
    return "\n".join([*lines, "", "Thank you."])


@results.get("/evaluations/<identity>/result.json")
def as_json(identity: str) -> dict[str, object]:
    return result_json(with_words(service().result(kept_or_404(identity))))
