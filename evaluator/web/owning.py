"""For owners: five years' cost, when service is due, the air, repair or replace, and rent or buy for a growing child.

Everything stands in the address; nothing is kept.
"""

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from typing import Any
from urllib.parse import urlencode

from flask import Blueprint, Response, render_template, request, url_for
from markupsafe import Markup

from ..basis import show
from ..lutherie.climate import CLIMATES
from ..lutherie.seasons import Air, Seasons, seasons
from ..report.decision_figures import scale_of
from ..report.figures import Mark, rule
from ..report.owning_words import GOOD_WORDS, air_words
from ..store.evaluations import Kept
from ..valuation.ownership import (
    BY_HOURS,
    Ownership,
    Prices,
    calendar_text,
    cost_of_owning,
    habits_for,
    service_dates,
    usual_prices,
)
from ..valuation.rent_or_buy import BuyTerms, RentTerms, rent_or_buy
from ..valuation.repair_or_replace import as_found, repair_or_replace
from ..valuation.trade_in import OPINION
from .decisions import drawn
from .pages import View, kept_or_404
from .service import service

owning = Blueprint("owning", __name__)

YEARS = 5
WEEKS = 52
SERVICES = 4
LEAST_HUMIDITY = 5.0  # of 100: the printed table of moisture begins here
_NUMBER = re.compile(r"\d{1,7}(\.\d{1,3})?")


@dataclass(frozen=True, slots=True)
class Ask:
    """A number that the page asks for: label, what stands there first, and the most that makes sense."""

    name: str
    label: str
    first: str
    most: float = 1_000_000.0


HOURS = Ask("hours", "Playing hours a week", "3", 80)
# What stands here first for prices comes from the shop's file and its catalogue of work.
OWNING = (
    HOURS,
    Ask("string_set", "A set of strings, fitted", "0"),
    Ask("rehair", "A rehair of the bow", "0"),
    Ask("light_service", "A light service", "0"),
    Ask("full_service", "A full service, with what it usually brings", "0"),
    Ask("value", "What it is insured for", "1000", 10_000_000),
    Ask("reserve", "Set aside for repairs a year", "0"),
    Ask("sundries", "Rosin and small things a year", "0"),
)
AIR = (
    Ask("winter_humidity", "Humidity in winter, of 100", "30", 95),
    Ask("winter_degrees", "Warmth in winter, °C", "20", 35),
    Ask("summer_humidity", "Humidity in summer, of 100", "60", 95),
    Ask("summer_degrees", "Warmth in summer, °C", "24", 35),
)
WINTER, SUMMER = 0, 6  # January and July of an example climate
RENTING = (
    Ask("months", "Months until it is outgrown or given up", "24", 240),
    Ask("rent", "Rent a month", "25"),
    Ask("care", "Care plan a month", "5"),
    Ask("credit", "Of 100 of rent, how much counts towards buying", "75", 100),
    Ask("price", "Price to buy one", "900"),
    Ask("service", "Service, strings and hair a year, if bought", "0"),
    Ask("resale", "Of 100 of the price, how much a private sale brings", "45", 100),
    Ask("promise", "Of 100 of the price, how much the shop promises in trade", "100", 100),
)


REPAIRING = (
    Ask("ready", "What it is worth when ready to play", "0", 10_000_000),
    Ask("as_it_is", "What it would bring as it is", "0", 10_000_000),
    Ask("equal", "What its equal costs in a shop (0: not known)", "0", 10_000_000),
    Ask("trade", "What the shop would take off for it in trade", "0", 10_000_000),
)


@dataclass(frozen=True, slots=True)
class Answers:
    """The numbers, what was typed for each, and a sentence for each that is none."""

    values: Mapping[str, float]
    typed: Mapping[str, str]
    wrong: Mapping[str, str]


def answers_to(asks: Sequence[Ask], first: Mapping[str, str] | None = None) -> Answers:
    """What the address says to each question, else what stands there first."""
    values, typed, wrong = {}, {}, {}
    for ask in asks:
        start = (first or {}).get(ask.name, ask.first)
        text = request.args.get(ask.name, start).strip().replace(",", "")[:20]
        typed[ask.name] = text
        if _NUMBER.fullmatch(text) and float(text) <= ask.most:
            values[ask.name] = float(text)
        else:
            wrong[ask.name] = f'"{text}" is not a number from 0 to {ask.most:,.0f}.'
    return Answers(values, typed, wrong)


@owning.get("/evaluations/<identity>/owning")
def cost(identity: str) -> View:
    """Five years' cost by kind, and the next services."""
    kept = kept_or_404(identity)
    snapshot = service().snapshot(kept)
    ready = snapshot["verdict"]["ready_value"]
    usual = _usual(snapshot)
    first = {
        "string_set": f"{usual.string_set:.0f}",
        "rehair": f"{usual.rehair:.0f}",
        "light_service": f"{usual.light_service:.0f}",
        "full_service": f"{usual.full_service:.0f}",
        "reserve": f"{usual.repair_reserve:.0f}",
        "sundries": f"{usual.sundries:.0f}",
    }
    if ready:
        first["value"] = str(round(float(ready["amount"])))
    answers, air = answers_to(OWNING, first), answers_to(AIR)
    found = None if answers.wrong else _ownership(answers.values, usual)
    family = snapshot["instrument"]["family"]
    page = render_template(
        "owning.html",
        kept=kept,
        asks=OWNING,
        answers=answers,
        air_asks=AIR,
        air=air,
        advice=() if air.wrong else air_words(_seasons(family, air.values), family),
        climates=_climates(identity),
        good=GOOD_WORDS,
        rows=_rows(found) if found else [],
        total=found.total if found else None,
        years=YEARS,
        currency=snapshot["plan"]["currency"],
        dates=[] if found is None else [day.isoformat() for day in _dates(answers.values)],
        calendar=url_for("owning.calendar", identity=identity, hours=answers.typed["hours"]),
        every=service().shop,
    )
    return (page, 422) if answers.wrong or air.wrong else page


def _usual(snapshot: Mapping[str, Any]) -> Prices:
    instrument = snapshot["instrument"]
    return usual_prices(
        service().rubric(snapshot["rubric"]["name"]), service().rubric("bow"), service().shop, instrument["tier"]
    )


def _seasons(family: str, given: Mapping[str, float]) -> Seasons:
    winter, summer = (
        Air(given[f"{season}_degrees"], max(given[f"{season}_humidity"], LEAST_HUMIDITY))
        for season in ("winter", "summer")
    )
    return seasons(family, winter, summer)


def _climates(identity: str) -> list[tuple[str, str]]:
    """Example rooms, each as an address that fills in its figures."""
    found = []
    for room in CLIMATES.values():
        figures = {}
        for season, month in (("winter", WINTER), ("summer", SUMMER)):
            figures[f"{season}_humidity"] = f"{room.humidity_percent[month]:g}"
            figures[f"{season}_degrees"] = f"{room.temperature_c[month]:g}"
        given = {name: value for name, value in request.args.items() if name not in figures}
        found.append((room.say, f"{url_for('owning.cost', identity=identity)}?{urlencode({**given, **figures})}#air"))
    return found


def _ownership(given: Mapping[str, float], usual: Prices) -> Ownership:
    prices = Prices(
        given["string_set"],
        given["rehair"],
        given["light_service"],
        given["full_service"],
        given["value"],
        insurance_share=usual.insurance_share,
        repair_reserve=given["reserve"],
        sundries=given["sundries"],
    )
    return cost_of_owning(habits_for(given["hours"] * WEEKS), prices, YEARS)


def _rows(found: Ownership) -> list[tuple[str, float]]:
    return [
        ("Strings", found.strings),
        ("Bow hair", found.rehairs),
        ("Services", found.services),
        ("Insurance", found.insurance),
        ("Set aside for repairs", found.repairs),
        ("Rosin and small things", found.sundries),
    ]


def _dates(given: Mapping[str, float]) -> tuple[date, ...]:
    today = date.fromisoformat(service().now()[:10])
    return service_dates(today, given["hours"] * WEEKS, service().shop, SERVICES)


@owning.get("/evaluations/<identity>/service.calendar")
def calendar(identity: str) -> Response:
    """The next services as a calendar file."""
    kept = kept_or_404(identity)
    answers = answers_to((HOURS,))
    values = answers.values or {"hours": float(HOURS.first)}
    text = calendar_text(_dates(values), _service_title(kept), date.fromisoformat(service().now()[:10]))
    headers = {"Content-Disposition": f'attachment; filename="service-{kept.id}.ics"'}
    return Response(text, mimetype="text/calendar", headers=headers)


def _service_title(kept: Kept) -> str:
    return f"Service: {kept.title or 'the instrument'}"


@owning.get("/evaluations/<identity>/repair-or-replace")
def repair(identity: str) -> View:
    """For its owner: whether the work is worth it, beside buying its equal; the work to make it safe alone."""
    kept = kept_or_404(identity)
    snapshot = service().snapshot(kept)
    verdict, plan = snapshot["verdict"], snapshot["plan"]
    ready = float(verdict["ready_value"]["amount"]) if verdict["ready_value"] else 0.0
    work = snapshot["with_possible_extras"]
    as_it_is = as_found(ready, max(work["p80"], work["mean"]))
    answers = answers_to(REPAIRING, {"ready": f"{ready:.0f}", "as_it_is": f"{as_it_is:.0f}"})
    safe, cost_safe = _make_safe(snapshot)
    given, found = answers.values, None
    if not answers.wrong and given["ready"] > 0:
        equal = given["equal"] or None
        found = repair_or_replace(
            work["mean"],
            given["ready"],
            given["as_it_is"],
            equal,
            given["trade"],
            cost_safe,
        )
    page = render_template(
        "repair.html",
        kept=kept,
        asks=REPAIRING,
        answers=answers,
        found=found,
        work=work["mean"],
        safe=safe,
        currency=plan["currency"],
        opinion=OPINION,
    )
    return (page, 422) if answers.wrong else page


def _make_safe(snapshot: Mapping[str, Any]) -> tuple[list[str], float]:
    """(what has to be done before it is played, what that costs when it is ordered alone)."""
    alone = next((one for one in snapshot.get("ambitions", ()) if one["name"] == "safe"), None)
    if alone is not None:
        return [job["say"] for job in alone["jobs"]], alone["mean"] if alone["jobs"] else 0.0
    lines = [line for line in snapshot["plan"]["lines"] if line["urgency"] == "to_play_safely"]
    return [line["say"] for line in lines], sum(line["mean"] for line in lines)


@owning.get("/rent-or-buy")
def rent() -> View:
    """What renting and buying have cost after so many months, on one rule."""
    answers = answers_to(RENTING, {"service": f"{_learners_year():.0f}"})
    currency = service().shop.currency
    ways = [] if answers.wrong else _ways(answers.values)
    page = render_template(
        "rent_or_buy.html",
        asks=RENTING,
        answers=answers,
        ways=ways,
        figures=_figures(ways),
        currency=currency,
        told=_told(ways, answers.values, currency),
    )
    return (page, 422) if answers.wrong else page


def _learners_year() -> float:
    """What a learner's violin costs to keep for a year at this shop: services, strings and hair."""
    usual = usual_prices(service().rubric("violin"), service().rubric("bow"), service().shop, "student")
    year = cost_of_owning(BY_HOURS[0], usual, 1)
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


def _told(ways: Sequence[tuple[str, float]], given: Mapping[str, Any], currency: str) -> tuple[str, str]:
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
