"""A result in the units that a shop shows: its figures, and what was typed in another unit.

The file of a result stays in mm and g, and each reading as it was typed; only what is shown is brought over. What was
typed in the shop's own unit stays to the letter: a luthier's 7/32 in is no 0.219 in.
"""

import re
from dataclasses import replace

from ..assessment.reasons.facts import SeenSign
from ..basis.units import METRIC, ShownUnits, in_units, unit_named
from ..quoting.readings import told
from .model.result import Result
from .model.score import Answer, Cause, Check

_UNIT = re.compile(r"[^\d\s.,/±+-][^\d\s]*$")  # the last word of a reading, where it is no number
_BETWEEN = ", "  # readings of one answer


def in_shown(result: Result, shown: ShownUnits) -> Result:
    """The same result as this shop reads it; as it is where that is mm and g."""
    if shown == METRIC:
        return result
    units = {name: one.unit for name, one in result.conformity.items()}
    checks = tuple(_check(check, units.get(check.check), shown) for check in result.checks)
    causes = {name: _cause(cause, shown) for name, cause in result.causes.items()}
    return in_units(replace(result, checks=checks, causes=causes), shown)


def _check(check: Check, unit: str | None, shown: ShownUnits) -> Check:
    """The check with its answers in the shown unit; `unit` is that of its readings, None without any."""
    if unit is None or shown.of(unit) == unit:
        return check
    return replace(check, observations=tuple(_answer(one, unit, shown) for one in check.observations))


def _answer(answer: Answer, unit: str, shown: ShownUnits) -> Answer:
    """An answer with each of its readings in the shown unit."""
    said = _BETWEEN.join(_reading(one, unit, shown) for one in answer.answer.split(_BETWEEN))
    return replace(answer, answer=said) if said != answer.answer else answer


def _reading(text: str, unit: str, shown: ShownUnits) -> str:
    """One reading in the shown unit; as typed where it is in it already, or is no reading."""
    written = _UNIT.search(text)
    named = unit_named(written.group()) if written else None
    return text if named is not None and named.name == shown.of(unit) else told(text, unit, shown)


def _cause(cause: Cause, shown: ShownUnits) -> Cause:
    """A cause whose signs were told by readings, in the shown units."""
    return replace(cause, signs=tuple(_sign(one, shown) if isinstance(one, SeenSign) else one for one in cause.signs))


def _sign(sign: SeenSign, shown: ShownUnits) -> SeenSign:
    """The sign with what was read of it in the shown unit; an answer in words stays."""
    found = sign.answered
    if found is None or found.unit is None or shown.of(found.unit) == found.unit:
        return sign
    readings = tuple(_reading(one, found.unit, shown) for one in found.readings)
    return replace(sign, answered=replace(found, readings=readings))
