"""What people have with them to measure with, and the tools of the rubric that this is."""

from collections.abc import Mapping

# What people have at home or in a bag, and the tools of the rubric that this is. Common practice, no source.
THINGS: Mapping[str, tuple[str, frozenset[str]]] = {
    "rule": ("Ruler", frozenset({"steel_rule", "tape"})),
    "scale": ("Kitchen scale", frozenset({"kitchen_scale"})),
    "card": ("Bank card", frozenset({"card_photo"})),
    "caliper": ("Caliper", frozenset({"caliper"})),
    "bench": ("Bench tools", frozenset({
        "letter_scale", "gram_scale", "feeler_gauge", "string_height_gauge", "thickness_gauge",
        "radius_gauge", "steel_rule", "tape", "caliper", "kitchen_scale",
    })),
}  # fmt: skip
