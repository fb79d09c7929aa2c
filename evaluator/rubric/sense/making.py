"""Classes and signs of making that load but make no sense: priors, usual scores, shares."""

from collections.abc import Iterator
from itertools import pairwise

from ...basis.problem import Message, Messages
from ..making import MakingClass, MakingSign
from ..rubric import Rubric
from ..written.checks import Check
from ..written.kinds import DOMAINS
from .slip import Slip

MESSAGES: Messages = {
    "class.prior_missing": Message("it does not say how often it is met as a {family}.", "Add {family} under prior."),
    "class.prior_sum": Message("the priors for {family} add up to {total:g}, not to 1.", "Correct one of them."),
    "class.usual_missing": Message("it does not say what is usual for its {domain}.", "Add {domain} under usual."),
    "class.usual_crosses": Message(
        'its usual {domain} of {usual:g} is below the {below:g} of the cheaper class "{other}".',
        "A better class is never worse.",
    ),
    "class.care_falls": Message('its care is not above that of the cheaper class "{other}".', "Write a larger number."),
    "band.none_for": Message("no band holds a score of {score:g}.", "Let one begin at 0."),
    "band.twice": Message('it begins where "{other}" does.', "Let one of them begin elsewhere."),
    "sign.unknown_outcome": Message('the check "{check}" has no outcome "{outcome}".', "It has {outcomes}."),
    "sign.outcome_missing": Message(
        'the shares of "{check}" leave out "{outcome}".', "Write its share in each class, or take shares away."
    ),
    "sign.share_count": Message(
        '"{outcome}" has {count} shares, and there are {classes} classes.', "Write one for each class."
    ),
    "sign.share_sum": Message('the shares of "{check}" in "{making}" add up to {total:g}, not to 1.', "Correct one."),
    "sign.twice": Message('"{check}" is a sign of "{first}" already.', "Keep it in one group."),
}
_NEAR_ONE = 0.0051  # shares are written with two or three figures


def making_slips(rubric: Rubric) -> Iterator[Slip]:
    """Every slip in the classes of making and their signs."""
    yield from _class_slips(rubric)
    yield from _band_slips(rubric)
    seen: dict[str, str] = {}
    for name, group in rubric.sign_groups.items():
        for check, sign in group.signs.items():
            if check in seen:
                words = {"check": check, "first": seen[check]}
                yield Slip("sign.twice", "sign_groups", name, ("signs", check), words, key=True)
            seen.setdefault(check, name)
            if check in rubric.checks and sign.shares:
                yield from _share_slips(tuple(rubric.classes.values()), name, rubric.checks[check], sign)


def _class_slips(rubric: Rubric) -> Iterator[Slip]:
    total = 0.0
    classes = tuple(rubric.classes.values())
    for one in classes:
        total += one.prior.get(rubric.family, 0.0)
        if rubric.family not in one.prior:
            yield Slip("class.prior_missing", "classes", one.making, ("prior",), {"family": rubric.family}, key=True)
        for domain in DOMAINS:
            if domain not in one.usual:
                yield Slip("class.usual_missing", "classes", one.making, ("usual",), {"domain": domain}, key=True)
    if classes and abs(total - 1.0) > _NEAR_ONE:
        words = {"family": rubric.family, "total": round(total, 3)}
        yield Slip("class.prior_sum", "classes", classes[0].making, ("prior",), words, key=True)
    for cheaper, better in pairwise(classes):
        yield from _order_slips(cheaper, better)


def _band_slips(rubric: Rubric) -> Iterator[Slip]:
    bands = sorted(rubric.bands.values(), key=lambda one: one.at_least)
    if bands and bands[0].at_least > 0:
        yield Slip("band.none_for", "bands", bands[0].band, ("at_least",), {"score": 0})
    for one, other in pairwise(bands):
        if one.at_least == other.at_least:
            yield Slip("band.twice", "bands", other.band, ("at_least",), {"other": one.band})


def _order_slips(cheaper: MakingClass, better: MakingClass) -> Iterator[Slip]:
    if better.care <= cheaper.care:
        yield Slip("class.care_falls", "classes", better.making, ("care",), {"other": cheaper.making})
    for domain, usual in better.usual.items():
        below = cheaper.usual.get(domain, usual)
        if usual < below:
            words = {"domain": domain, "usual": usual, "below": below, "other": cheaper.making}
            yield Slip("class.usual_crosses", "classes", better.making, ("usual", domain), words)


def _share_slips(classes: tuple[MakingClass, ...], group: str, check: Check, sign: MakingSign) -> Iterator[Slip]:
    at = ("signs", check.check, "shares")
    for outcome in check.outcomes:
        if outcome not in sign.shares:
            words: dict[str, object] = {"check": check.check, "outcome": outcome}
            yield Slip("sign.outcome_missing", "sign_groups", group, at, words, key=True)
    whole = True
    for outcome, shares in sign.shares.items():
        if outcome not in check.outcomes:
            words = {"check": check.check, "outcome": outcome, "outcomes": ", ".join(check.outcomes)}
            yield Slip("sign.unknown_outcome", "sign_groups", group, (*at, outcome), words, key=True)
        if len(shares) != len(classes):
            whole = False
            words = {"outcome": outcome, "count": len(shares), "classes": len(classes)}
            yield Slip("sign.share_count", "sign_groups", group, (*at, outcome), words, key=True)
    if not whole:
        return
    for one, column in zip(classes, zip(*sign.shares.values(), strict=True), strict=True):
        if abs(sum(column) - 1.0) > _NEAR_ONE:
            words = {"check": check.check, "making": one.making, "total": round(sum(column), 4)}
            yield Slip("sign.share_sum", "sign_groups", group, at, words, key=True)
