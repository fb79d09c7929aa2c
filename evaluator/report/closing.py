"""How a paper ends: how sure the figures are, cautions in full size, and the signature."""

from collections.abc import Sequence

from .blocks import Block, CautionBlock, Heading, Paragraph, Signature, Together
from .opening import Snapshot
from .words import SEEN_BY, opinions_line


def how_sure(snapshot: Snapshot) -> Sequence[Block]:
    """Where the figures come from, how far they can be trusted, and how far the advice hangs on the weights."""
    holds = snapshot["views"]["verdict_holds"]
    if holds is None:
        return how_sure_of_the_work(snapshot)
    views = f"Luthiers weigh things differently: in {holds:.0%} of the weightings tried, the advice stays."
    return _how_sure(snapshot, views)


def how_sure_of_the_work(snapshot: Snapshot) -> Sequence[Block]:
    """The same where no advice is given."""
    return _how_sure(snapshot)


def _how_sure(snapshot: Snapshot, *more: str) -> Sequence[Block]:
    texts = [
        "The score is an opinion built from what was seen. Its range holds nine of ten ways the unseen may be.",
        f"Looked at {SEEN_BY[snapshot['seen_by']]} unless a line says otherwise.",
        *more,
        opinions_line(snapshot),
    ]
    return [Heading("How sure this is", room=25), Paragraph(" ".join(text for text in texts if text))]


def cautions(snapshot: Snapshot) -> Sequence[Block]:
    """All but the last caution, which stands by the signature."""
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
    texts = tuple(snapshot["cautions"])
    told: list[Block] = [CautionBlock(texts[-1:], goes_on=len(texts) > 1)] if texts else []
    return [Together((*told, Paragraph(made, "soft"), Signature(labels)))]
