"""The one parser of an answer: a form's field, JSON and YAML all come through `read_observation`.

An answer is an outcome's id, `cannot_tell`, a reading (a number or text with a unit), a mapping of these with the
tool, how it was seen, a note and photos, or a list of such answers. What a person typed is kept in the reading's
texts.
"""

from collections.abc import Mapping
from dataclasses import replace
from typing import get_args

from ...basis.problem import Hints, Problem, did_you_mean, problem
from ...basis.typed.signs import sign_problem
from ...rubric.rubric import Rubric
from ...rubric.written.checks import Check
from ...rubric.written.kinds import Channel
from ..model import CANNOT_TELL, Observation
from .reading import with_reading
from .refusing import MESSAGES, RefusedError, example_of, in_one_line, refusal, where_of

CHANNELS: tuple[Channel, ...] = get_args(Channel)
KEYS = ("outcome", "reading", "unit", "tool", "seen_by", "note", "photos", "by", "at")
MOST_ANSWERS = 20
MOST_NOTE = 2000
MOST_PHOTOS = 40
MOST_NAME = 80


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
        return refusal(check, "observation.too_long", what="the list", limit=f"{MOST_ANSWERS} answers").problems
    found: list[Observation] = []
    problems: list[Problem] = []
    for answer in answers:
        try:
            one = _answer(rubric, check, answer, seen_by_default, hints)
        except RefusedError as refused:
            problems += refused.problems
        else:
            found += [one] if one is not None else []
    return tuple(problems) if problems else tuple(found)


def _answer(rubric: Rubric, check: Check, raw: object, seen_by: Channel, hints: Hints) -> Observation | None:
    if raw is None or (isinstance(raw, str) and not raw.strip()):
        return None
    if isinstance(raw, bool):
        raise refusal(check, "observation.yes_no", example=example_of(check))
    if isinstance(raw, Mapping):
        return _mapped(rubric, check, raw, seen_by, hints)
    if not isinstance(raw, (str, int, float)):
        raise refusal(check, "observation.shape", example=example_of(check))
    return _plain(rubric, check, raw, seen_by)


def _plain(rubric: Rubric, check: Check, raw: str | float, seen_by: Channel) -> Observation:
    """An answer that is one word or one number."""
    if isinstance(raw, str) and (raw.strip() in check.outcomes or raw.strip() == CANNOT_TELL):
        return Observation(check.check, raw.strip(), None, seen_by)
    if _takes_reading(check) and (isinstance(raw, (int, float)) or _looks_numeric(raw)):
        return with_reading(rubric, check, {"reading": raw}, seen_by)
    raise _unknown_outcome(check, raw)


def _mapped(
    rubric: Rubric, check: Check, raw: Mapping[object, object], default: Channel, hints: Hints
) -> Observation | None:
    problems: list[Problem] = []
    for key in raw:
        if key not in KEYS:
            hint = hints.near(str(key), KEYS)
            problems.append(
                problem(MESSAGES, "observation.unknown_key", where_of(check), text=in_one_line(key), hint=hint)
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
    except RefusedError as refused:
        problems += refused.problems
    if problems:
        raise RefusedError(*problems)
    return found


def _substance(rubric: Rubric, check: Check, given: Mapping[str, object], seen_by: Channel) -> Observation | None:
    if "outcome" in given and "reading" in given:
        raise refusal(check, "observation.both")
    if "reading" in given:
        if not _takes_reading(check):
            raise refusal(check, "observation.no_reading", example=example_of(check))
        return with_reading(rubric, check, given, seen_by)
    if "outcome" not in given:
        return None
    outcome = given["outcome"]
    if isinstance(outcome, bool):
        raise refusal(check, "observation.yes_no", example=example_of(check))
    if not isinstance(outcome, str) or (outcome.strip() not in check.outcomes and outcome.strip() != CANNOT_TELL):
        raise _unknown_outcome(check, outcome)
    return Observation(check.check, outcome.strip(), None, seen_by)


def _channel(check: Check, raw: object, default: Channel) -> Channel:
    if raw is None:
        return default
    for channel in CHANNELS:
        if raw == channel:
            return channel
    raise refusal(check, "observation.unknown_channel", text=in_one_line(raw), hint=did_you_mean(str(raw), CHANNELS))


def _note(check: Check, raw: object) -> str:
    if raw is None:
        return ""
    if isinstance(raw, bool) or not isinstance(raw, (str, int, float)):
        raise refusal(check, "observation.not_text", what="the note")
    if len(str(raw)) > MOST_NOTE:
        raise refusal(check, "observation.too_long", what="the note", limit=f"{MOST_NOTE} letters")
    if strange := sign_problem(str(raw), where_of(check), "the note"):
        raise RefusedError(strange)
    return str(raw)


def _line(check: Check, raw: object, what: str) -> str:
    """A short text of one line: who looked, and when."""
    if raw is None:
        return ""
    if not isinstance(raw, str):
        raise refusal(check, "observation.not_text", what=what)
    if len(raw) > MOST_NAME:
        raise refusal(check, "observation.too_long", what=what, limit=f"{MOST_NAME} letters")
    return " ".join(raw.split())


def _photos(check: Check, raw: object) -> tuple[str, ...]:
    photos = [raw] if isinstance(raw, str) else raw or []
    if not isinstance(photos, (list, tuple)) or not all(isinstance(one, str) for one in photos):
        raise refusal(check, "observation.not_text", what="each photo's name")
    if len(photos) > MOST_PHOTOS:
        raise refusal(check, "observation.too_long", what="the list of photos", limit=f"{MOST_PHOTOS} photos")
    return tuple(photos)


def _takes_reading(check: Check) -> bool:
    return check.kind in {"measure", "count", "rating", "derived"}


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


def _unknown_outcome(check: Check, raw: object) -> RefusedError:
    names = [*check.outcomes, CANNOT_TELL]
    hint = did_you_mean(str(raw), names) or f"Use one of: {', '.join(names)}."
    return refusal(check, "observation.unknown_outcome", text=in_one_line(raw), hint=hint)
