"""What faults that nobody has looked for usually cost, by class of making and by how much was seen.

The sum of the base rates of 150 checks would drown what was seen, and would grow with every check that a rubric adds.
So the amount is one figure a class, for nothing looked at, and shrinks with the share of soundness and set-up that
was seen to what is usual for an instrument seen in the hand and not opened. It is usual, not feared: an outfit may
well cost more than it is worth.
"""

from collections.abc import Mapping

from ...rubric.guide import Guide, UnseenCost
from ...rubric.written.kinds import Family


def cost_of(row: UnseenCost, seen: float, *, answered_for: bool) -> float:
    """The usual cost with this share 0..1 of soundness and set-up seen, for a violin.

    `answered_for`: whoever sells it stands in for what is hidden; the less was seen the less that helps, since what is
    plain to see is nobody's guarantee.
    """
    least = row.answered_for if answered_for else row.seen_in_hand
    return row.nothing_seen + (least - row.nothing_seen) * min(1.0, max(0.0, seen))


def usual_cost(
    guide: Guide, family: Family, shares: Mapping[str, float], seen: float, *, answered_for: bool
) -> float | None:
    """Its mean over the classes by their shares; None where the guide lacks a class that has a share."""
    total = 0.0
    for name, share in shares.items():
        if share <= 0.0:
            continue
        row = guide.unseen.get(name)
        if row is None:
            return None
        total += share * cost_of(row, seen, answered_for=answered_for)
    return total * guide.unseen_factor.get(family, 1.0)
