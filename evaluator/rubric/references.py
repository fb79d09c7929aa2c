"""Names that a rubric file uses must exist: parts, causes, jobs, tables, tools, shared labour, checks in formulas."""

from collections.abc import Callable, Iterator, Mapping
from typing import Any

from ..basis.formula import Formula
from ..basis.message import Message, Messages, problem
from ..basis.problem import Place, Problem, did_you_mean
from .model import Check, Job

MESSAGES: Messages = {
    "reference.unknown": Message('there is no {kind} "{id}".', "{hint}"),
    "reference.itself": Message('the job "{id}" names itself.', "Take it out."),
    "reference.formula_name": Message('the formula reads "{id}", which is no check and no fact.', "{hint}"),
    "reference.formula_outcome": Message('the check "{check}" has no outcome "{outcome}".', "{hint}"),
    "reference.postponed": Message(
        '"{text}" is not a check and its outcome.', "Write it like soundpost_standing.fallen."
    ),
}
# What a formula may read of the instrument besides checks.
FACTS = ("size", "style", "tier", "age", "strings", "year", "purpose", "family")
Locate = Callable[..., Place | None]
Entries = Mapping[str, Mapping[str, Any]]
Use = tuple[str, str, tuple[str | int, ...]]  # kind, id, path inside the entry


def _check_uses(check: Check) -> Iterator[Use]:
    yield "parts", check.part, ("part",)
    if check.cause:
        yield "causes", check.cause, ("cause",)
    for i, name in enumerate(check.cautions):
        yield "cautions", name, ("cautions", i)
    if check.standard and check.standard.table:
        yield "standards", check.standard.table, ("standard", "table")
    for i, name in enumerate(check.measure.tools if check.measure else ()):
        yield "tools", name, ("measure", "tools", i)
    for key, outcome in check.outcomes.items():
        for i, name in enumerate(outcome.cured_by):
            yield "jobs", name, ("outcomes", key, "cured_by", i)


def _job_uses(job: Job) -> Iterator[Use]:
    for i, name in enumerate(job.shares):
        yield "shared_labour", name, ("shares", i)
    for i, part in enumerate(job.parts):
        yield "part_prices", part.part, ("parts", i, "part")
    for i, name in enumerate(job.cautions):
        yield "cautions", name, ("cautions", i)
    for key in ("requires", "after", "makes_unnecessary", "choose_one"):
        for i, name in enumerate(getattr(job, key)):
            yield "jobs", name, (key, i)
    for i, force in enumerate(job.forces):
        names = ((force.job, "job"),) if force.job else tuple((name, "one_of") for name in force.one_of)
        for name, key in names:
            yield "jobs", str(name), ("forces", i, key)


WORDS = {"parts": "part", "causes": "cause", "cautions": "caution", "standards": "standard table", "tools": "tool",
         "jobs": "job", "shared_labour": "shared labour", "part_prices": "part price"}  # fmt: skip


def reference_problems(
    here: Entries, everywhere: Entries, formulas: Mapping[str, Formula], relevant: Mapping[str, Formula], place: Locate
) -> list[Problem]:
    """Every name that leads nowhere. `here` is what the family keeps, `everywhere` what was read for all families."""
    found: list[Problem] = []
    for kind, uses, word in (("checks", _check_uses, "check"), ("jobs", _job_uses, "job")):
        for name, entry in here[kind].items():
            for target, identity, path in uses(entry):
                where, at = f'{word} "{name}"', place(kind, name, *path)
                if identity not in everywhere[target]:
                    hint = did_you_mean(identity, everywhere[target])
                    found.append(
                        problem(MESSAGES, "reference.unknown", where, at, kind=WORDS[target], id=identity, hint=hint)
                    )
                elif kind == "jobs" and target == "jobs" and identity == name:
                    found.append(problem(MESSAGES, "reference.itself", where, at, id=name))
    for key, table in (("formula", formulas), ("relevant_if", relevant)):
        for name, formula in table.items():
            found += _formula_problems(here["checks"], formula, f'check "{name}"', place("checks", name, key))
    for check in here["checks"].values():
        found += _postponed_problems(here["checks"], check, place)
    return found


def _formula_problems(checks: Mapping[str, Check], formula: Formula, where: str, at: Place | None) -> Iterator[Problem]:
    for used in sorted(formula.names):
        if used not in checks and used not in FACTS:
            hint = did_you_mean(used, [*checks, *FACTS])
            yield problem(MESSAGES, "reference.formula_name", where, at, id=used, hint=hint)
    for name, text in formula.texts_compared():
        if name in checks and text not in checks[name].outcomes:
            hint = did_you_mean(text, checks[name].outcomes)
            yield problem(MESSAGES, "reference.formula_outcome", where, at, check=name, outcome=text, hint=hint)


def _postponed_problems(checks: Mapping[str, Check], check: Check, place: Locate) -> Iterator[Problem]:
    for i, text in enumerate(check.postponed_by):
        name, _, outcome = text.partition(".")
        if name not in checks or outcome not in checks[name].outcomes:
            at = place("checks", check.check, "postponed_by", i)
            yield problem(MESSAGES, "reference.postponed", f'check "{check.check}"', at, text=text)
