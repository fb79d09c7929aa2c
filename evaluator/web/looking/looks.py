"""A visit, one look a screen: all its looks are in the one page, one tap answers and leads on, and answers given
without a net are sent later. Without JavaScript each tap is a form of its own.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from flask import Blueprint, Response, abort, current_app, redirect, render_template, request, url_for

from ...assessment.observing.typed import Answers, answers_of
from ...lutherie.photographs.laying import LAYINGS
from ...papers.looks_story import looks_paper
from ...rubric.rubric import Rubric
from ...rubric.written.checks import Check
from ...store.evaluations import DRAFT, Kept
from ...wording.looks import held_sentence
from ..service import service
from ..words import glossary, marked, word, words_again
from .answering import finished_page, readings_told, sentence, writer
from .cards import Card, cards_for, filled_for, lines_of, refusal, standard_of
from .forms import UNITS_OF, answers_from, checks_form, unit_meant
from .pages import View, kept_or_404
from .plan import (
    Place,
    Plan,
    applying,
    in_hand,
    is_answered,
    is_told,
    minutes_of_looks,
    more,
    place_in,
    plan_of,
    question_of,
    tools_at_hand,
)
from .sending import MOST_TEXT, send, take_answers
from .sheets import shown

looking = Blueprint("looking", __name__)


@dataclass(frozen=True, slots=True)
class Look:
    """One look as the page shows it: the card, what was answered, and what is wrong with it.

    `said`: the answer in words; `waits`: why it is to be answered again later; `units` and `tools`: (value, words);
    `photos`: names of those that were taken. `cautions`: each as a short line and in full; `careful` is the line that
    stands open, empty where the looks before this one said them all.
    """

    card: Card
    answer: Mapping[str, str]
    said: str
    answered: bool
    wrong: str
    waits: str
    units: tuple[str, ...]
    tools: tuple[tuple[str, str], ...]
    photos: tuple[str, ...]
    cautions: tuple[tuple[str, str], ...]
    careful: str

    @property
    def check(self) -> Check:
        return self.card.check

    @property
    def on_photo(self) -> bool:
        """Whether a photo with a bank card in it can give this reading."""
        return self.check.check in LAYINGS


@dataclass(frozen=True, slots=True)
class Ways:
    """Where a page of looks leads: the addresses that take an answer, a list of answers, and that tell how one looks.

    `guest`: how a guest with a private link calls herself; empty for those at home, who may also go elsewhere.
    `writer`: under which name her answers are kept.
    """

    look: str
    answers: str
    told: str
    guest: str = ""
    writer: str = ""

    def answers_in(self, kept: Kept) -> Answers:
        """The answers that this page shows: a guest sees her own alone."""
        return answers_of(kept.typed, self.writer) if self.guest else kept.typed["answers"]


def _home(identity: str) -> Ways:
    return Ways(*(url_for(f"looking.{name}", identity=identity) for name in ("looks", "answers", "told")))


@looking.get("/evaluations/<identity>/looks")
def looks(identity: str) -> View:
    """The looks of this visit, at the named one or where to go on."""
    kept = kept_or_404(identity)
    if kept.state != DRAFT:
        return redirect(url_for("results.result", identity=identity))
    at, just = request.args.get("at", ""), request.args.get("kept", "")
    return looks_page(service().rubric(kept.rubric), kept, plan_of(kept), _home(identity), at, just)


@looking.get("/evaluations/<identity>/looks.pdf")
def taken_along(identity: str) -> Response:
    """The looks of this visit on paper, with boxes to tick."""
    from ...papers.printing.pdf import PAPERS

    kept, size = kept_or_404(identity), request.args.get("paper", "A4")
    if size not in PAPERS:
        abort(404)
    rubric, case = service().rubric(kept.rubric), service().read(kept).case
    plan = plan_of(kept) if kept.state == DRAFT else Plan.read(kept.typed) or Plan((), "in_person")
    paper = looks_paper(
        rubric,
        applying(rubric, kept, plan),
        name=kept.title,
        glossary=glossary(),
        standard=lambda check: standard_of(rubric, check, case, service().shop.units.shown),
    )
    return Response(service().drawn(paper, size), mimetype="application/pdf")


@looking.get("/evaluations/<identity>/looks/told.json")
def told(identity: str) -> dict[str, object]:
    kept = kept_or_404(identity)
    return told_of(service().rubric(kept.rubric), Plan.read(kept.typed) or Plan((), "in_person"))


def told_of(rubric: Rubric, plan: Plan) -> dict[str, object]:
    """How one looks and what the answers mean, by check, and the meanings of the words of each look, as HTML.

    The page fetches it once, so that it is light and has it all without a net. It holds nothing that anybody typed.
    """
    write, found = current_app.jinja_env.get_template("looking/_told.html").module.told, {}  # type: ignore[attr-defined]
    for check in (rubric.checks[name] for name in plan.looks if name in rubric.checks):
        words_again()
        marked(question_of(check, plan.channel)), word(check.term or "")
        found[check.check] = write(check, shown(check.drawing) if check.drawing else None)
    return {"looks": found, "meanings": render_template("_meanings.html")}


@looking.post("/evaluations/<identity>/looks")
def answered(identity: str) -> View:
    """Keep one answer, or take it back, and go on; without JavaScript."""
    kept = kept_or_404(identity)
    if request.form.get("go") == "more" and kept.state == DRAFT:
        more(kept)
        return redirect(url_for("looking.looks", identity=identity))
    if request.form.get("go") == "see" and kept.state == DRAFT:
        in_hand(kept)
        return redirect(url_for("looking.looks", identity=identity))
    plan = plan_of(kept) if kept.state == DRAFT else Plan((), "in_person")
    return take_answer(kept, plan, _home(identity), writer())


def take_answer(kept: Kept, plan: Plan, ways: Ways, who: str) -> View:
    """Keep the one answer of a sent form, or take it back, and go on to the next look."""
    rubric = service().rubric(kept.rubric)
    check = rubric.checks.get(request.form.get("check", ""))
    if check is None or (ways.guest and check.check not in plan.looks):
        return redirect(ways.look)
    go = request.form.get("go", "")
    if go == "later":
        return redirect(f"{ways.look}?at={_behind(rubric, kept, plan, ways, check)}")
    answer = answers_from([check], checks_form(rubric, [check])()).get(check.check, {}) if go != "undo" else {}
    if answer and ways.guest:
        answer["by"], answer["at"] = ways.guest, service().now()
    sent = send(rubric, kept, plan, [{"check": check.check, "answer": answer}], who)
    if sent is None:
        return finished_page(rubric, kept, {check.check: answer})
    kept = kept_or_404(kept.id)
    if go == "undo" or sent[0]["problem"]:
        page = looks_page(rubric, kept, plan, ways, check.check, "")
        return (page, 422) if sent[0]["problem"] else page
    return redirect(f"{ways.look}?at={_behind(rubric, kept, plan, ways, check)}&kept={check.check}")


@looking.post("/evaluations/<identity>/looks/answers")
def answers(identity: str) -> tuple[dict[str, object], int]:
    """Answers from a phone, in the order in which they were given; each is told kept, kept beside, or not readable."""
    kept = kept_or_404(identity)
    return take_answers(kept, Plan.read(kept.typed) or Plan((), "in_person"), "", "")


def _behind(rubric: Rubric, kept: Kept, plan: Plan, ways: Ways, check: Check) -> str:
    """The next look without an answer behind this one, else the first; empty when there is none."""
    checks = applying(rubric, kept, plan)
    names = [one.check for one in checks]
    at = names.index(check.check) + 1 if check.check in names else 0
    open_ = [name for name in (*names[at:], *names[:at]) if not is_answered(ways.answers_in(kept).get(name, {}))]
    others = [name for name in open_ if name != check.check]
    return next(iter(others or open_), "")


def looks_page(rubric: Rubric, kept: Kept, plan: Plan, ways: Ways, at: str, just: str) -> str:
    """The page of all looks of a plan, at one of them; `just`: the check whose answer was kept a moment ago."""
    checks = applying(rubric, kept, plan)
    found = _looks(rubric, kept, checks, ways.answers_in(kept))
    place = place_in(checks, ways.answers_in(kept), plan.channel)
    here = at if at in {look.check.check for look in found} else place.next
    return render_template(
        "looking/looks.html",
        kept=kept,
        rubric=rubric,
        plan=plan,
        minutes=minutes_of_looks(checks, plan.channel),
        question_of=question_of,
        ways=ways,
        looks=found,
        cautions=list(dict.fromkeys(one for look in found for one in look.cautions)),
        units=tuple(dict.fromkeys(one for look in found for one in look.units)),
        tools=tuple(dict.fromkeys(one for look in found for one in look.tools)),
        here=here,
        place=place if here is None else Place(here, _number(found, here), place.count, place.minutes_left),
        photo_problem=request.args.get("photo", "")[:MOST_TEXT],
        just=next((look for look in found if look.check.check == just and look.answered), None),
        untold=[look for look in found if look.answered and not is_told(look.answer)],
        owned=service().read(kept).case.purpose == "quote",
    )


def _number(found: Sequence[Look], here: str) -> int:
    return next(number for number, look in enumerate(found, 1) if look.check.check == here)


def _looks(rubric: Rubric, kept: Kept, checks: Sequence[Check], kept_answers: Answers) -> list[Look]:
    case = service().read(kept).case
    wrong = service().read(kept).wrong_of(kept_answers)
    standing = {name: one for name, one in kept_answers.items() if kept.typed["answers"].get(name) == one}
    told = readings_told(case.observations, standing)
    filled, at_hand = filled_for(checks, kept.typed), tools_at_hand(kept.typed)
    found, careful = [], lines_of(rubric, checks)
    for card in cards_for(rubric, checks, case, service().shop.units.shown):
        check = card.check
        name = check.check
        answer = kept_answers.get(name, {})
        tools = [tool for tool in check.measure.tools if tool in at_hand] if check.measure else []
        tools = tools or list(check.measure.tools if check.measure else ())
        first = filled.get(f"t-{name}", "")
        ordered = [tool for tool in tools if tool == first] + [tool for tool in tools if tool != first]
        units = UNITS_OF.get(check.measure.quantity, (check.measure.unit,)) if check.measure else ()
        meant = unit_meant(check, answer, service().shop.units.shown)
        found.append(
            Look(
                card=card,
                answer=answer,
                said=told.get(name) or (refusal(rubric, name, answer) if answer else ""),
                answered=is_answered(answer),
                wrong=sentence(wrong[name][0]) if name in wrong else "",
                waits=held_sentence(rubric, case, check),
                units=tuple(dict.fromkeys((meant, check.measure.unit, *units))) if check.measure else (),
                tools=tuple((tool, rubric.tools[tool].say) for tool in ordered),
                photos=tuple(photo["name"] for photo in kept.typed.get("photos", {}).get(name, ())),
                cautions=rubric.caution_lines(check),
                careful=careful[name],
            )
        )
    return found
