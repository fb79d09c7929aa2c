"""The figures of a shop by the page on which they are set."""

from collections.abc import Mapping
from dataclasses import dataclass

from ...rubric.rubric import Rubric
from ..service import service
from .fields import Field

SKILLS = {"set_up": "Set-up", "repair": "Repair", "restoration": "Restoration"}
ROUNDING = (("", "Default: to the cent"), ("cent", "To the cent"), ("five_cents", "To five cents"), ("whole", "Whole"))
SHOWN = (("", "Default: without tax"), ("net", "Without tax; tax is added below"), ("gross", "With tax in every price"))
FORMS = (
    ("", "Default: as a paper"),
    ("paper", "As a paper"),
    ("xml", "As a paper that carries the bill as XML too (EN 16931), which a school's or a firm's program can book"),
)
LENGTHS = (("", "Default: millimetres"), ("mm", "Millimetres"), ("in", "Inches, to the thousandth"))
WEIGHTS = (("", "Default: grams"), ("g", "Grams"), ("oz", "Ounces"))
WHO = (
    Field(("shop",), "Name", "text", "As it shall stand on every paper."),
    Field(("address",), "Address", "lines", "One line for each line of a letter."),
    Field(("telephone",), "Telephone", "text"),
    Field(("email",), "E-mail", "text"),
    Field(("country",), "Country", "text", "Two letters, as DE or US. Only a bill as XML asks for it."),
    Field(("tax_number",), "Tax number", "text", "As bills of your place must carry it."),
    Field(("bank_account",), "Bank account", "text", "To which bills are paid: an IBAN, or as your bank writes it."),
)
RATES = (
    *(Field(("rates", skill), f"{say}, an hour", "three") for skill, say in SKILLS.items()),
    Field(("minimum_charge",), "Least charge for an order", "money"),
    Field(("rush_share",), "Haste adds to labour, %", "percent"),
)
DEPOSITS = tuple(
    field
    for place in range(3)
    for field in (
        Field(("deposits", place, "from_total"), f"Deposit {place + 1}: for orders from", "money"),
        Field(("deposits", place, "share"), f"Deposit {place + 1}: share of the total, %", "percent"),
    )
)
TERMS = (
    Field(("currency",), "Currency", "text", "Three letters, as EUR."),
    Field(
        ("exchange",),
        "What one dollar of the built-in lists is in it",
        "number",
        "Asked where the currency is not USD: what is not your own figure is converted by it.",
    ),
    Field(("prices_shown",), "Prices that a customer sees", "choice", choices=SHOWN),
    Field(("tax", "labour"), "Tax on work, %", "percent"),
    Field(("tax", "parts"), "Tax on parts, %", "percent"),
    Field(("rounding",), "Rounding of a total", "choice", choices=ROUNDING),
    *DEPOSITS,
    Field(("units", "length"), "Lengths are shown in", "choice", "Type them in any unit.", LENGTHS),
    Field(("units", "weight"), "Weights are shown in", "choice", choices=WEIGHTS),
    Field(("validity_days",), "A quote holds for, days", "whole"),
    Field(("pay_within_days",), "A bill is paid within, days", "whole"),
    Field(
        ("over_agreed", "share"),
        "A bill may pass what was agreed by, %",
        "percent",
        "Some places allow a tenth, some nothing. Look up the rule of yours; empty is nothing.",
    ),
    Field(("over_agreed", "amount"), "Or by the amount of, if that is more", "money"),
    Field(("exclusions",), "Not part of an offer", "lines", "One to a line."),
    Field(("conditions",), "Your terms, as they stand on every quote", "lines", "One to a line."),
    Field(("bill_number",), "Number of a bill", "text", "As B{year}-{number}: a series of its own that has no gaps."),
    Field(("bill_form",), "How a bill is given", "choice", choices=FORMS),
    Field(
        ("no_tax_because",),
        "Why no tax is charged, where none is",
        "text",
        "In the words that your place asks for; it stands on every bill without tax.",
    ),
    Field(("bill_note",), "A sentence at the foot of every bill", "text", "Thanks, or what your place asks for."),
    Field(("service_every_hours",), "Service falls due after, hours of playing", "number"),
    Field(("service_every_months",), "And after, months", "number"),
)


@dataclass(frozen=True, slots=True)
class Section:
    """One page of figures; `lead` says what they do. Of a `long` one, what is not set is folded away."""

    name: str
    title: str
    lead: str
    fields: tuple[Field, ...]
    long: bool = False


def sections() -> Mapping[str, Section]:
    """Every section by name, in the order of the pages."""
    rubrics = tuple(service().rubric(name) for name in service().families())
    found = (
        Section("who", "Name and address", "These stand at the head of quotes, work orders and bills.", WHO),
        Section("rates", "Rates", "One figure, or the lowest, the likely and the highest.", RATES),
        Section("terms", "Money and terms", "What every quote and bill follows.", TERMS),
        Section(
            "parts", "Parts", "Your own price for a part, for every grade and size of it.", _parts(rubrics), long=True
        ),
        Section(
            "work",
            "Work at a fixed price",
            "Where you ask one price for a job, whatever it takes.",
            _jobs(rubrics),
            long=True,
        ),
        Section("guide", "Price guide", "What instruments sell for at your shop, ready to play.", _guide(rubrics)),
    )
    return {one.name: one for one in found}


def _parts(rubrics: tuple[Rubric, ...]) -> tuple[Field, ...]:
    says = {name: part.say for rubric in rubrics for name, part in rubric.part_prices.items()}
    return tuple(
        Field(("part_prices", name), _capital(say), "three") for name, say in sorted(says.items(), key=_by_say)
    )


def _jobs(rubrics: tuple[Rubric, ...]) -> tuple[Field, ...]:
    says = {name: job.say for rubric in rubrics for name, job in rubric.jobs.items()}
    return tuple(Field(("job_prices", name), say, "three") for name, say in sorted(says.items(), key=_by_say))


def _guide(rubrics: tuple[Rubric, ...]) -> tuple[Field, ...]:
    return tuple(
        Field(("guide", "prices", rubric.family, name), f"{_capital(rubric.family)}: {made.say}", "three")
        for rubric in rubrics
        for name, made in rubric.classes.items()
    )


def _by_say(item: tuple[str, str]) -> str:
    return item[1].lower()


def _capital(text: str) -> str:
    return text[:1].upper() + text[1:]
