"""Kept results of older forms, brought up to the form of today: what is missing then says so, nothing is made up.

Fields that merely came later have their first value in the records. Here is what the records cannot say: fields that
went, and fields that every result of today has and the first ones were without.
"""

from collections.abc import Mapping
from typing import Any  # the one reader of plain JSON: what is in it is known only once the records have read it

Kept = Mapping[str, Any]
NO_TRAIL: Kept = {"share": 0.0, "takes": 0.0, "cause": None, "steps": []}
NOTHING_UNSEEN: Kept = {"mean": 0.0, "extras": []}


def brought_up(kept: Kept) -> dict[str, Any]:
    """The same result in the form of today; raises KeyError or TypeError for what never was a result."""
    first: Kept = {"not_looked_at": NOTHING_UNSEEN, "visit": [], "photos_to_ask_for": []}
    return {
        **first,
        **kept,
        "rubric": {"opinions": {}, **kept["rubric"]},
        "views": {"score_band_holds": 1.0, **kept["views"]},
        "findings": [_finding(one) for one in kept["findings"]],
        "disqualifying": [_finding(one) for one in kept["disqualifying"]],
        "conformity": {name: {"check": name, **one} for name, one in kept["conformity"].items()},
        "causes": {name: {"why": [], **one} for name, one in kept["causes"].items()},
        "checks": [{"why": NO_TRAIL, **one} for one in kept["checks"]],
        "plan": {**kept["plan"], "lines": [_line(one) for one in kept["plan"]["lines"]]},
        "optional": [_line(one) for one in kept["optional"]],
    }


def _finding(kept: Kept) -> dict[str, Any]:
    """The question of a finding is its check's; the first ones had no title of their own."""
    return {"title": kept["say"], "term": None, **{key: value for key, value in kept.items() if key != "ask"}}


def _line(kept: Kept) -> dict[str, Any]:
    """The first lines named the next best job by its id alone."""
    other = kept["next_best"] and {"say": kept["next_best"]["job"].replace("_", " "), **kept["next_best"]}
    return {"cures": [], "forced_by_say": None, **kept, "next_best": other}
