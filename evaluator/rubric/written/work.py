"""Work as it is written: jobs with what they bring along and how far they reach, shared labour, prices of parts."""

from pydantic import Field, StrictBool

from .kinds import (
    Confidence,
    Family,
    Id,
    NotNegative,
    Number,
    PartGrade,
    Positive,
    Share,
    Skill,
    Text,
    ThreePoint,
    Tier,
    Urgency,
    Written,
)


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
