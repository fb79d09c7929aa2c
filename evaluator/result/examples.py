"""Examples with what must come out: inside a rubric, and the reference instruments of the calibration file.

An expectation is a key and a value: `advice: negotiate` (or several that may come out), `statement.CHECK: meets`,
`finding.CHECK: OUTCOME` (or `none`), `job.JOB: true` (in the plan) or `false`, `score.at_least`, `score.at_most`,
`after_work.at_least`, `after_work.at_most` and `ready.at_least`, `ready.at_most` in the shop's money; `score: none` and
`ready: none` where too little is known for a figure; `better_than.OTHER: 10`, the points above another instrument.
"""

from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass

from ..assessment.observing.case import read_case
from ..basis.problem import Message, Messages, Problem, problem
from ..rubric.files.calibration import Calibration, ReferenceExample
from ..rubric.rubric import Rubric
from ..rubric.shop import Shop
from ..rubric.written.surroundings import RubricExample
from .evaluation import Evaluation, evaluate

MESSAGES: Messages = {
    "example.unreadable": Message("{what}", "{do}"),
    "example.key": Message(
        '"{key}" is not something to expect.',
        "Use advice, statement., finding., job., score., after_work., ready. or better_than.",
    ),
    "example.differs": Message("{key} should be {wanted} and is {found}.", "Change the rubric or what is expected."),
    "example.order": Message(
        "it should stand {wanted} points above {other}, and stands {found}.", "Change the rubric or what is expected."
    ),
    "example.other": Message('there is no instrument "{other}" to stand above.', "Name another of the same file."),
}
NONE = "none"
ORDER = "better_than"
Expected = str | float | bool | tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Tried:
    """A reference instrument and what came out; `found` is None where it cannot be read, and `problems` say why."""

    example: ReferenceExample
    found: Evaluation | None
    problems: tuple[Problem, ...]


def example_problems(rubric: Rubric, shop: Shop) -> tuple[Problem, ...]:
    """Every expectation of the rubric's examples that is not met, in the order of the file."""
    return tuple(one for example in rubric.examples for one in problems_with(rubric, shop, example))


def problems_with(rubric: Rubric, shop: Shop, example: RubricExample) -> tuple[Problem, ...]:
    """What of one example does not come out, or why it cannot be read."""
    return _tried(rubric, shop, example, _case_data(rubric, example, example.observations, shop))[1]


def tried(rubrics: Mapping[str, Rubric], shop: Shop, calibration: Calibration) -> tuple[Tried, ...]:
    """The reference instruments of the families of `rubrics`, each judged and held against what was expected."""
    rows = []
    for example in calibration.examples:
        rubric = rubrics.get(example.family)
        if rubric is not None:
            data = _case_data(rubric, example, calibration.answers(example), shop)
            data |= {"seen_by": example.seen_by, "looker": example.looker}
            rows.append((example, *_tried(rubric, shop, example, data)))
    found = {example.example: evaluation for example, evaluation, _ in rows}
    return tuple(
        Tried(example, evaluation, (*problems, *_order_problems(example, found, calibration)))
        for example, evaluation, problems in rows
    )


def _case_data(rubric: Rubric, example: RubricExample, answers: Mapping[str, object], shop: Shop) -> dict[str, object]:
    """The example as the evaluation file that it stands for."""
    data: dict[str, object] = {
        "format": 1,
        "rubric": rubric.name,
        "purpose": "buying",
        "instrument": dict(example.instrument),
        "observations": dict(answers),
    }
    for key in ("asking", "ready_value"):
        amount = getattr(example, key)
        if amount is not None:
            data[key] = {"amount": amount, "currency": shop.currency}
    return data


def _tried(
    rubric: Rubric, shop: Shop, example: RubricExample, data: Mapping[str, object]
) -> tuple[Evaluation | None, tuple[Problem, ...]]:
    where = f'example "{example.example}"'
    case, problems = read_case(rubric, data)
    if case is None:
        unread = (
            problem(MESSAGES, "example.unreadable", where, what=f"{one.where}: {one.what}", do=one.what_to_do)
            for one in problems
        )
        return None, tuple(unread)
    found = evaluate(rubric, case, shop)
    return found, tuple(one for key, wanted in example.expect.items() for one in _held(found, where, key, wanted))


def _held(found: Evaluation, where: str, key: str, wanted: Expected) -> Iterator[Problem]:
    kind, _, name = key.partition(".")
    if kind == ORDER and name:
        return
    if kind in _AMOUNTS and (name in ("at_least", "at_most") or wanted == NONE):
        amount = _AMOUNTS[kind](found)
        if not _within(amount, name, wanted):
            said = NONE if amount is None else f"{amount:.1f}"
            yield problem(MESSAGES, "example.differs", where, key=key, wanted=wanted, found=said)
    elif kind in _FOUND:
        is_ = _FOUND[kind](found, name)
        if is_ != wanted and not (isinstance(wanted, tuple) and is_ in wanted):
            asked = " or ".join(wanted) if isinstance(wanted, tuple) else wanted
            yield problem(MESSAGES, "example.differs", where, key=key, wanted=asked, found=is_)
    else:
        yield problem(MESSAGES, "example.key", where, key=key)


def _within(amount: float | None, bound: str, wanted: Expected) -> bool:
    if wanted == NONE or amount is None:
        return wanted == NONE and amount is None
    if isinstance(wanted, str | tuple):
        return False
    return amount >= wanted if bound == "at_least" else amount <= wanted


def _order_problems(
    example: ReferenceExample, found: Mapping[str, Evaluation | None], calibration: Calibration
) -> Iterator[Problem]:
    """Where an instrument does not stand above another by as much as it should."""
    where, known = f'example "{example.example}"', {one.example for one in calibration.examples}
    own = _score(found[example.example])
    for other, wanted in _orders(example.expect.items()):
        if other not in known:
            yield problem(MESSAGES, "example.other", where, other=other)
            continue
        than = _score(found.get(other))
        if own is not None and than is not None and own - than < wanted:
            above = f"{own - than:.1f}"
            yield problem(MESSAGES, "example.order", where, wanted=f"{wanted:g}", other=other, found=above)


def _orders(expect: Iterable[tuple[str, Expected]]) -> Iterator[tuple[str, float]]:
    for key, wanted in expect:
        kind, _, other = key.partition(".")
        if kind == ORDER and isinstance(wanted, int | float):
            yield other, wanted


def _score(found: Evaluation | None) -> float | None:
    return found.assessment.score.expected if found is not None and found.assessment.enough else None


def _after(found: Evaluation) -> float | None:
    return found.assessment.score_after.expected if found.assessment.enough else None


def _ready(found: Evaluation) -> float | None:
    return None if found.verdict.ready_value is None else float(found.verdict.ready_value.amount)


def _statement(found: Evaluation, name: str) -> object:
    item = found.assessment.conformity.get(name)
    return NONE if item is None else item.statement


def _finding(found: Evaluation, name: str) -> object:
    likely = (*found.assessment.disqualifying, *found.assessment.findings)
    return next((one.outcome for one in likely if one.check == name and one.level != "possible"), NONE)


_AMOUNTS: Mapping[str, Callable[[Evaluation], float | None]] = {"score": _score, "after_work": _after, "ready": _ready}
_FOUND: Mapping[str, Callable[[Evaluation, str], object]] = {
    "advice": lambda found, _: found.verdict.advice or NONE,
    "statement": _statement,
    "finding": _finding,
    "job": lambda found, name: any(line.job == name for line in found.estimate.lines),
}
