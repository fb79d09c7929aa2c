"""Rent or buy, for a child that grows: what each has cost in the end, by the terms of the plan at hand."""

from dataclasses import dataclass


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
