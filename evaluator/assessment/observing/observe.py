"""The one parser of an answer: a form's field, JSON and YAML all come through `read_observation`.

An answer is an outcome's id, `cannot_tell`, a reading (a number or text with a unit), a mapping of these with the
tool, how it was seen, a note and photos, or a list of such answers. What a person typed is kept in the reading's
texts.
"""

from collections.abc import Mapping, Sequence
from dataclasses import replace
from typing import get_args

from ...basis.message import Message, Messages, problem
from ...basis.problem import Hints, Problem, did_you_mean
from ...basis.show import number, with_unit
from ...basis.typed.numbers import read_whole
from ...basis.typed.quantities import Between, Quantity, read_quantity, with_unit_behind
from ...basis.typed.signs import sign_problem
from ...basis.units import UNITS, WITH_ARTICLE, dimension_of
from ...rubric.model import Channel, Check, Tool
from ...rubric.rubric import Rubric
from ..model import CANNOT_TELL, Observation, Reading
from .uncertainty import reading_uncertainty

CHANNELS: tuple[Channel, ...] = get_args(Channel)
KEYS = ("outcome", "reading", "unit", "tool", "seen_by", "note", "photos", "by", "at")
MOST_ANSWERS = 20
MOST_REPEATS = 20
MOST_NOTE = 2000
MOST_PHOTOS = 40
MOST_NAME = 80
# Below nothing there is no length, weight or time; an angle, a temperature or a plain number may be negative.
NEVER_NEGATIVE = frozenset({"length", "mass", "time", "frequency", "humidity"})

MESSAGES: Messages = {
    "observation.unknown_check": Message("there is no such check.", "{hint}"),
    "observation.unknown_outcome": Message('"{text}" is not one of its answers.', "{hint}"),
    "observation.unknown_tool": Message('the tool "{text}" is not known.', "{hint}"),
    "observation.wrong_tool": Message('the tool "{text}" does not measure {thing}.', "{hint}"),
    "observation.unknown_channel": Message(
        '"{text}" is no way of seeing.', "Use in_person, photos, seller_statement or recording. {hint}"
    ),
    "observation.unknown_key": Message('unknown key "{text}".', "{hint}"),
    "observation.both": Message("both an outcome and a reading are given.", "Keep one of them."),
    "observation.no_reading": Message(
        "this check takes no reading.", "Choose one of its answers, for example {example}."
    ),
    "observation.not_text": Message("{what} must be text.", "Write it in quotes."),
    "observation.too_long": Message("{what} is longer than {limit}.", "Shorten it."),
    "observation.negative": Message("{text} is less than nothing.", "Enter {thing} of 0 or more."),
    "observation.too_small": Message(
        "{text} is less than {limit}, the least that can be.", "Look at the unit, or measure again."
    ),
    "observation.too_large": Message(
        "{text} is more than {limit}, the most that can be.", "Look at the unit, or measure again."
    ),
    "observation.no_outcome_for": Message("no answer holds {text}.", "Choose an answer in words."),
    "observation.shape": Message("this is neither an answer nor a reading.", "Write it like {example}."),
    "observation.yes_no": Message(
        "true and false are no answers here.", "Write one of its answers, for example {example}."
    ),
}


class _RefusedError(Exception):
    """Carries problems out of the walk; never leaves this module."""

    def __init__(self, *problems: Problem) -> None:
        self.problems = problems
        super().__init__(problems)


def read_observation(
    rubric: Rubric,
    check_id: str,
    raw: object,
    seen_by_default: Channel = "in_person",
    hints: Hints | None = None,
) -> tuple[Observation, ...] | tuple[Problem, ...]:
    """The observations in one answer, or every mistake in it (a tuple holds only the one kind).

    Nothing (None or blank) gives an empty tuple: the check was not looked at. `hints` are those of the whole file.
    """
    check = rubric.checks.get(check_id)
    hints = hints or Hints()
    if check is None:
        hint = hints.near(str(check_id), rubric.checks)
        return (problem(MESSAGES, "observation.unknown_check", f'check "{in_one_line(check_id)}"', hint=hint),)
    answers = raw if isinstance(raw, (list, tuple)) else [raw]
    if len(answers) > MOST_ANSWERS:
        return _refuse(check, "observation.too_long", what="the list", limit=f"{MOST_ANSWERS} answers").problems
    found: list[Observation] = []
    problems: list[Problem] = []
    for answer in answers:
        try:
            one = _answer(rubric, check, answer, seen_by_default, hints)
        except _RefusedError as refused:
            problems += refused.problems
        else:
            found += [one] if one is not None else []
    return tuple(problems) if problems else tuple(found)


def _where(check: Check) -> str:
    return f'check "{check.check}"'


def _refuse(check: Check, code: str, **words: object) -> _RefusedError:
    return _RefusedError(problem(MESSAGES, code, _where(check), None, **words))


def _answer(rubric: Rubric, check: Check, raw: object, seen_by: Channel, hints: Hints) -> Observation | None:
    if raw is None or (isinstance(raw, str) and not raw.strip()):
        return None
    if isinstance(raw, bool):
        raise _refuse(check, "observation.yes_no", example=_example(check))
    if isinstance(raw, Mapping):
        return _mapped(rubric, check, raw, seen_by, hints)
    if not isinstance(raw, (str, int, float)):
        raise _refuse(check, "observation.shape", example=_example(check))
    return _plain(rubric, check, raw, seen_by)


def _plain(rubric: Rubric, check: Check, raw: str | float, seen_by: Channel) -> Observation:
    """An answer that is one word or one number."""
    if isinstance(raw, str) and (raw.strip() in check.outcomes or raw.strip() == CANNOT_TELL):
        return Observation(check.check, raw.strip(), None, seen_by)
    if _takes_reading(check) and (isinstance(raw, (int, float)) or _looks_numeric(raw)):
        return _with_reading(rubric, check, {"reading": raw}, seen_by)
    raise _unknown_outcome(check, raw)


def _mapped(
    rubric: Rubric, check: Check, raw: Mapping[object, object], default: Channel, hints: Hints
) -> Observation | None:
    problems: list[Problem] = []
    for key in raw:
        if key not in KEYS:
            hint = hints.near(str(key), KEYS)
            problems.append(
                problem(MESSAGES, "observation.unknown_key", _where(check), text=in_one_line(key), hint=hint)
            )
    given = {key: raw[key] for key in KEYS if not _is_blank(raw.get(key))}
    found: Observation | None = None
    try:
        seen_by = _channel(check, given.get("seen_by"), default)
        note, photos = _note(check, given.get("note")), _photos(check, given.get("photos"))
        found = _substance(rubric, check, given, seen_by)
        if found is not None or note or photos:
            # A note or photo alone shows that somebody tried: kept, without telling anything about the check.
            found = found or Observation(check.check, CANNOT_TELL, None, seen_by)
            found = replace(found, note=note, photos=photos)
        if found is not None:
            found = replace(
                found, by=_line(check, given.get("by"), "the name"), at=_line(check, given.get("at"), "the time")
            )
    except _RefusedError as refused:
        problems += refused.problems
    if problems:
        raise _RefusedError(*problems)
    return found


def _substance(rubric: Rubric, check: Check, given: Mapping[str, object], seen_by: Channel) -> Observation | None:
    if "outcome" in given and "reading" in given:
        raise _refuse(check, "observation.both")
    if "reading" in given:
        if not _takes_reading(check):
            raise _refuse(check, "observation.no_reading", example=_example(check))
        return _with_reading(rubric, check, given, seen_by)
    if "outcome" not in given:
        return None
    outcome = given["outcome"]
    if isinstance(outcome, bool):
        raise _refuse(check, "observation.yes_no", example=_example(check))
    if not isinstance(outcome, str) or (outcome.strip() not in check.outcomes and outcome.strip() != CANNOT_TELL):
        raise _unknown_outcome(check, outcome)
    return Observation(check.check, outcome.strip(), None, seen_by)


def _with_reading(rubric: Rubric, check: Check, given: Mapping[str, object], seen_by: Channel) -> Observation:
    raw = given["reading"]
    repeats = list(raw) if isinstance(raw, (list, tuple)) else [raw]
    if not repeats or len(repeats) > MOST_REPEATS:
        raise _refuse(check, "observation.too_long", what="the list of readings", limit=f"{MOST_REPEATS} readings")
    if check.kind in {"count", "rating"}:
        return _whole(check, repeats, seen_by)
    unit = _unit_of(check)
    quantities = [_quantity(check, one, unit, given.get("unit")) for one in repeats]
    tool = _tool(rubric, check, given.get("tool"), unit)
    widths = [q.plus_minus for q in quantities if q.plus_minus is not None]
    values = tuple(q.value for q in quantities)
    u = reading_uncertainty(values, unit, tool, max(widths) if widths else None)
    reading = Reading(values, unit, u, tool.tool if tool else None, tuple(q.text for q in quantities))
    return Observation(check.check, None, reading, seen_by)


def _quantity(check: Check, raw: object, unit: str, written_unit: object) -> Quantity:
    """One reading within what can be; a separately chosen unit holds where the text has none."""
    text = raw
    if written_unit is not None and not isinstance(raw, bool) and isinstance(raw, (str, int, float)):
        text = with_unit_behind(str(raw), str(written_unit))
    bounds = Between(check.measure.at_least, check.measure.at_most) if check.measure else Between()
    found = read_quantity(text, unit, _where(check), spread=True, between=bounds)
    if isinstance(found, Problem):
        raise _RefusedError(found)
    shown = with_unit(number(found.value), unit)
    thing = WITH_ARTICLE.get(dimension_of(unit), "a number")
    if check.measure is not None:
        low, high = check.measure.at_least, check.measure.at_most
        if found.value < 0 and low is None and check.measure.quantity in NEVER_NEGATIVE:
            raise _refuse(check, "observation.negative", text=shown, thing=thing)
        if low is not None and found.value < low:
            raise _refuse(check, "observation.too_small", text=shown, limit=with_unit(number(low), unit))
        if high is not None and found.value > high:
            raise _refuse(check, "observation.too_large", text=shown, limit=with_unit(number(high), unit))
    return found


def _whole(check: Check, repeats: Sequence[object], seen_by: Channel) -> Observation:
    """A count or a rating: the whole number and the outcome that it falls in."""
    if len(repeats) > 1:
        raise _refuse(check, "observation.shape", example="3")
    value = read_whole(repeats[0], _where(check))
    if isinstance(value, Problem):
        raise _RefusedError(value)
    low, high = _whole_limits(check)
    if value < low:
        raise _refuse(check, "observation.too_small", text=value, limit=low)
    if value > high:
        raise _refuse(check, "observation.too_large", text=value, limit=high)
    outcome = outcome_of_number(check, value)
    if outcome is None:
        raise _refuse(check, "observation.no_outcome_for", text=value)
    reading = Reading((float(value),), "ratio", 0.0, None, (str(repeats[0]).strip(),))
    return Observation(check.check, outcome, reading, seen_by)


def outcome_of_number(check: Check, value: int) -> str | None:
    """The first outcome of a count or rating whose at_least and at_most hold the number; None when no one does."""
    for name, outcome in check.outcomes.items():
        if outcome.at_least is None and outcome.at_most is None:
            continue
        above = outcome.at_least is None or value >= outcome.at_least
        if above and (outcome.at_most is None or value <= outcome.at_most):
            return name
    return None


def _whole_limits(check: Check) -> tuple[int, int]:
    if check.rate is not None:
        return check.rate.lowest, check.rate.highest
    return (check.count.at_least, check.count.at_most) if check.count else (0, 99)


def _tool(rubric: Rubric, check: Check, raw: object, unit: str) -> Tool | None:
    """The tool that was named, else the usual one of the check, else None."""
    usual = [name for name in (check.measure.tools if check.measure else ()) if name in rubric.tools]
    if raw is None:
        return rubric.tools[usual[0]] if usual else None
    name = str(raw).strip()
    if name not in rubric.tools:
        raise _refuse(check, "observation.unknown_tool", text=in_one_line(name), hint=did_you_mean(name, rubric.tools))
    tool = rubric.tools[name]
    if UNITS[tool.unit].dimension != UNITS[unit].dimension:
        hint = f"Use {', '.join(usual)}." if usual else ""
        thing = WITH_ARTICLE.get(dimension_of(unit), "this")
        raise _refuse(check, "observation.wrong_tool", text=name, thing=thing, hint=hint)
    return tool


def _channel(check: Check, raw: object, default: Channel) -> Channel:
    if raw is None:
        return default
    for channel in CHANNELS:
        if raw == channel:
            return channel
    raise _refuse(check, "observation.unknown_channel", text=in_one_line(raw), hint=did_you_mean(str(raw), CHANNELS))


def _note(check: Check, raw: object) -> str:
    if raw is None:
        return ""
    if isinstance(raw, bool) or not isinstance(raw, (str, int, float)):
        raise _refuse(check, "observation.not_text", what="the note")
    if len(str(raw)) > MOST_NOTE:
        raise _refuse(check, "observation.too_long", what="the note", limit=f"{MOST_NOTE} letters")
    if strange := sign_problem(str(raw), _where(check), "the note"):
        raise _RefusedError(strange)
    return str(raw)


def _line(check: Check, raw: object, what: str) -> str:
    """A short text of one line: who looked, and when."""
    if raw is None:
        return ""
    if not isinstance(raw, str):
        raise _refuse(check, "observation.not_text", what=what)
    if len(raw) > MOST_NAME:
        raise _refuse(check, "observation.too_long", what=what, limit=f"{MOST_NAME} letters")
    return " ".join(raw.split())


def _photos(check: Check, raw: object) -> tuple[str, ...]:
    photos = [raw] if isinstance(raw, str) else raw or []
    if not isinstance(photos, (list, tuple)) or not all(isinstance(one, str) for one in photos):
        raise _refuse(check, "observation.not_text", what="each photo's name")
    if len(photos) > MOST_PHOTOS:
        raise _refuse(check, "observation.too_long", what="the list of photos", limit=f"{MOST_PHOTOS} photos")
    return tuple(photos)


def _takes_reading(check: Check) -> bool:
    return check.kind in {"measure", "count", "rating", "derived"}


def _unit_of(check: Check) -> str:
    unit = check.measure.unit if check.measure else check.unit
    return unit if unit in UNITS else "ratio"


def _looks_numeric(text: str) -> bool:
    """Whether a bare word was meant as a number: then the mistake is about the number, not about the answers."""
    bare = text.strip().lower()
    return any(sign.isdigit() for sign in bare) or bare in {"nan", "inf", "-inf", "infinity"}


def _is_blank(value: object) -> bool:
    return (
        value is None
        or (isinstance(value, str) and not value.strip())
        or (isinstance(value, (list, tuple)) and all(_is_blank(one) for one in value))
    )


def _unknown_outcome(check: Check, raw: object) -> _RefusedError:
    names = [*check.outcomes, CANNOT_TELL]
    hint = did_you_mean(str(raw), names) or f"Use one of: {', '.join(names)}."
    return _refuse(check, "observation.unknown_outcome", text=in_one_line(raw), hint=hint)


def in_one_line(value: object) -> str:
    """What was typed, short and without line breaks, for quoting it in a sentence."""
    text = " ".join(str(value).split())
    return text if len(text) <= 40 else text[:39] + "…"


def _example(check: Check) -> str:
    return next(iter(check.outcomes), CANNOT_TELL)
