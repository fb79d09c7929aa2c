"""Answers of before, by the names of today: a check that was merged is read as the one that asks it now."""

from collections.abc import Mapping

from ...basis.problem import Problem
from ...basis.typed.quantities import Quantity, read_quantity
from ...rubric.files.renamed import Renamed
from ...rubric.rubric import Rubric
from ...rubric.written.checks import Check
from ..model import CANNOT_TELL, MEETS, TOO_HIGH, TOO_LOW, Instrument

Answers = Mapping[str, object]


def named_today(rubric: Rubric, answers: Answers, instrument: Instrument) -> tuple[dict[str, object], dict[str, str]]:
    """The answers under the names of today, and for each that nobody asks any more the reason.

    An answer that nothing is known of stays as it is. Two that are one check now stand together, today's first.
    """
    found: dict[str, object] = {}
    gone: dict[str, str] = {}
    for name, answer in sorted(answers.items(), key=lambda one: str(one[0]) in rubric.renamed):
        entry = rubric.renamed.get(str(name))
        if entry is None or not _is_named(rubric, entry, answer):
            found[str(name)] = answer
            continue
        for given in _several(answer):
            for check, today in _now(rubric, entry, given, instrument):
                if check:
                    found[check] = [*_several(found[check]), today] if check in found else [today]
                else:
                    gone[str(name)] = entry.why
    return found, gone


def _is_named(rubric: Rubric, entry: Renamed, answer: object) -> bool:
    """Whether the answer is one of before: of a check that still stands only some outcomes were renamed."""
    return entry.was not in rubric.checks or any(_outcome_in(one) in entry.outcomes for one in _several(answer))


def _outcome_in(answer: object) -> str:
    said = answer.get("outcome") if isinstance(answer, Mapping) else answer
    return said.strip() if isinstance(said, str) else ""


def _several(answer: object) -> list[object]:
    return list(answer) if isinstance(answer, list | tuple) else [answer]


def _now(rubric: Rubric, entry: Renamed, answer: object, instrument: Instrument) -> tuple[tuple[str, object], ...]:
    """Checks and answers as they would be given today; what cannot be read stays as it is, to be told as a mistake."""
    reading, unit = (answer.get("reading"), answer.get("unit")) if isinstance(answer, Mapping) else (answer, None)
    said = _outcome_in(answer)
    if said not in entry.outcomes and said != CANNOT_TELL:
        said = _judged(rubric, entry, reading, unit, instrument) or said
    home = entry.now or (entry.was if entry.was in rubric.checks else "")
    if not said:
        return ((home, answer),)
    named = ((home, said),) if said == CANNOT_TELL else entry.all_today(said)
    if not isinstance(answer, Mapping):
        return tuple((check or home, outcome) for check, outcome in named)
    kept = {key: value for key, value in answer.items() if key not in ("outcome", "reading", "unit", "tool")}
    was = f"Asked before as {entry.was.replace('_', ' ')}: {_as_text(answer)}."
    note = f"{kept.get('note', '')} {was}".strip()
    return tuple((check or home, {**kept, "outcome": outcome, "note": note}) for check, outcome in named)


def _as_text(answer: Mapping[str, object]) -> str:
    said = answer.get("reading", answer.get("outcome"))
    return ", ".join(map(str, _several(said))).replace("_", " ") + (f" {answer['unit']}" if answer.get("unit") else "")


def _judged(rubric: Rubric, entry: Renamed, reading: object, unit: object, instrument: Instrument) -> str | None:
    """The outcome of before that a reading or a number meant; None where it cannot be read."""
    texts = [f"{one} {unit}" if unit else str(one) for one in _several(reading)]
    if entry.numbers and texts and texts[0].strip().isdigit():
        number = int(texts[0])
        return next((name for least, name in sorted(entry.numbers.items(), reverse=True) if number >= least), None)
    if entry.measure is None or entry.standard is None:
        return None
    values = []
    for text in texts:
        read = read_quantity(text, entry.measure.unit, entry.was)
        if isinstance(read, Problem) or not isinstance(read, Quantity):
            return None
        values.append(read.value)
    return _side(rubric, entry, sum(values) / len(values), instrument) if values else None


def _side(rubric: Rubric, entry: Renamed, value: float, instrument: Instrument) -> str:
    check = Check(
        check=entry.was, part=entry.was, ask=entry.why, measure=entry.measure, standard=entry.standard, outcomes={}
    )  # only to find the limits of this size
    limits = rubric.limits(check, instrument.size, instrument.style, instrument.strings)
    if limits is not None and limits.low is not None and value < limits.low:
        return TOO_LOW
    return TOO_HIGH if limits is not None and limits.high is not None and value > limits.high else MEETS
