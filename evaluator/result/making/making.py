"""The class of making as a record of the result: the sums of the assessment with the rubric's words beside them."""

from ...assessment import model as assessed
from ...rubric.rubric import Rubric
from ..model.making import Making, MakingClass, MakingSign


def making(found: assessed.Making, rubric: Rubric) -> Making:
    """Shares rounded for reading, signs with the words of their check and outcome."""
    return Making(
        shares={name: round(share, 4) for name, share in found.shares.items()},
        likeliest=found.likeliest,
        groups_seen=found.groups_seen,
        classes=tuple(MakingClass(making=one.making, say=one.say, means=one.means) for one in rubric.classes.values()),
        signs=tuple(_sign(one, rubric) for one in found.signs),
    )


def _sign(sign: assessed.Sign, rubric: Rubric) -> MakingSign:
    check = rubric.checks[sign.check]
    return MakingSign(
        check=sign.check,
        outcome=sign.outcome,
        group=sign.group,
        weight=round(sign.weight, 4),
        term=check.term,
        say=check.outcomes[sign.outcome].say,
    )
