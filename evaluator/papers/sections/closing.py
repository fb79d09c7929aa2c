"""How a paper ends: cautions in full size, how sure the figures are, and the signature."""

from collections.abc import Sequence

from ...result.model.result import Result
from ...wording.names import SEEN_BY
from ...wording.words import guides_line, opinions_line
from ..blocks import Block, CautionBlock, Heading, Paragraph, Signature, Together

LOOKED = ("Looked at by", "Place and date")
AGREED = ("For the workshop", "Agreed by", "Place and date")


def cautions(result: Result) -> Sequence[Block]:
    """All but the last caution, which stands by the signature."""
    texts = tuple(result.cautions[:-1])
    return [CautionBlock(texts)] if texts else []


def signed(result: Result) -> Sequence[Block]:
    """How sure it all is, what the paper is no proof of, what it was made from, and the signature, on one page."""
    return _closing(result, LOOKED, guides_line(result))


def agreed(result: Result) -> Sequence[Block]:
    """The same without any advice, for two people who agree on work."""
    return _closing(result, AGREED)


def _closing(result: Result, labels: tuple[str, ...], views: str = "") -> Sequence[Block]:
    rubric, shop = result.rubric, result.shop
    made = (
        f"Rubric {rubric.title} {rubric.version} ({rubric.hash[:12]}), prices: {shop.name} "
        f"({shop.hash[:12]}), program {result.program}, seed {result.seed}."
    )
    told: list[Block] = [CautionBlock(tuple(result.cautions[-1:]))] if result.cautions else []
    sure = Paragraph(_how_sure(result, views))
    return [Together((Heading("How sure this is", room=0), sure, *told, Paragraph(made, "soft"), Signature(labels)))]


def _how_sure(result: Result, views: str) -> str:
    """Where the figures come from, how far they can be trusted, and how far the advice hangs on prices."""
    texts = (
        "The score is an opinion built from what was seen. Its range holds nine of ten ways the unseen may be.",
        f"Looked at {SEEN_BY[result.seen_by]} unless a line says otherwise.",
        views,
        opinions_line(result),
    )
    return " ".join(text for text in texts if text)
