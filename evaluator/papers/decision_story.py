"""Papers of a decision: candidates on one page, and the letter with what a shop can give. Arranges and words only."""

from collections.abc import Sequence

from ..basis import show
from ..choosing.told import CandidateTold, ComparisonTold, OfferTold, SpanTold, TradeInTold
from ..figures.money import cost_rule, offer_rule, scale_of
from ..figures.rules import score_rule
from ..wording.decisions import (
    MATERIALS,
    ORDER_WORDS,
    first_sentence,
    is_open,
    letter_basis_sentence,
    look_sentence,
    money,
    no_way_sentence,
    offer_sentence,
    unknown_sentence,
    unknown_shortly,
    worst_sentence,
)
from ..wording.phrases import without_reach
from .blocks import (
    Block,
    CautionBlock,
    Cell,
    Column,
    Heading,
    Lead,
    Listing,
    Paper,
    Paragraph,
    Signature,
    TableBlock,
    Together,
)

RULE_MM = 56.0
MOST_AT_LENGTH = 3  # candidates, with what is not known of each in whole sentences on one page


def _triple(values: SpanTold) -> tuple[float | None, float, float]:
    return values.expected, values.low, values.high


def _letterhead(decision: ComparisonTold | TradeInTold) -> str:
    return "" if decision.shop.is_default else str(decision.shop.name)


def comparison_paper(decision: ComparisonTold, on: str) -> Paper:
    """All candidates of `decision.comparison_json` on one page, dated `on` (an ISO date)."""
    rows = decision.candidates
    scale = scale_of([one.cost_to_own_p80 for one in rows] + [one.asking for one in rows])
    columns = (
        Column("", 0.05),
        Column("Candidate", 0.33),
        Column(f"Cost to own, {decision.currency}", 0.31),
        Column("Score of 100", 0.31),
    )
    table = TableBlock(columns, tuple(_row(number, one, decision, scale) for number, one in enumerate(rows, 1)))
    blocks: list[Block] = [
        Lead(decision.sentence),
        table,
        *(Paragraph(note, "soft") for note in decision.notes),
        Paragraph(ORDER_WORDS, "soft"),
        *_unknown(decision),
        Heading("What to look at next", 2),
        Paragraph(look_sentence(decision)),
        CautionBlock((decision.opinion,)),
    ]
    title = f"Candidates side by side, {show.day(on)}"
    return Paper(title, _letterhead(decision), title, blocks)


def _unknown(decision: ComparisonTold) -> Sequence[Block]:
    """What is not known of each, where there is room for it; else the table says it shortly."""
    rows = decision.candidates
    if len(rows) > MOST_AT_LENGTH:
        return []
    said = tuple(f"{one.name}: {unknown_sentence(decision, one)}" for one in rows)
    return [Heading("What is not known of each", 2), Listing(said)]


def _row(number: int, one: CandidateTold, decision: ComparisonTold, scale: tuple[float, float]) -> tuple[Cell, ...]:
    work = f"Work about {money(decision, one.work)}." if one.work >= 1 else "No work needed, as far as was seen."
    worst = worst_sentence(one) if len(decision.candidates) <= MOST_AT_LENGTH or one.worst else ""
    said = f"{one.name}\n{one.verdict.sentence} {worst} {first_sentence(one)} {work}"
    if len(decision.candidates) > MOST_AT_LENGTH:
        said += f" {unknown_shortly(decision, one)}"
    cost = cost_rule(one.asking, one.cost_to_own, one.cost_to_own_p80, scale, RULE_MM - 4)
    return str(number), said, cost, score_rule(_triple(one.score), _triple(one.score_after_work), RULE_MM - 4)


DRAFT = (
    "A draft for the desk, without a number. What is handed on is the offer that is kept: it has a number, the day "
    "until which it holds, its conditions and what was found."
)


def trade_in_paper(decision: TradeInTold, on: str) -> Paper:
    """What could be offered, as a draft dated `on` (an ISO date): every way out at one size, and what they rest on.

    What the shop earns by each is on its own sheet, and not here.
    """
    title = decision.title or f"{decision.family} {decision.size}"
    about = f"{decision.family} {decision.size}. {without_reach(decision.about)}".strip()
    blocks: list[Block] = [
        Paragraph(title, "strong"),
        Paragraph(f"{about} {show.day(on)}.", "soft"),
        Paragraph(DRAFT, "strong"),
        Lead(decision.sentence),
        *_stops(decision),
        _offers(decision),
        *([Paragraph(no_way_sentence(decision), "strong")] if no_way_sentence(decision) else []),
        Heading("What this rests on", 2),
        Paragraph(letter_basis_sentence(decision)),
        Paragraph(MATERIALS[decision.materials]),
        CautionBlock((decision.opinion,)),
        Together(
            (
                Paragraph("Nothing is agreed until both have signed. Take this letter along and ask elsewhere too."),
                Signature(("Owner, name and signature", "For the shop", "Date")),
            )
        ),
    ]
    return Paper("What we can offer: a draft", _letterhead(decision), title, blocks)


def _stops(decision: TradeInTold) -> Sequence[Block]:
    return [CautionBlock(tuple(decision.disqualifying))] if decision.disqualifying else []


def _offers(decision: TradeInTold) -> Block:
    offers = decision.offers
    scale = scale_of([amount for offer in offers for amount in (offer.to_owner, offer.expected)])
    columns = (Column("Way", 0.6), Column(f"To the owner, {decision.currency}", 0.4))
    return TableBlock(columns, tuple(_offer_row(decision, offer, scale) for offer in offers))


def _offer_row(decision: TradeInTold, offer: OfferTold, scale: tuple[float, float]) -> tuple[Cell, ...]:
    offered = is_open(offer)
    terms = offer.say if offered else ""
    return (
        f"{offer.title} ({offer.term})\n{offer_sentence(decision, offer)} {terms}".strip(),
        offer_rule(offer.to_owner, offer.expected, scale, RULE_MM - 4) if offered else "",
    )
