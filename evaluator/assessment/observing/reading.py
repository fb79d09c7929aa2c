"""A reading of a check: numbers with unit, tool and doubt, within what can be; or a whole number and its outcome."""

from collections.abc import Mapping, Sequence

from ...basis.problem import Problem, did_you_mean
from ...basis.show import number, with_unit
from ...basis.typed.numbers import read_whole
from ...basis.typed.quantities import Between, Quantity, read_quantity, with_unit_behind
from ...basis.units import UNITS, WITH_ARTICLE, dimension_of
from ...rubric.rubric import Rubric
from ...rubric.written.checks import Check
from ...rubric.written.kinds import Channel
from ...rubric.written.surroundings import Tool
from ..model import Observation, Reading
from .refusing import RefusedError, in_one_line, refusal, where_of
from .uncertainty import reading_uncertainty

MOST_REPEATS = 20


# Below nothing there is no length, weight or time; an angle, a temperature or a plain number may be negative.
NEVER_NEGATIVE = frozenset({"length", "mass", "time", "frequency", "humidity"})


def with_reading(rubric: Rubric, check: Check, given: Mapping[str, object], seen_by: Channel) -> Observation:
    raw = given["reading"]
    repeats = list(raw) if isinstance(raw, (list, tuple)) else [raw]
    if not repeats or len(repeats) > MOST_REPEATS:
        raise refusal(check, "observation.too_long", what="the list of readings", limit=f"{MOST_REPEATS} readings")
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
    found = read_quantity(text, unit, where_of(check), spread=True, between=bounds)
    if isinstance(found, Problem):
        raise RefusedError(found)
    shown = with_unit(number(found.value), unit)
    thing = WITH_ARTICLE.get(dimension_of(unit), "a number")
    if check.measure is not None:
        low, high = check.measure.at_least, check.measure.at_most
        if found.value < 0 and low is None and check.measure.quantity in NEVER_NEGATIVE:
            raise refusal(check, "observation.negative", text=shown, thing=thing)
        if low is not None and found.value < low:
            raise refusal(check, "observation.too_small", text=shown, limit=with_unit(number(low), unit))
        if high is not None and found.value > high:
            raise refusal(check, "observation.too_large", text=shown, limit=with_unit(number(high), unit))
    return found


def _whole(check: Check, repeats: Sequence[object], seen_by: Channel) -> Observation:
    """A count or a rating: the whole number and the outcome that it falls in."""
    if len(repeats) > 1:
        raise refusal(check, "observation.shape", example="3")
    value = read_whole(repeats[0], where_of(check))
    if isinstance(value, Problem):
        raise RefusedError(value)
    low, high = _whole_limits(check)
    if value < low:
        raise refusal(check, "observation.too_small", text=value, limit=low)
    if value > high:
        raise refusal(check, "observation.too_large", text=value, limit=high)
    outcome = outcome_of_number(check, value)
    if outcome is None:
        raise refusal(check, "observation.no_outcome_for", text=value)
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
        raise refusal(check, "observation.unknown_tool", text=in_one_line(name), hint=did_you_mean(name, rubric.tools))
    tool = rubric.tools[name]
    if UNITS[tool.unit].dimension != UNITS[unit].dimension:
        hint = f"Use {', '.join(usual)}." if usual else ""
        thing = WITH_ARTICLE.get(dimension_of(unit), "this")
        raise refusal(check, "observation.wrong_tool", text=name, thing=thing, hint=hint)
    return tool


def _unit_of(check: Check) -> str:
    unit = check.measure.unit if check.measure else check.unit
    return unit if unit in UNITS else "ratio"
