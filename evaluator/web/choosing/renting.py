"""Rent or buy for a growing child, by the terms of a plan. Everything stands in the address; nothing is kept."""

from collections.abc import Mapping, Sequence

from flask import Blueprint, render_template
from markupsafe import Markup

from ...basis import show
from ...choosing.ownership import BuyTerms, RentTerms, cost_of_owning, rent_or_buy, usual_prices
from ...figures.money import scale_of
from ...figures.rules import Mark, rule
from ...store.folders import owning_known
from ..asked import Ask, answers_to
from ..looking.pages import View
from ..service import service
from .decisions import drawn

renting = Blueprint("renting", __name__)

RENTING = (
    Ask("months", "Months until it is outgrown or given up", "0", 240, "whole"),
    Ask("rent", "Rent a month", "0"),
    Ask("care", "Care plan a month", "0"),
    Ask("credit", "Of 100 of rent, how much counts towards buying", "0", 100, "percent"),
    Ask("price", "Price to buy one", "0"),
    Ask("service", "Service, strings and hair a year, if bought", "0"),
    Ask("resale", "Of 100 of the price, how much a private sale brings", "0", 100, "percent"),
    Ask("promise", "Of 100 of the price, how much the shop promises in trade", "0", 100, "percent"),
)


@renting.get("/rent-or-buy")
def rent() -> View:
    """What renting and buying have cost after so many months, on one rule."""
    answers = answers_to(RENTING, _first())
    currency = service().shop.currency
    ways = [] if answers.wrong else _ways(answers.values)
    page = render_template(
        "choosing/rent_or_buy.html",
        asks=RENTING,
        answers=answers,
        ways=ways,
        figures=_figures(ways),
        currency=currency,
        told=_told(ways, answers.values, currency),
    )
    return (page, 422) if answers.wrong else page


def _first() -> dict[str, str]:
    """What stands in the fields first: the usual terms, and what a year of keeping costs at this shop."""
    usual = owning_known().renting
    return {
        "months": str(usual.months),
        "rent": f"{usual.rent:g}",
        "care": f"{usual.care:g}",
        "credit": f"{100 * usual.credit_share:g}",
        "price": f"{usual.price:g}",
        "service": f"{_learners_year():.0f}",
        "resale": f"{100 * usual.resale_share:g}",
        "promise": f"{100 * usual.promised_share:g}",
    }


def _learners_year() -> float:
    """What a learner's violin costs to keep for a year at this shop: services, strings and hair."""
    wear = owning_known().habits
    usual = usual_prices(service().rubric("violin"), service().rubric("bow"), service().shop, wear, "student")
    year = cost_of_owning(wear.years[0], usual, 1)
    return year.strings + year.rehairs + year.services


def _ways(given: Mapping[str, float]) -> list[tuple[str, float]]:
    renting = RentTerms(given["rent"], given["care"], given["credit"] / 100)
    buying = BuyTerms(given["price"], given["service"], given["resale"] / 100, given["promise"] / 100)
    found = rent_or_buy(round(given["months"]), renting, buying)
    return [
        ("Rent, and give it back", found.rent_paid),
        ("Rent, and use the credit for the next one", found.rent_if_credit_used),
        ("Buy, and sell it yourself", found.buy_and_sell),
        ("Buy, and trade it in", found.buy_and_trade_in),
    ]


def _figures(ways: Sequence[tuple[str, float]]) -> list[Markup]:
    if not ways:
        return []
    scale = scale_of([amount for _, amount in ways])
    return [
        drawn(rule(*scale, [Mark(amount, f"{amount:,.0f}", "accent")], f"{say}: {amount:,.0f}.", width=84.0))
        for say, amount in ways
    ]


def _told(ways: Sequence[tuple[str, float]], given: Mapping[str, float], currency: str) -> tuple[str, str]:
    """What holds without anybody's promise, and what comes of the credit and of the promise to take it back."""
    if not ways:
        return "", ""
    rented, credited, sold, traded = (show.money(round(amount), currency) for _, amount in ways)
    months = round(given["months"])
    return (
        f"After {months} months: {rented} to rent and give back, {sold} to buy and sell.",
        f"If the credit is used for the next one, the rent comes to {credited}. If the shop takes it back as "
        f"promised, buying comes to {traded}.",
    )
