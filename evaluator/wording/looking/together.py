"""What several people said of the same thing: a line for each look that more than one answered."""

from ...assessment.model import CANNOT_TELL
from ...result.model.result import Result
from ...result.model.score import Answer, Check
from ..phrases import capital, small
from ..words import recorded, subject

NAMELESS = "somebody who gave no name"


def together_lines(result: Result) -> tuple[str, ...]:
    """'Purfling: Ada and Clara say the same, inlaid.' The ones that differ come first."""
    told = [(check, _givers(check)) for check in result.checks]
    lines = [(check.clash, _line(check, givers)) for check, givers in told if len(givers) > 1]
    return tuple(line for _, line in sorted(lines, key=lambda one: not one[0]))


def differing(result: Result) -> int:
    """How many looks were answered by several people who do not agree."""
    return sum(1 for check in result.checks if check.clash and len(_givers(check)) > 1)


def _givers(check: Check) -> list[Answer]:
    """The answers that tell, where they are not all one person's."""
    answers = [one for one in check.observations if one.outcome != CANNOT_TELL]
    return answers if len({one.by for one in answers}) > 1 else []


def _line(check: Check, answers: list[Answer]) -> str:
    what = capital(subject(check))
    if check.clash:
        said = "; ".join(f"{one.by or NAMELESS} says {small(recorded(one))}" for one in answers)
        return (
            f"{what}: {said}. They differ: both count, the surer way of looking for more. A third look would settle it."
        )
    if len({recorded(one) for one in answers}) == 1:
        who = _joined(dict.fromkeys(one.by or NAMELESS for one in answers))
        return f"{what}: {who} say the same, {small(recorded(answers[0]))}. That is surer than one look alone."
    said = "; ".join(f"{one.by or NAMELESS} says {small(recorded(one))}" for one in answers)
    return f"{what}: {said}. The two go together, and both count."


def _joined(names: dict[str, None]) -> str:
    first, *rest = list(names)
    return " and ".join((", ".join((first, *rest[:-1])), rest[-1])) if rest else first
