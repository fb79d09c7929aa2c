"""Likenesses that load but make no sense: outcomes that the check has not, or twice, and a check without a drawing."""

from collections.abc import Iterator

from ....basis.problem import Message, Messages
from ...rubric import Rubric
from ...written.checks import Likeness
from ..slip import Slip

MESSAGES: Messages = {
    "likeness.unknown_outcome": Message('the check "{check}" has no outcome "{outcome}".', "It has {outcomes}."),
    "likeness.twice": Message('the outcome "{outcome}" stands twice.', "Take one of them out."),
    "likeness.no_drawing": Message(
        'the check "{check}" has no drawing, so nothing of it would be shown.',
        "Give the check a drawing:, or take the likeness out.",
    ),
}


def likeness_slips(rubric: Rubric) -> Iterator[Slip]:
    """Every slip in the likenesses of checks that this family asks."""
    for name, likeness in rubric.likenesses.items():
        if name in rubric.checks:
            if rubric.checks[name].drawing is None:
                yield Slip("likeness.no_drawing", "likenesses", name, ("check",), {"check": name})
            yield from _outcome_slips(likeness, tuple(rubric.checks[name].outcomes))


def _outcome_slips(likeness: Likeness, known: tuple[str, ...]) -> Iterator[Slip]:
    for at, outcome in enumerate(likeness.shows):
        path = ("shows", at)
        if outcome not in known:
            words = {"check": likeness.check, "outcome": outcome, "outcomes": ", ".join(known)}
            yield Slip("likeness.unknown_outcome", "likenesses", likeness.check, path, words)
        elif outcome in likeness.shows[:at]:
            yield Slip("likeness.twice", "likenesses", likeness.check, path, {"outcome": outcome})
