"""A figure of judgement: which there are, between which bounds each makes sense, and how one is written."""

from collections.abc import Mapping
from typing import Literal, Self, get_args

from pydantic import model_validator

from .kinds import Confidence, Number, Text, Written

Figure = Literal[
    "widest_value", "bench_hours_apart", "usual_sound", "bad_sound_takes", "good_sound_gives", "sounds_bad",
    "probably", "too_much_work", "much_work_leaves", "unsellable_leaves", "opening",
    "out_of_reach", "may_stop", "no_saving", "far_too_cheap", "sold_on", "guides_apart", "barely_seen", "looked_enough",
    "full_look", "few_minutes", "plainly_worth", "share_for_safety", "kept_years",
]  # fmt: skip
FIGURES: tuple[Figure, ...] = get_args(Figure)
SHARE = (0.0, 1.0)
BOUNDS: Mapping[Figure, tuple[float, float]] = {
    "widest_value": (1.5, 100.0),
    "bench_hours_apart": (0.0, 100.0),
    "bad_sound_takes": (0.0, 5.0),
    "good_sound_gives": (0.0, 5.0),
    "out_of_reach": (1.0, 10.0),
    "guides_apart": (0.0, 2.0),
    "few_minutes": (1.0, 120.0),
    "plainly_worth": (0.0, 20.0),
    "kept_years": (0.0, 30.0),
}  # every other is a share


class Judged(Written):
    """One figure with its reason, its source, and how sure it is."""

    judged: Figure
    say: Text
    value: Number
    sources: tuple[Text, ...]
    confidence: Confidence

    @model_validator(mode="after")
    def makes_sense(self) -> Self:
        low, high = BOUNDS.get(self.judged, SHARE)
        if not low <= self.value <= high:
            raise ValueError(f"{self.judged} must lie between {low:g} and {high:g}")
        return self
