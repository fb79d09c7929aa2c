"""Names must lead somewhere: parts, causes, cautions, jobs, tables, tools, shared labour, and what formulas read."""

from collections.abc import Iterator, Mapping
from typing import get_args

from ...basis.formulas.formula import Formula
from ...basis.problem import Message, Messages, Place, Problem, problem
from ...basis.units import UNITS
from ...drawings.names import NAMES as DRAWINGS
from ..rubric import Rubric
from ..written.checks import Check
from ..written.kinds import Age, Family, StringType, Style, Tier
from .sources import WORD_FOR, Sources
from .uses import USERS

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
    for kind, uses, word in USERS:
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
    rubric: Rubric, sources: Sources, compared: tuple[str, str], where: str, place: Place | None
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
