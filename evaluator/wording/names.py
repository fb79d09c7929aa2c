"""Ids of the contract in plain words: one table a thing, for every page, paper and command."""

from collections.abc import Mapping
from typing import NamedTuple

from ..assessment.model import Level, Purpose, Statement
from ..quoting.consent import How
from ..rubric.written.kinds import Channel, Domain, Style, Tier, Urgency
from ..valuation.model import Advice


class StatementWords(NamedTuple):
    """What may be said of a reading and its standard: beside the reading, under "Meets it?", and as a verb."""

    line: str
    short: str
    verb: str


STATEMENTS: Mapping[Statement, StatementWords] = {
    "meets": StatementWords("meets the standard", "yes", "meets"),
    "probably": StatementWords("probably meets it", "probably", "probably meets"),
    "cannot_tell": StatementWords("cannot tell", "cannot tell", "may or may not meet"),
    "probably_not": StatementWords("probably does not", "probably not", "probably does not meet"),
    "does_not": StatementWords("does not meet it", "no", "does not meet"),
}
HOW: Mapping[How, str] = {"link": "on the private link", "spoken": "spoken", "on_paper": "on paper"}
LEVELS: Mapping[Level, str] = {"confirmed": "seen", "probable": "likely", "possible": "possible"}
SEEN_BY: Mapping[Channel, str] = {
    "in_person": "in person",
    "photos": "from photographs",
    "seller_statement": "the seller says so",
    "recording": "from a recording",
}
URGENCY: Mapping[Urgency, str] = {
    "to_play_safely": "needed to play safely",
    "to_standard": "needed to reach the standard",
    "recommended": "recommended",
    "cosmetic": "for looks only",
    "can_wait": "can wait",
}
DOMAINS: Mapping[Domain, str] = {
    "workmanship": "How it was made",
    "soundness": "Sound in body",
    "playability": "Plays easily",
    "tone": "Sound",
    "authenticity": "What it is said to be",
    "resale": "Keeps its price",
}
ADVICE: Mapping[Advice, str] = {
    "look_first": "look first",
    "buy": "buy",
    "buy_if_it_suits": "buy if it suits",
    "negotiate": "bargain",
    "walk_away": "walk away",
}
DOMAIN_TERMS: Mapping[Domain, str] = {
    "workmanship": "workmanship",
    "soundness": "structural condition",
    "playability": "set-up",
    "tone": "tone",
    "authenticity": "attribution",
    "resale": "resale",
}
TIERS: Mapping[Tier, str] = {
    "student": "a student instrument",
    "intermediate": "an intermediate instrument",
    "professional": "a professional instrument",
}
STYLES: Mapping[Style, str] = {"classical": "classical playing", "fiddle": "fiddle playing"}
PURPOSES: Mapping[Purpose, str] = {"buying": "buying", "trade_in": "taking in trade", "quote": "a quote for work"}
OPINION = (
    "An opinion of value for this decision on this date; not an insurance or legal appraisal. Whoever values it and "
    "would buy it says so, and tells the owner to ask elsewhere too before agreeing."
)
