"""Learning from own records what a look is worth (how often it said what the bench found later, beside how often the
rubric thinks), and how long an instrument stands before it sells: what the lists say, the own count, and the blend of
both.

A look counts where a luthier looked at the same thing again in the hand, and no work came between. The rubric's
reliability counts as so many looks (`PRIOR_LOOKS`): a Beta law, as with extras (`quoting.learning.own_chances`). The
bench is taken to be right, and two may agree by chance, so the own share is a little kind.

The guide's months count as so many sales (`PRIOR_SALES`), as the catalogue's hours do (`quoting.learning.learnt`).
What was made as a class is what its evaluation says; what is still here tells nothing yet, so the blend is a little
too quick while much stands unsold.
"""

from collections.abc import Container, Iterable, Mapping, Sequence
from dataclasses import dataclass

from ..assessment.model import CANNOT_TELL
from ..assessment.observing.relevance import reliability
from ..choosing.stock import Item
from ..quoting.learning import Learnt, learnt
from ..result.model.result import Result
from ..result.model.score import Answer
from ..rubric.rubric import Rubric
from ..rubric.written.kinds import Channel, Looker, ThreePoint

PRIOR_LOOKS = 20.0  # a reliability from memory is worth about twenty looks of one's own; judged, no source
PRIOR_SALES = 5.0  # months from memory are worth about five sales of one's own; judged, no source
DAYS_A_MONTH = 30.44
SHORTEST = 0.1  # months: what sells on the day it came


@dataclass(frozen=True, slots=True)
class Look:
    """One look that the bench looked at again: by whom and how, what the rubric thinks of such a look, and whether it
    had said what the bench found.
    """

    check: str
    looker: Looker
    channel: Channel
    told: float
    agreed: bool


@dataclass(frozen=True, slots=True)
class Worth:
    """Looks of one kind: `told` is the rubric's mean reliability (0..1)."""

    told: float
    looks: int
    agreed: int

    @property
    def weight(self) -> float:
        """The share of the own record in the blend."""
        return self.looks / (PRIOR_LOOKS + self.looks)

    @property
    def blend(self) -> float:
        return (PRIOR_LOOKS * self.told + self.agreed) / (PRIOR_LOOKS + self.looks)


def looks_again(
    rubric: Rubric, before: Result, after: Result, fresh: Container[str], worked: Container[str]
) -> tuple[Look, ...]:
    """The looks of `before` that a luthier repeated in `after`. `fresh`: checks that were truly answered anew, not
    taken over; `worked`: those that work between can have changed.
    """
    if after.looker != "luthier":
        return ()
    later = {one.check: _outcome(one.observations, "in_person") for one in after.checks if one.check in fresh}
    found = []
    for one in before.checks:
        answer, truth = (one.observations[0] if one.observations else None), later.get(one.check)
        if answer is None or truth is None or one.check in worked or one.check not in rubric.checks:
            continue
        by_bench = before.looker == "luthier" and answer.seen_by == "in_person"
        if answer.outcome is None or answer.outcome == CANNOT_TELL or by_bench:
            continue
        told = reliability(rubric.checks[one.check], answer.seen_by, before.looker)
        found.append(Look(one.check, before.looker, answer.seen_by, told, answer.outcome == truth))
    return tuple(found)


def by_kind(looks: Iterable[Look]) -> Mapping[tuple[Looker, Channel], Worth]:
    """What looks of each kind were worth: by whom, and seen how."""
    held: dict[tuple[Looker, Channel], list[Look]] = {}
    for one in looks:
        held.setdefault((one.looker, one.channel), []).append(one)
    return {kind: _worth(some) for kind, some in sorted(held.items())}


def by_check(looks: Iterable[Look]) -> Mapping[tuple[str, Channel], Worth]:
    """The same check by check: what an overlay can say."""
    held: dict[tuple[str, Channel], list[Look]] = {}
    for one in looks:
        held.setdefault((one.check, one.channel), []).append(one)
    return {key: _worth(some) for key, some in sorted(held.items())}


def overlay(rubric: Rubric, looks: Iterable[Look], by: str) -> str:
    """The blend as an overlay over the rubric, to be tried and switched on as an opinion; empty where nothing of it can
    be said there: what hides has two numbers, which one count of agreement does not tell apart.
    """
    changes: dict[str, list[str]] = {}
    for (check, channel), worth in by_check(looks).items():
        if isinstance(rubric.checks[check].seen_by.get(channel, 0.0), float):
            changes.setdefault(check, []).append(f"{channel}: {worth.blend:.3f}")
    if not changes:
        return ""
    lines = [f"  {check}: {{seen_by: {{{', '.join(parts)}}}}}" for check, parts in changes.items()]
    return "\n".join(
        [f"extends: {rubric.name}", "title: What looks are worth here", f"by: {by}", "change:", *lines, ""]
    )


def _worth(looks: Sequence[Look]) -> Worth:
    return Worth(sum(one.told for one in looks) / len(looks), len(looks), sum(one.agreed for one in looks))


def _outcome(answers: Sequence[Answer], channel: Channel) -> str | None:
    """The last outcome that was seen so; None where there is none, or it could not be told."""
    seen = [one.outcome for one in answers if one.seen_by == channel and one.outcome not in (None, CANNOT_TELL)]
    return seen[-1] if seen else None


@dataclass(frozen=True, slots=True)
class Selling:
    """One class of making: how long its own sales took (`months`), how many still stand, and what becomes of both."""

    making: str
    learnt: Learnt
    here: int


def selling(items: Iterable[Item], made_as: Mapping[str, str], guide: Mapping[str, ThreePoint]) -> tuple[Selling, ...]:
    """Every class of the guide that the own stock says anything of, in the guide's order.

    `made_as`: the likeliest class by evaluation; `guide`: months to sell by class.
    """
    held: dict[str, list[Item]] = {}
    for one in items:
        held.setdefault(made_as.get(one.evaluation, ""), []).append(one)
    return tuple(
        Selling(
            making, learnt(months, _months(held[making]), PRIOR_SALES), sum(one.sold_on is None for one in held[making])
        )
        for making, months in guide.items()
        if making in held
    )


def _months(items: Sequence[Item]) -> tuple[float, ...]:
    """How long each that was sold had stood."""
    sold = [(one.sold_on - one.came_on).days for one in items if one.sold_on is not None]
    return tuple(max(SHORTEST, days / DAYS_A_MONTH) for days in sold)
