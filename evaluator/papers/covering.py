"""The covering paragraph: drafted from the facts of a result, then the luthier's own words, on page one of a paper.

A draft says nothing that the paper does not say; its amounts are those of the same result. What is kept is what the
luthier left in the box.
"""

from collections.abc import Iterator, Sequence

from ..result.model.result import Result
from ..wording.answer.first_screen import first_reasons
from ..wording.names import SEEN_BY
from ..wording.phrases import capital, ended, small
from ..wording.words import found_title
from .blocks import Block, Lead, Paragraph
from .sections.front import cost_sentence

MOST = 1_500  # letters; more would push the decision off page one
READERS = frozenset({"buyer", "shop", "customer"})  # whose paper it stands on, beside the quote


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
