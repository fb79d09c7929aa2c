"""Comparison and trade-in in plain lines for a terminal, and the sentences that pages and papers share."""

from collections.abc import Mapping

from ..basis import show
from ..choosing.told import CandidateTold, ComparisonTold, OfferTold, TradeInTold
from .phrases import small

Decision = ComparisonTold | TradeInTold
NAMED_PARTS = 3
MATERIALS: Mapping[str, str] = {
    "none": "Nothing on it is of a protected material, as far as was seen.",
    "allowed": "It holds a protected material, with papers. Hand them on with it, and check the present rule.",
}


def money(decision: Decision, amount: float) -> str:
    return show.money(round(amount), decision.currency)


def cost_sentence(decision: Decision, row: CandidateTold) -> str:
    """'$1,240 to own at its standard: $780 asked and about $460 of work; in four of five cases not above $1,400.'"""
    if row.work < 1:
        return f"{money(decision, row.cost_to_own)} to own: what is asked. As far as was seen it needs no work."
    return (
        f"{money(decision, row.cost_to_own)} to own at its standard: {money(decision, row.asking)} asked and "
        f"about {money(decision, row.work)} of work; in four of five cases not above "
        f"{money(decision, row.cost_to_own_p80)}."
    )


ORDER_WORDS = (
    "People weigh price and quality differently, and nobody knows yet what is still to be seen. Many such weighings "
    "are drawn, each with one way that it may all turn out; the share says in how many of them one comes first."
)


def score_sentence(row: CandidateTold) -> str:
    now, after = row.score, row.score_after_work
    if now.expected is None:
        return f"Too little was seen for a number: between {now.low:.0f} and {now.high:.0f} of 100."
    if row.work < 1:
        return f"{now.expected:.0f} of 100 as it stands ({now.low:.0f} to {now.high:.0f}), and without work."
    return (
        f"{now.expected:.0f} of 100 as it stands ({now.low:.0f} to {now.high:.0f}), "
        f"{after.expected:.0f} after the work ({after.low:.0f} to {after.high:.0f})."
    )


def worst_sentence(row: CandidateTold) -> str:
    """The worst that was found on it, and what money does not cure."""
    if row.worst is None:
        return "Nothing bad was found on it."
    stays = [one for one in row.stays if one != row.worst]
    if row.worst in row.stays:
        more = f"; nor this: {'; '.join(small(one) for one in stays)}" if stays else ""
        return f"The worst of it: {small(row.worst)}. Money does not cure that{more}."
    more = f" Money does not cure this: {'; '.join(small(one) for one in stays)}." if stays else ""
    return f"The worst of it: {small(row.worst)}.{more}"


def first_sentence(row: CandidateTold) -> str:
    return f"Comes first in {row.first_share:.0%} of cases."


def unknown_sentence(decision: Decision, row: CandidateTold) -> str:
    """How much of it nobody has looked at, where that is, and what it could add."""
    unknown = row.unknown
    if not unknown.checks:
        return "All that counts was looked at."
    parts = ", ".join(small(part.say) for part in unknown.parts[:NAMED_PARTS])
    count = unknown.checks
    text = f"{count} check{'' if count == 1 else 's'} not looked at yet, most on: {parts}."
    return f"{text} That could add about {money(decision, unknown.work)} of work." if unknown.work >= 1 else text


def unknown_shortly(decision: Decision, row: CandidateTold) -> str:
    unknown = row.unknown
    if not unknown.checks:
        return "All seen."
    more = f", about {money(decision, unknown.work)} of work" if unknown.work >= 1 else ""
    return f"{unknown.checks} not seen{more}."


def look_sentence(decision: ComparisonTold) -> str:
    """The look that is likeliest by the minute to change who is first, or that none is likely to."""
    look = decision.look_next
    if look is None:
        return "No look is likely to change who comes first."
    count = len(look.checks)
    many = f"{count} check{'' if count == 1 else 's'}, about {show.minutes(look.minutes)}"
    return (
        f"If you look at one thing more, look at “{look.name}”: {small(look.say)} ({many}). The chance that it "
        f"changes which of the first two is ahead: {show.chance(look.chance)}."
    )


def comparison_words(decision: ComparisonTold) -> str:
    """The comparison for a terminal."""
    lines = [decision.sentence, ""]
    for number, row in enumerate(decision.candidates, 1):
        lines += [f"{number}. {row.name}", f"   {row.verdict.sentence}"]
        said = (
            worst_sentence(row), cost_sentence(decision, row), score_sentence(row), first_sentence(row),
            unknown_sentence(decision, row),
        )  # fmt: skip
        lines += [f"   {text}" for text in said]
        lines.append("")
    lines += [look_sentence(decision)]
    lines += decision.notes
    return "\n".join([*lines, decision.opinion])


def amount_sentence(decision: TradeInTold, offer: OfferTold) -> str:
    """What reaches the owner by one way."""
    to_owner, expected = money(decision, offer.to_owner), money(decision, offer.expected)
    if offer.kind in {"cash", "trade"}:
        return f"{to_owner}." if offer.to_owner > 0 else "Nothing is left to offer."
    if offer.to_owner <= 0:
        even, mean = money(decision, -offer.to_owner), money(decision, -offer.expected)
        return f"Costs you {even} even if it sells, {mean} on average."
    if offer.expected < 0:
        return f"{to_owner} if it sells; on average it costs you {money(decision, -offer.expected)}."
    return f"{to_owner} if it sells, {expected} on average."


def no_way_sentence(decision: TradeInTold) -> str:
    """What may be better where no way leaves the owner anything; empty where one does."""
    if any(offer.to_owner > 0 for offer in decision.offers):
        return ""
    return (
        "Every way costs the owner more than it brings. It may be better to sell it as it stands and say so, or to "
        "keep it and pay only for what makes it safe to play."
    )


def is_open(offer: OfferTold) -> bool:
    """Whether it is an offer at all: a shop that pays nothing makes none."""
    return offer.kind not in {"cash", "trade"} or offer.to_owner > 0


def offer_sentence(decision: TradeInTold, offer: OfferTold) -> str:
    """What reaches the owner by one way, with the chance that it does not sell where that matters."""
    return f"{amount_sentence(decision, offer)} {unsold_sentence(decision, offer)}".strip()


def unsold_sentence(decision: TradeInTold, offer: OfferTold) -> str:
    """The chance that the owner is left with it; empty where the shop takes it."""
    if offer.kind in {"cash", "trade"}:
        return ""
    lost = "; then the work is paid for nothing" if decision.work >= 1 else ""
    return f"That it does not sell: {show.chance(1.0 - decision.chance_of_sale)}{lost}."


def earns_sentence(decision: TradeInTold, offer: OfferTold) -> str:
    """What the shop earns by it, said openly."""
    if offer.kind == "alone":
        return "The shop earns nothing."
    earns = offer.shop_earns
    if not is_open(offer):
        return "Not offered, so the shop earns nothing by it."
    if earns < 0:
        return f"The shop loses about {money(decision, -earns)}."
    return f"The shop earns about {money(decision, earns)}."


def basis_sentence(decision: TradeInTold) -> str:
    """What the offers rest on: the ticket price and its source, the sale price, what making it ready costs."""
    text = (
        f"Ready, it would be marked {money(decision, decision.ticket_price)} ({decision.ticket_price_from}) and "
        f"sell for about {money(decision, decision.sale_price)}. "
    )
    if decision.work < 1:
        text += "It needs no work, as far as was seen."
    else:
        text += (
            f"Making it ready costs the shop about {money(decision, decision.making_ready)}; a customer pays about "
            f"{money(decision, decision.work)} for the same work."
        )
    return f"{text} {not_seen_sentence(decision)}".strip()


def not_seen_sentence(decision: TradeInTold) -> str:
    """How little was looked at, and what is counted for it; empty where nothing is."""
    if decision.not_seen < 1:
        return ""
    seen = decision.seen
    much = "" if seen is None else f"Looked at: {100 * seen:.0f} of 100 of what tells whether it is sound and plays. "
    counted = money(decision, decision.not_seen)
    return f"{much}For faults that nobody has looked for, about {counted} of work is counted in every figure here."


def months_sentence(decision: TradeInTold) -> str:
    """How long such an instrument takes to sell; empty where nothing says it."""
    months = decision.months_to_sell
    return "" if months is None else f"Such an instrument takes {months.low:g} to {months.high:g} months to sell."


def letter_basis_sentence(decision: TradeInTold) -> str:
    """What the offers rest on, as it is written to the owner: nothing of the shop's own costs and earnings."""
    text = (
        f"Ready, it would be marked {money(decision, decision.ticket_price)} ({decision.ticket_price_from}) and "
        f"sell for about {money(decision, decision.sale_price)}. "
    )
    work = "It needs no work, as far as was seen."
    if decision.work >= 1:
        work = f"A customer pays about {money(decision, decision.work)} for the work that it needs."
    told = (text + work, months_sentence(decision), not_seen_sentence(decision))
    return " ".join(one for one in told if one)


def trade_in_words(decision: TradeInTold) -> str:
    """The trade-in for a terminal."""
    title = decision.title or f"{decision.family} {decision.size}"
    lines = [title, "", decision.sentence, decision.shop_sentence, ""]
    lines += [f"Stop: {text}" for text in decision.disqualifying]
    for offer in decision.offers:
        lines += [
            f"{offer.title} ({offer.term})",
            f"   {offer_sentence(decision, offer)}",
            f"   {earns_sentence(decision, offer)}",
            *([f"   {offer.say}"] if is_open(offer) else []),
        ]
    lines += [no_way_sentence(decision)] if no_way_sentence(decision) else []
    lines += ["", *(f"{step.say:<44}{money(decision, step.amount):>12}" for step in decision.cash_steps)]
    lines += ["", basis_sentence(decision), MATERIALS[decision.materials], decision.opinion]
    return "\n".join(lines)
