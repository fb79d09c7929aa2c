"""Ids of the contract in plain words, once, for every page and paper; and the short summary of the command line."""

from collections.abc import Mapping, Sequence

from ..result.model.result import Result
from ..result.model.score import Check, Finding, Measured

STATEMENTS: Mapping[str, str] = {
    "meets": "meets the standard",
    "probably": "probably meets it",
    "cannot_tell": "cannot tell",
    "probably_not": "probably does not",
    "does_not": "does not meet it",
}
STATEMENTS_SHORT: Mapping[str, str] = {  # under the heading "Meets it?"
    "meets": "yes",
    "probably": "probably",
    "cannot_tell": "cannot tell",
    "probably_not": "probably not",
    "does_not": "no",
}
LEVELS: Mapping[str, str] = {"confirmed": "seen", "probable": "likely", "possible": "possible"}
SEEN_BY: Mapping[str, str] = {
    "in_person": "in person",
    "photos": "from photographs",
    "seller_statement": "the seller says so",
    "recording": "from a recording",
}
URGENCY: Mapping[str, str] = {
    "to_play_safely": "needed to play safely",
    "to_standard": "needed to reach the standard",
    "recommended": "recommended",
    "cosmetic": "for looks only",
    "can_wait": "can wait",
}
DOMAINS: Mapping[str, str] = {
    "workmanship": "How it was made",
    "soundness": "Sound in body",
    "playability": "Plays easily",
    "tone": "Sound",
    "authenticity": "What it is said to be",
    "resale": "Keeps its price",
}
ADVICE = {
    "buy": "buy",
    "buy_if_it_suits": "buy if it suits",
    "negotiate": "bargain",
    "walk_away": "walk away",
}
DOMAIN_TERMS: Mapping[str, str] = {
    "workmanship": "workmanship",
    "soundness": "structural condition",
    "playability": "set-up",
    "tone": "tone",
    "authenticity": "attribution",
    "resale": "resale",
}
TIERS: Mapping[str, str] = {
    "student": "a student instrument",
    "intermediate": "an intermediate instrument",
    "professional": "a professional instrument",
}
STYLES: Mapping[str, str] = {"classical": "classical playing", "fiddle": "fiddle playing"}
PURPOSES: Mapping[str, str] = {"buying": "buying", "trade_in": "taking in trade", "quote": "a quote for work"}


NAMED_UNSEEN = 3  # terms named of a part that was looked at in part; the rest is counted
NAMED_SIGNS = 3
NAMED_WAITING = 3


def capital(text: str) -> str:
    """To begin a sentence or a line."""
    return text[:1].upper() + text[1:]


def small(text: str) -> str:
    """To go on inside a sentence: no capital, unless the first word is a name in capitals or a single letter."""
    text = text.strip().rstrip(".")
    inside = text[1:2].islower() or text.startswith(("A ", "An "))
    return text[:1].lower() + text[1:] if inside else text


def listed(says: Sequence[str]) -> str:
    """'Dress the pegs, fit a new bridge': the first as it is, the others to go on inside a sentence."""
    first, rest = says[:1], [small(say) for say in says[1:]]
    return ", ".join((*(say.strip().rstrip(".") for say in first), *rest))


def points(scores: Sequence[float]) -> list[str]:
    """Scores in whole points, or with one decimal where two that differ would read the same."""
    whole = [f"{score:.0f}" for score in scores]
    return whole if len(set(whole)) == len(set(scores)) else [f"{score:.1f}" for score in scores]


def subject(item: Finding | Measured | Check) -> str:
    """What a finding or reading is about, in two or three words: the trade's term, else the check's name."""
    return capital(item.term or item.check.removeprefix("bow_").replace("_", " "))


def instrument_line(result: Result) -> str:
    """'Violin 4/4, held to the standard of a student instrument, for classical playing.'"""
    instrument = result.instrument
    return (
        f"{result.rubric.title} {instrument.size}, held to the standard of {TIERS[instrument.tier]}, "
        f"for {STYLES[instrument.style]}."
    )


def waiting_lines(result: Result) -> tuple[str, ...]:
    """What cannot be judged until something is put right: a line for each thing in the way."""
    waiting: dict[str, list[str]] = {}
    for check in result.checks:
        if check.postponed:
            waiting.setdefault(check.postponed, []).append(small(subject(check)))
    return tuple(
        f"{capital(', '.join(names[:NAMED_WAITING]))}"
        f"{f' and {len(names) - NAMED_WAITING} more' if len(names) > NAMED_WAITING else ''}: {small(sentence)}."
        for sentence, names in waiting.items()
    )


def unseen_by_part(result: Result) -> tuple[tuple[str, tuple[str, ...]], ...]:
    """The parts in order, each with the questions that nobody has looked at yet; parts with none are left out."""
    said = {part.part: part.say for part in result.parts}
    rows: dict[str, list[str]] = {}
    for check in result.checks:
        if not check.seen and check.kind != "derived":
            rows.setdefault(said[check.part], []).append(check.term or small(subject(check)))
    return tuple((part, tuple(rows[part])) for part in said.values() if part in rows)


def unseen_shortly(result: Result) -> tuple[str, ...]:
    """What nobody has looked at, part by part and shortly; parts of which nothing was seen share one line."""
    said = {part.part: part.say for part in result.parts}
    begun = {said[check.part] for check in result.checks if check.seen and check.kind != "derived"}
    lines, whole = [], []
    for part, terms in unseen_by_part(result):
        if part not in begun:
            whole.append(part)
            continue
        more = len(terms) - NAMED_UNSEEN
        rest = f" and {more} more" if more > 0 else ""
        lines.append(f"{part}: {', '.join(terms[:NAMED_UNSEEN])}{rest}")
    if whole:
        lines.insert(0, f"Nothing yet of these: {'; '.join(whole)}")
    return tuple(lines)


def signs_shortly(signs: Sequence[str]) -> str:
    """The strongest signs of a cause, the rest counted."""
    more = len(signs) - NAMED_SIGNS
    rest = f"; and {more} more" if more > 0 else ""
    return f"{'; '.join(signs[:NAMED_SIGNS])}{rest}".replace(": A ", ": a ")


def score_sentence(result: Result) -> str:
    """The score as it stands, beside what is usual, and after the work, with ranges."""
    now, after = result.score, result.score_after_work
    usual = f"; {result.usual_score:.0f} is usual for such an instrument" if result.usual_score is not None else ""
    return (
        f"{now.expected:.0f} of 100 as it stands (likely between {now.low:.0f} and {now.high:.0f}){usual}; "
        f"{after.expected:.0f} after the work ({after.low:.0f} to {after.high:.0f})."
    )


def coverage_sentence(result: Result) -> str:
    """How much of what matters has been looked at."""
    seen = sum(1 for check in result.checks if check.seen)
    return (
        f"{seen} of {len(result.checks)} checks looked at, which carry {result.coverage:.0%} of the weight. "
        "What was not looked at counts with what is usual for such an instrument."
    )


def weights_line(result: Result) -> str:
    """How far the advice hangs on the weights, and which weight would turn it first; empty without an advice."""
    views = result.views
    if views.verdict_holds is None:
        return ""
    if not views.weights_matter:
        return "The ready value was not read from the score, so the advice does not hang on how things are weighed."
    told = f"Luthiers weigh things differently: in {views.verdict_holds:.0%} of the weightings tried, the advice stays."
    if not views.turns:
        return told
    turn = views.turns[0]
    return (
        f"{told} It would turn to “{ADVICE[turn.advice]}” only if “{small(DOMAINS[turn.domain])}” counted "
        f"for {turn.share_then:.0%} of the score instead of {turn.share_now:.0%}."
    )


def opinions_line(result: Result) -> str:
    """Whose opinions stand in for the common ones, in one sentence; empty where there are none."""
    whose = result.rubric.opinions
    told = (f"{name} on {', '.join(item.replace('_', ' ') for item in items)}" for name, items in whose.items())
    return f"Opinions of a workshop's own: {'; '.join(told)}." if whose else ""


def summary(result: Result) -> str:
    """The answer for a terminal: the sentence, reasons, score, findings, plan and next looks as plain lines."""
    plan, currency = result.plan, result.plan.currency
    lines = [result.title or "Evaluation", instrument_line(result), "", result.verdict.sentence]
    lines += [f"  {reason}" for reason in result.verdict.reasons]
    lines += ["", "Score", f"  {score_sentence(result)}", f"  {coverage_sentence(result)}"]
    lines += _section("Put right first", waiting_lines(result))
    lines += _section("Found", [f"{item.title} ({LEVELS[item.level]})" for item in believed(result)])
    lines += _section("Work", [f"{line.say}: {line.low:.0f} to {line.high:.0f}" for line in plan.lines])
    if plan.lines:
        lines.append(f"  Together about {plan.mean:.0f} {currency}; in four of five cases not above {plan.p80:.0f}.")
    looks = [f"{look.ask} ({look.minutes:g} min)" for look in result.next_checks]
    lines += _section("Look at next", looks)
    return "\n".join(lines)


def believed(result: Result) -> list[Finding]:
    """The findings that were seen and are confirmed or likely."""
    return [item for item in result.findings if item.level != "possible" and item.seen]


def expected_unseen(result: Result) -> list[str]:
    """What nobody has looked at and what is likely all the same, from the signs that were seen."""
    return [item.title for item in result.findings if item.level == "probable" and not item.seen]


def _section(title: str, items: Sequence[str]) -> list[str]:
    return ["", title, *(f"  {item}" for item in items)] if items else []
