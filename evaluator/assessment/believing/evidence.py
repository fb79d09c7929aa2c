"""What the observations of a check say of its outcomes: for each a reliability and probabilities, before any prior.

An outcome in words says one outcome. A reading of N(x, u^2) says each side of the standard with the mass of the
normal law there. A derived check takes its value from the readings of others, its doubt carried through the formula.
"""

import math
from collections.abc import Mapping, Sequence
from itertools import combinations

from ...basis.chance import normal_within
from ...basis.frozen import dataclass
from ...rubric.rubric import Rubric
from ...rubric.written.checks import Check
from ...rubric.written.kinds import Looker
from ..model import CANNOT_TELL, Case, Observation, Reading
from ..observing.relevance import looks_like, reliability, shows
from ..observing.uncertainty import pooled, propagated
from .terms import Term
from .worth import Moments, worth_moments

# Two sure observations that disagree would leave nothing possible; this much doubt stays with each.
MOST_SURE = 1.0 - 1e-9
# Two readings of one thing differ by more than this many standard uncertainties in about one case of 400.
FAR_APART = 3.0


@dataclass(frozen=True, slots=True)
class Value:
    """What a check measures, from one or several readings: value, standard uncertainty, how reliably it was taken."""

    value: float
    u: float
    reliability: float
    tool: str | None = None


@dataclass(frozen=True, slots=True)
class Sign:
    """One observation's word: the true outcome k shows with probability `shows[k]`, and then is one of `outcomes`.

    Both follow the check's outcomes. Most ways of seeing show all alike. `outcomes` are probabilities that sum to 1;
    or, `among`, a 1 for each of those that look alike to whoever looked. `elsewhere`: the answer was to another check.
    """

    shows: tuple[float, ...]
    outcomes: tuple[float, ...]
    among: bool = False
    elsewhere: bool = False

    @property
    def even(self) -> bool:
        """Whether every outcome shows alike."""
        return len(set(self.shows)) == 1

    @property
    def reliability(self) -> float:
        """How surely what was seen shows itself."""
        if self.even:
            return self.shows[0]
        told = math.fsum(share * seen for share, seen in zip(self.shows, self.outcomes, strict=True))
        return told / math.fsum(self.outcomes)

    def spread(self, chances: Sequence[float]) -> tuple[float, ...]:
        """The outcomes as probabilities that sum to 1; those that look alike share by what is usual."""
        if not self.among:
            return self.outcomes
        alike = [seen * chance for seen, chance in zip(self.outcomes, chances, strict=True)]
        total = math.fsum(alike)
        return tuple(one / total for one in alike)

    def likelihoods(self, chances: Sequence[float]) -> tuple[float, ...]:
        """P(what was seen | k) over P(what was seen by chance): what misses shows one drawn from `chances`."""
        return tuple(
            share * seen / chance + 1.0 - share
            for share, seen, chance in zip(self.shows, self.spread(chances), chances, strict=True)
        )


@dataclass(frozen=True, slots=True)
class Evidence:
    """All that was seen of one check. `moments`: worth of the reading on each outcome's side, None without one.

    `clash`: two observations name different outcomes as the likeliest, or two readings lie further apart than their
    doubts allow.
    """

    signs: tuple[Sign, ...]
    value: Value | None = None
    moments: tuple[Moments, ...] | None = None
    clash: bool = False


NOTHING = Evidence(())


def readings_of(check: Check, observations: Sequence[Observation]) -> tuple[Value, ...]:
    """The values of a check's readings, the most reliable way of seeing first.

    Readings of one reliability, with several tools, are pooled; a seller's figure is not mixed into one's own.
    """
    groups: dict[float, list[Reading]] = {}
    for one in observations:
        if one.reading is not None and one.outcome is None:
            groups.setdefault(reliability(check, one.seen_by), []).append(one.reading)
    found = []
    for share, readings in sorted(groups.items(), key=lambda group: -group[0]):
        pairs = [(reading.value, reading.u) for reading in readings]
        value, u = pairs[0] if len(pairs) == 1 else pooled(pairs)
        finest = min(readings, key=lambda reading: reading.u)
        found.append(Value(value, u, share, finest.tool))
    return tuple(found)


def values_of(rubric: Rubric, case: Case, counts: Sequence[str]) -> dict[str, Value]:
    """The value of every counted check that was measured or follows from those that were."""
    counted = set(counts)
    found: dict[str, Value] = {}
    for name, observations in case.observations.items():
        if name in counted:
            readings = readings_of(rubric.checks[name], observations)
            if readings:
                found[name] = readings[0]
    open_ = [name for name in rubric.formulas if name in counted and name not in found]
    while open_:
        ready = [name for name in open_ if rubric.formulas[name].names <= found.keys()]
        for name in ready:
            value = _derived(rubric, name, found)
            if value is not None:
                found[name] = value
        if not ready:
            return found
        open_ = [name for name in open_ if name not in ready]
    return found


def _derived(rubric: Rubric, name: str, known: Mapping[str, Value]) -> Value | None:
    """A derived check's value; as reliable as the least reliable of its readings. None where there is no number."""
    formula = rubric.formulas[name]
    inputs = {key: known[key] for key in sorted(formula.names)}
    if not inputs:
        return None

    def number(values: Mapping[str, float]) -> float | None:
        result = formula.value(values)
        return float(result) if isinstance(result, (int, float)) and not isinstance(result, bool) else None

    result = propagated(number, {k: v.value for k, v in inputs.items()}, {k: v.u for k, v in inputs.items()})
    if result is None:
        return None
    return Value(result[0], result[1], min(value.reliability for value in inputs.values()))


def evidence_of(
    check: Check,
    term: Term,
    observations: Sequence[Observation],
    value: Value | None,
    looker: Looker = "student",
    more: Sequence[Sign] = (),
) -> Evidence:
    """The evidence for one check; an observation of reliability 0 says nothing and is left out.

    `more`: what answers to other checks say of this one.
    """
    signs: list[Sign] = []
    for one in observations:
        if one.outcome is None or one.outcome == CANNOT_TELL or one.outcome not in term.outcomes:
            continue
        sign = sign_of(check, term, one.outcome, one.seen_by, looker)
        signs += [sign] if sign else []
    signs += more
    if value is None or value.reliability <= 0 or term.limits is None or not term.outcomes:
        return Evidence(tuple(signs), clash=_clash(signs, ())) if signs else NOTHING
    moments = _moments(term, value)
    count = len(term.outcomes)
    signs.append(Sign((value.reliability,) * count, tuple(one.share for one in moments)))
    others = [one for one in readings_of(check, observations)[1:] if one.reliability > 0]
    signs += [Sign((one.reliability,) * count, tuple(part.share for part in _moments(term, one))) for one in others]
    return Evidence(tuple(signs), value, moments, _clash(signs, (value, *others)))


def sign_of(check: Check, term: Term, outcome: str, seen_by: str, looker: Looker) -> Sign | None:
    """The sign that one outcome in words is; None where this way of seeing shows nothing of it."""
    shown, hit = shows(check, seen_by, looker), term.outcomes.index(outcome)
    if shown[hit] <= 0:
        return None
    alike = looks_like(check, outcome, looker)
    return Sign(shown, tuple(float(name in alike) for name in term.outcomes), among=len(alike) > 1)


def _clash(signs: Sequence[Sign], values: Sequence[Value]) -> bool:
    likeliest = [{i for i, one in enumerate(sign.outcomes) if one == max(sign.outcomes)} for sign in signs]
    if likeliest and not set.intersection(*likeliest):
        return True
    return any(abs(a.value - b.value) > FAR_APART * math.hypot(a.u, b.u) for a, b in combinations(values, 2))


def _moments(term: Term, value: Value) -> tuple[Moments, ...]:
    """Mass and worth of the reading on each outcome's side of the standard; without points, the outcome's own worth."""
    assert term.limits is not None
    low = -math.inf if term.limits.low is None else term.limits.low
    high = math.inf if term.limits.high is None else term.limits.high
    found = [Moments(0.0, 0.0, 0.0)] * len(term.outcomes)
    for side, (start, end) in zip(term.sides, ((-math.inf, low), (low, high), (high, math.inf)), strict=True):
        part = _region(term, value, side, start, end)
        old = found[side]
        found[side] = Moments(old.share + part.share, old.first + part.first, old.second + part.second)
    return tuple(found)


def _region(term: Term, value: Value, side: int, start: float, end: float) -> Moments:
    """One side; empty where the standard is open there. An exact value on a limit meets, and lies on no other side."""
    if start == end or (value.u <= 0 and side != term.sides[1] and value.value in (start, end)):
        return Moments(0.0, 0.0, 0.0)
    if term.points:
        return worth_moments(term.points, value.value, value.u, start, end)
    share = normal_within(start, end, value.value, value.u)
    worth = term.worth[side]
    return Moments(share, share * worth, share * worth * worth)
