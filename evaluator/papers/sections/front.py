"""The front page: decision, three reasons in things seen with their drawings, one price, one cost, the score as it
stands and after the work, and the next step, as on the first screen of the page; and the covering paragraph on it.

A draft of that paragraph says nothing that the paper does not say; its amounts are those of the same result. What is
kept is what the luthier left in the box.
"""

from collections.abc import Iterator, Sequence

from ...drawings.geometry.model import Panel, band
from ...result.model.result import Result
from ...wording.answer.first_screen import Seen, first_reasons, money_line, sure_line, turning_line
from ...wording.answer.points import band_line, place_line
from ...wording.answer.prices import paid
from ...wording.answer.verdict import words_of
from ...wording.names import SEEN_BY
from ...wording.phrases import capital, ended, small
from ...wording.words import coverage_sentence, found_title, no_work, score_sentence
from ..blocks import Block, Drawing, Heading, Lead, Listing, Paragraph, Reason, Reasons, Sheet, Together
from .costs import with_tax
from .frame import WIDE, heading, money, price_rule_of, score_rule_of
from .pictured import likeness

MOST_COVERING = 1_500  # letters; more would push the decision off page one
COVERED_FOR = frozenset({"buyer", "shop", "customer"})  # whose paper it stands on, beside the quote


def front(result: Result) -> Sequence[Block]:
    """Everything that somebody must take in who reads no further."""
    reasons = [_reason(result, one) for one in first_reasons(result)]
    reasons.sort(
        key=lambda one: one.sheet is None and not one.taken
    )  # a hole between two drawings looks like one that is missing
    return [
        *heading(result),
        Lead(words_of(result).sentence),
        *([Reasons(tuple(reasons))] if reasons else []),
        *_money(result),
        *how_good(result),
        *_next(result),
    ]


def _reason(result: Result, one: Seen) -> Reason:
    panel = _panel(result, one)
    if panel is None:
        return Reason(one.text, None, one.photos)
    shapes = panel.shapes()
    top, height = band([shapes])
    return Reason(one.text, Sheet(shapes, top, height, "", panel.caption), one.photos)


def _panel(result: Result, one: Seen) -> Panel | None:
    """The drawing that shows what was seen; None where none does."""
    from ...drawings.registry import DRAWINGS  # late: two hundred sheets

    check = next((check for check in result.checks if check.check == one.check), None)
    own = check.drawing if check and check.drawing else ""
    drawing = DRAWINGS.get(own) if one.good else likeness(DRAWINGS, check, one.outcome or "")
    wanted = "right" if one.good else "wrong"
    return next((panel for panel in drawing.panels if panel.judged == wanted), None) if drawing else None


def _money(result: Result) -> Sequence[Block]:
    """One price with its rule, and one cost; what else the money depends on stands further on."""
    verdict = result.verdict
    line = money_line(result)
    told: list[Block] = [Paragraph(line, "strong"), Drawing(price_rule_of(result, WIDE))] if line else []
    if verdict.ceiling is not None and verdict.ceiling <= 0 and result.purpose != "quote":
        told.append(Paragraph("Nothing is left to pay for it.", "strong"))
    cost = cost_sentence(result)
    told += [Paragraph(cost)] if cost else []
    return [Together((Heading("Money", 2, room=0), *told))] if told else []


def cost_sentence(result: Result) -> str:
    """What the work comes to; empty where the largest sentence says it already."""
    if not result.plan.lines:
        return "" if result.verdict.advice is None else no_work(result)
    about, most = paid(result)
    return (
        f"The work that brings it up to the standard comes to about {money(result, about)}{with_tax(result)}; "
        f"four of five such orders stay below {money(result, most)}."
    )


def how_good(result: Result) -> Sequence[Block]:
    """The score on its rule, in words, and its place among its like."""
    words = " ".join(text for text in (band_line(result), place_line(result)) if text)
    told = (Paragraph(words),) if words else ()
    return [
        Together(
            (
                Heading("How good it is", 2, room=0),
                *told,
                Drawing(score_rule_of(result, WIDE)),
                Paragraph(f"{score_sentence(result)} {coverage_sentence(result)}", "soft"),
            )
        )
    ]


def _next(result: Result) -> Sequence[Block]:
    """The next step: what could still turn it, how sure it is, and what to say to the seller."""
    said = words_of(result).say_to_seller
    lines = [turning_line(result), sure_line(result), f"You could say: “{said}”" if said else None]
    told = tuple(line for line in lines if line)
    if not told and result.next_checks:
        told = (f"Look at this next: {result.next_checks[0].ask}",)
    return [Together((Heading("The next step", 2, room=0), Listing(told)))] if told else []


def drafted(result: Result) -> str:
    """A few sentences to begin from: what was looked at and how, what is good, what wants work, what that comes to."""
    return " ".join(_sentences(result))


def _sentences(result: Result) -> Iterator[str]:
    seen = sum(1 for check in result.checks if check.seen)
    name = result.title or f"The {result.instrument.family}"
    yield f"{name} was looked at {SEEN_BY[result.seen_by]}: {seen} of {len(result.checks)} checks."
    reasons = first_reasons(result)
    good = [found_title(result, one.check, one.outcome) for one in reasons if one.good and one.check]
    if good:
        yield f"Good to see: {'; '.join(map(small, good))}."
    wanting = [found_title(result, one.check, one.outcome) for one in reasons if not one.good and one.check]
    if wanting:
        yield f"What matters most: {'; '.join(map(small, wanting))}."
    cost = cost_sentence(result)
    if cost:
        yield ended(capital(cost))
    now, after = result.score.expected, result.score_after_work.expected
    if result.plan.lines and now is not None and after is not None and round(after) > round(now):
        yield f"It stands at {now:.0f} of 100, and the work would bring it to about {after:.0f}."


def covered(blocks: Sequence[Block], text: str) -> list[Block]:
    """The blocks with the paragraph under the sentence that answers the question; unchanged where it is empty."""
    told = [Paragraph(line.strip()) for line in text.strip().splitlines() if line.strip()]
    place = next((at for at, block in enumerate(blocks) if isinstance(block, Lead)), -1) + 1
    return [*blocks[:place], *told, *blocks[place:]]
