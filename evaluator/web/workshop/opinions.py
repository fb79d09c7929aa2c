"""My opinions: an overlay written in the browser, checked as a file is, tried on instruments, and switched on.

Before it counts it tells in words what it changes, and which reference instruments and which of the last evaluations it
would judge otherwise. What was finished or offered stays as it was.
"""

import hashlib
import tempfile
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from pathlib import Path

from flask import Blueprint, redirect, render_template, request, url_for

from ...basis.document import parse_document
from ...result.evaluation import Evaluation, evaluate
from ...result.examples import tried
from ...result.scale import Standing, standings
from ...rubric.diff import differences
from ...rubric.files.overlay import families_named
from ...rubric.rubric import Rubric
from ...rubric.sense.check import check_path
from ...store.evaluations import Kept, newest
from ...store.folders import rubrics_folder
from ...store.people import note_deed
from ...store.workshop.figures import newest_opinions, save_opinions
from ...valuation.model import Advice
from ...wording.names import ADVICE
from ..looking.pages import View
from ..people.doors import name_now
from ..service import Service, case_of, service
from .scale import calibration

opinions = Blueprint("opinions", __name__)
MOST_TEXT = 200_000
LAST = 50
DRAWS = 400  # enough to tell which advice and which score turns
BROKEN = "{count} would no longer be judged as beforehand. Switch it on once more if that is your opinion."
JUDGING = (
    "jobs", "standards", "causes", "classes", "sign_groups", "shared_labour", "part_prices", "domain_shares", "tools",
    "waits", "bands",
)  # fmt: skip
SAID = {"ask", "term", "why", "how", "minutes", "exceptions", "drawing", "photo", "seller_question", "sources"}
MOVED = 1.0  # of 100 points; less is no other judgement
START = "extends: violin\ntitle: Our opinions\nby: Our workshop\n"


@dataclass(frozen=True, slots=True)
class Judged:
    """An instrument that would be judged otherwise, before and after in words."""

    name: str
    before: str
    after: str
    broken: tuple[str, ...] = ()


def follow_opinions(found: Service, version: int) -> None:
    """Take the opinions of this version, which was saved last, here or by another process."""
    if version != found.opinions_version:
        kept = newest_opinions(found.engine)
        found.opinions = file_of(kept.text) if kept.on else None
        found.opinions_version = version


@cache
def _folder() -> Path:
    """A folder of this process alone, gone with it or with the machine's next start."""
    return Path(tempfile.mkdtemp(prefix="opinions-"))


def file_of(text: str) -> Path:
    """The text as a file, named by its content."""
    place = _folder() / f"{hashlib.sha256(text.encode()).hexdigest()[:16]}.yaml"
    if not place.exists():
        place.write_text(text, encoding="utf-8")
    return place


@opinions.get("/opinions")
def page() -> str:
    kept = newest_opinions(service().engine)
    return _page(kept.text or START)


@opinions.post("/opinions")
def change() -> View:
    """Check it, try it, switch it on or off; what is not sound is never switched on."""
    form, found = request.form, service()
    text = form.get("text", "").replace("\r\n", "\n")[:MOST_TEXT]
    made_on = int(form["version"]) if form.get("version", "").isdecimal() and len(form["version"]) < 9 else -1
    if form.get("go") == "off":
        return _saved(text, made_on, on=False)
    place = file_of(text)
    problems = check_path(place, rubrics_folder()).problems
    if problems:
        told = [f"Line {one.place.line}: {one.what} {one.what_to_do}" if one.place else str(one) for one in problems]
        return _page(text, tuple(told[:50])), 422
    changed = _differences(found, text, place)
    if form.get("go") == "on":
        broken = () if form.get("told") == place.stem else _broken(found, text, place)
        if broken:
            count = f"{len(broken)} reference {'instrument' if len(broken) == 1 else 'instruments'}"
            return _page(text, (BROKEN.format(count=count),), changed, broken), 409
        return _saved(text, made_on, on=True)
    if form.get("go") != "try":
        return _page(text, changed=changed)
    return _page(text, changed=changed, tried_on=_tried(found, text, place))


def _saved(text: str, made_on: int, *, on: bool) -> View:
    now = service().now()
    kept = save_opinions(service().engine, made_on, text, on, now, name_now())
    if kept is None:
        return _page(
            text, ("Somebody saved opinions a moment ago. Yours stand below; save once more to have them.",)
        ), 409
    note_deed(service().engine, now, name_now(), "switched opinions on" if on else "switched opinions off", "")
    follow_opinions(service(), kept.version)
    return redirect(url_for("opinions.page"))


def _pairs(found: Service, text: str, place: Path) -> Mapping[str, tuple[Rubric, Rubric]]:
    """The rubrics that it is laid over, as they are now and with it in the place of what is switched on."""
    document, _ = parse_document(text, "opinions")
    names = families_named(document.data if document else {})
    with_it = (*found.overlays, place)
    return {name: (found.rubric(name), found.rubric_with(name, with_it)) for name in names if name in found.families()}


def _differences(found: Service, text: str, place: Path) -> tuple[str, ...]:
    pairs = _pairs(found, text, place).values()
    return tuple(dict.fromkeys(line for before, after in pairs for line in differences(before, after)))


def _broken(found: Service, text: str, place: Path) -> tuple[Judged, ...]:
    """The reference instruments that would no longer be judged as was written down beforehand; nobody is judged where
    only words and minutes differ.
    """
    pairs = {name: pair for name, pair in _pairs(found, text, place).items() if not _alike(*pair)}
    return tuple(one for one in _references(found, pairs) if one.broken) if pairs else ()


def _alike(before: Rubric, after: Rubric) -> bool:
    """Whether both judge alike whatever they say."""
    same = all(getattr(before, name) == getattr(after, name) for name in JUDGING)
    return (
        same
        and before.checks.keys() == after.checks.keys()
        and all(
            check == after.checks[name] or check.model_dump(exclude=SAID) == after.checks[name].model_dump(exclude=SAID)
            for name, check in before.checks.items()
        )
    )


def _references(found: Service, pairs: Mapping[str, tuple[Rubric, Rubric]]) -> list[Judged]:
    """The reference instruments that would be judged otherwise."""
    judged = [standings(tried(_by_family(pairs, at), found.shop, calibration())) for at in (0, 1)]
    was, now = ({one.name: one for one in each} for each in judged)
    return [row for name, one in was.items() if name in now and (row := _turned(one, now[name]))]


def _tried(found: Service, text: str, place: Path) -> tuple[Judged, ...]:
    """Reference instruments and the last evaluations that would be judged otherwise."""
    pairs = _pairs(found, text, place)
    rows = _references(found, pairs)
    for kept in newest(found.engine, LAST):
        if kept.rubric in pairs:
            before, after = (_evaluated(found, rubric, kept) for rubric in pairs[kept.rubric])
            if _said(before) != _said(after):
                rows.append(Judged(kept.title or "Without a name", _said(before), _said(after)))
    return tuple(rows)


def _by_family(pairs: Mapping[str, tuple[Rubric, Rubric]], at: int) -> dict[str, Rubric]:
    return {str(pair[at].family): pair[at] for pair in pairs.values()}


def _turned(was: Standing, now: Standing) -> Judged | None:
    broken = tuple(line for line in now.differs if line not in was.differs)
    moved = abs(was.now[0] - now.now[0]) >= MOVED or was.advice != now.advice
    if not moved and not broken:
        return None
    return Judged(was.say, _words(was.advice, was.score), _words(now.advice, now.score), broken)


def _evaluated(found: Service, rubric: Rubric, kept: Kept) -> Evaluation:
    case, _ = case_of(rubric, kept.typed)
    return evaluate(rubric, case, found.shop, draws=DRAWS)


def _said(one: Evaluation) -> str:
    return _words(one.verdict.advice, one.assessment.score.expected if one.assessment.enough else None)


def _words(advice: Advice | None, score: float | None) -> str:
    said = ADVICE[advice] if advice else "no advice"
    return f"{said}, score {score:.0f}" if score is not None else f"{said}, no score"


def _page(
    text: str,
    wrong: tuple[str, ...] = (),
    changed: tuple[str, ...] | None = None,
    tried_on: tuple[Judged, ...] | None = None,
) -> str:
    return render_template(
        "workshop/opinions.html",
        text=text,
        kept=newest_opinions(service().engine),
        wrong=wrong,
        changed=changed,
        tried_on=tried_on,
        told=file_of(text).stem if tried_on else "",
        started_with=[one.name for one in service().overlays],
        last=LAST,
    )
