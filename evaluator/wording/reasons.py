"""Facts and steps in sentences: why a belief is what it is, and why a number. The one home of these words."""

import math
from collections.abc import Callable, Mapping
from typing import TypeAlias

from ..assessment.model import LookWhy, Statement
from ..assessment.reasons import facts, steps
from ..assessment.reasons.why import Reason
from ..basis import show
from ..result.model.decision import Look
from ..result.model.score import Check
from ..rubric.written.kinds import Channel, Domain
from .phrases import capital, small

Told: TypeAlias = facts.BeliefFact | steps.Fact

OBSERVED: Mapping[Channel, str] = {
    "in_person": "Seen in person",
    "photos": "Seen in a photo",
    "seller_statement": "The seller says",
    "recording": "Heard in a recording",
}
MEASURED: Mapping[Channel, str] = {
    "in_person": "Measured",
    "photos": "Read from a photo",
    "seller_statement": "The seller says",
    "recording": "Read from a recording",
}
PLAIN: Mapping[str, str] = {
    "could_not_tell": "Looked at, but it could not be told.",
    "clash": "Two of these do not agree; the more reliable counts for more.",
    "not_looked_at": "Not looked at.",
    "recorded": "It is recorded, not judged.",
}
LINKS: Mapping[facts.Link, str] = {
    "usual": ", going by what is usual at this standard",
    "open": "; what was seen so far leaves it open",
    "no_sign": "; nothing was seen yet that speaks to it",
    "because": ", because ",
    "although": ", although ",
}
DOMAIN_IS: Mapping[Domain, str] = {
    "workmanship": "How well it is made",
    "soundness": "How sound it is",
    "playability": "How it plays",
    "tone": "How it sounds",
    "authenticity": "Whether it is what it is said to be",
    "resale": "How it would sell",
}
MEETS: Mapping[Statement, str] = {
    "meets": "meets",
    "probably": "probably meets",
    "cannot_tell": "may or may not meet",
    "probably_not": "probably does not meet",
    "does_not": "does not meet",
}
LOOK_WHY: Mapping[LookWhy, str] = {
    "may_stop": "It may show a reason to walk away (about {stops:.0%}).",
    "may_turn": "What it shows may turn the decision.",
    "narrows": "It narrows the range of the score much for its time.",
}
NOT_ASKED: Mapping[str, str] = {
    "family": "Kept, but not counted: it is not asked of a {of}.",
    "style": "Kept, but not counted: it is not asked for {of} playing.",
    "condition": "Kept, but not counted: it only applies where {of}.",
    "no_longer": "Kept, but not counted: {of}",
}


def told(fact: Told) -> str:
    """A fact as a sentence."""
    return _WORDS[type(fact)](fact)


def told_tree(reason: Reason) -> dict[str, object]:
    """A reason for who asks for everything: about, say, value where there is one, because (the parts)."""
    found: dict[str, object] = {"about": reason.about, "say": told(reason.fact)}
    if reason.value is not None:
        found["value"] = round(reason.value, 4)
    if reason.parts:
        found["because"] = [told_tree(part) for part in reason.parts]
    return found


def answers_count(check: Check) -> str:
    """What each answer of a check counts; empty where that was not kept."""
    worths = [steps.Weighed(say=one.say, share=one.counts) for one in check.belief if one.counts is not None]
    return told(steps.AnswersCount(worths=tuple(worths))) if worths else ""


def settle_words(settle: facts.Settle | facts.AsWritten) -> str:
    """What would settle a reading that cannot be told."""
    if isinstance(settle, facts.AsWritten):
        return settle.say
    if settle.code == "finer_parts":
        return "Measure again with finer tools what it is reckoned from."
    if settle.code == "on_limit":
        return "It lies so near the limit that no tool named here would decide: take it as on the limit."
    step = f", in steps of {show.with_unit(show.number(settle.step), settle.unit)}" if settle.step > 0 else ""
    return f"A finer tool would decide it, if it shows the same: {settle.tool.rstrip('.').lower()}{step}."


def in_the_way_words(found: facts.InTheWay | facts.AsWritten) -> str:
    """What must be put right before a check can be judged."""
    if isinstance(found, facts.AsWritten):
        return found.say
    say = found.say.rstrip(".")
    first = f"First put this right, then look again: {found.subject} ({say[:1].lower()}{say[1:]})."
    begin = "Counted as answered, and to be judged again" if found.answered else "Not judged yet"
    return f"{begin}. {first}"


def not_asked_words(found: facts.NotAsked | facts.AsWritten) -> str:
    """Why an answer is not counted."""
    return found.say if isinstance(found, facts.AsWritten) else NOT_ASKED[found.code].format(of=found.of)


def sign_words(sign: facts.SeenSign | facts.AsWritten) -> str:
    """A seen check in a few words: 'purfling: painted on'."""
    if isinstance(sign, facts.AsWritten):
        return sign.say
    return f"{sign.subject}: {small(answered(sign.answered))}" if sign.answered else sign.subject


def answered(found: facts.Answered) -> str:
    """The readings as they were written, or the phrase of the outcome."""
    if not found.readings:
        return found.say.rstrip(".")
    unit = found.unit or ""
    return ", ".join(show.with_unit(text, unit) if text[-1].isdigit() else text for text in found.readings)


def look_why(look: Look) -> str:
    """Why a look is worth taking."""
    return look.why.say if isinstance(look.why, facts.AsWritten) else LOOK_WHY[look.why].format(stops=look.stops)


def percent(share: float) -> str:
    """A probability in percent; nothing is ever said to be certain."""
    if share > 0.995:
        return "more than 99 %"
    return "less than 1 %" if share < 0.005 else f"{show.number(100 * share, 0)} %"


def _observed(fact: facts.Observed) -> str:
    way = MEASURED[fact.seen_by] if fact.measured else OBSERVED[fact.seen_by]
    return f"{way}: {answered(fact.answered)} (reliable to {show.number(100 * fact.share, 0)} %)."


def _expected(fact: facts.Expected) -> str:
    """What is expected, and the cause with its signs, or that nothing speaks to it."""
    kind = "a fault" if fact.at_fault else "in order"
    text = f"Likely {kind} ({show.chance(fact.share)}): {fact.say.rstrip('.')}{LINKS[fact.link]}"
    if fact.cause_say is None or fact.cause_share is None:
        return f"{text}."
    named = "; ".join(map(sign_words, fact.signs))
    more = f"; and {fact.more} more" if fact.more else ""
    return f"{text}{small(fact.cause_say)} ({show.chance(fact.cause_share)}). Signs of it: {named}{more}."


def _score(fact: steps.ScoreIs) -> str:
    when = "after the work" if fact.after_work else "as it stands"
    return (
        f"Score {when}: {show.number(fact.expected, 0)} of 100, between {show.number(fact.low, 0)} and "
        f"{show.number(fact.high, 0)} in nine of ten draws. It is the geometric mean of its domains by their shares at "
        f"the {fact.tier} standard, so that nothing else makes up for a bad one."
    )


def _domain(fact: steps.DomainIs) -> str:
    counts = "" if fact.share is None else f", counting {show.number(100 * fact.share, 0)} % of the score"
    return f"{DOMAIN_IS[fact.domain]}: {show.number(fact.expected, 0)} of 100{counts}."


def _takes(fact: steps.Takes) -> str:
    return f"{_subject(fact.subject)} takes {show.number(fact.points, 1)} points."


def _check(fact: steps.CheckIs) -> str:
    chances = ", ".join(f"{one.say.rstrip('.')} {percent(one.share)}" for one in fact.outcomes)
    held = f"{chances}. Worth {show.number(fact.worth)} of 1." if chances else "recorded."
    return f"{_subject(fact.subject)}: {held}"


def _moves(fact: steps.Moves) -> str:
    way = "higher" if fact.higher else "lower"
    return f"{_subject(fact.subject)} makes its odds {show.number(fact.factor, 1)} times {way}."


def _statement(fact: steps.StatementIs) -> str:
    return f"{_subject(fact.subject)} {MEETS[fact.statement]} the standard: probability {percent(fact.share)}."


def _value(fact: steps.ValueIs) -> str:
    digits = max(0, 1 - math.floor(math.log10(fact.u))) if fact.u > 0 else 0  # two figures of the uncertainty
    value, doubt = show.number(fact.value), show.number(fact.u, digits)
    return f"Value {show.with_unit(value, fact.unit)}, standard uncertainty {show.with_unit(doubt, fact.unit)}."


def _limits(fact: steps.LimitsAre) -> str:
    low, high = (None if one is None else show.number(one) for one in (fact.low, fact.high))
    if low is not None and high is not None:
        text = f"{low} to {show.with_unit(high, fact.unit)}"
    elif low is not None:
        text = f"at least {show.with_unit(low, fact.unit)}"
    else:
        text = "none" if high is None else f"at most {show.with_unit(high, fact.unit)}"
    return f"Standard: {text} (confidence: {fact.confidence})."


def _finding(fact: steps.FindingIs) -> str:
    return f"{fact.say.rstrip('.')}: {fact.level}, {show.number(100 * fact.share, 0)} %."


def _answers(fact: steps.AnswersCount) -> str:
    worths = "; ".join(f"{one.say.rstrip('.')}: {show.number(one.share)}" for one in fact.worths)
    return f"What each answer counts. {worths}."


def _subject(text: str) -> str:
    return capital(text.rstrip("."))


# One entry a kind of fact; a test holds that none is missing.
_WORDS: Mapping[type, Callable[..., str]] = {
    facts.Observed: _observed,
    facts.Reckoned: lambda fact: f"Reckoned as {fact.formula}: {show.doubtful(fact.value, fact.u, fact.unit)}.",
    facts.TakenAsRight: lambda fact: (
        f"Taken as right to {show.number(100 * fact.share, 0)} %; the rest goes by what is usual."
    ),
    facts.Plain: lambda fact: PLAIN[fact.code],
    facts.Expected: _expected,
    facts.InTheWay: in_the_way_words,
    facts.AsWritten: lambda fact: fact.say,
    facts.Settle: settle_words,
    steps.ScoreIs: _score,
    steps.DomainIs: _domain,
    steps.Takes: _takes,
    steps.UnseenTakes: lambda fact: f"What nobody looked at takes {show.number(fact.points, 1)} points, as is usual.",
    steps.MoreTake: lambda fact: f"{fact.count} more take {show.number(fact.points, 1)} points.",
    steps.CheckIs: _check,
    steps.CauseIs: lambda fact: f"{_subject(fact.say)}: {percent(fact.share)}.",
    steps.Moves: _moves,
    steps.BeforeAnyLook: lambda fact: f"Before any look: {percent(fact.share)} in what it likely is.",
    steps.StatementIs: _statement,
    steps.ValueIs: _value,
    steps.LimitsAre: _limits,
    steps.FindingIs: _finding,
    steps.AnswersCount: _answers,
    steps.SourcesAre: lambda fact: f"Sources of the check (confidence: {fact.confidence}).",
    steps.Source: lambda fact: fact.say,
}
