"""What the shop's guide says of an instrument: what it would bring, and what faults nobody looked for usually cost.

Value = guide of the class, by family and size, times what lasting faults leave in that class, times how it sounds; a
mixture over the classes that it may be of, in the logarithm. The standard it is held to, the asking price and who asks
do not enter.

What work can cure is cost, and what a repair cannot make good is a share of value; sound is the one quality left that
neither holds, and one that sounds bad everywhere sells for far less. It is counted as it was given, also where it was
heard through a bad bridge: else a worse bridge would raise the value of an instrument that sounds bad.

The sum of the base rates of 150 checks would drown what was seen, and would grow with every check that a rubric adds.
So what faults that nobody has looked for cost is one figure a class, for nothing looked at, and shrinks with the share
of soundness and set-up that was seen to what is usual for an instrument seen in the hand and not opened. It is usual,
not feared: an outfit may well cost more than it is worth.
"""

from collections.abc import Mapping, Sequence
from dataclasses import replace
from math import exp

from ...assessment.model import Instrument
from ...basis.frozen import dataclass
from ...rubric.guide import Guide, UnseenCost
from ...rubric.rubric import Rubric
from ...rubric.written.checks import Check, Outcome
from ...rubric.written.kinds import Family
from .answers import Answer, general_worth
from .lasting import LEAST_LOSS, Lasting, LastingFault, lasting_of
from .mixture import Law, Mixture, law_of

PAPERS = "papers"
MADE_IN = "made_in"
HEARD = ("sound", "bow_play")  # parts of the rubric in which one listens or plays


@dataclass(frozen=True, slots=True)
class ClassValue:
    """What it would bring as one of a class: its share, the guide's limits and likely price, what faults leave."""

    class_: str
    share: float
    low: float
    likely: float
    high: float
    left: float


@dataclass(frozen=True, slots=True)
class GuideReading:
    """The guide read for one instrument; `tone` is the factor of its sound. `mixture` holds everything."""

    family: Family
    classes: tuple[ClassValue, ...]
    lasting: Lasting
    tone: float
    mixture: Mixture

    @property
    def left(self) -> float:
        """Share of the value that lasting faults leave together, over the classes."""
        return self.lasting.left_of({one.class_: one.share for one in self.classes})

    @property
    def unhurt(self) -> Mixture:
        """The mixture as if there were no lasting faults."""
        return Mixture(tuple(law_at(replace(one, left=1.0), self.tone) for one in self.classes))

    @property
    def likeliest(self) -> ClassValue:
        return max(self.classes, key=lambda one: one.share)


def guide_reading(
    guide: Guide, rubric: Rubric, instrument: Instrument, shares: Mapping[str, float], answers: Mapping[str, Answer]
) -> GuideReading | None:
    """The reading; None where there are no classes, or the guide has no price for one that is possible."""
    found = lasting_faults(guide, rubric, answers, tuple(shares))
    tone = tone_place(rubric, answers)
    classes = []
    for name, share in shares.items():
        price = guide.price(rubric.family, instrument.size, name)
        if price is None or price.low <= 0.0:
            return None
        classes.append(ClassValue(name, share, price.low, price.likely, price.high, found.left[name]))
    if not classes:
        return None
    mixture = Mixture(tuple(law_at(one, tone) for one in classes))
    return GuideReading(rubric.family, tuple(classes), found, tone, mixture)


def law_at(one: ClassValue, tone: float) -> Law:
    """The law of the price in one class, with what faults leave and how it sounds."""
    by = one.left * tone
    return law_of(one.share, one.low * by, one.likely * by, one.high * by)


def lasting_faults(guide: Guide, rubric: Rubric, answers: Mapping[str, Answer], classes: Sequence[str]) -> Lasting:
    """What the answered faults that last leave of the value in each class; what another check counts, by that one."""
    faults = []
    for answer in answers.values():
        check, outcome = home_of(rubric, answer)
        left = left_by_class(guide, rubric, check, outcome, classes)
        if left is not None:
            faults.append(
                LastingFault(
                    check=answer.check.check,
                    outcome=answer.name,
                    say=answer.outcome.say,
                    left=left,
                    probability=answer.borne_out,
                    matter=outcome.matter or check.check,
                    accident=check.cause,
                    points_to=answer.check.points_to,
                )
            )
    return lasting_of(faults, classes)


def home_of(rubric: Rubric, answer: Answer) -> tuple[Check, Outcome]:
    """The check and outcome at which the matter of an answer counts: its own, but for what it only shows."""
    home, _, name = (answer.outcome.counts_as or "").partition(".")
    check = rubric.checks.get(home)
    return (check, check.outcomes[name]) if check and name in check.outcomes else (answer.check, answer.outcome)


def left_by_class(
    guide: Guide, rubric: Rubric, check: Check, outcome: Outcome, classes: Sequence[str]
) -> Mapping[str, float] | None:
    """Share that a fault leaves in each class: by its matter in the guide, else flat by the rubric; or None."""
    row = guide.lasting.get(outcome.matter) if outcome.matter else None
    if row is not None:
        return {name: row.get(name, 1.0) for name in classes}
    loss = outcome.lasting_loss
    if loss is None or loss.likely < LEAST_LOSS or not is_condition(rubric, check):
        return None
    return dict.fromkeys(classes, 1.0 - loss.likely)


def is_condition(rubric: Rubric, check: Check) -> bool:
    """Whether its flat losses are of condition: neither of papers nor of how it was made."""
    cause = rubric.causes.get(check.cause) if check.cause else None
    return check.part != PAPERS and (cause is None or cause.about != MADE_IN)


def tone_place(rubric: Rubric, answers: Mapping[str, Answer]) -> float:
    """The factor of its sound on the value, 1 where nobody listened; a better answer never lowers it."""
    total = told = 0.0
    usual = rubric.figure("usual_sound")
    for name, check in rubric.checks.items():
        strength = check.evidence_of.get("tone", 0.0)
        if check.part not in HEARD or strength <= 0.0 or not check.outcomes:
            continue
        weight = strength * check.usual_weight
        total += weight
        answer = answers.get(name)
        if answer is not None:
            told += weight * answer.sure * (general_worth(answer.outcome) - usual)
    if total <= 0.0:
        return 1.0
    place = told / total
    return exp(place * rubric.figure("good_sound_gives" if place > 0.0 else "bad_sound_takes"))


def usual_cost(
    guide: Guide, family: Family, shares: Mapping[str, float], seen: float, *, answered_for: bool
) -> float | None:
    """The usual cost of what nobody looked for, the mean over the classes by their shares; None where the guide lacks a
    class that has a share.
    """
    total = 0.0
    for name, share in shares.items():
        if share <= 0.0:
            continue
        row = guide.unseen.get(name)
        if row is None:
            return None
        total += share * cost_of(row, seen, answered_for=answered_for)
    return total * guide.unseen_factor.get(family, 1.0)


def cost_of(row: UnseenCost, seen: float, *, answered_for: bool) -> float:
    """The usual cost with this share 0..1 of soundness and set-up seen, for a violin.

    `answered_for`: whoever sells it stands in for what is hidden; the less was seen the less that helps, since what is
    plain to see is nobody's guarantee.
    """
    least = row.answered_for if answered_for else row.seen_in_hand
    return row.nothing_seen + (least - row.nothing_seen) * min(1.0, max(0.0, seen))
