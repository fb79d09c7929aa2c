"""What a statement of value must say beside its figure: for whom, what kind of value, on which day, what was seen and
what was taken for granted, by which method, and who has an interest in it.

The list is what valuation standards ask for in common (from memory); no compliance with any of them is claimed.
"""

from collections.abc import Sequence

from ...basis import show
from ...result.model.result import Result
from ...wording.phrases import capital
from ..blocks import Block, Column, Heading, Signature, TableBlock

SEEN_BY = {"in_person": "in the hand", "photos": "in photographs", "video": "on video", "opened": "opened"}
LEVEL = (
    "Retail: what a shop would get for it, ready to play, from somebody who plays it, neither side pressed, after a "
    "usual time on offer. Private and auction prices are other levels, and were brought to this one."
)
USE = "To settle a sale, a purchase or a trade-in between the shop and its owner. For no other use, and by nobody else."
METHOD = (
    "The market approach, by comparable transactions, in the order of the table above. Not by cost, which says little "
    "of what is not made again, nor by income, which is for rental fleets. No compliance with a standard is claimed."
)
RESEARCH = (
    "The sales of the table are all that was gone by. No other was looked for, and who made it was not looked into."
)
TAKEN = "Its owner owns the whole of it, free of claims. {rest} The work that it needs is done and paid before."
INTEREST = (
    "A shop that may buy or sell it has an interest in this figure and says so. What is paid for the valuing must not "
    "hang on the figure."
)


def statement(result: Result, on: str, currency: str) -> Sequence[Block]:
    """The table of all that, and the line to sign on; `on` is the day of value, an ISO date."""
    rows = (
        ("Meant for", USE),
        ("Kind of value", LEVEL),
        ("Days", _days(result, on)),
        ("What it is", _object(result)),
        ("How it was looked at", _looks(result)),
        ("What was looked into", RESEARCH),
        ("Taken for granted", TAKEN.format(rest=_unseen(result))),
        ("Method", METHOD),
        ("Money", f"{currency}, on the day of value."),
        ("Interest", INTEREST),
    )
    columns = (Column("", 0.22), Column("What this statement says", 0.78))
    return (
        Heading("What the figure is, and what it is not"),
        TableBlock(columns, rows),
        Signature(("Valued by, and position", "Day")),
    )


def _days(result: Result, on: str) -> str:
    seen = sorted({one.at[:10] for check in result.checks for one in check.observations if one.at})
    if not seen:
        looked = "the day of looking was not noted"
    elif len(seen) == 1:
        looked = f"looked at on {show.day(seen[0])}"
    else:
        looked = f"looked at between {show.day(seen[0])} and {show.day(seen[-1])}"
    return f"Value and paper: {show.day(on)}; {looked}."


def _object(result: Result) -> str:
    one = result.instrument
    said = [f"{one.family} {one.size}", *([result.title] if result.title else []), *([one.about] if one.about else [])]
    if one.year:
        said.append(f"about {one.year}")
    classes = {each.making: each.say for each in result.making.classes}
    if result.making.likeliest in classes:
        said.append(f"most likely {classes[result.making.likeliest]}")
    return f"{capital('; '.join(text.rstrip('.') for text in said))}."


def _looks(result: Result) -> str:
    how = SEEN_BY.get(result.seen_by, result.seen_by.replace("_", " "))
    seen = sum(1 for check in result.checks if check.seen)
    return (
        f"Mostly {how}: {seen} of {len(result.checks)} looks, {result.coverage:.0%} of what counts. It was not opened "
        "unless a look says so."
    )


def _unseen(result: Result) -> str:
    return "What nobody looked at is taken as usual for such an instrument." if result.coverage < 1.0 else ""
