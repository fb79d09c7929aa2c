"""Whether a job is the cure that fits: how far its limits reach, and for which standard and class of making it is done.

A limit speaks of what was seen. A check that nobody looked at limits nothing: the estimate says what is not known. A
class of making counts where it is more likely than not: where nothing tells of it, what is only for some classes waits,
and what is not for some is done.
"""

from collections.abc import Iterator, Mapping
from dataclasses import field
from typing import Literal, get_args

from ..basis.frozen import dataclass
from .rubric import Rubric
from .written.checks import Check
from .written.kinds import Family, Style, Tier
from .written.work import Job, Limit

TIERS: tuple[Tier, ...] = get_args(Tier)
MORE_LIKELY_THAN_NOT = 0.5

Bound = Literal["too_much", "too_little", "too_far_off", "does_not_go", "standard", "making"]
# What a bench cannot do is one thing, what it would not do to such an instrument another: the first weighs more.
PHYSICAL: frozenset[Bound] = frozenset({"too_much", "too_little", "too_far_off", "does_not_go"})


@dataclass(frozen=True, slots=True)
class Seen:
    """What was seen of one check. `off`: how far a reading lies outside its standard, 0 within."""

    outcome: str | None = None
    reading: float | None = None
    off: float | None = None


@dataclass(frozen=True, slots=True)
class Setting:
    """The instrument for which work is planned. `making`: chance of each class, empty where nothing tells of it.

    `old`: it is known to be more than a hundred years old.
    """

    tier: Tier
    making: Mapping[str, float] = field(default_factory=dict)
    seen: Mapping[str, Seen] = field(default_factory=dict)
    old: bool = False


@dataclass(frozen=True, slots=True)
class Unfit:
    """Why a job is not the cure here. `limit`: the one that is passed, None for a standard or a class."""

    bound: Bound
    limit: Limit | None = None

    @property
    def is_physical(self) -> bool:
        """Whether the work itself would not do; else it would, but not for such an instrument."""
        return self.bound in PHYSICAL


def unfit_jobs(rubric: Rubric, setting: Setting) -> dict[str, Unfit]:
    """The jobs that are not the cure for this instrument, each with the first reason."""
    found = {}
    for name, job in rubric.jobs.items():
        why = next(reasons(rubric, job, setting), None)
        if why is not None:
            found[name] = why
    return found


def reasons(rubric: Rubric, job: Job, setting: Setting) -> Iterator[Unfit]:
    """All that speaks against a job here, limits first."""
    for limit in job.limits:
        seen, check = setting.seen.get(limit.check), rubric.checks.get(limit.check)
        bound = passed(limit, check, seen, rubric.family) if seen and check else None
        if bound:
            yield Unfit(bound, limit)
    if not _suits(job, TIERS, {setting.tier: 1.0}):
        yield Unfit("standard")
    classes = tuple(name for name in (*job.fit_for, *job.not_for) if name not in TIERS)
    if not _suits(job, classes, setting.making):
        yield Unfit("making")


def passed(limit: Limit, check: Check, seen: Seen, family: Family) -> Bound | None:
    """How what was seen passes a limit, None where it stays within."""
    if seen.outcome in limit.not_when:
        return "does_not_go"
    times = limit.family.get(family, 1.0)
    if seen.reading is not None:
        if limit.off_at_most is not None and (seen.off or 0.0) > limit.off_at_most * times:
            return "too_far_off"
        return _outside(limit, seen.reading, times)
    outcome = check.outcomes.get(seen.outcome or "")
    return _outside(limit, outcome.degree) if outcome and outcome.degree is not None else None


def _outside(limit: Limit, amount: float, times: float = 1.0) -> Bound | None:
    if limit.at_most is not None and amount > limit.at_most * times:
        return "too_much"
    return "too_little" if limit.at_least is not None and amount < limit.at_least * times else None


def worth_left(rubric: Rubric, check: Check, job: str, tier: Tier, style: Style) -> float | None:
    """Worth of a check once a job has cured it: no more than the outcome counts at which the job leaves it.

    None where the rubric has no such job.
    """
    if job not in rubric.jobs:
        return None
    done = rubric.jobs[job]
    as_found = check.outcomes.get(done.leaves_as.get(check.check, ""))
    return done.leaves if as_found is None else min(done.leaves, as_found.worth_at(tier, style))


def _suits(job: Job, names: tuple[str, ...], shares: Mapping[str, float]) -> bool:
    """Whether what the job says of these names (tiers, or classes) allows one of such shares."""
    only = [name for name in job.fit_for if name in names]
    never = [name for name in job.not_for if name in names]
    if only and sum(shares.get(name, 0.0) for name in only) < MORE_LIKELY_THAN_NOT:
        return False
    return sum(shares.get(name, 0.0) for name in never) < MORE_LIKELY_THAN_NOT
