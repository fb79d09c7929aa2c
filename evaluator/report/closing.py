"""How a paper ends: how sure the figures are, cautions in full size, and the signature."""

from collections.abc import Sequence

from .blocks import Block, CautionBlock, Heading, Paragraph, Signature, Together
from .opening import Snapshot
from .words import SEEN_BY, opinions_line


def how_sure(snapshot: Snapshot) -> Sequence[Block]:
    """Where the figures come from and how far they can be trusted."""
    texts = [
        "The score is an opinion built from what was seen. Its range holds nine of ten ways the unseen may be.",
        f"Looked at {SEEN_BY[snapshot['seen_by']]} unless a line says otherwise.",
    ]
    return [Heading("How sure this is", room=25), Paragraph(" ".join(texts))]


def opinions(snapshot: Snapshot) -> Sequence[Block]:
    """Whose opinions the rubric holds, and how far the advice hangs on its weights."""
    own = opinions_line(snapshot)
    told: list[Block] = [Paragraph(own)] if own else []
    holds = snapshot["views"]["verdict_holds"]
    if holds is None:
        return told
    return [
        *told,
        Paragraph(f"Luthiers weigh things differently: in {holds:.0%} of the weightings tried, the advice stays."),
    ]


def signed(snapshot: Snapshot) -> Sequence[Block]:
    """Cautions, what the paper was made from, and the signature, on one page."""
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
    told: list[Block] = [CautionBlock(tuple(snapshot["cautions"]))] if snapshot["cautions"] else []
    return [Together((*told, Paragraph(made, "soft"), Signature(labels)))]
