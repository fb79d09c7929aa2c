"""Small instruments of known making, and a shop with a guide for two classes, for the tests of value and decision."""

from collections.abc import Mapping
from dataclasses import replace
from decimal import Decimal
from typing import Any

import numpy as np

from evaluator.assessment.looking.information import Looks
from evaluator.assessment.model import Assessment, Belief, Case, Making, Observation
from evaluator.basis.money import Money
from evaluator.estimate.estimate import estimate
from evaluator.rubric.making import MakingClass
from evaluator.rubric.rubric import Rubric
from evaluator.rubric.shop import Shop
from evaluator.valuation.deciding.decide import decide
from evaluator.valuation.deciding.weigh import Weighed, weigh
from evaluator.valuation.model import Decision
from evaluator.valuation.sales.sales_book import SalesBook
from tests.estimate.small import assessment_of, case_of, finding_of, job_of, rubric_of, shop_of, three

USUAL = dict.fromkeys(("workmanship", "soundness", "playability", "tone", "authenticity", "resale"), 50.0)
CLASSES = {
    name: MakingClass.model_validate(
        {"making": name, "say": f"{name} work", "means": "So.", "prior": {"violin": 0.5}, "care": care, "usual": USUAL}
    )
    for name, care in (("factory", 1.0), ("maker", 9.0))
}
GUIDE = {
    "prices": {"violin": {"factory": three(400, 800, 1600), "maker": three(8000, 16000, 32000)}},
    "sizes": {"violin": {"4/4": 1.0, "1/2": 0.7}},
    "small_sizes": {"violin": {"maker": 0.75}},
    "with_bow_and_case": ["factory"],
    "private_share": {"factory": three(0.6, 0.7, 0.8), "maker": three(0.7, 0.8, 0.9)},
    "unseen": {
        "factory": {"nothing_seen": 200, "seen_in_hand": 60, "answered_for": 20},
        "maker": {"nothing_seen": 600, "seen_in_hand": 250, "answered_for": 80},
    },
    "made_like": {"factory": 40, "maker": 90},
    "lasting": {"post": {"factory": 0.35, "maker": 0.55}, "wing": {"factory": 0.94, "maker": 0.97}},
}


def outcome(say: str, class_: str = "sound", **keys: Any) -> dict[str, Any]:
    return {"say": say, "class": class_} | keys


def check(name: str, part: str = "whole", **outcomes: dict[str, Any]) -> dict[str, Any]:
    base = {"check": name, "part": part, "ask": f"{name}?", "minutes": 2.0, "seen_by": {"in_person": 1.0}}
    return base | {"evidence_of": {"soundness": 2.0}, "outcomes": outcomes, "weight": 3.0}


RUBRIC: Rubric = replace(
    rubric_of(
        (
            job_of("bridge_new", (1, 1.5, 2), say="Fit a new bridge"),
            job_of("patch", (8, 10, 14), skill="restoration", say="Patch the crack"),
        ),
        {"bridge": ("bridge_new",)},
        checks=(
            check(
                "post_crack",
                none=outcome("None to be seen"),
                patched=outcome("Patched", "fault", inherent=True, matter="post", stops="unless_priced", worth=0.3),
                open=outcome("Open", "disqualifying", cured_by=["patch"], matter="post"),
            ),
            check(
                "wing",
                none=outcome("None"),
                mended=outcome("Mended", "acceptable", matter="wing"),
            ),
            check("owner", "papers", told=outcome("Told"), evasive=outcome("Says nothing", "disqualifying")),
            check("edge", fine=outcome("Fine"), plain=outcome("Plain", "acceptable")),
            check(
                "seller",
                "papers",
                shop=outcome("A shop", answers_for=True),
                private=outcome("Somebody", "acceptable"),
            ),
            check("ring", "sound", rings=outcome("Rings"), dead=outcome("Dead", "fault", inherent=True, worth=0.1))
            | {"evidence_of": {"tone": 3.0}},
        ),
    ),
    classes=CLASSES,
    sizes=("4/4", "1/2"),
)
SEEN = {"post_crack": "none", "wing": "none", "edge": "fine", "owner": "told"}
FACTORY = {"factory": 1.0, "maker": 0.0}
OPEN = replace(finding_of(RUBRIC, "bridge"), check="post_crack", outcome="open", say="Open", cured_by=("patch",))


def usd(amount: float) -> Money:
    return Money(Decimal(str(amount)), "USD")


def shop_with(**keys: Any) -> Shop:
    return shop_of(**({"guide": GUIDE} | keys))


def case_with(seen: Mapping[str, str], asking: float | None = None, own: float | None = None, **keys: Any) -> Case:
    found = {name: (Observation(name, one),) for name, one in seen.items()}
    return case_of(
        RUBRIC,
        observations=found,
        asking=None if asking is None else usd(asking),
        ready_value=None if own is None else usd(own),
        **keys,
    )


def assessed(
    case: Case, shares: Mapping[str, float], faults: tuple[str, ...] = (), unseen: Mapping[str, float] | None = None
) -> Assessment:
    """What is believed: what was answered surely, and `unseen` chances of the worst outcome of other checks."""
    findings = [finding_of(RUBRIC, "bridge") if name == "bridge" else OPEN for name in faults]
    found = assessment_of(RUBRIC, *findings)
    worlds, random = found.worlds, np.random.default_rng(3)
    making = (random.random(worlds.count) >= next(iter(shares.values()))).astype(np.int16)
    beliefs = {}
    outcomes = worlds.outcome.copy()
    for place, (name, one) in enumerate(RUBRIC.checks.items()):
        names = list(one.outcomes)
        answer = case.observations[name][0].outcome if name in case.observations else None
        chance = (unseen or {}).get(name, 0.0)
        if answer is not None:
            outcomes[:, place] = names.index(answer)
        elif name not in faults:
            outcomes[:, place] = np.where(random.random(worlds.count) < chance, len(names) - 1, 0)
        held = {key: float((outcomes[:, place] == at).mean()) for at, key in enumerate(names)}
        beliefs[name] = Belief(name, held, 1.0, 0.0, 1.0, answer is not None)
    kept = replace(worlds, outcome=outcomes, making=making)
    return replace(found, beliefs=beliefs, worlds=kept, making=Making(shares, (), 2))


def weighed(
    case: Case,
    shares: Mapping[str, float] = FACTORY,
    faults: tuple[str, ...] = (),
    unseen: Mapping[str, float] | None = None,
    shop: Shop | None = None,
    book: SalesBook | None = None,
) -> Weighed:
    used = shop or shop_with()
    found = assessed(case, shares, faults, unseen)
    return weigh(RUBRIC, case, found, estimate(RUBRIC, case, found, used), used, book)


def decided(case: Case, *args: Any, **keys: Any) -> Decision:
    one = weighed(case, *args, **keys)
    return decide(one, Looks(RUBRIC, case, one.assessment, one.net))
