"""How a paper ends: how sure the figures are, cautions in full size, and the signature."""

from collections.abc import Sequence

from .blocks import Block, CautionBlock, Heading, Paragraph, Signature, Together
from .opening import Snapshot
from .words import SEEN_BY


def how_sure(snapshot: Snapshot) -> Sequence[Block]:
    """Where the figures come from and how far they can be trusted."""
    holds = snapshot["views"]["verdict_holds"]
    texts = [
        "The score is an opinion built from what was seen. Its range holds nine of ten ways the unseen may be.",
        f"Looked at {SEEN_BY[snapshot['seen_by']]} unless a line says otherwise.",
    ]
    if holds is not None:
        texts.append(f"Luthiers weigh things differently: in {holds:.0%} of the weightings tried, the advice stays.")
    return [Heading("How sure this is", room=25), Paragraph(" ".join(texts))]


def cautions(snapshot: Snapshot) -> Sequence[Block]:
    """All but the last caution, which stands above the signature."""
    texts = tuple(snapshot["cautions"][:-1])
    return [CautionBlock(texts)] if texts else []


def signed(snapshot: Snapshot) -> Sequence[Block]:
    """What the paper is no proof of, what it was made from, and the signature, on one page."""
    return _closing(snapshot, ("Looked at by", "Place and date"))


def agreed(snapshot: Snapshot) -> Sequence[Block]:
    """The same, for two people who agree on work."""
    return _closing(snapshot, ("For the workshop", "Agreed by", "Place and date"))


def _closing(snapshot: Snapshot, labels: tuple[str, ...]) -> Sequence[Block]:
    rubric, shop = snapshot["rubric"], snapshot["shop"]
    made = (
        f"Rubric {rubric['title']} {rubric['version']} ({rubric['hash'][:12]}), prices: {shop['name']} "
        f"({shop['hash'][:12]}), program {snapshot['program']}, seed {snapshot['seed']}."
    )
    last: list[Block] = [CautionBlock(tuple(snapshot["cautions"][-1:]))] if snapshot["cautions"] else []
    return [Together((*last, Paragraph(made, "soft"), Signature(labels)))]
