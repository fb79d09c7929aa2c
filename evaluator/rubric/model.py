"""What a rubric may say: the shapes of checks, standards, causes and jobs as a luthier writes them in YAML.

These classes only hold and bound values; places, "did you mean" and sense across checks live in `load` and `sense`. The
JSON Schema for editors is made from them. Every class is frozen and refuses unknown keys.
"""

from collections.abc import Mapping
from functools import cache
from typing import Annotated, Literal, Self

from pydantic import BaseModel, ConfigDict, Field, StrictBool, StringConstraints, model_validator

Id = Annotated[str, StringConstraints(pattern=r"^[a-z][a-z0-9_]*$", max_length=60)]
Cure = Annotated[str, StringConstraints(pattern=r"^[a-z][a-z0-9_]*( ?\+ ?[a-z][a-z0-9_]*)*$", max_length=200)]
Text = Annotated[str, StringConstraints(strip_whitespace=True, min_length=1, max_length=1200)]
Share = Annotated[float, Field(strict=True, ge=0, le=1, allow_inf_nan=False)]
Number = Annotated[float, Field(strict=True, allow_inf_nan=False)]
Positive = Annotated[float, Field(strict=True, gt=0, allow_inf_nan=False)]
NotNegative = Annotated[float, Field(strict=True, ge=0, allow_inf_nan=False)]
Whole = Annotated[int, Field(strict=True)]

Family = Literal["violin", "viola", "cello", "bow"]
Tier = Literal["student", "intermediate", "professional"]
Style = Literal["classical", "fiddle"]
StringType = Literal["steel", "synthetic", "gut"]
Age = Literal["new", "up_to_40", "40_to_100", "over_100"]
Channel = Literal["in_person", "photos", "seller_statement", "recording"]
Looker = Literal["student", "teacher", "luthier"]
Domain = Literal["workmanship", "soundness", "playability", "tone", "authenticity", "resale"]
OutcomeClass = Literal["sound", "acceptable", "fault", "disqualifying"]
Urgency = Literal["to_play_safely", "to_standard", "recommended", "cosmetic", "can_wait"]
Confidence = Literal["high", "medium", "low"]
Kind = Literal["choice", "measure", "count", "rating", "derived"]
Skill = Literal["set_up", "repair", "restoration"]
PartGrade = Literal["plain", "good", "select"]
Stop = Literal["always", "unless_priced"]

TOGETHER = " + "  # between jobs that cure a fault only together
DOMAINS: tuple[Domain, ...] = ("workmanship", "soundness", "playability", "tone", "authenticity", "resale")
CHANNELS: tuple[Channel, ...] = ("in_person", "photos", "seller_statement", "recording")

# How good an outcome is for its domains when the rubric does not say (design: defaults by class).
WORTH_BY_CLASS: dict[OutcomeClass, float] = {"sound": 1.0, "acceptable": 0.75, "fault": 0.25, "disqualifying": 0.0}


class Written(BaseModel):
    """Base of everything that is read from YAML or JSON."""

    # Its validator is made when something is first read: a rubric that was compiled before needs none.
    model_config = ConfigDict(frozen=True, extra="forbid", populate_by_name=True, defer_build=True)


class ThreePoint(Written):
    """Low, likely and high of hours (h) or of a price (in the shop's currency): near-limits, not percentiles."""

    low: NotNegative
    likely: NotNegative
    high: NotNegative

    @model_validator(mode="after")
    def in_order(self) -> Self:
        if not self.low <= self.likely <= self.high:
            raise ValueError("low, likely and high must not fall")
        return self


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
        keys: tuple[Tier | Style | Age | None, ...] = (style, age, tier)
        return next((self.class_for[key] for key in keys if key in self.class_for), self.class_)

    def worth_at(self, tier: Tier, style: Style, age: Age | None = None) -> float:
        """Worth 0..1 here, in the same order; the general one holds only where the class is the general one."""
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


class StandardRow(Written):
    """Limits for one family and one or more sizes. A missing low or high leaves that side open."""

    family: Family
    size: tuple[str, ...] = ()
    style: Style | None = None
    strings: StringType | None = None
    target: Number | None = None
    low: Number | None = None
    high: Number | None = None
    worth_at: dict[Number, Share] = {}
    confidence: Confidence
    sources: tuple[Text, ...] = Field(min_length=1)
    note: Text | None = None


class StandardTable(Written):
    """A named standard: the quantity and unit, and a row for each family, size, style and kind of string."""

    standard: Id
    say: Text
    unit: str
    rows: tuple[StandardRow, ...]


class Tool(Written):
    """A measuring tool: its error lies within +- half_width (rectangular), and it shows steps of `step`."""

    tool: Id
    say: Text
    unit: str
    half_width: Positive
    step: NotNegative
    sources: tuple[Text, ...] = ()


class Cause(Written):
    """What makes several checks go wrong together; `prior` is the probability that it is at work, before any look."""

    cause: Id
    say: Text
    if_not: Text
    about: Literal["made_in", "condition"]
    prior: Share | dict[Id | Age, Share]

    def prior_at(self, making: Mapping[str, float], age: Age | None) -> float:
        """Prior probability at these shares of the classes of making; where an age is written too, the mean of both."""
        if not isinstance(self.prior, dict):
            return self.prior
        known = {name: share for name, share in making.items() if name in self.prior and share > 0}
        found = [sum(share * self.prior[name] for name, share in known.items()) / sum(known.values())] if known else []
        if age is not None and age in self.prior:
            found.append(self.prior[age])
        return sum(found) / len(found) if found else sum(self.prior.values()) / max(1, len(self.prior))


class Caution(Written):
    caution: Id
    say: Text
    demanded_by: tuple[Text, ...] = ()


class Part(Written):
    """The part of the instrument under which checks are asked, one page a part, in this order."""

    part: Id
    say: Text
    intro: Text | None = None


class Force(Written):
    """A job that follows from another: `chance` of it, the trigger in words and the moment it will be known.

    `old`: the chance on an instrument of more than a hundred years, where it is another.
    """

    job: Id | None = None
    one_of: tuple[Id, ...] = ()
    chance: Share
    old: Share | None = None
    when: Text
    known: Text | None = None
    replaces: StrictBool = False


class JobPart(Written):
    part: Id
    grade: PartGrade = "good"
    count: Positive = 1.0


class Limit(Written):
    """How far a check may have gone for a job still to be the cure.

    `at_least`, `at_most`: of a reading in the check's unit, or of the degree of the outcome that was seen.
    `off_at_most`: how far a reading may lie outside its standard. `not_when`: outcomes with which the job does not go.
    `family` multiplies the figures where a reading is held against them; degrees are those of a violin everywhere.
    """

    check: Id
    at_least: Number | None = None
    at_most: Number | None = None
    off_at_most: NotNegative | None = None
    not_when: tuple[Id, ...] = ()
    family: dict[Family, Positive] = {}


class HoldsYears(Written):
    """How many years the work holds, as a student plays and as one who plays every day."""

    student: Positive
    daily: Positive

    def at(self, tier: Tier) -> float:
        return self.daily if tier == "professional" else self.student


class Job(Written):
    """Workshop work on one unit, without its shared labour. Hours are for a violin; `family` multiplies them.

    `fit_for`, `not_for` name tiers and classes of making. `leaves`: worth of the check after it; `leaves_as`: the
    outcome at which a check then stands, as on another instrument on which the same mend is found, or as a new part is.

    `was`: ids under which it was known before; files of a workshop may go on naming them.
    """

    job: Id
    was: tuple[Id, ...] = ()
    say: Text
    plain: Text
    skill: Skill
    hours: ThreePoint
    families: tuple[Family, ...] = ("violin", "viola", "cello")
    family: dict[Family, Positive] = {}
    parts: tuple[JobPart, ...] = ()
    shares: tuple[Id, ...] = ()
    requires: tuple[Id, ...] = ()
    after: tuple[Id, ...] = ()
    forces: tuple[Force, ...] = ()
    makes_unnecessary: tuple[Id, ...] = ()
    choose_one: tuple[Id, ...] = ()
    further_unit: Share | None = None
    minimum: NotNegative | None = None
    leaves: Share = 0.95
    leaves_as: dict[Id, Id] = {}
    limits: tuple[Limit, ...] = ()
    fit_for: tuple[Id, ...] = ()
    not_for: tuple[Id, ...] = ()
    holds_years: HoldsYears | None = None
    urgency: Urgency = "to_standard"
    service: StrictBool = False
    if_left: Text | None = None
    risk: Text | None = None
    contact_first: Text | None = None
    warranty: Text | None = None
    days: ThreePoint | None = None
    caution: Text | None = None
    cautions: tuple[Id, ...] = ()
    confidence: Confidence = "low"
    sources: tuple[Text, ...] = ()


class SharedLabour(Written):
    """Labour that several jobs need and an order pays once; `includes` names what it makes needless."""

    shared: Id
    say: Text
    skill: Skill = "set_up"
    hours: ThreePoint
    family: dict[Family, Positive] = {}
    includes: tuple[Id, ...] = ()
    sources: tuple[Text, ...] = ()


class PartSize(Written):
    """What a part costs for these sizes: its own prices by grade, or `times` the price of the full size."""

    family: Family
    size: tuple[str, ...] = Field(min_length=1)
    plain: ThreePoint | None = None
    good: ThreePoint | None = None
    select: ThreePoint | None = None
    times: Positive | None = None


class PartPrice(Written):
    """Retail price of a part by family and grade, not fitted; `by_size` where a size costs something else."""

    part: Id
    say: Text
    prices: dict[Family, dict[PartGrade, ThreePoint]]
    by_size: tuple[PartSize, ...] = ()
    cautions: tuple[Id, ...] = ()
    sources: tuple[Text, ...] = ()


class RubricExample(Written):
    """A small instrument inside a rubric, with what must come out; run by `evaluator rubric check`."""

    example: Id
    say: Text
    instrument: dict[str, str | int]
    asking: NotNegative | None = None
    ready_value: NotNegative | None = None
    observations: dict[Id, str | float | dict[str, str | float]] = {}
    expect: dict[str, str | float | bool | tuple[str, ...]]
