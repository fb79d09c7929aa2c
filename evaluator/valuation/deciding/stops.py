"""What stops a purchase, as a luthier would stop: always, or unless the price is that of such an instrument.

A doubtful title, a forged label or a refused inspection stop it whatever is asked. A post crack or a badly mended neck
stops it at any usual price: money mends it and leaves a great part of the loss, so it is bought as what it is or not
at all.
"""

from collections.abc import Mapping

import numpy as np
from numpy.typing import NDArray

from ...assessment.model import Assessment, Case
from ...basis.frozen import dataclass
from ...rubric.rubric import Rubric
from ...rubric.written.checks import Outcome
from ...rubric.written.kinds import OutcomeClass, Stop
from ..worth.answers import Answer

STOPS_FROM = 0.5  # it stops the purchase once it is more likely than not


@dataclass(frozen=True, slots=True)
class StopSign:
    """A check with an outcome that stops the purchase: the likeliest such outcome, and the chance of any of them.

    `seen`: somebody answered the check with such an outcome; `always` whatever the price.
    """

    check: str
    outcome: str
    say: str
    probability: float
    always: bool
    seen: bool


def kind_of(outcome: Outcome, class_: OutcomeClass) -> Stop | None:
    """How an outcome of this class stops a purchase, None where it does not.

    As written; what disqualifies stops always, or unless priced where work can cure it or a matter says what is left.
    """
    if outcome.stops is not None:
        return outcome.stops
    if class_ != "disqualifying":
        return None
    return "unless_priced" if outcome.cured_by or outcome.matter else "always"


def stop_signs(
    rubric: Rubric, case: Case, assessment: Assessment, answers: Mapping[str, Answer]
) -> tuple[StopSign, ...]:
    """Every check that may stop the purchase, the likeliest first."""
    here = case.instrument
    found = []
    for name in assessment.relevant:
        belief = assessment.beliefs.get(name)
        if belief is None:
            continue
        check = rubric.checks[name]
        kinds = {
            key: kind_of(one, one.class_at(here.tier, here.style, here.age)) for key, one in check.outcomes.items()
        }
        chances = {key: belief.probability.get(key, 0.0) for key, kind in kinds.items() if kind is not None}
        if not chances:
            continue
        likeliest = max(chances, key=lambda key: chances[key])
        answer = answers.get(name)
        seen = answer is not None and answer.name in chances
        always = sum(chances[key] for key in chances if kinds[key] == "always") >= STOPS_FROM
        say = check.outcomes[likeliest].say
        found.append(StopSign(name, likeliest, say, min(1.0, sum(chances.values())), always, seen))
    return tuple(sorted(found, key=lambda stop: -stop.probability))


def believed(stops: tuple[StopSign, ...]) -> tuple[StopSign, ...]:
    """Those that somebody saw and that are likelier than not."""
    return tuple(stop for stop in stops if stop.seen and stop.probability >= STOPS_FROM)


def likely_stop(stops: tuple[StopSign, ...], stopped: tuple[StopSign, ...], rubric: Rubric) -> bool:
    """Whether something that nobody saw for sure may well stop it."""
    return any(stop.probability >= rubric.figure("may_stop") for stop in stops if stop not in stopped)


def stopped_worlds(rubric: Rubric, case: Case, assessment: Assessment) -> NDArray[np.bool_]:
    """The worlds in which something stops the purchase whatever the price."""
    here = case.instrument
    worlds = assessment.worlds
    found = np.zeros(worlds.count, dtype=np.bool_)
    for place, name in enumerate(worlds.checks):
        kinds = [
            kind_of(one, one.class_at(here.tier, here.style, here.age)) for one in rubric.checks[name].outcomes.values()
        ]
        if "always" in kinds:
            found |= np.array([kind == "always" for kind in kinds])[worlds.outcome[:, place]]
    return found
