"""The shop file: rates, prices, taxes, margins and opinions of one workshop over the defaults.

Money is kept as text that becomes Decimal; three-point rates are plain numbers because they feed draws, not charges.
"""

from decimal import Decimal
from typing import Annotated, Literal, Self, get_args

from pydantic import Field, PrivateAttr, StrictBool, StringConstraints, model_validator

from ..basis.units import ShownUnits
from ..lutherie.seasons.care import SERVICE_HOURS, SERVICE_MONTHS
from .guide import Guide
from .written.kinds import Family, Id, NotNegative, Positive, Share, Skill, Text, ThreePoint, Written

Currency = Annotated[str, StringConstraints(pattern=r"^[A-Z]{3}$")]
Amount = Annotated[Decimal, Field(ge=0, max_digits=12, decimal_places=2)]


class Tax(Written):
    """Rates as shares (0.08, not 8) by class; rounding is once an invoice."""

    labour: Annotated[float, Field(strict=True, ge=0, lt=1)] = 0.0
    parts: Annotated[float, Field(strict=True, ge=0, lt=1)] = 0.0
    say: Text | None = None


class Units(Written):
    """The units in which readings and limits stand on pages and papers."""

    length: Literal["mm", "in"] = "mm"
    weight: Literal["g", "oz"] = "g"

    @property
    def shown(self) -> ShownUnits:
        return ShownUnits(self.length, self.weight)


class Deposit(Written):
    from_total: Amount
    share: Share


Country = Annotated[str, StringConstraints(pattern=r"^[A-Z]{2}$")]
BillNumber = Annotated[str, StringConstraints(pattern=r"^[A-Za-z0-9 ._/-]*(\{year\})?[A-Za-z0-9 ._/-]*\{number\}$")]


class OverAgreed(Written):
    """By how much a bill may pass what was agreed without asking again: the larger of the two. Some places set a limit;
    none here.
    """

    share: Share = 0.0
    amount: Amount = Decimal(0)


class Buying(Written):
    """What a shop must recover on what it takes in."""

    sale_share_of_ticket: Share = 0.95
    margin: Share = 0.40
    holding: Share = 0.10
    bench_cost_per_hour: Positive = 50.0
    parts_cost_share: Share = 0.55
    share_of_new_margin: Share = 0.15
    commission: Share = 0.20
    chance_of_sale: Share = 0.75


SaleKind = Literal["dealer_sale", "private_sale", "auction", "listing"]
# From memory, each to be replaced by the shop's own records.
LEVEL: dict[SaleKind, float] = {"dealer_sale": 1.0, "private_sale": 1.25, "auction": 1.65, "listing": 0.92}
TRUST: dict[SaleKind, float] = {"dealer_sale": 1.0, "private_sale": 0.9, "auction": 0.8, "listing": 0.5}
RESERVE: dict[Family, float] = {"violin": 40.0, "viola": 40.0, "cello": 60.0, "bow": 20.0}
SUNDRIES: dict[Family, float] = {"violin": 20.0, "viola": 20.0, "cello": 20.0, "bow": 10.0}


class KnownSales(Written):
    """How the shop reads known sales: fewest to go by, oldest that counts, and what brings each kind to its own level.

    `level`: factor from each kind of sale to what this shop asks, ready to play; `trust`: weight of each kind. From
    memory.
    """

    fewest: Annotated[int, Field(strict=True, ge=1, le=50)] = 3
    oldest_years: Positive = 10.0
    yearly_change: Annotated[float, Field(ge=-0.2, le=0.5)] = 0.02
    level: dict[SaleKind, Positive] = Field(default_factory=LEVEL.copy)
    trust: dict[SaleKind, Positive] = Field(default_factory=TRUST.copy)

    @model_validator(mode="after")
    def every_kind_of_sale(self) -> Self:
        missing = sorted(set(get_args(SaleKind)) - (set(self.level) & set(self.trust)))
        if missing:
            raise ValueError(f"level and trust need a figure for {', '.join(missing)}")
        return self


class Keeping(Written):
    """What keeping an instrument costs an owner, where the catalogue of work has no price for it; amounts are a year's.

    `string_set`, `rehair`, `light_service` and `full_service` take the place of the catalogue's prices.
    """

    string_set: dict[Family, NotNegative] = Field(default_factory=dict)
    rehair: NotNegative | None = None
    light_service: dict[Family, NotNegative] = Field(default_factory=dict)
    full_service: dict[Family, NotNegative] = Field(default_factory=dict)
    insurance_share: Share = 0.008
    reserve: dict[Family, NotNegative] = Field(default_factory=RESERVE.copy)
    sundries: dict[Family, NotNegative] = Field(default_factory=SUNDRIES.copy)


class Shop(Written):
    """A workshop's own figures. `is_default` marks the built-in guesses that a workshop replaces.

    A price in `job_prices` takes the place of the job's hours and parts; shared labour is charged beside it, once.
    `service_every_months` is for who plays daily or does not say; nobody's comes later than `service_at_latest_months`.
    `part_prices` hold for every grade and family. `family_factor` multiplies labour beside each job's own factor.
    `exchange`: what one unit of the money of the built-in lists is in this shop's. `prices_shown`: with tax (gross) or
    without (net), on every page and paper of a customer. `over_agreed`: by how much a bill may pass what was agreed.
    `bill_form`: whether a bill on paper carries itself as XML too (EN 16931), which asks for `country` and the like.
    """

    shop: Text
    address: tuple[Text, ...] = ()
    telephone: Text | None = None
    email: Text | None = None
    country: Country | None = None
    tax_number: Text | None = None
    bank_account: Text | None = None
    version: str = "1"
    is_default: StrictBool = False
    currency: Currency = "USD"
    exchange: Positive = 1.0
    prices_shown: Literal["net", "gross"] = "net"
    units: Units = Units.model_construct()
    rates: dict[Skill, ThreePoint]
    job_prices: dict[Id, ThreePoint] = Field(default_factory=dict)
    part_prices: dict[Id, ThreePoint] = Field(default_factory=dict)
    family_factor: dict[Family, Positive] = Field(default_factory=dict)
    minimum_charge: Amount = Decimal(0)
    rush_share: Share = 0.25
    labour_correlation: Share = 0.3
    tax: Tax = Tax.model_construct()
    rounding: Literal["cent", "five_cents", "whole"] = "cent"
    deposits: tuple[Deposit, ...] = ()
    validity_days: Annotated[int, Field(strict=True, ge=1, le=365)] = 30
    pay_within_days: Annotated[int, Field(strict=True, ge=0, le=365)] = 14
    over_agreed: OverAgreed = OverAgreed.model_construct()
    bill_note: Text | None = None
    bill_number: BillNumber = "B{year}-{number}"
    bill_form: Literal["paper", "xml"] = "paper"
    no_tax_because: Text | None = None
    service_every_hours: Positive = SERVICE_HOURS
    service_every_months: Positive = float(SERVICE_MONTHS)
    service_at_latest_months: Positive = 12.0
    private_share_of_ready_value: Share = 0.80
    money_with_luthier_counts: Positive = 2.0
    guide: Guide = Guide.model_construct()
    buying: Buying = Buying.model_construct()
    sales: KnownSales = KnownSales.model_construct()
    keeping: Keeping = Keeping.model_construct()
    exclusions: tuple[Text, ...] = ()
    conditions: tuple[Text, ...] = ()
    sources: tuple[Text, ...] = ()
    notes: tuple[Text, ...] = ()
    _borrowed: tuple[str, ...] = PrivateAttr(default=())

    def __hash__(self) -> int:
        """By itself, as a rubric: what is worked out for a shop once is kept for it."""
        return id(self)

    @property
    def borrowed(self) -> tuple[str, ...]:
        """Names of the figures that the shop did not set itself ("rates.repair", "guide"); none for the default shop,
        whose figures are all from memory.
        """
        return self._borrowed

    def with_borrowed(self, names: tuple[str, ...]) -> Self:
        """The same figures, with those of these names told to be the default's."""
        found = self.model_copy()
        found._borrowed = names
        return found

    @model_validator(mode="after")
    def every_skill_has_a_rate(self) -> Self:
        missing = {"set_up", "repair", "restoration"} - set(self.rates)
        if missing:
            raise ValueError(f"no rate for {', '.join(sorted(missing))}")
        return self
