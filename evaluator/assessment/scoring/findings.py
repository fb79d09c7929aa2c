"""Findings: faults that are believed, with how sure we are, what cures them and whether the tier asks for it."""

from collections.abc import Collection, Sequence

from ...rubric.rubric import Rubric
from ...rubric.written.checks import Outcome, jobs_of
from ...rubric.written.kinds import OutcomeClass, Urgency
from ..believing.beliefs import Held, Left
from ..believing.conformity import conformity_probability, statement_of
from ..model import Finding, Level

# From this probability on a fault is confirmed, probable or possible; below the last it is not named.
LEVELS: tuple[tuple[float, Level], ...] = ((0.95, "confirmed"), (0.5, "probable"), (0.05, "possible"))
# What is only for looks or can wait is offered, but not required to reach the standard.
REQUIRED_URGENCIES: frozenset[Urgency] = frozenset({"to_play_safely", "to_standard"})
FAULTS: frozenset[OutcomeClass] = frozenset({"fault", "disqualifying"})
_ORDER: dict[Level, int] = {"confirmed": 0, "probable": 1, "possible": 2}
_ROUNDING = 1e-9


def level_of(probability: float) -> Level | None:
    """Confirmed, probable, possible, or None for what is too unlikely to name."""
    for least, level in LEVELS:
        if probability >= least - _ROUNDING:
            return level
    return None


def urgency_of(rubric: Rubric, outcome: Outcome) -> Urgency:
    """The outcome's urgency, else that of the first job that cures it, else to_standard."""
    if outcome.urgency is not None:
        return outcome.urgency
    named = (job for cure in outcome.cured_by for job in jobs_of(cure))
    jobs = [rubric.jobs[job].urgency for job in named if job in rubric.jobs]
    return jobs[0] if jobs else "to_standard"


def findings(
    rubric: Rubric, beliefs: Sequence[Held], waits: Collection[str] = ()
) -> tuple[tuple[Finding, ...], tuple[Finding, ...]]:
    """(faults, disqualifying outcomes): the surest first, what was seen before what is expected, then by weight."""
    faults: list[tuple[tuple[float, ...], Finding]] = []
    stops: list[tuple[tuple[float, ...], Finding]] = []
    for place, held in enumerate(beliefs):
        for name, class_, probability in zip(held.term.outcomes, held.term.classes, held.probability, strict=True):
            if class_ not in FAULTS:
                continue
            level = level_of(probability)
            if level is None:
                continue
            found = _finding(rubric, held, name, class_, (probability, level), waits=held.term.check in waits)
            key = (_ORDER[level], not held.seen, -held.term.weight * probability, place)
            (stops if class_ == "disqualifying" else faults).append((key, found))
    return _sorted(faults), _sorted(stops)


def _finding(
    rubric: Rubric, held: Held, name: str, class_: OutcomeClass, how_sure: tuple[float, Level], *, waits: bool
) -> Finding:
    check = rubric.checks[held.term.check]
    outcome = check.outcomes[name]
    urgency = urgency_of(rubric, outcome)
    return Finding(
        check=check.check,
        outcome=name,
        class_=class_,
        probability=how_sure[0],
        level=how_sure[1],
        say=outcome.say,
        means=outcome.means,
        cured_by=outcome.cured_by,
        inherent=outcome.inherent,
        urgency=urgency,
        required=urgency in REQUIRED_URGENCIES and not waits,
        seen=held.seen,
        on_limit=on_limit(held),
        waits=waits,
    )


def on_limit(held: Held) -> bool:
    """Whether the check's reading lies so near its limit that nothing can be said of it."""
    value, limits = held.evidence.value, held.term.limits
    if value is None or limits is None or (limits.low is None and limits.high is None):
        return False
    chance = conformity_probability(limits.low, limits.high, value.value, value.u)
    return statement_of(chance) == "cannot_tell"


def usually_left(rubric: Rubric, held: Held, *, waits: bool = False) -> Left:
    """What the best cures on the list leave of each outcome, where no plan says which of them is taken.

    Nothing, unless a required fault of the check was seen and is confirmed or probable: what nobody looked at gets no
    work, nor does a reading on its limit or what `waits` to be judged again, and possible faults are extras. Then a
    bench that has the part in hand cures whatever curable outcome it meets.
    """
    check, term = rubric.checks[held.term.check], held.term
    wanted = (
        held.seen
        and not waits
        and not on_limit(held)
        and any(
            class_ in FAULTS
            and left is not None
            and probability >= LEVELS[1][0] - _ROUNDING
            and _is_required(rubric, outcome)
            for outcome, class_, left, probability in zip(
                check.outcomes.values(), term.classes, term.leaves, held.probability, strict=True
            )
        )
    )
    return term.leaves if wanted else (None,) * len(term.leaves)


def _is_required(rubric: Rubric, outcome: Outcome) -> bool:
    return urgency_of(rubric, outcome) in REQUIRED_URGENCIES


def _sorted(found: list[tuple[tuple[float, ...], Finding]]) -> tuple[Finding, ...]:
    return tuple(finding for _, finding in sorted(found, key=lambda pair: pair[0]))
