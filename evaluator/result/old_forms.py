"""Kept results of older forms, brought up to the form of today: what is missing then says so, nothing is made up.

Fields that merely came later have their first value in the records. Here is what the records cannot say: fields that
went, and fields that every result of today has and the first ones were without.
"""

from collections.abc import Mapping
from typing import Any, get_args

from ..assessment.model import LookWhy
from ..estimate.model import Uncured
from .model.result import FORMAT

Kept = Mapping[str, Any]  # plain JSON: what is in it is known only once the records have read it
NO_TRAIL: Kept = {"share": 0.0, "takes": 0.0, "cause": None, "steps": []}
VIEWS = ("verdict_holds", "score_band_holds")
VERDICT = (
    "advice", "asking", "probability_worth_it", "ready_value", "ready_value_from", "ready_value_kind", "known_sales",
    "stopped_by",
)  # fmt: skip
WORDS = ("sentence", "reasons", "say_to_seller")  # of the decision, before it was kept in facts alone
NOTHING_UNSEEN: Kept = {"mean": 0.0, "extras": []}  # of before there were amounts


def brought_up(kept: Kept) -> dict[str, object]:
    """The same result in the form of today; raises KeyError or TypeError for what never was a result."""
    first: Kept = {"not_looked_at": NOTHING_UNSEEN, "visit": [], "photos_to_ask_for": []}
    return {
        **first,
        **kept,
        "format": FORMAT,
        "rubric": {"opinions": {}, **kept["rubric"]},
        "views": _views(kept["views"]),
        "verdict": _verdict(kept["verdict"]),
        **_words(kept["verdict"]),
        "findings": [_finding(one) for one in kept["findings"]],
        "disqualifying": [_finding(one) for one in kept["disqualifying"]],
        "conformity": {name: _measured(name, one) for name, one in kept["conformity"].items()},
        "causes": {name: _cause(one) for name, one in kept["causes"].items()},
        "checks": [_check(one) for one in kept["checks"]],
        "set_aside": {name: _told(why) for name, why in kept["set_aside"].items()},
        "plan": {**kept["plan"], "lines": [_line(one) for one in kept["plan"]["lines"]]},
        "possible_extras": [_extra(one) for one in kept["possible_extras"]],
        "not_looked_at": _with_extras(kept.get("not_looked_at", NOTHING_UNSEEN)),
        **({"quotable": _with_extras(kept["quotable"])} if kept.get("quotable") else {}),
        "uncured": {name: why if why in get_args(Uncured) else _told(why) for name, why in kept["uncured"].items()},
        "optional": [_line(one) for one in kept["optional"]],
        "next_checks": [_look(one) for one in kept["next_checks"]],
        "visit": [_look(one) for one in kept.get("visit", ())],
    }


def _told(said: object) -> object:
    """A sentence of the first form as what it is; facts as they are."""
    return {"code": "as_written", "say": said} if isinstance(said, str) else said


def _step(kept: object) -> object:
    """The first steps were sentences, or sentences with the steps below them."""
    if isinstance(kept, str):
        return {"fact": _told(kept)}
    if isinstance(kept, Mapping) and "say" in kept:
        return {"fact": _told(kept["say"]), "because": [_step(one) for one in kept["because"]]}
    return kept


def _views(kept: Kept) -> dict[str, object]:
    """Weights no longer move the value, so nothing is said of how they would turn the advice."""
    return {"score_band_holds": 1.0, **{key: kept[key] for key in VIEWS if key in kept}}


def _verdict(kept: Kept) -> dict[str, object]:
    """What was called the walk-away and the target price is the ceiling and the offer; neither falls below nothing."""
    kept = {**kept, "ready_value_from": _told(kept["ready_value_from"])}
    if "ceiling" in kept:
        return {key: value for key, value in kept.items() if key not in WORDS}
    ceiling, offer = kept["walk_away_price"], kept["target_price"]
    low, high, lasting = kept.get("ready_value_low"), kept.get("ready_value_high"), kept.get("lasting")
    same = {key: kept[key] for key in VERDICT if key in kept}
    return {
        **same,
        "ceiling": None if ceiling is None else max(0.0, ceiling),
        "offer": None if offer is None else max(0.0, offer),
        "ready_range": None if low is None or high is None else {"low": low, "high": high},
        "lasting": lasting and {"left": lasting["left"], "faults": lasting["faults"]},
    }


def _words(kept: Kept) -> dict[str, object]:
    """What the decision said then, where it was kept in words."""
    return {"words": {key: kept[key] for key in WORDS}} if "sentence" in kept else {}


def _finding(kept: Kept) -> dict[str, object]:
    """The question of a finding is its check's, and its title is made of its words."""
    return {"term": None, **{key: value for key, value in kept.items() if key not in ("ask", "title")}}


def _measured(name: str, kept: Kept) -> dict[str, object]:
    return {"check": name, **kept, "settle": _told(kept["settle"])}


def _cause(kept: Kept) -> dict[str, object]:
    return {**kept, "signs": [_told(one) for one in kept["signs"]], "why": [_step(one) for one in kept.get("why", ())]}


def _check(kept: Kept) -> dict[str, object]:
    why = kept.get("why", NO_TRAIL)
    return {
        "likeness": {"drawing": kept.get("drawing", ""), "outcomes": []},  # not kept then, so nothing is drawn
        **kept,
        "postponed": _told(kept["postponed"]),
        "because": [_told(one) for one in kept["because"]],
        "why": {**why, "steps": [_step(one) for one in why["steps"]]},
    }


def _look(kept: Kept) -> dict[str, object]:
    return {**kept, "why": kept["why"] if kept["why"] in get_args(LookWhy) else _told(kept["why"])}


def _with_extras(kept: Kept) -> dict[str, object]:
    return {**kept, "extras": [_extra(one) for one in kept["extras"]]}


def _extra(kept: Kept) -> dict[str, object]:
    """What brings an extra, and when that is known, were sentences."""
    when = [_told(kept["when"])] if isinstance(kept["when"], str) else kept["when"]
    return {**kept, "when": when, "known": _told(kept["known"])}


def _line(kept: Kept) -> dict[str, object]:
    """The first lines named the next best job by its id alone."""
    other = kept["next_best"] and {"say": kept["next_best"]["job"].replace("_", " "), **kept["next_best"]}
    return {"cures": [], "forced_by_say": None, **kept, "next_best": other}
