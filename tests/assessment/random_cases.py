"""Random rubrics and answers for the laws: choices and measurements, with and without causes, jobs and weights."""

from typing import Any

from hypothesis import strategies as st

from evaluator.rubric.rubric import Rubric
from tests.assessment.small import check_of, rubric_of

CLASSES = ("sound", "acceptable", "fault", "disqualifying")
NAMES = ("good", "fair", "poor", "stop")
CHANNELS = ("in_person", "photos", "seller_statement", "recording")
DOMAINS = ("workmanship", "soundness", "playability", "tone", "authenticity", "resale")
CAUSES = tuple(
    {"cause": name, "say": f"It was {name}", "if_not": f"It was not {name}", "about": "condition", "prior": prior}
    for name, prior in (("dropped", 0.2), ("neglected", 0.5))
)
JOBS = ({"job": "mend", "leaves": 0.95}, {"job": "patch", "leaves": 0.7})


@st.composite
def choice_checks(draw: Any, name: str, reliability: st.SearchStrategy[Any], *, by_class: bool) -> dict[str, Any]:
    """A choice of two to four classes; `by_class`: chances and worths are the defaults, which rise with the class."""
    kept = sorted(draw(st.sets(st.integers(0, 3), min_size=2)))
    outcomes: dict[str, Any] = {}
    for i in kept:
        outcome: dict[str, Any] = {"say": f"It is {NAMES[i]}", "class": CLASSES[i]}
        outcome |= draw(st.sampled_from(({"inherent": True}, {"cured_by": ("mend",)}, {"cured_by": ("patch", "mend")})))
        if not by_class:
            share = st.none() | st.floats(0, 1)
            outcome |= {key: draw(share) for key in ("worth", "if_bad", "if_good")}
        outcomes[NAMES[i]] = {key: value for key, value in outcome.items() if value is not None}
    return _common(draw, name, reliability) | {"outcomes": outcomes}


@st.composite
def measure_checks(draw: Any, name: str, reliability: st.SearchStrategy[Any]) -> dict[str, Any]:
    """A length held to one or two limits, its worth by class or along the reading."""
    low = draw(st.floats(90, 100))
    high = low + draw(st.floats(1, 10))
    standard = draw(st.sampled_from(({"low": low, "high": high}, {"low": low}, {"high": high})))
    points = draw(st.sampled_from(({}, {low - 5: 0.0, low: 0.8, (low + high) / 2: 1.0, high: 0.7, high + 10: 0.1})))
    confidence = draw(st.sampled_from(("high", "low")))
    # A standard that is open on a side usually leaves that outcome out.
    open_ = {side for side, key in (("too_low", "low"), ("too_high", "high")) if key not in standard}
    left_out = draw(st.sets(st.sampled_from(sorted(open_)))) if open_ else set()
    sides = [side for side in ("too_low", "meets", "too_high") if side not in left_out]
    return _common(draw, name, reliability) | {
        "measure": {"quantity": "length", "unit": "mm", "tools": ("steel_rule", "caliper")},
        "standard": standard | {"confidence": confidence},
        "worth_at": points,
        "outcomes": {
            side: {"say": side, "class": "sound" if side == "meets" else "fault"} | {"cured_by": ("mend",)}
            for side in sides
        },
    }


def _common(draw: Any, name: str, reliability: st.SearchStrategy[Any]) -> dict[str, Any]:
    check = check_of(
        name,
        evidence_of=draw(st.dictionaries(st.sampled_from(DOMAINS), st.floats(0, 3), max_size=3)),
        weight=draw(st.floats(0, 5)),
        seen_by={channel: draw(reliability) for channel in CHANNELS},
    )
    cause = draw(st.sampled_from((None, "dropped", "neglected")))
    return check | ({"cause": cause} if cause else {})


ONE_SHARE = st.sampled_from((0.0, 1.0)) | st.floats(0, 1)
# What hides: that there is something shows no more often than that there is nothing.
SIGHTS = st.tuples(ONE_SHARE, ONE_SHARE).map(lambda two: {"there": min(two), "not_there": max(two)})
ANY_SHARE: st.SearchStrategy[Any] = ONE_SHARE | SIGHTS


@st.composite
def rubrics(
    draw: Any, reliability: st.SearchStrategy[Any] = ANY_SHARE, *, by_class: bool = False, measured: bool = True
) -> Rubric:
    """A rubric of one to six checks."""
    checks = []
    for i in range(draw(st.integers(1, 6))):
        if measured and draw(st.integers(0, 2)) == 0:
            checks.append(draw(measure_checks(f"check_{i}", reliability)))
        else:
            checks.append(draw(choice_checks(f"check_{i}", reliability, by_class=by_class)))
    shares = draw(st.dictionaries(st.sampled_from(DOMAINS), st.floats(0, 1), min_size=1))
    return rubric_of(*checks, causes=CAUSES, jobs=JOBS, shares=shares)


@st.composite
def answers(draw: Any, rubric: Rubric, *, often: bool = False) -> dict[str, Any]:
    """Answers to some of the checks, or to most."""
    found: dict[str, Any] = {}
    for name, check in rubric.checks.items():
        if draw(st.integers(0, 3 if often else 1)) == 0:
            continue
        found[name] = draw(one_answer(list(check.outcomes), measured=check.measure is not None))
    return found


@st.composite
def one_answer(draw: Any, outcomes: list[str], *, measured: bool) -> dict[str, Any]:
    seen_by = draw(st.sampled_from(CHANNELS))
    if measured and draw(st.booleans()):
        tool = draw(st.sampled_from(("steel_rule", "caliper")))
        return {"reading": draw(st.integers(850, 1150)) / 10, "tool": tool, "seen_by": seen_by}
    return {"outcome": draw(st.sampled_from([*outcomes, "cannot_tell"])), "seen_by": seen_by}
