"""Looks that make no sense: what may hurt an instrument or a hand, and likenesses that show what the check has not.

What may hurt is read from the words, as a careful colleague would read them over one's shoulder: looks that tune,
press, bend, tighten or loosen, and outcomes that say stop. A line that forbids ("Do not press") asks for nothing. The
words are judged at the bench, no source. A likeness may name outcomes that the check has not, or twice, or a check
without a drawing.
"""

import re
from collections.abc import Iterator

from ...basis.problem import Message, Messages
from ..rubric import Rubric
from ..written.checks import Check, Likeness
from .slip import Slip

SAFETY: Messages = {
    "safety.waits_for_nothing": Message(
        'to "{verb}" can hurt it, and the check waits for nothing.',
        "Write under_tension: true, or name under postponed_by what must be mended first.",
    ),
    "safety.no_caution": Message(
        'to "{verb}" can hurt it, and the check has no caution.', "Name one under cautions, or write one under caution."
    ),
    "safety.stop_unsaid": Message(
        'it says "{words}", and yet nothing waits for it.', "Write unsafe: true at the outcome, or take the words out."
    ),
    "safety.stop_no_caution": Message(
        "it has an outcome that says stop, and no caution.", "Name slacken, or another, under cautions."
    ),
    "safety.no_first_page": Message(
        "checks are done under tension, and nothing is looked at first.", "Write safety: with the checks to begin with."
    ),
}
LIKENESSES: Messages = {
    "likeness.unknown_outcome": Message('the check "{check}" has no outcome "{outcome}".', "It has {outcomes}."),
    "likeness.twice": Message('the outcome "{outcome}" stands twice.', "Take one of them out."),
    "likeness.no_drawing": Message(
        'the check "{check}" has no drawing, so nothing of it would be shown.',
        "Give the check a drawing:, or take the likeness out.",
    ),
}
MESSAGES: Messages = {**SAFETY, **LIKENESSES}
# A verb that strains, at the beginning of a clause: "the bow" and "as for playing" are no such verbs.
_CLAUSE = r"(?:^|[.:;,!?]\s+|\b(?:and|then|or|first|slowly|gently|to)\s+)"
_VERBS = r"(?:tune|bow|play|pluck|tighten|press|bend|squeeze|lean)\b"
_STRAINS = re.compile(rf"{_CLAUSE}(?P<verb>{_VERBS})", re.IGNORECASE)
_LOOSENS = re.compile(
    r"\b(?P<verb>(?:loosen|slacken|unwind|turn)(?=\b[^.]{0,40}\b(?:strings?|pegs?|button|screws?)\b)"
    r"|let(?=\b[^.]{0,20}\bstrings?\b[^.]{0,10}\bdown\b))",
    re.IGNORECASE,
)
_FORBIDS = re.compile(r"\b(?:do not|don't|never|nobody|no one|nothing|without|not to)\b", re.IGNORECASE)
_SENTENCE = re.compile(r"(?<=[.!?])\s+")
_STOPS = re.compile(
    r"\b(?:do not|don't|stop|never) (?:tune|tuning|play|playing|tighten|tightening)\b|\bslacken\b|"
    r"\blet (?:all )?the strings down\b|\bleave the strings slack\b|\bcannot be strung\b",
    re.IGNORECASE,
)


def safety_slips(rubric: Rubric) -> Iterator[Slip]:
    """Every look that strains without waiting or without a caution, and every stop that nothing hears."""
    for check in rubric.checks.values():
        yield from _looking_slips(check, rubric)
        yield from _stop_slips(check)
    if rubric.safety is None and any(check.under_tension for check in rubric.checks.values()):
        yield Slip("safety.no_first_page", "family", "")


def strain_in(text: str) -> str | None:
    """The verb in a line on how to look that strains the instrument, or None."""
    for sentence in _SENTENCE.split(text):
        found = None if _FORBIDS.search(sentence) else _STRAINS.search(sentence) or _LOOSENS.search(sentence)
        if found:
            return found["verb"].lower()
    return None


def _looking_slips(check: Check, rubric: Rubric) -> Iterator[Slip]:
    strains = ((at, verb) for at, line in enumerate(check.how) if (verb := strain_in(line)))
    at, verb = next(strains, (0, None))
    if verb is None:
        return
    first = check.check in rubric.safety_checks  # what others wait for cannot wait for them
    if not check.postponed_by and not check.under_tension and not first:
        yield Slip("safety.waits_for_nothing", "checks", check.check, ("how", at), {"verb": verb})
    if not check.caution and not check.cautions:
        yield Slip("safety.no_caution", "checks", check.check, ("how", at), {"verb": verb})


def _stop_slips(check: Check) -> Iterator[Slip]:
    for name, outcome in check.outcomes.items():
        found = _STOPS.search(f"{outcome.say}. {outcome.means or ''}")
        if found and not outcome.unsafe:
            words = {"words": found[0].lower()}
            yield Slip("safety.stop_unsaid", "checks", check.check, ("outcomes", name), words)
    if any(outcome.unsafe for outcome in check.outcomes.values()) and not check.caution and not check.cautions:
        yield Slip("safety.stop_no_caution", "checks", check.check)


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
