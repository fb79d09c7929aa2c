"""What a job would add to a plan, and the possible extras: work that may come on top, kept out of the total.

An extra comes from a fault that is only possible, or from a job that often brings another. It is priced as what it
would add to the plan: with what it brings along, without what is paid already, less what it would take the place of
and the shared labour that then nobody needs. Where several extras come together, what they share is paid once.
"""

from collections.abc import Iterable, Mapping, Sequence

import numpy as np
from numpy.typing import NDArray

from ..basis.frozen import dataclass
from ..rubric.show import cure_words
from ..rubric.written.checks import TOGETHER, jobs_of
from .model import AtTheBench, Brings, Cost, Known, PossibleExtra, Trigger
from .pert import Draws, cost, own_generator
from .planning.catalogue import CERTAIN, Need
from .planning.plan import Planner

Mask = NDArray[np.bool_]
Floats = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class Paid:
    """The jobs and shared labour that an order already holds, and how many units of a job."""

    jobs: frozenset[str]
    shared: frozenset[str]


@dataclass(frozen=True, slots=True)
class Addition:
    """What taking on a job adds: `jobs` (it first, on so many `units`, then those needed together with it) and `shared`
    come in, the jobs `dropped` and the shared labour `needless` fall away; `cost` is the difference. The first `asked`
    of the jobs are the ones that were asked for.
    """

    jobs: tuple[str, ...]
    shared: tuple[str, ...]
    dropped: tuple[str, ...]
    cost: Cost
    units: int = 1
    needless: tuple[str, ...] = ()
    asked: int = 1


@dataclass(frozen=True, slots=True)
class Chance:
    """One reason for an extra: how likely, in which worlds, what brings it, and when that will be known."""

    addition: Addition
    chance: float
    worlds: Mask
    when: Trigger
    known: Known | None


@dataclass(frozen=True, slots=True)
class Least:
    """What a shop's minimum charge does to an addition: below `floor` it costs that much, less what is `missing` to the
    minimum and charged already.
    """

    floor: float = 0.0
    missing: float = 0.0

    def over(self, price: Cost) -> Cost:
        if self.floor <= 0:
            return price
        low, likely, high = (max(figure, self.floor) - self.missing for figure in (price.low, price.likely, price.high))
        return cost(low, likely, high)


@dataclass(frozen=True, slots=True)
class Possible:
    """An extra as shown, the worlds in which it comes, and what it adds to the order there."""

    extra: PossibleExtra
    worlds: Mask
    addition: Addition


def addition(
    planner: Planner,
    paid: Paid,
    job: str,
    units: int = 1,
    instead_of: str | None = None,
    together_with: tuple[str, ...] = (),
) -> Addition:
    """What the job adds to an order that holds `paid`; `instead_of` is a job of the order whose place it takes."""
    replaced = {instead_of} if instead_of is not None else set()
    kept = paid.jobs - replaced
    asked = (job, *together_with)
    jobs: list[str] = [*asked]
    for name in jobs:
        for options in planner.brings(name):
            if not options & kept and not options.intersection(jobs):
                jobs.append(cheapest_of(planner, options))
    shared: list[str] = []
    for name in jobs:
        for labours in planner.labour(name):
            if not labours & paid.shared and not labours.intersection(shared):
                shared.append(min(sorted(labours), key=lambda one: planner.shared[one].whole.mean))
    out = {name for new in jobs for name in planner.excluded_by(new)} & kept
    dropped = tuple(sorted(out | replaced))
    needless = _needless(planner, paid, kept - out | set(jobs), shared) if shared or dropped else ()
    came = [planner.price_of(name, units if name in asked else 1).whole for name in (*jobs, *shared)]
    gone = [planner.price_of(name).whole for name in (*dropped, *needless)]
    return Addition(tuple(jobs), tuple(shared), dropped, _difference(came, gone), units, needless, len(asked))


def _needless(planner: Planner, paid: Paid, jobs: Iterable[str], new: Iterable[str]) -> tuple[str, ...]:
    """Shared labour of the order that no job needs any more, or that new labour holds already."""
    asked = {labours for job in jobs for labours in planner.labour(job)}
    have = {*paid.shared, *new}
    found = []
    for name in sorted(paid.shared):
        if all(labours & (have - {name}) for labours in asked if name in labours):
            have.discard(name)
            found.append(name)
    return tuple(found)


def _difference(came: Iterable[Cost], gone: Iterable[Cost]) -> Cost:
    """What comes less what goes, never below nothing."""
    more, less = tuple(came), tuple(gone)
    figures = (
        sum(getattr(one, key) for one in more) - sum(getattr(one, key) for one in less)
        for key in ("low", "likely", "high")
    )
    return cost(*sorted(max(0.0, figure) for figure in figures))


def cheapest_addition(planner: Planner, paid: Paid, need: Need, *, replacing: bool = True) -> Addition | None:
    """The cheapest way to cure one more need; None where the order cures it already or nothing can.

    `replacing` also allows what would push a job out of the order.
    """
    if planner.cured_with(need, paid.jobs):
        return None
    found = []
    for cure, asked in planner.fitting(need).items():
        if all(job in planner.jobs for job in jobs_of(cure)):
            pairs = [
                (job, options) for job, options in zip(jobs_of(cure), asked, strict=True) if not options & paid.jobs
            ]
            first, *more = (job if job in options else cheapest_of(planner, options) for job, options in pairs)
            found.append(addition(planner, paid, first, need.units, together_with=tuple(more)))
    found = [one for one in found if replacing or not one.dropped]
    return min(found, key=lambda one: one.cost.mean * planner.over_life(one.jobs[0])) if found else None


def cheapest_of(planner: Planner, jobs: Iterable[str]) -> str:
    """The cheapest of several jobs by its mean."""
    return min(sorted(jobs), key=lambda one: planner.price[one].whole.mean)


def following(planner: Planner, paid: Paid, seed: int, count: int) -> list[Chance]:
    """What the jobs of an order may bring with a chance below certain, each drawn by itself."""
    found = []
    for name in sorted(paid.jobs, key=list(planner.jobs).index):
        for number, force in enumerate(planner.jobs[name].forces):
            targets = [job for job in planner.followers(name, force) if job in planner.jobs]
            chance = planner.chance(force)
            if chance >= CERTAIN or chance <= 0 or not targets:
                continue
            if planner.done_by(targets) & paid.jobs:
                continue
            replaced = name if force.replaces else None
            additions = [addition(planner, paid, job, instead_of=replaced) for job in targets]
            drawn = own_generator(seed, f"{name} {number}").random(count) < chance
            best = min(additions, key=lambda one: one.cost.mean)
            known = None if force.known is None else AtTheBench(say=force.known)
            found.append(Chance(best, chance, drawn, Brings(say=force.when), known))
    return found


def joined(planner: Planner, chances: Iterable[Chance], least: Least) -> list[Possible]:
    """One extra a job: in the worlds where any of its reasons holds, with each thing that brings it once."""
    by_job: dict[tuple[str, ...], list[Chance]] = {}
    for one in chances:
        by_job.setdefault(one.addition.jobs[: one.addition.asked], []).append(one)
    found = []
    for jobs, group in by_job.items():
        worlds = group[0].worlds.copy()
        for one in group[1:]:
            worlds |= one.worlds
        chance = group[0].chance if len(group) == 1 else float(worlds.mean())
        dearest = max((one.addition for one in group), key=lambda one: one.cost.mean)
        known = next((one.known for one in group if one.known), None)
        when = tuple(dict.fromkeys(one.when for one in group))
        say = cure_words(planner.prices.rubric, TOGETHER.join(jobs))
        extra = PossibleExtra(TOGETHER.join(jobs), say, chance, least.over(dearest.cost), when, known)
        found.append(Possible(extra, worlds, dearest))
    return sorted(found, key=lambda one: (-one.extra.chance * one.extra.cost.mean, one.extra.job))


def on_top(planner: Planner, draws: Draws, extras: Sequence[Possible], least: Least) -> tuple[float, Floats]:
    """What all these extras together add to the order: by its mean, and in each world.

    A job or labour that several of them bring is paid once; what falls away is drawn as the plan drew it.
    """
    came: dict[str, tuple[Cost, list[Possible]]] = {}
    gone: dict[str, tuple[Cost, list[Possible]]] = {}
    for one in extras:
        more = one.addition
        for place, name in enumerate((*more.jobs, *more.shared)):
            price = planner.price_of(name, more.units if place < more.asked else 1).whole
            known = came.get(name, (price, []))
            came[name] = (max(price, known[0], key=lambda each: each.mean), [*known[1], one])
        for name in (*more.dropped, *more.needless):
            gone.setdefault(name, (planner.price_of(name).whole, []))[1].append(one)
    added, come = _together(draws, {f"extra {name}": found for name, found in came.items()})
    spared, go = _together(draws, gone)
    together = np.maximum(0.0, come - go)
    if least.floor <= 0:
        return max(0.0, added - spared), together
    together = np.where(together > 0, np.maximum(together, least.floor) - least.missing, 0.0)
    return float(together.mean()), together


def _together(draws: Draws, lines: Mapping[str, tuple[Cost, list[Possible]]]) -> tuple[float, Floats]:
    """Mean and draws of lines that each come in the worlds of any of their extras."""
    mean, masked = 0.0, []
    for name, (price, reasons) in lines.items():
        worlds = reasons[0].worlds
        for one in reasons[1:]:
            worlds = worlds | one.worlds
        mean += price.mean * (reasons[0].extra.chance if len(reasons) == 1 else float(worlds.mean()))
        masked.append((name, price, worlds))
    return mean, draws.total_where(masked)


def paid_by(jobs: Sequence[str], shared: Sequence[str]) -> Paid:
    return Paid(frozenset(jobs), frozenset(shared))


def with_addition(paid: Paid, more: Addition) -> Paid:
    """The order after the addition."""
    return Paid((paid.jobs - set(more.dropped)) | set(more.jobs), paid.shared | set(more.shared))
