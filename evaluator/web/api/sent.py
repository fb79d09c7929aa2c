"""What programs send: shapes and bounds of bodies and queries. What a value means is read by the readers of files."""

from typing import Annotated, Literal

from pydantic import BaseModel, ConfigDict, Field, FiniteFloat, StringConstraints

from ...assessment.model import Purpose
from ...rubric.shop import SaleKind
from ...rubric.written.kinds import Age, Channel, Looker, StringType, Style, Tier

Word = Annotated[str, StringConstraints(max_length=60)]
Short = Annotated[str, StringConstraints(max_length=120)]
Text = Annotated[str, StringConstraints(max_length=400)]
Note = Annotated[str, StringConstraints(max_length=2000)]
Amount = Annotated[str, StringConstraints(max_length=40), Field(description="An amount as text, as 780.00")]
Currency = Annotated[str, StringConstraints(pattern=r"^[A-Z]{3}$"), Field(description="ISO 4217")]
Version = Annotated[int, Field(ge=1, le=2**31 - 1, description="The version that the request was made on")]
Materials = Literal["none", "allowed", "unknown", "not_allowed"]
Reading = Annotated[str, StringConstraints(max_length=120)] | FiniteFloat


class Sent(BaseModel):
    """Base of all: unknown keys are refused, nothing is turned into another type."""

    model_config = ConfigDict(frozen=True, extra="forbid")


class Price(Sent):
    amount: Amount | FiniteFloat
    currency: Currency = "USD"


class InstrumentSent(Sent):
    """The instrument. `size` is one of its family."""

    size: Word | None = None
    style: Style | None = None
    tier: Tier | None = None
    about: Text | None = None
    year: Annotated[int, Field(ge=1500, le=2100)] | None = None
    age: Age | None = None
    strings: StringType | None = None


class Observation(Sent):
    """One answer to a check: an outcome, or one reading or several, with the tool, how it was seen, and a note."""

    outcome: Word | None = None
    reading: Reading | Annotated[tuple[Reading, ...], Field(max_length=20)] | None = None
    tool: Word | None = None
    seen_by: Channel | None = None
    note: Note | None = None
    by: Annotated[str, StringConstraints(max_length=80)] | None = None
    at: Annotated[str, StringConstraints(max_length=40)] | None = None


Answer = Word | FiniteFloat | Observation
Answers = Annotated[dict[Word, Answer | Annotated[tuple[Answer, ...], Field(max_length=20)]], Field(max_length=400)]


class EvaluationFile(Sent):
    """An evaluation, as in a file of the command line (format 1)."""

    format: Literal[1] = 1
    rubric: Word
    title: Text | None = None
    instrument: InstrumentSent | None = None
    purpose: Purpose | None = None
    asking: Price | None = None
    ready_value: Price | None = None
    seen_by: Channel | None = None
    looker: Looker | None = None
    observations: Answers | None = None


class AnswersSent(Sent):
    """Answers by check; null takes an answer away. Other checks stay as they are."""

    version: Version
    answers: Annotated[dict[Word, Answer | None], Field(max_length=400)]


class VersionSent(Sent):
    version: Version


class QuoteWanted(Sent):
    """`about`: for whom, or which job; `own_hours`: at the hours that one's own work took."""

    about: Annotated[str, StringConstraints(max_length=200)] = ""
    in_haste: bool = False
    own_hours: bool = False


class OfferWanted(Sent):
    """What must be settled before any figure; `ticket`: what it would be marked at when ready, `new_price`: of what is
    bought with it; both in the shop's money.
    """

    materials: Materials
    owner_noted: bool
    identity_noted: bool
    ticket: Amount | None = None
    new_price: Amount | None = None


class SaleSent(Sent):
    """A known sale, under the names of the list."""

    name: Text
    sold_on: Annotated[str, StringConstraints(max_length=40), Field(description="A day, as 2026-03-31")]
    kind: SaleKind
    price: Amount
    currency: Currency
    family: Literal["violin", "viola", "cello", "bow"]
    size: Word
    tier: Tier
    extras: Amount | None = None
    grade: Annotated[float, Field(ge=0.2, le=5, allow_inf_nan=False)] | None = None
    retention: Annotated[float, Field(ge=0.01, le=1, allow_inf_nan=False)] | None = None
    set_up: Amount | None = None
    made: Annotated[float, Field(ge=0, le=100, allow_inf_nan=False)] | None = None
    making: Literal["outfit", "factory", "workshop", "fine_workshop", "maker"] | None = None
    note: Text | None = None


class SalesSent(Sent):
    """Sales for the book: all of them go in, or none."""

    sales: Annotated[tuple[SaleSent, ...], Field(min_length=1, max_length=500)]


class Page(Sent):
    """How many, and from which on."""

    limit: Annotated[int, Field(ge=1, le=200)] = 50


class PaperWanted(Sent):
    for_: Annotated[Literal["buyer", "shop", "customer"], Field(alias="for")] = "buyer"
    paper: Literal["A4", "Letter"] = "A4"


class SizeWanted(Sent):
    paper: Literal["A4", "Letter"] = "A4"
