"""What the shop's guide says of an instrument: a mixture over the classes that it may be of, lasting losses once.

Value = guide of the class, by family and size, times what lasting faults leave in that class, times how it sounds; over
the classes in the logarithm. The standard it is held to, the asking price and who asks do not enter.
"""

from collections.abc import Mapping, Sequence
from dataclasses import replace

from ...assessment.model import Instrument
from ...basis.frozen import dataclass
from ...rubric.guide import Guide
from ...rubric.rubric import Rubric
from ...rubric.written.checks import Check, Outcome
from ...rubric.written.kinds import Family
from .answers import Answer
from .lasting import LEAST_LOSS, Lasting, LastingFault, lasting_of
from .mixture import Law, Mixture, law_of
from .tone import tone_place

PAPERS = "papers"
MADE_IN = "made_in"


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
