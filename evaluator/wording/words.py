"""Sentences about a result that pages and papers share."""

from collections.abc import Sequence

from ..assessment.model import CANNOT_TELL
from ..assessment.reasons.facts import AsWritten, InTheWay, SeenSign
from ..result.model.result import Result
from ..result.model.score import Answer, Check, Finding, Measured
from ..result.model.work import Line
from .names import STYLES, TIERS
from .phrases import capital, small
from .reasons import in_the_way_words, sign_words

NAMED_UNSEEN = 3  # terms named of a part that was looked at in part; the rest is counted
NAMED_SIGNS = 3
NAMED_WAITING = 3


def subject(item: Finding | Measured | Check) -> str:
    """What a finding or reading is about, in two or three words: the trade's term, else the check's name."""
    return capital(item.term or item.check.removeprefix("bow_").replace("_", " "))


def title(item: Finding) -> str:
    """'Nut height: high': the trade's term and what was found, so that a finding can be read by itself."""
    found = item.say.strip().rstrip(".")
    first = found[:1] if found[1:2].isupper() else found[:1].lower()
    return f"{subject(item)}: {first}{found[1:]}"


def found_title(result: Result, check: str, outcome: str | None) -> str:
    """'Soundpost crack, back: patched': the trade's term and the outcome in words; a check that does not count here is
    called by its name."""
    held = next((one for one in result.checks if one.check == check), None)
    if held is None:
        return capital(check.replace("_", " "))
    say = next((one.say for one in held.belief if one.outcome == outcome), outcome or "")
    return f"{capital(held.term)}: {small(say)}" if held.term else capital(small(say))


def recorded(answer: Answer) -> str:
    """What somebody recorded: the readings as typed, or what was chosen."""
    return "Cannot tell" if answer.outcome == CANNOT_TELL else answer.answer


def cured_by(result: Result, line: Line) -> tuple[str, ...]:
    """What a line of work is for: the findings that it cures, else what the estimate says of it."""
    likely = [item for item in (*result.disqualifying, *result.findings) if item.level != "possible"]
    titles = {item.check: title(item) for item in likely}
    return tuple(titles[check] for check in line.cures if check in titles) or line.because


def instrument_line(result: Result) -> str:
    """'Violin 4/4, held to the standard of a student instrument, for classical playing.'"""
    instrument = result.instrument
    return (
        f"{result.rubric.title} {instrument.size}, held to the standard of {TIERS[instrument.tier]}, "
        f"for {STYLES[instrument.style]}."
    )


def waiting_lines(result: Result) -> tuple[str, ...]:
    """What cannot be judged until something is put right: a line for each thing in the way."""
    waiting: dict[InTheWay | AsWritten, list[str]] = {}
    for check in result.checks:
        if check.postponed:
            waiting.setdefault(check.postponed, []).append(small(subject(check)))
    return tuple(f"{_waiting(names)}: {small(in_the_way_words(found))}." for found, names in waiting.items())


def _waiting(names: Sequence[str]) -> str:
    more = f" and {len(names) - NAMED_WAITING} more" if len(names) > NAMED_WAITING else ""
    return f"{capital(', '.join(names[:NAMED_WAITING]))}{more}"


def no_work(result: Result) -> str:
    """What to say where no work is planned: that it needs none, or that nobody can know yet."""
    if any(check.seen for check in result.checks):
        return "No work is needed to reach the standard, as far as was seen."
    return "What work it needs, nobody can say before it has been looked at."


def no_findings(result: Result) -> str:
    """What to say where no finding is believed."""
    seen = any(check.seen for check in result.checks)
    return "Nothing that needs work was seen." if seen else "Nothing has been looked at yet."


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


def signs_shortly(signs: Sequence[SeenSign | AsWritten]) -> str:
    """The strongest signs of a cause, the rest counted."""
    more = len(signs) - NAMED_SIGNS
    rest = f"; and {more} more" if more > 0 else ""
    return f"{'; '.join(map(sign_words, signs[:NAMED_SIGNS]))}{rest}"


def score_sentence(result: Result) -> str:
    """The score as it stands, beside what is usual, and after the work, with ranges."""
    now, after = result.score, result.score_after_work
    if now.expected is None or after.expected is None:
        return (
            f"Too little was seen for a number. Such an instrument may have anything between {now.low:.0f} and "
            f"{now.high:.0f} of 100."
        )
    usual = f"; {result.usual_score:.0f} is usual for such an instrument" if result.usual_score is not None else ""
    worked = f"; {after.expected:.0f} after the work ({after.low:.0f} to {after.high:.0f})" if result.plan.lines else ""
    return f"{now.expected:.0f} of 100 as it stands (likely between {now.low:.0f} and {now.high:.0f}){usual}{worked}."


def coverage_sentence(result: Result) -> str:
    """How much of what matters has been looked at."""
    seen = sum(1 for check in result.checks if check.seen)
    return (
        f"{seen} of {len(result.checks)} checks looked at, which carry {result.coverage:.0%} of the weight. "
        "What was not looked at counts with what is usual for such an instrument."
    )


def guides_line(result: Result) -> str:
    """How far the advice hangs on the guide to prices; empty where it does not rest on one."""
    holds = result.views.verdict_holds
    if holds is None:
        return ""
    return (
        "Guides to prices differ. This one was moved up and down, by a fifth and more: the advice stays in "
        f"{holds:.0%} of the cases tried."
    )


def opinions_line(result: Result) -> str:
    """Whose opinions stand in for the common ones, in one sentence; empty where there are none."""
    whose = result.rubric.opinions
    told = (f"{name} on {', '.join(item.replace('_', ' ') for item in items)}" for name, items in whose.items())
    return f"Opinions of a workshop's own: {'; '.join(told)}." if whose else ""


def believed(result: Result) -> list[Finding]:
    """The findings that were seen and are confirmed or likely."""
    return [item for item in result.findings if item.level != "possible" and item.seen]


def expected_unseen(result: Result) -> list[str]:
    """What nobody has looked at and what is likely all the same, from the signs that were seen."""
    return [title(item) for item in result.findings if item.level == "probable" and not item.seen]
