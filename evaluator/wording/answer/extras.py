"""What may come on top, in words: what would bring it, and when that will be known."""

from collections.abc import Sequence

from ...assessment.reasons.facts import AsWritten
from ...basis.show import minutes
from ...estimate.model import AtTheBench, Brings, ByLook, IfFound, Known, Trigger
from ...quoting.draft import DraftExtra
from ...quoting.quote import QuoteExtra
from ..phrases import capital, ended, small

WHEN: dict[str, str] = {
    "found": "Only if this is found: {say}",
    "on_limit": "If it is judged so at the bench: {say}",
    "if_found": "if this is found: {say}",
    "if_one_is_found": "if one of these is found: {say}",
    "also": "Also {ways}",
}
KNOWN: dict[str, str] = {
    "look": "By a look of about {minutes}: {ask}",
    "on_limit": "When it is judged at the bench, or measured with a finer tool: the reading lies on the limit.",
}
CONDITION = "If "  # how the rubric itself begins what only may come


def when_words(when: Sequence[Trigger]) -> str:
    """What would bring it, as one would say it: 'If the seam is open, or if the post falls.'"""
    if len(when) == 1:
        return _alone(when[0])
    ways: list[str] = []
    told: list[str] = []
    for one in when:
        text = _alone(one)
        if (isinstance(one, Brings) and text.startswith(CONDITION)) or (isinstance(one, IfFound) and one.on_limit):
            ways.append(text.rstrip("."))
        elif not isinstance(one, IfFound):
            told.append(text)
    found = [small(one.say) for one in when if isinstance(one, IfFound) and not one.on_limit]
    if found:
        ways.append(WHEN["if_found" if len(found) == 1 else "if_one_is_found"].format(say="; ".join(found)))
    if not ways:
        return " ".join(told)
    joined = ", or ".join((ways[0], *(f"{way[:1].lower()}{way[1:]}" for way in ways[1:])))
    said = WHEN["also"].format(ways=f"{joined[:1].lower()}{joined[1:]}") if told else capital(joined)
    return " ".join([*told, f"{said}."])


def _alone(one: Trigger) -> str:
    if not isinstance(one, IfFound):
        return one.say if isinstance(one, AsWritten) else ended(capital(one.say.strip()))
    if one.on_limit:
        return WHEN["on_limit"].format(say=ended(small(one.say)))
    return WHEN["found"].format(say=ended(capital(one.say.strip())))


def known_words(known: Known | None) -> str | None:
    """When it will be known; None where nothing says it."""
    if isinstance(known, ByLook):
        return (
            KNOWN["on_limit"] if known.on_limit else KNOWN["look"].format(minutes=minutes(known.minutes), ask=known.ask)
        )
    return known.say if isinstance(known, AtTheBench | AsWritten) else None


def offered_extra(extra: DraftExtra) -> QuoteExtra:
    """An extra as a quote offers it."""
    when, known = when_words(extra.when), known_words(extra.known)
    return QuoteExtra(extra.job, extra.say, extra.chance, extra.price, when, known, extra.own_orders)
