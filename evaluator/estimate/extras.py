"""What a job would add to a plan, and the possible extras: work that may come on top, kept out of the total.

An extra comes from a fault that is only possible, or from a job that often brings another. It is priced as what it
would add to the plan: with what it brings along, without what is paid already, less what it would take the place of.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from .model import Cost, PossibleExtra
from .pert import cost, own_generator
from .plan import CERTAIN, Need, Planner, forced_jobs

Mask = NDArray[np.bool_]
FOUND = "Only if this is found: "  # how the trigger of an extra from a possible fault begins


@dataclass(frozen=True, slots=True)
class Paid:
    """The jobs and shared labour that an order already holds, and how many units of a job."""

    jobs: frozenset[str]
    shared: frozenset[str]


@dataclass(frozen=True, slots=True)
class Addition:
    """What taking on a job adds: `jobs` (it first) and `shared` come in, `dropped` falls away, `cost` is the
    difference.
    """

    jobs: tuple[str, ...]
    shared: tuple[str, ...]
    dropped: tuple[str, ...]
    cost: Cost


@dataclass(frozen=True, slots=True)
class Chance:
    """One reason for an extra: how likely, in which worlds, and the words."""

    addition: Addition
    chance: float
    worlds: Mask
    when: str
    known: str | None


def addition(planner: Planner, paid: Paid, job: str, units: int = 1) -> Addition:
    """What the job adds to an order that holds `paid`."""
    jobs: list[str] = [job]
    for name in jobs:
        for options in planner.brings(name):
            if not options & paid.jobs and not options.intersection(jobs):
                jobs.append(min(sorted(options), key=lambda one: planner.price[one].whole.mean))
    shared: list[str] = []
    for name in jobs:
        for labours in planner.labour(name):
            if not labours & paid.shared and not labours.intersection(shared):
                shared.append(min(sorted(labours), key=lambda one: planner.shared[one].whole.mean))
    out = sorted({name for new in jobs for name in planner.excluded_by(new)} & paid.jobs)
    first = planner.price_of(job, units)
    came = [first, *(planner.price[name] for name in jobs[1:]), *(planner.shared[name] for name in shared)]
    gone = [planner.price[name] for name in out]
    low, likely, high = (
        sum(getattr(price.whole, key) for price in came) - sum(getattr(price.whole, key) for price in gone)
        for key in ("low", "likely", "high")
    )
    figures = sorted(max(0.0, figure) for figure in (low, likely, high))
    return Addition(tuple(jobs), tuple(shared), tuple(out), cost(*figures))


def cheapest_addition(planner: Planner, paid: Paid, need: Need, *, replacing: bool = True) -> Addition | None:
    """The cheapest way to cure one more need; None where the order cures it already or nothing can.

    `replacing` also allows what would push a job out of the order.
    """
    if planner.done_by(need.jobs) & paid.jobs:
        return None
    found = [addition(planner, paid, job, need.units) for job in need.jobs if job in planner.jobs]
    found = [one for one in found if replacing or not one.dropped]
    return min(found, key=lambda one: one.cost.mean) if found else None


def following(planner: Planner, paid: Paid, seed: int, count: int) -> list[Chance]:
    """What the jobs of an order may bring with a chance below certain, each drawn by itself."""
    found = []
    for name in sorted(paid.jobs, key=list(planner.jobs).index):
        for number, force in enumerate(planner.jobs[name].forces):
            targets = [job for job in forced_jobs(force) if job in planner.jobs]
            if force.chance >= CERTAIN or force.chance <= 0 or not targets:
                continue
            if planner.done_by(targets) & paid.jobs:
                continue
            kept = Paid(paid.jobs - {name}, paid.shared) if force.replaces else paid
            additions = [addition(planner, kept, job) for job in targets]
            if force.replaces:
                additions = [_instead(planner, one, name) for one in additions]
            drawn = own_generator(seed, f"{name} {number}").random(count) < force.chance
            best = min(additions, key=lambda one: one.cost.mean)
            found.append(Chance(best, force.chance, drawn, sentence(force.when), force.known))
    return found


def joined(planner: Planner, chances: Iterable[Chance]) -> list[tuple[PossibleExtra, Mask]]:
    """One extra a job: in the worlds where any of its reasons holds, with every reason's words once."""
    by_job: dict[str, list[Chance]] = {}
    for one in chances:
        by_job.setdefault(one.addition.jobs[0], []).append(one)
    found = []
    for job, group in by_job.items():
        worlds = group[0].worlds.copy()
        for one in group[1:]:
            worlds |= one.worlds
        chance = group[0].chance if len(group) == 1 else float(worlds.mean())
        dearest = max(group, key=lambda one: one.addition.cost.mean)
        known = next((one.known for one in group if one.known), None)
        when = one_sentence(tuple(dict.fromkeys(one.when for one in group)))
        extra = PossibleExtra(job, planner.jobs[job].say, chance, dearest.addition.cost, when, known)
        found.append((extra, worlds))
    return sorted(found, key=lambda pair: (-pair[0].chance * pair[0].cost.mean, pair[0].job))


def one_sentence(whens: Sequence[str]) -> str:
    """Several triggers as one would say them: 'If the seam is open, or if the post falls.' One stays as it is."""
    if len(whens) < 2:
        return " ".join(whens)
    found = [text.removeprefix(FOUND).strip().rstrip(".") for text in whens if text.startswith(FOUND)]
    ifs = [text.rstrip(".") for text in whens if text.startswith("If ")]
    told = [text for text in whens if not text.startswith((FOUND, "If "))]
    ways = [ifs[0], *(f"if {text[3:]}" for text in ifs[1:])] if ifs else []
    if len(found) > 1:
        listed = "; ".join(_inside(text) for text in found)
        ways.append(f"if one of these is found: {listed}")
    elif found:
        ways.append(f"if this is found: {_inside(found[0])}")
    if not ways:
        return " ".join(told)
    joined_ways = ", or ".join(ways)
    also = f"Also {joined_ways[:1].lower()}{joined_ways[1:]}" if told else sentence(joined_ways).rstrip(".")
    return " ".join([*told, f"{also}."])


def _inside(text: str) -> str:
    """To go on inside a sentence; a name in capitals or a single letter ("E string") keeps its capital."""
    return text[:1].lower() + text[1:] if text[1:2].islower() or text.startswith(("A ", "An ")) else text


def paid_by(jobs: Sequence[str], shared: Sequence[str]) -> Paid:
    return Paid(frozenset(jobs), frozenset(shared))


def with_addition(paid: Paid, more: Addition) -> Paid:
    """The order after the addition."""
    return Paid((paid.jobs - set(more.dropped)) | set(more.jobs), paid.shared | set(more.shared))


def sentence(text: str) -> str:
    """With a capital and a full stop."""
    text = text.strip()
    return text[:1].upper() + text[1:] + ("" if text.endswith((".", "!", "?")) else ".")


def _instead(planner: Planner, one: Addition, replaced: str) -> Addition:
    """The addition less the price of the job whose place it takes."""
    gone = planner.price[replaced].whole
    pairs = ((one.cost.low, gone.low), (one.cost.likely, gone.likely), (one.cost.high, gone.high))
    return Addition(
        one.jobs, one.shared, (*one.dropped, replaced), cost(*sorted(max(0.0, more - less) for more, less in pairs))
    )
