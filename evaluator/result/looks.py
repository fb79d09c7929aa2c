"""The list of looks for one visit: what is worth looking at in the minutes there are, with the tools at hand."""

from ..assessment.looking.information import Looks
from ..assessment.looking.next_checks import measurable, visit
from ..rubric.written.kinds import Channel
from .evaluation import Evaluation

LEAST_PHOTO_LOOKS, MOST_PHOTO_LOOKS = 6, 8
MOST_LOOKS = 40  # but for the whole usual look


def turning_looks(evaluation: Evaluation, at_hand: frozenset[str] | None) -> tuple[str, ...]:
    """Ids of the checks that could still turn the advice and can be done with these tools, what tells most first."""
    checks = evaluation.rubric.checks
    return tuple(one.check for one in evaluation.verdict.could_change if measurable(checks[one.check], at_hand))


def planned_looks(
    evaluation: Evaluation, minutes: float | None, channel: Channel, at_hand: frozenset[str] | None
) -> tuple[str, ...]:
    """Ids of the checks to look at, in order. `minutes`: None for the whole usual look. `at_hand`: tools by id, None
    where any may be had.

    Photographs are gone through quickly: six to eight looks, however long each would take in the hand.
    """
    looks = Looks(evaluation.rubric, evaluation.case, evaluation.assessment, evaluation.weighed.net)
    found = visit(looks, minutes, channel=channel, at_hand=at_hand)
    if channel == "photos" and minutes is not None and len(found) < LEAST_PHOTO_LOOKS:
        found = visit(looks, 3 * minutes, channel=channel, at_hand=at_hand)
    most = MOST_PHOTO_LOOKS if channel == "photos" else MOST_LOOKS if minutes is not None else None
    return tuple(look.check for look in found[:most])
