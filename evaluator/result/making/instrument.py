"""The instrument, how it was made, and the rubric and shop that it was judged by, as records of the result."""

from ...assessment import model as assessed
from ...rubric.rubric import Rubric
from ..evaluation import Evaluation
from ..model.instrument import Instrument, Making, MakingClass, MakingSign, RubricUsed, ShopUsed


def rubric_used(rubric: Rubric) -> RubricUsed:
    opinions: dict[str, tuple[str, ...]] = {}
    for name, whose in rubric.opinion_of.items():
        opinions[whose] = (*opinions.get(whose, ()), name)
    return RubricUsed(name=rubric.name, title=rubric.title, version=rubric.version, hash=rubric.hash, opinions=opinions)


def shop_used(evaluation: Evaluation) -> ShopUsed:
    shop = evaluation.shop
    return ShopUsed(
        name=shop.shop,
        is_default=shop.is_default,
        version=shop.version,
        hash=evaluation.shop_hash,
        borrowed=shop.borrowed,
    )


def instrument(evaluation: Evaluation) -> Instrument:
    it = evaluation.case.instrument
    return Instrument(
        family=evaluation.rubric.family,
        size=it.size,
        style=it.style,
        tier=it.tier,
        about=it.about,
        year=it.year,
        strings=it.strings,
    )


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
