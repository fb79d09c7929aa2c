"""A check as it is written: one thing to look at, measure, count or rate, and the states it may be in."""

from functools import cache
from typing import Annotated, Literal

from pydantic import Field, StrictBool

from .kinds import (
    WORTH_BY_CLASS,
    Age,
    Channel,
    Confidence,
    Cure,
    Domain,
    Family,
    Id,
    Kind,
    Looker,
    NotNegative,
    Number,
    OutcomeClass,
    Positive,
    Share,
    Stop,
    Style,
    Text,
    ThreePoint,
    Tier,
    Urgency,
    Whole,
    Written,
)

TOGETHER = " + "  # between jobs that cure a fault only together


@cache
def jobs_of(cure: str) -> tuple[str, ...]:
    """The jobs of one entry of `cured_by`: one, or several that are needed together ("crack_reglue + crack_cleat")."""
    return tuple(job.strip() for job in cure.split(TOGETHER.strip()))


class Outcome(Written):
    """One possible state of a check. `worth` 0..1 is how good it is for the check's domains (None: by class).

    Each entry of `cured_by` is one way to cure it: a job, or several joined by "+" that are needed together. `units`:
    how many times at least the fault is there, and so the job is to be done ("two or more cracks"). `degree`: how much
    of it there is, in what the check's `degree_of` says; jobs with limits ask for it.

    `who`: who can tell it from others; to anybody else it looks like `seen_as`. `counts_as`: the check.outcome that is
    the home of this matter, where it counts once.
    `bite`: the share that it takes of the domains of its check, where one fault spoils the whole; else it follows from
    weight, strength and worth.

    `matter`: what stays in the value after a good repair, by the shop's guide for each class of making; `lasting_loss`
    is that of one bought for its quality, and counts where no matter is named. `stops`: it stops a purchase `always`,
    or `unless_priced` as such an instrument; None leaves it to the class. `answers_for`: whoever sells so stands in for
    what is hidden.
    """

    say: Text
    means: Text | None = None
    class_: OutcomeClass = Field(alias="class")
    class_for: dict[Tier | Style | Age, OutcomeClass] = {}
    worth: Share | None = None
    worth_for: dict[Tier | Style | Age, Share] = {}
    cured_by: tuple[Cure, ...] = ()
    inherent: StrictBool = False
    urgency: Urgency | None = None
    lasting_loss: ThreePoint | None = None
    matter: Id | None = None
    stops: Stop | None = None
    answers_for: StrictBool = False
    if_bad: NotNegative | None = None
    if_good: NotNegative | None = None
    at_least: Whole | None = None
    at_most: Whole | None = None
    units: Annotated[int, Field(strict=True, ge=1, le=99)] = 1
    bite: Annotated[float, Field(strict=True, gt=0, lt=1, allow_inf_nan=False)] | None = None
    degree: Number | None = None
    unsafe: StrictBool = False
    who: Looker | None = None
    seen_as: Id | None = None
    counts_as: Text | None = None

    @property
    def jobs(self) -> frozenset[str]:
        """Every job that has a part in curing it."""
        return frozenset(job for cure in self.cured_by for job in jobs_of(cure))

    def class_at(self, tier: Tier, style: Style, age: Age | None = None) -> OutcomeClass:
        """The class here: the opinion for the style first, then for the age, the tier, and the general one."""
        if not self.class_for:
            return self.class_
        keys: tuple[Tier | Style | Age | None, ...] = (style, age, tier)
        return next((self.class_for[key] for key in keys if key in self.class_for), self.class_)

    def worth_at(self, tier: Tier, style: Style, age: Age | None = None) -> float:
        """Worth 0..1 here, in the same order; the general one holds only where the class is the general one."""
        if self.worth_for:
            keys: tuple[Tier | Style | Age | None, ...] = (style, age, tier)
            special = next((self.worth_for[key] for key in keys if key in self.worth_for), None)
            if special is not None:
                return special
        found = self.class_at(tier, style, age)
        if self.worth is not None and found == self.class_:
            return self.worth
        return WORTH_BY_CLASS[found]


class Sight(Written):
    """How often a way of seeing shows what hides: `there` that there is something, `not_there` that there is nothing.

    `to_luthier`: the first where a luthier looks. Sound outcomes are those where there is nothing.
    """

    there: Share
    not_there: Share
    to_luthier: Share | None = None


class Measure(Written):
    """A reading: a physical quantity in a unit, with the tools it may be taken with, the usual one first."""

    quantity: Literal["length", "mass", "angle", "temperature", "ratio", "frequency", "humidity", "time"]
    unit: str
    tools: tuple[Id, ...] = ()
    at_least: Number | None = None
    at_most: Number | None = None


class Count(Written):
    """A whole number of things, for example fine tuners.

    `each_is_a_fault`: each thing counted needs one unit of the job that cures it (heavy tuners). `units_of`: checks of
    whose fault it only tells how many times it is there (open places of a seam).
    """

    of: Text
    each_is_a_fault: StrictBool = False
    units_of: tuple[Id, ...] = ()
    at_least: Whole = 0
    at_most: Whole = 99


class Rate(Written):
    """A judgement on a short scale of whole numbers; what the ends mean is said in words."""

    lowest: Whole = 1
    highest: Whole = 5
    low_means: Text
    high_means: Text


class StandardHere(Written):
    """Either the name of a table or limits written at the check (one of low and high may be missing)."""

    table: Id | None = None
    target: Number | None = None
    tolerance: Positive | None = None
    low: Number | None = None
    high: Number | None = None
    confidence: Confidence = "medium"
    sources: tuple[Text, ...] = ()


class Weight(Written):
    """Importance 0..5 for each tier."""

    student: NotNegative
    intermediate: NotNegative
    professional: NotNegative


class Check(Written):
    """One thing to look at, measure, count or rate; or, with `formula`, one that follows from readings (`derived`).

    `points_to`: checks that count the same matter where they saw it, so that its loss of value counts once.
    """

    check: Id
    part: Id
    ask: Text
    term: Text | None = None
    why: Text | None = None
    how: tuple[Text, ...] = ()
    minutes: NotNegative = 1.0
    who: Looker = "student"
    seen_by: dict[Channel, Share | Sight] = {}
    evidence_of: dict[Domain, Annotated[float, Field(strict=True, ge=0, le=3)]] = {}
    cause: Id | None = None
    weight: Weight | Annotated[float, Field(strict=True, ge=0, le=5)] = 1.0
    style_factor: dict[Style, NotNegative] = {}
    families: tuple[Family, ...] = ()
    styles: tuple[Style, ...] = ()
    measure: Measure | None = None
    count: Count | None = None
    rate: Rate | None = None
    formula: Text | None = None
    unit: str | None = None
    standard: StandardHere | None = None
    worth_at: dict[Number, Share] = {}
    degree_of: Text | None = None
    outcomes: dict[Id, Outcome] = {}
    relevant_if: Text | None = None
    under_tension: StrictBool = False
    postponed_by: tuple[Text, ...] = ()
    points_to: tuple[Id, ...] = ()
    about: Literal["instrument", "purchase"] = "instrument"
    usual: StrictBool = False
    exceptions: tuple[Text, ...] = ()
    caution: Text | None = None
    cautions: tuple[Id, ...] = ()
    drawing: Id | None = None
    photo: Text | None = None
    seller_question: Text | None = None
    sources: tuple[Text, ...] = ()
    confidence: Confidence = "medium"

    @property
    def kind(self) -> Kind:
        """The kind follows from the block that is there: measure, count, rate or formula, else a choice."""
        if self.formula is not None:
            return "derived"
        if self.measure is not None:
            return "measure"
        if self.count is not None:
            return "count"
        return "rating" if self.rate is not None else "choice"

    def weight_at(self, tier: Tier, style: Style) -> float:
        """Importance 0..5 for this tier times the style's factor (1 when not written)."""
        weight = getattr(self.weight, tier) if isinstance(self.weight, Weight) else self.weight
        return float(weight) * self.style_factor.get(style, 1.0)

    def weight_in_score(self, tier: Tier, style: Style) -> float:
        """The same for the score of the instrument: 0 for what is of the purchase, or is only recorded."""
        return 0.0 if self.about == "purchase" or not self.outcomes else self.weight_at(tier, style)

    @property
    def usual_weight(self) -> float:
        """Importance 0..5, the mean over the tiers."""
        if isinstance(self.weight, Weight):
            return (self.weight.student + self.weight.intermediate + self.weight.professional) / 3.0
        return float(self.weight)


class Likeness(Written):
    """The drawing whose wrong side is the fault, and the outcomes of the check that it shows; no others."""

    check: Id
    drawing: Id
    shows: tuple[Id, ...] = ()
    sources: tuple[Text, ...] = ()
    confidence: Confidence = "medium"
