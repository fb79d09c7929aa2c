"""The words and bounds that every shape of a rubric is made of: ids, texts, shares, families, tiers, classes.

Every shape is frozen and refuses unknown keys.
"""

from typing import Annotated, Literal, Self

from pydantic import BaseModel, ConfigDict, Field, StringConstraints, model_validator

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
