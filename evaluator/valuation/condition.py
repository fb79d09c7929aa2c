"""How lasting faults lower value: what each leaves is multiplied, and faults of one accident count once.

Wear parts (strings, bridge, pegs, board, hair) are cost to cure and never a share of value. What a paper or a name
claims lowers only a value that rests on the claim, which a guide by score does not; and what was made badly is in the
score already. So neither is counted here. Common practice, from memory.
"""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from math import prod

from ..assessment.model import Assessment, Case
from ..assessment.scoring.score import FULL, weights_of
from ..rubric.model import Check, ThreePoint
from ..rubric.rubric import Rubric

REST_OF_AN_ACCIDENT = 1 / 3  # of one accident the worst fault counts whole and the others by a third
BELIEVED = 0.5  # a lasting fault counts where it is likelier than not
LEAST_LOSS = 0.02  # below two hundredths of the value nobody pays less
PAPERS = "papers"
MADE_IN = "made_in"


def retained(losses: Iterable[float]) -> float:
    """Share of value left after independent losses (shares 0..1): they multiply, they do not add."""
    return prod(1.0 - loss for loss in losses)


def accident(losses: Iterable[float]) -> float:
    """The loss (share 0..1) that the faults of one accident make together: the worst and a third of the rest."""
    ordered = sorted(losses, reverse=True)
    if not ordered:
        return 0.0
    return min(1.0, ordered[0] + REST_OF_AN_ACCIDENT * sum(ordered[1:]))


def retention(accidents: Iterable[Iterable[float]]) -> float:
    """Share of value left, each group of losses being one accident or a fault by itself."""
    return retained(accident(group) for group in accidents)


@dataclass(frozen=True, slots=True)
class LastingFault:
    """One fault that stays in the value after the work: what was found, the share it takes, and what it came from.

    `cause` is None where it stands by itself; faults of one cause count as one accident.
    """

    check: str
    say: str
    loss: ThreePoint
    probability: float
    cause: str | None


@dataclass(frozen=True, slots=True)
class Lasting:
    """Shares of value that the lasting faults leave together: likely, and if each took its most or its least."""

    faults: tuple[LastingFault, ...] = ()
    left: float = 1.0
    least: float = 1.0
    most: float = 1.0


NO_FAULTS = Lasting()


def lasting(rubric: Rubric, assessment: Assessment) -> Lasting:
    """What the lasting faults that are believed leave of the value of the same instrument without them."""
    found = [fault for name in assessment.relevant if (fault := _fault(rubric, assessment, rubric.checks[name]))]
    if not found:
        return NO_FAULTS
    groups: dict[str, list[LastingFault]] = {}
    for fault in found:
        groups.setdefault(fault.cause or f"check {fault.check}", []).append(fault)
    return Lasting(
        tuple(sorted(found, key=lambda one: -one.loss.likely)),
        retention([one.loss.likely for one in group] for group in groups.values()),
        retention([one.loss.high for one in group] for group in groups.values()),
        retention([one.loss.low for one in group] for group in groups.values()),
    )


def _fault(rubric: Rubric, assessment: Assessment, check: Check) -> LastingFault | None:
    """The likeliest lasting outcome of a check, where one of them is likelier than not."""
    belief = assessment.beliefs.get(check.check)
    if belief is None or not is_condition(rubric, check):
        return None
    losing = {name: loss for name, one in check.outcomes.items() if (loss := one.lasting_loss) is not None}
    chances = {name: belief.probability.get(name, 0.0) for name in losing}
    together = sum(chances.values())
    if together < BELIEVED:
        return None
    likeliest = max(chances, key=lambda name: chances[name])
    if losing[likeliest].likely < LEAST_LOSS:
        return None
    return LastingFault(check.check, check.outcomes[likeliest].say, losing[likeliest], together, check.cause)


def is_condition(rubric: Rubric, check: Check) -> bool:
    """Whether its lasting losses are of condition: neither of papers nor of how it was made."""
    cause = rubric.causes.get(check.cause) if check.cause else None
    return check.part != PAPERS and (cause is None or cause.about != MADE_IN)


def scores_without(rubric: Rubric, case: Case, assessment: Assessment, faults: Lasting) -> Mapping[str, float]:
    """Scores after the work as if these faults were not there: `after` and, where it has checks, `workmanship`.

    A guide that is read at the score after the work already pays less for a cracked one. Where the crack is taken off
    as a share of value, it must not be in the score as well.
    """
    found = {"after": assessment.score_after.expected}
    if "workmanship" in assessment.domains_after:
        found["workmanship"] = assessment.domains_after["workmanship"].expected
    if not faults.faults:
        return found
    checks = [rubric.checks[name] for name in assessment.relevant]
    weights = weights_of(checks, case.instrument, rubric.domain_shares.get(case.instrument.tier, {}))
    place = {name: i for i, name in enumerate(assessment.relevant)}
    rows = {"after": weights.total}
    rows |= {str(domain): weights.by_domain[i] for i, domain in enumerate(weights.domains)}
    for name, score in tuple(found.items()):
        lost = sum(
            rows[name][place[one.check]] * (1.0 - assessment.beliefs[one.check].worth_after) for one in faults.faults
        )
        found[name] = min(FULL, score + FULL * float(lost))
    return found
