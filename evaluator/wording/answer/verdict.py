"""The words of the decision: the largest sentence, its reasons, what to say to the seller, and the whole answer in
plain lines for a terminal. Short, kind, exact.
"""

from collections.abc import Iterator, Sequence
from dataclasses import replace

from ...basis.frozen import dataclass
from ...basis.show import chance, money
from ...result.model.decision import Reason, Words
from ...result.model.result import Result
from ...valuation.model import Fact
from ...valuation.worth.ready import NoValue
from ..names import LEVELS
from ..phrases import capital, small
from ..words import believed, coverage_sentence, instrument_line, score_sentence, title, waiting_lines
from .headline import asking, facts_of, sentence, subject, untouched
from .prices import paid
from .source import source_words

NAMED_JOBS = 3  # more than this in one spoken sentence, and nobody listens to the price at its end
MOST_REASONS = 6
SURE = 0.95


NO_VALUE: dict[NoValue, str] = {
    "nothing_seen": "Too little was looked at to say what it is worth.",
    "too_wide": "What was seen so far fits one worth little and one worth many times that, so there is no figure yet.",
    "no_guide": "The shop has no guide for such an instrument, so there is no figure.",
}
# How each fact is told; {subject} is "Soundpost crack, back: patched", {subjects} several of them inside a sentence.
REASONS: dict[str, str] = {
    "stops": "{subject}.",
    "stops_likely": "{subject} (we think so, {chance}).",
    "made": "Most likely {making} ({chance}).",
    "made_by_signs": "Most likely {making} ({chance}). For that speak: {subjects}.",
    "lasts": "{subject}. Well mended, that leaves about {share} of 100 of its value.",
    "sounds_bad": "It sounds poor; that leaves about {share} of 100 of what its like brings.",
    "fault": "Not as it should be: {subjects}.",
    "good": "As it should be: {subjects}.",
    "may_stop": "One thing could still stop it: {inside} ({chance}).",
    "barely_seen": "Hardly anybody has looked yet at whether it is sound and plays well.",
    "far_too_cheap": "{asking} is far less than such an instrument brings. There is a reason: find it before you pay.",
    "ready": "Ready to play it would be worth about {amount} ({source}).",
    "ready_no_shop": "Ready to play it would be worth about {amount} ({source}); "
    "without a shop that stands behind it, about {private}.",
    "work": "with what may come on top, the work takes about {amount}, in four of five cases no more than {most}",
    "unseen": "what nobody has looked at usually costs about {amount}",
    "much_work": "that much work leaves no room for a surprise",
    "chance": "How likely it is to be worth {asking} to you: {chance}.",
}
BECAUSE: dict[str, str] = {
    "work": "the work it needs ({jobs}) comes to about {about}",
    "unknown": "some of it is still unknown",
    "stays": "it has this ({stop}), which stays in its value",
}
TO_SELLER: dict[str, str] = {
    "buy_if_it_suits": "I like it, and {because}: would you allow for that and take {offer}?",
    "negotiate": "I like it, but {because}, so could we meet at {offer}?",
    "walk_away": "I like it, but {because}, so to me it is worth no more than {ceiling}.",
}
JOBS: dict[str, str] = {"one_more": "{count} more job", "more": "{count} more jobs", "and": "{first} and {last}"}


@dataclass(frozen=True, slots=True)
class Told:
    """A reason in words, and the checks that it names."""

    text: str
    checks: frozenset[str]


def words_of(result: Result) -> Words:
    """The decision in words; those of an older result as it had them."""
    if result.words is not None:
        return result.words
    return Words(
        sentence=sentence(result),
        reasons=tuple(one.text for one in _reasons(result)),
        say_to_seller=_to_seller(result),
        ready_value_from=source_words(result),
    )


def with_words(result: Result) -> Result:
    """The same for who reads the JSON alone."""
    return replace(result, words=words_of(result))


def named_checks(result: Result) -> frozenset[str]:
    """The checks that the reasons name, as far as they are told."""
    return frozenset(name for one in _reasons(result) for name in one.checks)


def _reasons(result: Result) -> tuple[Told, ...]:
    """The reasons in their order, things seen before money; a handful at most."""
    if untouched(result):
        return ()
    seen, money_ = list(_seen(result)), [Told(text, frozenset()) for text in _money(result)]
    return (*seen[: MOST_REASONS - len(money_)], *money_)


def _told(result: Result, code: str, one: Reason, others: tuple[Reason, ...] = (), **more: str) -> Told:
    """A reason in words, with what it is about, its chance or share, and `others` inside the sentence."""
    about = {"subject": subject(result, one), "inside": small(subject(result, one))} if one.check else {}
    share, said = one.share or 0.0, "; ".join(small(subject(result, other)) for other in others)
    text = REASONS[code].format(**about, subjects=said, chance=chance(share), share=f"{100 * share:.0f}", **more)
    return Told(text, frozenset(named.check for named in (one, *others) if named.check))


def _seen(result: Result) -> Iterator[Told]:
    for one in facts_of(result, Fact.STOPS):
        yield _told(result, "stops" if (one.share or 1.0) >= SURE else "stops_likely", one)
    says = {one.making: one.say for one in result.making.classes}
    signs = facts_of(result, Fact.SIGN)
    for one in facts_of(result, Fact.MADE):
        making = says.get(one.class_ or "", one.class_ or "")
        yield _told(result, "made_by_signs" if signs else "made", one, signs, making=making)
    for one in facts_of(result, Fact.LASTS, Fact.SOUNDS_BAD):
        yield _told(result, one.fact, one)
    for fact in (Fact.FAULT, Fact.GOOD):
        found = facts_of(result, fact)
        if found:
            yield _told(result, fact, found[0], found)
    for one in facts_of(result, Fact.MAY_STOP, Fact.BARELY_SEEN):
        yield _told(result, one.fact, one)


def _money(result: Result) -> Iterator[str]:
    """What it is worth, what comes off, and the chance, each once."""
    for one in facts_of(result, Fact.FAR_TOO_CHEAP):
        yield _told(result, one.fact, one, asking=asking(result)).text
    missing = result.verdict.ready_value_missing
    if missing is not None and facts_of(result, Fact.NO_VALUE):
        yield NO_VALUE[missing]
    yield from _worth(result)
    yield from _comes_off(result)
    for one in facts_of(result, Fact.CHANCE):
        yield _told(result, one.fact, one, asking=asking(result)).text


def _worth(result: Result) -> Iterator[str]:
    currency, private = result.plan.currency, facts_of(result, Fact.NO_SHOP)
    for one in facts_of(result, Fact.READY)[:1]:
        yield REASONS["ready_no_shop" if private else "ready"].format(
            amount=money(one.amount or 0.0, currency),
            source=source_words(result),
            private=money(private[0].amount or 0.0, currency) if private else "",
        )


def _comes_off(result: Result) -> Iterator[str]:
    currency = result.plan.currency
    parts = [
        REASONS[one.fact].format(amount=money(one.amount or 0.0, currency), most=money(one.most or 0.0, currency))
        for fact in (Fact.WORK, Fact.UNSEEN, Fact.MUCH_WORK)
        for one in facts_of(result, fact)
    ]
    if parts:
        yield f"{capital('; '.join(parts))}."


def _to_seller(result: Result) -> str | None:
    """One sentence with the reason and the offer; None where there is nothing to bargain about."""
    verdict, currency = result.verdict, result.plan.currency
    if verdict.advice not in TO_SELLER or not verdict.offer:
        return None
    jobs, stays = _named_jobs(result), facts_of(result, Fact.STOPS) or facts_of(result, Fact.LASTS)
    because = BECAUSE["stays" if stays else "work" if jobs else "unknown"].format(
        jobs=jobs,
        about=money(paid(result)[0], currency),
        stop=small(subject(result, stays[0])) if stays else "",
    )
    offer, ceiling = money(verdict.offer, currency), money(verdict.ceiling or 0.0, currency)
    return TO_SELLER[verdict.advice].format(because=because, offer=offer, ceiling=ceiling)


def _named_jobs(result: Result) -> str:
    """The dearest jobs in words: 'fit a new bridge, plane the board and 2 more jobs'; empty without any."""
    lines = sorted((line for line in result.plan.lines if not line.shared), key=lambda line: -line.mean)
    named = [small(line.say) for line in lines[:NAMED_JOBS]]
    more = len(lines) - len(named)
    if more:
        named.append(JOBS["one_more" if more == 1 else "more"].format(count=more))
    return JOBS["and"].format(first=", ".join(named[:-1]), last=named[-1]) if len(named) > 1 else "".join(named)


def summary(result: Result) -> str:
    """The answer for a terminal: the sentence, reasons, score, findings, plan and next looks as plain lines."""
    plan, currency, told = result.plan, result.plan.currency, words_of(result)
    lines = [result.title or "Evaluation", instrument_line(result), "", told.sentence]
    lines += [f"  {reason}" for reason in told.reasons]
    lines += ["", "Score", f"  {score_sentence(result)}", f"  {coverage_sentence(result)}"]
    lines += _section("Put right first", waiting_lines(result))
    lines += _section("Found", [f"{title(item)} ({LEVELS[item.level]})" for item in believed(result)])
    lines += _section("Work", [f"{line.say}: {line.low:.0f} to {line.high:.0f}" for line in plan.lines])
    if plan.lines:
        about, most = paid(result)
        lines.append(f"  Together about {about:.0f} {currency}; in four of five cases not above {most:.0f}.")
    looks = [f"{look.ask} ({look.minutes:g} min)" for look in result.next_checks]
    lines += _section("Look at next", looks)
    return "\n".join(lines)


def _section(title: str, items: Sequence[str]) -> list[str]:
    return ["", title, *(f"  {item}" for item in items)] if items else []
