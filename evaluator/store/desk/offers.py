"""Offers and stock in the database: kept under the next number of their series, moved, found again.

An accepted offer and the item that it brings in are written at one stroke, so that neither is without the other.
"""

import secrets
from collections.abc import Callable
from dataclasses import dataclass, replace
from datetime import date

from sqlalchemy import Connection, Engine, Row, insert, select, update

from ...basis.problem import Problem
from ...choosing.offer_letter import OfferLetter, State, moved
from ...choosing.stock import Item
from ...quoting.billing.bill import series_of
from ...quoting.records import from_data, to_data
from ..engine import reading, writing
from ..finding.listing import PAGE, Key, cut, keyed
from ..finding.search import found_by_words
from ..finding.words import ITEM, OFFER, note_words
from ..workshop.bills import next_number
from .tables import offers, stock

ID_BYTES = 6
OFFERS, STOCK = "O{year}-{number}", "S{year}-{number}"
UNKNOWN = Problem("offer.unknown", "", "there is no such offer.", "Look at the list of offers.")
CHANGED = Problem("stock.changed", "", "somebody else changed it meanwhile.", "Look at it again, then do it.")


@dataclass(frozen=True, slots=True)
class KeptOffer:
    id: str
    letter: OfferLetter
    made: str


@dataclass(frozen=True, slots=True)
class KeptItem:
    """`version`: a change must name the one that it was made on."""

    id: str
    item: Item
    version: int


def keep_offer(engine: Engine, letter: OfferLetter, now: str) -> KeptOffer:
    """Keep an offer under the next number of its year."""
    with writing(engine) as connection:
        number = next_number(connection, series_of(OFFERS, letter.made_on))
        numbered, identity = replace(letter, number=number), secrets.token_hex(ID_BYTES)
        values = {"id": identity, "number": number, "evaluation": letter.evaluation, "state": letter.state}
        connection.execute(insert(offers).values(**values, made=now, changed=now, record=to_data(numbered)))
        note_words(connection, OFFER, identity, now, [number, letter.title])
    return KeptOffer(identity, numbered, now)


def find_offer(engine: Engine, identity: str) -> KeptOffer | None:
    with reading(engine) as connection:
        return _offer(connection, identity)


def all_offers(engine: Engine, evaluation: str = "") -> tuple[KeptOffer, ...]:
    """The offers, the newest first; of one evaluation, or all."""
    query = select(offers).order_by(offers.c.made.desc(), offers.c.number.desc())
    if evaluation:
        query = query.where(offers.c.evaluation == evaluation)
    with reading(engine) as connection:
        return tuple(_kept(row) for row in connection.execute(query))


def listed_offers(
    engine: Engine, words: str = "", after: Key | None = None
) -> tuple[tuple[KeptOffer, ...], Key | None]:
    """A page of the offers, the newest first; with words, those whose number or name has words that begin so."""
    query = select(offers)
    if words:
        query = query.where(offers.c.id.in_(found_by_words(engine, OFFER, words).ids))
    query = keyed(query, offers.c.made, offers.c.number, after).limit(PAGE + 1)
    with reading(engine) as connection:
        rows, key = cut(list(connection.execute(query)), PAGE, lambda row: (row.made, row.number))
    return tuple(map(_kept, rows)), key


def move_offer(engine: Engine, identity: str, to: State, on: date, now: str) -> KeptOffer | Problem:
    """Decline or withdraw an offer."""
    with writing(engine) as connection:
        kept = _offer(connection, identity)
        after = UNKNOWN if kept is None else moved(kept.letter, to, on)
        if kept is None or isinstance(after, Problem):
            return UNKNOWN if isinstance(after, OfferLetter) else after
        return _write(connection, kept, after, now)


def accept_offer(
    engine: Engine, identity: str, chosen: str, on: date, now: str, item_of: Callable[[OfferLetter], Item | None]
) -> tuple[KeptOffer, KeptItem | None] | Problem:
    """Accept an offer by one way; `item_of`: the item that the shop has by it, None where it stays the owner's."""
    with writing(engine) as connection:
        kept = _offer(connection, identity)
        if kept is None:
            return UNKNOWN
        after = moved(kept.letter, "accepted", on, chosen)
        if isinstance(after, Problem):
            return after
        item = item_of(after)
        brought = None if item is None else _take_in(connection, item, identity, now)
        return _write(connection, kept, after, now), brought


def all_stock(engine: Engine) -> tuple[KeptItem, ...]:
    """Every item, those that are here first, then the sold ones, the newest first."""
    query = select(stock).order_by(stock.c.sold_on.is_not(None), stock.c.made.desc(), stock.c.number.desc())
    with reading(engine) as connection:
        return tuple(_item(row) for row in connection.execute(query))


def stock_number(engine: Engine, evaluation: str) -> str | None:
    """The number under which what was evaluated so is in stock; None where it is not."""
    query = select(stock.c.number).where(stock.c.evaluation == evaluation).order_by(stock.c.made.desc())
    with reading(engine) as connection:
        return connection.execute(query).scalars().first()


def listed_stock(
    engine: Engine, words: str = "", after: Key | None = None
) -> tuple[tuple[KeptItem, ...], tuple[KeptItem, ...], Key | None]:
    """(what is here, a page of what was sold, the key of its last), newest first; with words, those found by them."""
    query = select(stock)
    if words:
        query = query.where(stock.c.id.in_(found_by_words(engine, ITEM, words).ids))
    here = query.where(stock.c.sold_on.is_(None)).order_by(stock.c.made.desc(), stock.c.number.desc())
    gone = keyed(query.where(stock.c.sold_on.is_not(None)), stock.c.made, stock.c.number, after).limit(PAGE + 1)
    with reading(engine) as connection:
        rows, key = cut(list(connection.execute(gone)), PAGE, lambda row: (row.made, row.number))
        return tuple(map(_item, connection.execute(here))), tuple(map(_item, rows)), key


def find_item(engine: Engine, identity: str) -> KeptItem | None:
    with reading(engine) as connection:
        row = connection.execute(select(stock).where(stock.c.id == identity)).one_or_none()
    return None if row is None else _item(row)


def change_item(engine: Engine, identity: str, version: int, item: Item) -> KeptItem | Problem:
    """Replace an item; refused where somebody else changed it since `version`."""
    sold_on = None if item.sold_on is None else item.sold_on.isoformat()
    values = {"record": to_data(item), "version": version + 1, "sold_on": sold_on}
    with writing(engine) as connection:
        query = update(stock).where(stock.c.id == identity, stock.c.version == version).values(**values)
        if connection.execute(query).rowcount != 1:
            return CHANGED
    return KeptItem(identity, item, version + 1)


def _take_in(connection: Connection, item: Item, offer: str, now: str) -> KeptItem:
    number = next_number(connection, series_of(STOCK, item.came_on))
    numbered, identity = replace(item, number=number), secrets.token_hex(ID_BYTES)
    values = {"id": identity, "number": number, "evaluation": item.evaluation, "offer": offer, "version": 1}
    connection.execute(insert(stock).values(**values, made=now, sold_on=None, record=to_data(numbered)))
    note_words(connection, ITEM, identity, now, [number, item.title])
    return KeptItem(identity, numbered, 1)


def _offer(connection: Connection, identity: str) -> KeptOffer | None:
    row = connection.execute(select(offers).where(offers.c.id == identity)).one_or_none()
    return None if row is None else _kept(row)


def _kept(row: Row[object]) -> KeptOffer:
    return KeptOffer(row.id, from_data(OfferLetter, row.record), row.made)


def _item(row: Row[object]) -> KeptItem:
    return KeptItem(row.id, from_data(Item, row.record), row.version)


def _write(connection: Connection, kept: KeptOffer, letter: OfferLetter, now: str) -> KeptOffer:
    values = {"state": letter.state, "changed": now, "record": to_data(letter)}
    connection.execute(update(offers).where(offers.c.id == kept.id).values(**values))
    return replace(kept, letter=letter)
