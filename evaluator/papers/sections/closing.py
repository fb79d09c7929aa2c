"""How a paper ends: cautions in full size, how sure the figures are, and the signature."""

from collections.abc import Sequence

from ...wording.words import SEEN_BY, opinions_line, weights_line
from ..blocks import Block, CautionBlock, Heading, Paragraph, Signature, Together
from .opening import Snapshot

LOOKED = ("Looked at by", "Place and date")
AGREED = ("For the workshop", "Agreed by", "Place and date")


def cautions(snapshot: Snapshot) -> Sequence[Block]:
    """All but the last caution, which stands by the signature."""
    texts = tuple(snapshot["cautions"][:-1])
    return [CautionBlock(texts)] if texts else []


def signed(snapshot: Snapshot) -> Sequence[Block]:
    """How sure it all is, what the paper is no proof of, what it was made from, and the signature, on one page."""
    return _closing(snapshot, LOOKED, weights_line(snapshot))


def agreed(snapshot: Snapshot) -> Sequence[Block]:
    """The same without any advice, for two people who agree on work."""
    return _closing(snapshot, AGREED)


def _closing(snapshot: Snapshot, labels: tuple[str, ...], views: str = "") -> Sequence[Block]:
    rubric, shop = snapshot["rubric"], snapshot["shop"]
    made = (
        f"Rubric {rubric['title']} {rubric['version']} ({rubric['hash'][:12]}), prices: {shop['name']} "
        f"({shop['hash'][:12]}), program {snapshot['program']}, seed {snapshot['seed']}."
    )
    told: list[Block] = [CautionBlock(tuple(snapshot["cautions"][-1:]))] if snapshot["cautions"] else []
    sure = Paragraph(_how_sure(snapshot, views))
    return [Together((Heading("How sure this is", room=0), sure, *told, Paragraph(made, "soft"), Signature(labels)))]


def _how_sure(snapshot: Snapshot, views: str) -> str:
    """Where the figures come from, how far they can be trusted, and how far the advice hangs on the weights."""
    texts = (
        "The score is an opinion built from what was seen. Its range holds nine of ten ways the unseen may be.",
        f"Looked at {SEEN_BY[snapshot['seen_by']]} unless a line says otherwise.",
        views,
        opinions_line(snapshot),
    )
    return " ".join(text for text in texts if text)
