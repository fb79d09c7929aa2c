"""The planned work in the customer's money: one rule for every page and paper that tells of it.

Lines and possible extras stand as the shop shows its prices, with tax (gross) or without (net). What comes to a sum
(all of the work, a level, a step of the budget) is with tax, since that is what is paid. Estimates bear the tax of the
planned work, so that they stand beside the total in the same money.
"""

from dataclasses import replace
from decimal import Decimal

from ...result.model.result import Result
from ...result.model.work import Ambition, Budget, Invoice, Line


def paid(result: Result) -> tuple[float, float]:
    """What the planned work comes to, and what four of five such orders stay under, both with tax."""
    bill = result.plan.invoice
    return (float(bill.total), float(bill.up_to)) if bill else (result.plan.mean, result.plan.p80)


def is_taxed(result: Result) -> bool:
    bill = result.plan.invoice
    return bill is not None and any(tax for _, _, tax in taxes(bill))


def is_gross(result: Result) -> bool:
    """Whether each line has its tax in it."""
    bill = result.plan.invoice
    return bill is not None and bill.prices == "gross"


def taxes(bill: Invoice) -> tuple[tuple[str, float, Decimal], ...]:
    """(what is taxed in words, share 0..1, amount)."""
    return (
        ("Tax on work", bill.labour_tax_share, bill.labour_tax),
        ("Tax on parts", bill.parts_tax_share, bill.parts_tax),
    )


def taxed(result: Result, amount: float) -> float:
    """A sum before tax with the tax that the planned work bears; as it is where no invoice was reckoned."""
    bill = result.plan.invoice
    if bill is None:
        return amount
    net, tax = (
        sum(map(float, sums)) for sums in ((bill.labour, bill.parts, bill.minimum), (bill.labour_tax, bill.parts_tax))
    )
    return amount * (1.0 + tax / net) if net else amount


def shown_span(result: Result, line: Line) -> tuple[float, float]:
    """From the lowest to the highest price of a line, as the shop shows its price."""
    by = float(line.price) / line.mean if is_gross(result) and line.price is not None and line.mean else 1.0
    return line.low * by, line.high * by


def shown_extra(result: Result, amount: float) -> float:
    """What could come on top, as the shop shows its prices; the dearer tax where work and parts differ."""
    bill = result.plan.invoice
    if bill is None or bill.prices == "net":
        return amount
    return amount * (1.0 + max(bill.labour_tax_share, bill.parts_tax_share))


def level_price(result: Result, level: Ambition) -> tuple[float, float, float]:
    """(low, about, high) of one level, with tax; to the cent that of the plan where it is the same work."""
    same = {job.job for job in level.jobs} == {line.job for line in result.plan.lines if not line.shared}
    about = paid(result)[0] if same else taxed(result, level.mean)
    return taxed(result, level.low), about, taxed(result, level.high)


def budget_paid(result: Result) -> Budget | None:
    """The budget curve with what each step comes to, with tax; None where no curve was kept."""
    found = result.budget
    if found is None:
        return None
    return replace(found, steps=tuple(replace(step, cost=taxed(result, step.cost)) for step in found.steps))
