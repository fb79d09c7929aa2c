"""Names must lead somewhere: parts, causes, cautions, jobs, tables, tools, shared labour, and what formulas read."""

from collections.abc import Iterator, Mapping
from typing import Any, get_args

from ...basis.formulas.formula import Formula
from ...basis.message import Message, Messages, problem
from ...basis.problem import Problem
from ...basis.units import UNITS
from ...drawings.names import NAMES as DRAWINGS
from ..making import SignGroup
from ..model import (
    Age,
    Check,
    Family,
    Job,
    PartPrice,
    SharedLabour,
    StandardTable,
    StringType,
    Style,
    Tier,
    Tool,
    jobs_of,
)
from ..rubric import Rubric
from ..written.checks import Likeness
from .renamed import Renamed
from .sources import WORD_FOR, Sources

MESSAGES: Messages = {
    "reference.parts": Message('there is no part "{id}".', "Use a part of the family file. {hint}"),
    "reference.checks": Message('there is no check "{id}".', "Use one of the checks, or take it out. {hint}"),
    "reference.causes": Message('there is no cause "{id}".', "Use one of the causes, or add it. {hint}"),
    "reference.cautions": Message('there is no caution "{id}".', "Use one of the cautions, or add it. {hint}"),
    "reference.standards": Message('there is no table of standards "{id}".', "Use a table, or add it. {hint}"),
    "reference.tools": Message('there is no measuring tool "{id}".', "Use one of the tools, or add it. {hint}"),
    "reference.jobs": Message('there is no job "{id}".', "Use one of the jobs, or add it. {hint}"),
    "reference.shared_labour": Message('there is no shared labour "{id}".', "Use one, or add it. {hint}"),
    "reference.part_prices": Message('there is no price for the part "{id}".', "Add it to part_prices. {hint}"),
    "reference.drawings": Message('there is no drawing "{id}".', "Use one of the drawings, or take it away. {hint}"),
    "reference.units": Message('the unit "{id}" is not known.', "Use mm, g, deg, ratio or another known unit."),
    "reference.source": Message('"{id}" is not in the list of sources.', "{hint} Or write the source in words."),
    "reference.itself": Message('the {kind} "{id}" names itself under {key}.', "Take it out."),
    "reference.formula_name": Message(
        'the formula reads "{id}", which is neither a check nor a fact of the instrument.', "{hint}"
    ),
    "reference.formula_outcome": Message('the check "{check}" has no outcome "{outcome}".', "{hint}"),
    "reference.formula_fact": Message('{fact} is never "{text}".', "It may be {choices}. {hint}"),
    "reference.formula_text": Message(
        'the formula reckons with "{id}", whose answer is a word and no number.', "Read a measured or counted check."
    ),
    "reference.postponed": Message(
        '"{text}" is not a check with one of its outcomes.', "Write it like soundpost_standing.fallen. {hint}"
    ),
    "reference.seen_as": Message('"{text}" is no other outcome of this check.', "Name one of its outcomes. {hint}"),
    "reference.no_outcome": Message("nothing can be answered to it.", "Give it two outcomes or more."),
    "reference.default_size": Message('the default size "{size}" is not among the sizes.', "Use one of the sizes."),
}
# What a condition may read of the instrument besides checks, and the texts that each can be (None: free, or a number).
FACTS: Mapping[str, tuple[str, ...] | None] = {
    "family": get_args(Family),
    "size": None,
    "style": get_args(Style),
    "tier": get_args(Tier),
    "strings": get_args(StringType),
    "age": get_args(Age),
    "year": None,
    "purpose": ("buying", "trade_in", "quote"),
}
Use = tuple[str, str, tuple[object, ...]]  # kind, id, path inside the entry


def reference_problems(rubric: Rubric, sources: Sources) -> list[Problem]:
    """Every name that leads nowhere in what the family keeps."""
    found = list(_unknown_names(rubric, sources)) if not sources.unreadable else []
    for key, table in (("formula", rubric.formulas), ("relevant_if", rubric.relevant)):
        for name, formula in table.items():
            found += _formula_problems(rubric, sources, name, key, formula)
    for check in rubric.checks.values():
        found += _postponed_problems(rubric, sources, "checks", check.check, "postponed_by", check.postponed_by)
        found += _outcome_problems(rubric, sources, check)
    for wait in rubric.waits.values():
        found += _postponed_problems(rubric, sources, "waits", wait.wait, "outcomes", wait.outcomes)
    return [*found, *_safety_problems(rubric, sources)]


def _outcome_problems(rubric: Rubric, sources: Sources, check: Check) -> Iterator[Problem]:
    """Outcomes that name another outcome which there is not, and a choice without any."""
    if check.kind == "choice" and not check.outcomes:
        yield problem(MESSAGES, "reference.no_outcome", f'check "{check.check}"', sources.place("checks", check.check))
    for name, outcome in check.outcomes.items():
        where = f'check "{check.check}", outcome "{name}"'
        if outcome.counts_as:
            key = ("outcomes", name, "counts_as")
            for one in _postponed_problems(rubric, sources, "checks", check.check, key, (outcome.counts_as,)):
                yield Problem(one.code, where, one.what, one.what_to_do, one.place)
        if outcome.seen_as and (outcome.seen_as not in check.outcomes or outcome.seen_as == name):
            place = sources.place("checks", check.check, "outcomes", name, "seen_as")
            hint = sources.hints.near(outcome.seen_as, check.outcomes)
            yield problem(MESSAGES, "reference.seen_as", where, place, text=outcome.seen_as, hint=hint)


def _safety_problems(rubric: Rubric, sources: Sources) -> Iterator[Problem]:
    """Names on the first page that are no checks."""
    document = next((one for one in reversed(sources.documents.values()) if "safety" in one.data), None)
    for at, name in enumerate(rubric.safety.checks if rubric.safety else ()):
        if not sources.is_known("checks", name):
            place = document.place("safety", "checks", at) if document else None
            hint = sources.hints.near(name, rubric.checks)
            yield problem(MESSAGES, "reference.checks", "safety", place, id=name, hint=hint)


def _unknown_names(rubric: Rubric, sources: Sources) -> Iterator[Problem]:
    for kind, uses, word in _USERS:
        for name, entry in getattr(rubric, kind).items():
            for target, identity, path in uses(entry):
                found = _unknown(rubric, sources, (kind, name), target, identity)
                if found:  # only now: finding the place of every name would take half the time of a load
                    code, hint = found
                    words = {"kind": word, "id": identity, "key": path[0], "hint": hint}
                    place = sources.place(kind, name, *path)
                    yield problem(MESSAGES, f"reference.{code}", f'{word} "{name}"', place, **words)


def _unknown(
    rubric: Rubric, sources: Sources, user: tuple[str, str], target: str, identity: str
) -> tuple[str, str] | None:
    """(code, hint) when a name leads nowhere, or back to its user."""
    if user == (target, identity):
        return "itself", ""
    if target == "drawings":
        return None if identity in DRAWINGS else (target, sources.hints.near(identity, DRAWINGS))
    if target == "units":
        return None if identity in UNITS else (target, "")
    if target != "source":
        known = sources.is_known(target, identity)
        return None if known else (target, sources.hints.near(identity, sources.names(target)))
    if identity in rubric.sources or " " in identity:
        return None
    # Free text is a source too, so only a single word that is nearly a key counts as a slip.
    hint = sources.slips.near(identity, rubric.sources)
    return ("source", hint) if hint else None


def _listed(kind: str, names: tuple[str, ...], *path: object) -> Iterator[Use]:
    for at, name in enumerate(names):
        yield kind, name, (*path, at)


def _check_uses(check: Check) -> Iterator[Use]:
    yield "parts", check.part, ("part",)
    if check.cause:
        yield "causes", check.cause, ("cause",)
    yield from _listed("cautions", check.cautions, "cautions")
    if check.drawing:
        yield "drawings", check.drawing, ("drawing",)
    if check.standard and check.standard.table:
        yield "standards", check.standard.table, ("standard", "table")
    if check.standard:
        yield from _listed("source", check.standard.sources, "standard", "sources")
    if check.measure or check.unit:
        yield (
            ("units", check.measure.unit, ("measure", "unit"))
            if check.measure
            else ("units", check.unit or "", ("unit",))
        )
    if check.measure:
        yield from _listed("tools", check.measure.tools, "measure", "tools")
    if check.count:
        yield from _listed("checks", check.count.units_of, "count", "units_of")
    yield from _listed("checks", check.points_to, "points_to")
    for key, outcome in check.outcomes.items():
        for at, cure in enumerate(outcome.cured_by):
            for job in jobs_of(cure):
                yield "jobs", job, ("outcomes", key, "cured_by", at)
    yield from _listed("source", check.sources, "sources")


def _job_uses(job: Job) -> Iterator[Use]:
    yield from _listed("shared_labour", job.shares, "shares")
    for at, part in enumerate(job.parts):
        yield "part_prices", part.part, ("parts", at, "part")
    yield from _listed("cautions", job.cautions, "cautions")
    for key in ("requires", "after", "makes_unnecessary", "choose_one"):
        yield from _listed("jobs", getattr(job, key), key)
    for at, force in enumerate(job.forces):
        if force.job:
            yield "jobs", force.job, ("forces", at, "job")
        yield from _listed("jobs", force.one_of, "forces", at, "one_of")
    for name in job.leaves_as:
        yield "checks", name, ("leaves_as", name)
    for at, limit in enumerate(job.limits):
        yield "checks", limit.check, ("limits", at, "check")
    yield from _listed("source", job.sources, "sources")


def _table_uses(table: StandardTable) -> Iterator[Use]:
    yield "units", table.unit, ("unit",)
    for at, row in enumerate(table.rows):
        yield from _listed("source", row.sources, "rows", at, "sources")


def _tool_uses(tool: Tool) -> Iterator[Use]:
    yield "units", tool.unit, ("unit",)


def _renamed_uses(renamed: Renamed) -> Iterator[Use]:
    if renamed.now:
        yield "checks", renamed.now, ("now",)
    if renamed.standard and renamed.standard.table:
        yield "standards", renamed.standard.table, ("standard", "table")


def _shared_uses(shared: SharedLabour) -> Iterator[Use]:
    yield from _listed("shared_labour", shared.includes, "includes")
    yield from _listed("source", shared.sources, "sources")


def _price_uses(price: PartPrice) -> Iterator[Use]:
    yield from _listed("cautions", price.cautions, "cautions")
    yield from _listed("source", price.sources, "sources")


def _sign_uses(group: SignGroup) -> Iterator[Use]:
    for name, sign in group.signs.items():
        yield "checks", name, ("signs", name)
        yield from _listed("source", sign.sources, "signs", name, "sources")


def _likeness_uses(likeness: Likeness) -> Iterator[Use]:
    yield "checks", likeness.check, ("check",)
    yield "drawings", likeness.drawing, ("drawing",)
    yield from _listed("source", likeness.sources, "sources")


_USERS: tuple[tuple[str, Any, str], ...] = (
    ("checks", _check_uses, "check"),
    ("jobs", _job_uses, "job"),
    ("standards", _table_uses, "standard"),
    ("tools", _tool_uses, "measuring tool"),
    ("shared_labour", _shared_uses, "shared labour"),
    ("part_prices", _price_uses, "part price"),
    ("renamed", _renamed_uses, "renamed check"),
    ("sign_groups", _sign_uses, "group of signs"),
    ("likenesses", _likeness_uses, "likeness"),
)


def _formula_problems(rubric: Rubric, sources: Sources, check: str, key: str, formula: Formula) -> Iterator[Problem]:
    where, place = f'check "{check}"', sources.place("checks", check, key)
    compared = formula.texts_compared()
    facts = FACTS if key == "relevant_if" else {}
    if check in formula.names:
        yield problem(MESSAGES, "reference.itself", where, place, kind="check", id=check, key=key)
    for name in sorted(formula.names - {check}):
        if name not in rubric.checks and name not in facts and not sources.is_there("checks", name):
            hint = sources.hints.near(name, [*rubric.checks, *facts]) or "Look at the ids of the checks."
            yield problem(MESSAGES, "reference.formula_name", where, place, id=name, hint=hint)
        elif _is_reckoned_word(rubric, name, compared):
            yield problem(MESSAGES, "reference.formula_text", where, place, id=name)
    for name, text in compared:
        yield from _compared_problems(rubric, sources, (name, text), where, place)


def _is_reckoned_word(rubric: Rubric, name: str, compared: tuple[tuple[str, str], ...]) -> bool:
    """Whether the answer of a check is a word, and the formula never compares it with words."""
    check = rubric.checks.get(name)
    return check is not None and check.kind == "choice" and name not in {one for one, _ in compared}


def _compared_problems(
    rubric: Rubric, sources: Sources, compared: tuple[str, str], where: str, place: Any
) -> Iterator[Problem]:
    name, text = compared
    if name in rubric.checks:
        outcomes = rubric.checks[name].outcomes
        if text not in outcomes and text != "cannot_tell" and ("checks", name) not in sources.broken:
            hint = sources.hints.near(text, outcomes) or f"It has {', '.join(outcomes)}."
            yield problem(MESSAGES, "reference.formula_outcome", where, place, check=name, outcome=text, hint=hint)
        return
    choices = rubric.sizes if name == "size" else FACTS.get(name)
    if choices and text not in choices:
        words = {"fact": name, "text": text, "choices": ", ".join(choices), "hint": sources.hints.near(text, choices)}
        yield problem(MESSAGES, "reference.formula_fact", where, place, **words)


def _postponed_problems(
    rubric: Rubric,
    sources: Sources,
    kind: str,
    identity: str,
    key: str | tuple[str, ...],
    references: tuple[str, ...],
) -> Iterator[Problem]:
    for at, text in enumerate(references):
        name, _, outcome = text.partition(".")
        if (kind == "checks" and sources.is_known("waits", text)) or name in rubric.renamed:
            continue
        known = rubric.checks.get(name)
        if (known is None and sources.is_known("checks", name)) or ("checks", name) in sources.broken:
            continue
        if known is None or outcome not in known.outcomes:
            word, words = (name, rubric.checks) if known is None else (outcome, known.outcomes)
            hint = sources.hints.near(word, words)
            place = sources.place(kind, identity, *((key, at) if isinstance(key, str) else key))
            where = f'{WORD_FOR[kind]} "{identity}"'
            yield problem(MESSAGES, "reference.postponed", where, place, text=text, hint=hint)
