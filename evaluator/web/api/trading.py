"""Operations on quotes, known sales, and what the shop can give for an instrument."""

import csv
import io
from dataclasses import replace

from ...basis.problem import Problem
from ...basis.typed.kinds import Wanted, understand
from ...basis.typed.signs import sign_problem
from ...choosing.offer_letter import letter_of
from ...choosing.offers import Asked
from ...choosing.trade_in import Answers
from ...quoting import quote as quoting
from ...quoting.answers import three_totals
from ...store.desk.offers import KeptOffer, all_offers, find_offer, keep_offer
from ...store.known_sales import add_sales, new_batch, whole_book
from ...store.quotes import KeptQuote, find_quote, offer
from ...store.workshop.drafts import keep_draft
from ...valuation.sales.sales_file import BOOK_NEEDED, COLUMNS, read_sheet
from ...wording.choosing.trade_in import trade_in_json
from ..quoting.drafts import made_quote
from ..result.house_style import dressed
from ..service import service
from .evaluations import kept_or_refused
from .given import (
    FoundGiven,
    LineGiven,
    Offer,
    Offered,
    OffersListed,
    Quote,
    QuoteTotals,
    Sales,
    SalesAdded,
    WayOut,
    amount,
    sale_given,
)
from .operations import Made, operation
from .problems import BASE, RefusedError
from .sent import OfferWanted, Page, QuoteWanted, SalesSent, SizeWanted


@operation(
    "POST",
    "/evaluations/{identity}/quotes",
    "Make the draft of a quote from a finished evaluation",
    "quotes:write",
    Quote,
    body=QuoteWanted,
    status=201,
)
def make_quote(identity: str, body: QuoteWanted) -> Made:
    kept = kept_or_refused(identity)
    strange = sign_problem(body.about, "about")
    if strange is not None:
        raise RefusedError("invalid", problems=[strange])
    made = made_quote(kept, body.about.strip(), in_haste=body.in_haste, own_hours=body.own_hours)
    if isinstance(made, Problem):
        raise RefusedError("clash", problems=[made])
    found = keep_draft(service().engine, kept.id, made, service().now())
    return Made(quote_given(_quote(found)), f"{BASE}/quotes/{found}")


@operation("GET", "/quotes/{quote}", "A quote with its totals and its answers", "quotes:read", Quote)
def read_quote(quote: str) -> Quote:
    return quote_given(_quote(quote))


@operation("POST", "/quotes/{quote}/offer", "Offer a draft under a private link", "quotes:write", Offered)
def offer_quote(quote: str) -> Offered:
    _quote(quote)
    found = offer(service().engine, quote, service().now())
    if isinstance(found, Problem):
        raise RefusedError("clash", problems=[found])
    link = service().house.quote_link(found.token)
    return Offered(quote=quote_given(found.kept), link=link)


@operation(
    "GET",
    "/quotes/{quote}/quote.pdf",
    "The paper of a quote",
    "quotes:read",
    bytes,
    query=SizeWanted,
    media="application/pdf",
)
def read_quote_paper(quote: str, query: SizeWanted) -> bytes:
    from ...papers.quote_story import quote_paper
    from ..quoting.family import joint_of

    kept = _quote(quote)
    rests_on = kept_or_refused(kept.evaluation)
    paper = quote_paper(kept.quote, service().result(rests_on), kept.chain, joint_of(kept))
    return service().drawn(dressed(paper, rests_on), query.paper)


@operation(
    "POST",
    "/evaluations/{identity}/offers",
    "Keep an offer of what the shop can give for it",
    "offers:write",
    Offer,
    body=OfferWanted,
    status=201,
)
def make_offer(identity: str, body: OfferWanted) -> Made:
    kept = kept_or_refused(identity)
    shown, shop = service().result(kept), service().shop
    prices: dict[str, float] = {}
    for name in ("ticket", "new_price"):
        text = getattr(body, name)
        if text:
            read = understand(text, Wanted("money", most=1e9, currency=shop.currency), name)
            if isinstance(read, Problem):
                raise RefusedError("invalid", problems=[read])
            prices[name] = read.value
    answers = Answers(body.materials, body.owner_noted, body.identity_noted)
    asked = Asked(answers, prices.get("new_price", 0.0), prices.get("ticket"))
    found = trade_in_json(shown, shop, asked)
    if isinstance(found, tuple):
        raise RefusedError("clash", problems=found)
    letter = letter_of(found, shown, kept.id, service().today(), shop.validity_days, kept.rubric)
    made = keep_offer(service().engine, letter, service().now())
    return Made(offer_given(made), f"{BASE}/offers/{made.id}")


@operation("GET", "/offers", "The offers, the newest first", "offers:read", OffersListed, query=Page)
def list_offers(query: Page) -> OffersListed:
    return OffersListed(offers=tuple(offer_given(one) for one in all_offers(service().engine)[: query.limit]))


@operation("GET", "/offers/{offer}", "An offer and how it ended", "offers:read", Offer)
def read_offer(offer: str) -> Offer:
    kept = find_offer(service().engine, offer)
    if kept is None:
        raise RefusedError("not_found", "There is no offer of this id.")
    return offer_given(kept)


def offer_given(kept: KeptOffer) -> Offer:
    one = kept.letter
    return Offer(
        id=kept.id,
        number=one.number,
        evaluation=one.evaluation,
        state=one.state,
        made_on=one.made_on.isoformat(),
        valid_until=one.valid_until.isoformat(),
        title=one.title,
        ready=amount(one.ready),
        ready_from=one.ready_from,
        work=amount(one.work),
        not_seen=amount(one.not_seen),
        ways=tuple(
            WayOut(
                kind=way.kind,
                title=way.title,
                to_owner=amount(way.to_owner),
                expected=amount(way.expected),
                say=way.say,
            )
            for way in one.ways
        ),
        found=tuple(FoundGiven(say=each.say, taken_as=each.taken_as) for each in one.found),
        conditions=one.conditions,
        chosen=one.chosen,
    )


@operation("GET", "/sales", "The known sales, the newest first", "sales:read", Sales)
def list_sales() -> Sales:
    return Sales(sales=tuple(sale_given(one) for one in whole_book(service().engine).kept))


@operation("POST", "/sales", "Put sales into the book, all or none", "sales:write", SalesAdded, body=SalesSent)
def add_known_sales(body: SalesSent) -> SalesAdded:
    out = io.StringIO()
    rows = [one.model_dump(mode="json", exclude_none=True) for one in body.sales]
    csv.writer(out).writerows([COLUMNS, *([_cell(row.get(name, "")) for name in COLUMNS] for row in rows)])
    sizes = {name: service().rubric(name).sizes for name in service().families()}
    read = read_sheet(out.getvalue(), "sales", service().shop.currency, service().today(), sizes, BOOK_NEEDED)
    if read.problems:
        raise RefusedError("invalid", problems=[_by_place(one) for one in read.problems])
    sales = [row.sale for row in read.rows]
    new = add_sales(service().engine, sales, service().now(), new_batch())
    return SalesAdded(added=new, there_already=len(sales) - new)


def _cell(value: object) -> str:
    """A cell of one line, so that lines count sales."""
    return " ".join(str(value).split()) if isinstance(value, str) else str(value)


def _by_place(one: Problem) -> Problem:
    """The mistake at the number of the sale (from 0) in place of the line."""
    number = one.place.line - 2 if one.place and one.place.line > 1 else 0
    return replace(one, where=f"sales.{number}: {one.where}", place=None)


def quote_given(kept: KeptQuote) -> Quote:
    one = kept.quote
    return Quote(
        id=kept.id,
        number=one.number,
        evaluation=kept.evaluation,
        state=one.state,
        made_on=one.made_on.isoformat(),
        valid_until=one.valid_until.isoformat(),
        about=one.about,
        ceiling=amount(one.ceiling),
        fingerprint=one.fingerprint(),
        lines=tuple(map(_line, one.lines)),
        totals={
            name: QuoteTotals(
                labour=amount(found.labour + found.rush + found.minimum),
                parts=amount(found.parts),
                tax=amount(found.tax),
                total=amount(found.total),
            )
            for name, found in three_totals(one).items()
        },
        answers=dict(kept.chain[-1].answers) if kept.chain else {},
    )


def _line(line: quoting.QuoteLine) -> LineGiven:
    return LineGiven(
        job=line.job,
        say=line.say,
        group=line.group,
        shared=line.shared,
        labour=amount(line.labour),
        parts=amount(line.parts),
        price=amount(line.price),
        hours=line.hours_likely,
    )


def _quote(identity: str) -> KeptQuote:
    kept = find_quote(service().engine, identity)
    if kept is None:
        raise RefusedError("not_found", "There is no quote of this id.")
    return kept
