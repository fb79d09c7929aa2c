"""What it costs to own: strings, hair, service, insurance and a reserve, by hours of playing; when service is due; and
what renting has cost against buying, for a child that grows, by the terms of the plan at hand.

What is worn out by hours of playing stands in rubrics/owning.yaml, the prices and the interval of services in the
shop's file.
"""

from dataclasses import dataclass
from datetime import date, timedelta
from itertools import pairwise

from ..estimate.price import PriceList, price_list
from ..rubric.knowledge import Habits, Wear
from ..rubric.rubric import Rubric
from ..rubric.shop import Shop
from ..rubric.written.kinds import Tier

DAYS_A_MONTH = 365.25 / 12
STRINGS, REHAIR, LIGHT, FULL = "strings_set", "bow_rehair", "maintenance_visit_light", "maintenance_visit_heavy"


@dataclass(frozen=True, slots=True)
class Prices:
    """Prices of one of each; insurance is a share of `value` a year; reserve and sundries are a year's."""

    string_set: float
    rehair: float
    light_service: float
    full_service: float
    value: float
    insurance_share: float = 0.008
    repair_reserve: float = 0.0
    sundries: float = 0.0


@dataclass(frozen=True, slots=True)
class Ownership:
    """Cost over the years by kind; the purchase price is not in it."""

    years: float
    strings: float
    rehairs: float
    services: float
    insurance: float
    repairs: float
    sundries: float

    @property
    def total(self) -> float:
        return self.strings + self.rehairs + self.services + self.insurance + self.repairs + self.sundries


def usual_prices(rubric: Rubric, bow: Rubric, shop: Shop, wear: Wear, tier: Tier, value: float = 0.0) -> Prices:
    """What this shop charges: its own figures for keeping first, then its catalogue of work; 0 for what it has not.

    `bow`: the rubric of bows, which a rehair is priced by. Strings are of the grade that suits the standard, fitted.
    """
    keeping, family = shop.keeping, rubric.family
    works = price_list(rubric, shop)

    def price(own: float | None, prices: PriceList, job: str) -> float:
        return own if own is not None else _with_what_comes(prices, job)

    return Prices(
        string_set=price(keeping.string_set.get(family), price_list(rubric, shop, wear.strings[tier]), STRINGS),
        rehair=price(keeping.rehair, price_list(bow, shop), REHAIR),
        light_service=price(keeping.light_service.get(family), works, LIGHT),
        full_service=price(keeping.full_service.get(family), works, FULL),
        value=value,
        insurance_share=keeping.insurance_share,
        repair_reserve=keeping.reserve.get(family, 0.0),
        sundries=keeping.sundries.get(family, 0.0),
    )


def _with_what_comes(prices: PriceList, name: str) -> float:
    """Mean price of a job with the work that it brings, by its chance; strings are counted by themselves."""
    jobs = prices.rubric.jobs
    if name not in jobs:
        return 0.0
    alone = prices.job(name)
    more = 0.0
    for force in jobs[name].forces:
        any_of = [one for one in (force.job, *force.one_of) if one is not None and one in jobs and one != STRINGS]
        prices_of = [found.whole.mean for one in any_of if (found := prices.job(one)) is not None]
        more += force.chance * min(prices_of, default=0.0)
    return 0.0 if alone is None else alone.whole.mean + more


def habits_for(hours: float, wear: Wear) -> Habits:
    """Habits at so many playing hours a year: between the known ones in straight lines, beyond them as at the end."""
    known = wear.years
    if hours <= known[0].hours:
        return known[0]
    for below, above in pairwise(known):
        if hours <= above.hours:
            share = (hours - below.hours) / (above.hours - below.hours)

            def between(fewer: float, more: float, share: float = share) -> float:
                return fewer + share * (more - fewer)

            return Habits(
                hours=hours,
                string_sets=between(below.string_sets, above.string_sets),
                rehairs=between(below.rehairs, above.rehairs),
                light_services=between(below.light_services, above.light_services),
                full_services=between(below.full_services, above.full_services),
            )
    return known[-1]


def cost_of_owning(habits: Habits, prices: Prices, years: float = 5.0) -> Ownership:
    """What the habits cost over the years at today's prices."""
    services = habits.light_services * prices.light_service + habits.full_services * prices.full_service
    return Ownership(
        years=years,
        strings=years * habits.string_sets * prices.string_set,
        rehairs=years * habits.rehairs * prices.rehair,
        services=years * services,
        insurance=years * prices.insurance_share * prices.value,
        repairs=years * prices.repair_reserve,
        sundries=years * prices.sundries,
    )


def service_dates(first: date, hours_a_year: float, shop: Shop, count: int = 4) -> tuple[date, ...]:
    """The next services after `first`: by playing hours, at the latest after a year; by months where none are known."""
    if hours_a_year > 0:
        by_hours = shop.service_every_hours / hours_a_year * 365.25
        days = min(by_hours, shop.service_at_latest_months * DAYS_A_MONTH)
    else:
        days = shop.service_every_months * DAYS_A_MONTH
    return tuple(first + timedelta(days=round(days * number)) for number in range(1, count + 1))


def calendar_text(dates: tuple[date, ...], title: str, stamp: date) -> str:
    """The dates as an iCalendar file (RFC 5545): all-day events; `stamp` is the day it was made."""
    lines = ["BEGIN:VCALENDAR", "VERSION:2.0", "PRODID:-//bowed evaluator//service//EN"]
    for number, day in enumerate(dates, start=1):
        lines += [
            "BEGIN:VEVENT",
            f"UID:service-{stamp:%Y%m%d}-{number}-{day:%Y%m%d}@bowed-evaluator",
            f"DTSTAMP:{stamp:%Y%m%d}T000000Z",
            f"DTSTART;VALUE=DATE:{day:%Y%m%d}",
            f"SUMMARY:{_escaped(title)}",
            "END:VEVENT",
        ]
    return "".join(part + "\r\n" for line in [*lines, "END:VCALENDAR"] for part in _folded(line))


def _escaped(text: str) -> str:
    safe = text.replace("\\", "\\\\").replace(";", "\\;").replace(",", "\\,")
    return safe.replace("\r", "").replace("\n", "\\n")


def _folded(line: str) -> list[str]:
    """Lines of at most 75 octets; what follows begins with a space."""
    found, current = [], ""
    for sign in line:
        if len((current + sign).encode()) > 74:
            found.append(current)
            current = " "
        current += sign
    return [*found, current]


@dataclass(frozen=True, slots=True)
class RentTerms:
    """A month's rent and care plan; the share of the rent that counts towards a purchase, and limits on that credit."""

    rent: float
    care: float = 0.0
    credit_share: float = 0.0
    credit_months_at_most: int | None = None
    credit_share_of_purchase_at_most: float | None = None


@dataclass(frozen=True, slots=True)
class BuyTerms:
    """Price, service a year, and what it brings back: the private resale share, and the shop's trade-in promise."""

    price: float
    service_a_year: float = 0.0
    resale_share: float = 0.0
    trade_in_share: float = 0.0
    trade_in_fee: float = 0.0


@dataclass(frozen=True, slots=True)
class RentOrBuy:
    """After so many months. `rent_if_credit_used` is the rent less the credit; a credit never used is worth nothing."""

    months: int
    rent_paid: float
    credit: float
    rent_if_credit_used: float
    buy_and_sell: float
    buy_and_trade_in: float

    @property
    def cheapest(self) -> str:
        ways = {
            "rent": self.rent_paid,
            "rent, and use the credit": self.rent_if_credit_used,
            "buy, and sell it yourself": self.buy_and_sell,
            "buy, and trade it in": self.buy_and_trade_in,
        }
        return min(ways, key=lambda way: ways[way])


def rent_or_buy(months: int, rent: RentTerms, buy: BuyTerms, next_purchase: float | None = None) -> RentOrBuy:
    """What renting and buying have cost after so many months (0 or more)."""
    paid = months * (rent.rent + rent.care)
    counted = months if rent.credit_months_at_most is None else min(months, rent.credit_months_at_most)
    credit = rent.credit_share * rent.rent * counted
    if rent.credit_share_of_purchase_at_most is not None and next_purchase is not None:
        credit = min(credit, rent.credit_share_of_purchase_at_most * next_purchase)
    spent = buy.price + buy.service_a_year * months / 12.0
    back = buy.trade_in_share * buy.price - (buy.trade_in_fee if buy.trade_in_share > 0 else 0.0)
    return RentOrBuy(months, paid, credit, paid - credit, spent - buy.resale_share * buy.price, spent - back)
