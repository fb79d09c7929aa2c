"""A change of scope: a cheaper plan to the same standard with plain parts, and the make-safe work alone.

The honest way to rescue a deal is to do less, and to say that it is less; never to count the same work cheaper.
"""

from ..assessment.model import Assessment, Case
from ..basis.show import money
from ..estimate.estimate import saved_by_grade
from ..estimate.model import Estimate
from ..rubric.rubric import Rubric
from ..rubric.shop import Shop
from .price_guide import ReadyValue
from .rules import rule


def cheaper_scope(
    rubric: Rubric, case: Case, assessment: Assessment, shop: Shop, work: Estimate, value: ReadyValue | None
) -> str | None:
    """What plain parts would change, in a sentence or two; None where they change nothing worth saying."""
    if value is None or case.asking is None or not work.lines:
        return None
    saved = saved_by_grade(rubric, case, assessment, shop, "plain")
    safe = make_safe_cost(work)
    ready = float(value.value.amount)
    found = []
    if saved >= 1.0:
        mean, p80 = work.with_extras_mean - saved, work.with_extras_p80 - saved
        again = rule(ready, mean, p80, float(case.asking.amount))
        text = f"With plain parts the work takes about {money(mean, shop.currency)}"
        if again.advice == "walk_away":
            found.append(f"{text}; that does not change the advice.")
        else:
            limit = money(again.walk_away, shop.currency)
            found.append(f"{text}, and it is worth up to {limit}, second-best as it then is.")
    if safe is not None:
        cost = money(safe, shop.currency)
        found.append(f"Only to make it safe to play takes about {cost}; the rest of the work then stays undone.")
    return " ".join(found) or None


def make_safe_cost(work: Estimate) -> float | None:
    """Mean cost of the work that makes it safe to play, planned alone; None where that is all or nothing."""
    safe = next((one.mean for one in work.ambitions if one.name == "safe"), 0.0)
    return safe if 0 < safe < work.mean - 1.0 else None
