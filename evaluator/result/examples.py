"""The examples inside a rubric: each is evaluated, and what comes out is held against what its author expected.

An expectation is a key and a value: `advice: negotiate`, `statement.CHECK: meets`, `finding.CHECK: OUTCOME` (or
`none`), `job.JOB: true` (in the plan) or `false`, `score.at_least`, `score.at_most`, `after_work.at_least`,
`after_work.at_most`.
"""

from collections.abc import Callable, Iterator, Mapping
from typing import Any

from ..assessment.observing.case import read_case
from ..basis.message import Message, Messages, problem
from ..basis.problem import Problem
from ..rubric.model import RubricExample
from ..rubric.rubric import Rubric
from ..rubric.shop import Shop
from .evaluation import Evaluation, evaluate

MESSAGES: Messages = {
    "example.unreadable": Message("{what}", "{do}"),
    "example.key": Message('"{key}" is not something to expect.', "Use advice, statement., finding., job. or score."),
    "example.differs": Message("{key} should be {wanted} and is {found}.", "Change the rubric or what is expected."),
}
NONE = "none"


def example_problems(rubric: Rubric, shop: Shop) -> tuple[Problem, ...]:
    """Every expectation of the rubric's examples that is not met, in the order of the file."""
    return tuple(one for example in rubric.examples for one in problems_with(rubric, shop, example))


def case_data(rubric: Rubric, example: RubricExample) -> dict[str, Any]:
    """The example as the evaluation file that it stands for."""
    data: dict[str, Any] = {
        "format": 1,
        "rubric": rubric.name,
        "purpose": "buying",
        "instrument": dict(example.instrument),
        "observations": dict(example.observations),
    }
    for key in ("asking", "ready_value"):
        amount = getattr(example, key)
        if amount is not None:
            data[key] = {"amount": amount, "currency": "USD"}
    return data


def problems_with(rubric: Rubric, shop: Shop, example: RubricExample) -> Iterator[Problem]:
    """What of one example does not come out, or why it cannot be read."""
    where = f'example "{example.example}"'
    case, problems = read_case(rubric, case_data(rubric, example))
    if case is None or problems:
        for one in problems:
            yield problem(MESSAGES, "example.unreadable", where, what=f"{one.where}: {one.what}", do=one.what_to_do)
        return
    found = evaluate(rubric, case, shop)
    for key, wanted in example.expect.items():
        yield from _held(found, where, key, wanted)


def _held(found: Evaluation, where: str, key: str, wanted: str | float | bool) -> Iterator[Problem]:
    kind, _, name = key.partition(".")
    if kind in _BOUNDS and name in ("at_least", "at_most") and isinstance(wanted, (int, float)):
        score = _BOUNDS[kind](found)
        if not (score >= wanted if name == "at_least" else score <= wanted):
            yield problem(MESSAGES, "example.differs", where, key=key, wanted=wanted, found=f"{score:.1f}")
    elif kind in _FOUND:
        is_ = _FOUND[kind](found, name)
        if is_ != wanted:
            yield problem(MESSAGES, "example.differs", where, key=key, wanted=wanted, found=is_)
    else:
        yield problem(MESSAGES, "example.key", where, key=key)


def _statement(found: Evaluation, name: str) -> object:
    item = found.assessment.conformity.get(name)
    return NONE if item is None else item.statement


def _finding(found: Evaluation, name: str) -> object:
    likely = (*found.assessment.disqualifying, *found.assessment.findings)
    return next((one.outcome for one in likely if one.check == name and one.level != "possible"), NONE)


_BOUNDS: Mapping[str, Callable[[Evaluation], float]] = {
    "score": lambda found: found.assessment.score.expected,
    "after_work": lambda found: found.assessment.score_after.expected,
}
_FOUND: Mapping[str, Callable[[Evaluation, str], object]] = {
    "advice": lambda found, _: found.verdict.advice or NONE,
    "statement": _statement,
    "finding": _finding,
    "job": lambda found, name: any(line.job == name for line in found.estimate.lines),
}
