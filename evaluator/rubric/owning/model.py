"""The facts of rubrics/owning.yaml: what a player wears out, when a repair is worth it, and usual terms of renting."""

from typing import Annotated

from pydantic import Field

from ..written.kinds import Confidence, NotNegative, PartGrade, Positive, Share, Text, Tier, Written


class Told(Written):
    """Facts with where they are from and how sure that is."""

    sources: Annotated[tuple[Text, ...], Field(min_length=1)]
    confidence: Confidence


class Habits(Written):
    """What a player of so many hours wears out in a year, in pieces."""

    hours: Positive
    string_sets: NotNegative
    rehairs: NotNegative
    light_services: NotNegative
    full_services: NotNegative


class Wear(Told):
    """Habits by hours, the fewest first, and the grade of strings that suits each standard."""

    years: Annotated[tuple[Habits, ...], Field(min_length=2)]
    strings: dict[Tier, PartGrade]


class Repairing(Told):
    """Shares of the ready value: work that is a small part of it, a large part, and what nobody can know."""

    small_part: Share
    large_part: Share
    unknown: Share


class Renting(Told):
    """Usual terms of renting for a child: amounts in the money of the default shop, rent and care a month."""

    months: Annotated[int, Field(strict=True, ge=1, le=240)]
    rent: NotNegative
    care: NotNegative
    credit_share: Share
    price: NotNegative
    resale_share: Share
    promised_share: Share


class Owning(Written):
    """The whole file."""

    habits: Wear
    repairing: Repairing
    renting: Renting
