"""The letter of a kept offer: number, date, validity, every way, what was found and what it was taken as, conditions.

What the shop earns is on its own sheet, and not here.
"""

from ..basis import show
from ..basis.money import Money
from ..choosing.offer_letter import OfferLetter, Way
from ..wording.decisions import MATERIALS
from ..wording.names import OPINION
from ..wording.phrases import capital, ended
from .blocks import (
    Block,
    CautionBlock,
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


def amount(value: Money) -> str:
    """'$640' or '$640.50'."""
    return show.money(value.amount, value.currency, cents=value.amount % 1 != 0)


def lead(letter: OfferLetter) -> str:
    """What the shop gives, in one sentence."""
    cash, trade = letter.way("cash"), letter.way("trade")
    if cash is None and trade is None:
        return "No offer in cash; what remains is told below."
    parts = [f"{amount(cash.to_owner)} in cash"] if cash else []
    parts += [f"{amount(trade.to_owner)} against the next instrument"] if trade else []
    return f"{', or '.join(parts)}."


def way_words(way: Way) -> str:
    if way.kind in ("cash", "trade"):
        return way.say if way.to_owner.amount > 0 else "Nothing is left to offer."
    if way.to_owner.amount <= 0:
        return f"This way costs the owner money even if it sells. {way.say}"
    return f"If it sells; on average, with the chance that it does not, {amount(way.expected)}. {way.say}"


def rests_on(letter: OfferLetter) -> str:
    """The price when ready and its source, the work, and what nobody looked at."""
    text = f"Ready to play it would be marked {amount(letter.ready)} ({letter.ready_from}). "
    work, not_seen = (amount(one.rounded("whole")) for one in (letter.work, letter.not_seen))
    text += f"The work to bring it there comes to about {work}. " if letter.work.amount else "It needs no work. "
    if letter.not_seen.amount:
        text += f"For what nobody has looked at, about {not_seen} is reckoned. "
    if letter.seen is not None:
        text += f"{letter.seen:.0%} of what tells soundness and set-up was looked at."
    return text.strip()


def offer_paper(letter: OfferLetter, letterhead: str) -> Paper:
    """The letter to the owner."""
    title = letter.title or f"{letter.family.capitalize()} {letter.size}"
    columns = (Column("Way", 0.72), Column("To the owner", 0.28, figures=True))
    rows = tuple(
        (f"{way.title}\n{way_words(way)}", amount(way.to_owner) if way.to_owner.amount > 0 else "none")
        for way in letter.ways
    )
    dates = f"{letter.number}. {show.day(letter.made_on.isoformat())}, valid until "
    blocks: list[Block] = [
        Paragraph(title, "strong"),
        Paragraph(f"{letter.family.capitalize()} {letter.size}. {letter.about}".strip(), "soft"),
        Paragraph(f"Offer {dates}{show.day(letter.valid_until.isoformat())}.", "soft"),
        Lead(lead(letter)),
        *([CautionBlock(letter.stops)] if letter.stops else []),
        TableBlock(columns, rows),
        Heading("What this rests on", 2),
        Paragraph(rests_on(letter)),
        Paragraph(MATERIALS[letter.materials]),
        *_found(letter),
        Heading("Conditions", 2),
        Listing(letter.conditions, fine=True),
        CautionBlock((OPINION,)),
        Together(
            (
                Paragraph("Nothing is agreed until both have signed. Take this letter along and ask elsewhere too."),
                Signature(("Owner, name and signature", "For the shop", "Date")),
            )
        ),
    ]
    day = letter.made_on.isoformat()
    return Paper("What we can offer", letterhead, f"Offer {letter.number}", tuple(blocks), day=day)


def _found(letter: OfferLetter) -> list[Block]:
    """What was found, each with what it was taken as."""
    found = tuple(f"{ended(one.say)} {ended(capital(one.taken_as))}" for one in letter.found)
    if not found:
        return []
    return [Heading("What was found, and what it was taken as", 2), Listing(found, fine=True)]
