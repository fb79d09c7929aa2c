"""`rubric guide`: a shop's own price guide by class, fitted from its sales, beside the one that it has."""

from collections.abc import Sequence
from datetime import date
from typing import TYPE_CHECKING

import click

from ..store.folders import rubrics_folder
from .files import MistakesError, read_bytes, rubric_named, shop_from, shop_option

if TYPE_CHECKING:
    from ..rubric.shop import Shop
    from ..valuation.evidence.guide_fit import Figure, FittedGuide
    from ..valuation.sales.comparables import Comparable


@click.command("guide")
@click.option("--sales", metavar="FILE", required=True, help="The shop's known sales: CSV, XLSX or ODS.")
@click.option("--yaml", "as_yaml", is_flag=True, help="Print it as it goes into a shop file.")
@click.option(
    "--fewest", type=click.IntRange(1, 1000), default=3, show_default=True, help="Sales that a class needs for --yaml."
)
@shop_option
def guide(sales: str, as_yaml: bool, fewest: int, shop: str | None) -> None:
    """Fit the price guide of each class to known SALES, and show it beside the one that counts now.

    Nothing is changed: put what you agree with into your shop file.
    """
    from ..rubric.files.shop_file import first_guide
    from ..valuation.evidence.guide_fit import adopted, fitted_guide

    own = shop_from(shop)
    known, first = _sales(sales, own), first_guide(own, rubrics_folder() / "shop.yaml")
    fitted = [fitted_guide(known, family, first, own, date.today()) for family in first.prices]
    found = [one for one in fitted if one is not None and (one.count or one.unclear)]
    if as_yaml:
        import yaml

        click.echo(yaml.safe_dump({"guide": {"prices": adopted(found, fewest)}}, sort_keys=False).rstrip())
        return
    for one in found:
        click.echo("\n".join(_told(one, own)))
    if not found:
        click.echo("None of the sales is of a family that has a guide.")


def _sales(path: str, shop: "Shop") -> "Sequence[Comparable]":
    from ..rubric.files.load import family_names
    from ..valuation.sales.sales_file import read_sales

    content, name = read_bytes(path)
    sizes = {family: rubric_named(family).sizes for family in family_names(rubrics_folder())}
    found, problems = read_sales(content, name, shop.currency, date.today(), sizes)
    if problems:
        raise MistakesError(problems)
    return found


def _told(fitted: "FittedGuide", shop: "Shop") -> Sequence[str]:
    says = {name: one.say for name, one in rubric_named(fitted.family).classes.items()}
    unclear = f", {fitted.unclear} more do not say what they were made as" if fitted.unclear else ""
    lines = [f"{fitted.family}, in {shop.currency}: {_sales_counted(fitted.count)}{unclear}"]
    for one in fitted.classes:
        now = shop.guide.prices.get(fitted.family, {}).get(one.making)
        old = "none" if now is None else f"{now.likely:,.0f} ({now.low:,.0f} to {now.high:,.0f})"
        new = f"{one.likely.value:,.0f} ({one.low.value:,.0f} to {one.high.value:,.0f})"
        lines.append(f"  {says.get(one.making, one.making)}: now {old}; by {_sales_counted(one.count)} {new}")
        lines.append(f"    the likely price lies between {_range(one.likely)}")
        if one.far:
            lines.append(f"    {_sales_counted(one.far)} too far from the others to count")
    return lines


def _range(figure: "Figure") -> str:
    return f"{figure.low:,.0f} and {figure.high:,.0f}"


def _sales_counted(count: int) -> str:
    return f"{count} sale{'' if count == 1 else 's'}"
