"""The commands that decide between ways: `compare` two to six candidates, and `trade-in` of one.

Reading files and telling mistakes is in `cli_input`.
"""

import sys
from collections.abc import Mapping, Sequence
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING

import click

from ..basis.problem import Problem
from .files import (
    MistakesError,
    Sales,
    emit,
    evaluation_of,
    fail,
    json_option,
    leave_out_option,
    overlay_option,
    sales_option,
    seed_option,
    shop_from,
    shop_option,
)

if TYPE_CHECKING:
    from ..choosing.entrants import Entrant
    from ..choosing.trade_in import Materials
    from ..result.evaluation import Evaluation

PROTECTED: "dict[str, Materials]" = {
    "none": "none",
    "documented": "allowed",
    "unknown": "unknown",
    "forbidden": "not_allowed",
}
pdf_option = click.option("-o", "--output", metavar="OUT.pdf", help="Write the paper too (- for standard output).")
paper_option = click.option("--paper", type=click.Choice(["A4", "Letter"]), default="A4", show_default=True)


def _named(files: Sequence[str], evaluations: "Sequence[Evaluation]") -> "list[Entrant]":
    """Each evaluation by its title, else by the name of its file."""
    from ..choosing.entrants import entrant_of

    return [entrant_of(one.case.title or Path(file).stem, one) for file, one in zip(files, evaluations, strict=True)]


def today() -> str:
    """The date of a paper that is written now, as an ISO date."""
    return date.today().isoformat()


def _write_pdf(content: bytes, output: str) -> None:

    try:
        if output == "-":
            sys.stdout.buffer.write(content)
            return
        Path(output).write_bytes(content)
    except OSError as error:
        fail("file.unwritable", output, f"cannot be written: {error.strerror}.", "Choose another place for the PDF.")
    click.echo(f"Wrote {output}", err=True)


def _tell(result: dict[str, object], words: str, as_json: bool, output: str | None) -> None:
    """JSON or words on standard output; neither where the paper goes there."""

    if output == "-":
        return
    if as_json:
        emit(result)
    else:
        click.echo(words)


@click.command()
@click.argument("files", nargs=-1, required=True, metavar="FILE FILE...")
@click.option("--set-up-counts-once", is_flag=True, help="Count money spent on set-up once, not as the shop file says.")
@pdf_option
@paper_option
@json_option
@shop_option
@overlay_option
@seed_option
@sales_option
@leave_out_option
def compare(
    files: tuple[str, ...],
    set_up_counts_once: bool,
    output: str | None,
    paper: str,
    as_json: bool,
    shop: str | None,
    overlay: tuple[str, ...],
    seed: int,
    sales: str | None,
    leave_out_moved: bool,
) -> None:
    """Put two to six evaluation FILEs side by side: what each costs to own at its standard, and how good it is then."""
    from ..wording.choosing.comparison import comparison_json, comparison_told
    from ..wording.decisions import comparison_words

    if not 2 <= len(files) <= 6:
        fail("compare.count", "comparison", f"{len(files)} files were given.", "Compare two to six.")
    if files.count("-") > 1:
        fail("file.unreadable", "-", "standard input can be read only once.", "Give paths for the others.")
    evaluations = [evaluation_of(file, shop, seed, overlay, Sales(sales, leave_out_moved)) for file in files]
    named = _named(files, evaluations)
    result = comparison_json(named, shop_from(shop), seed, count_set_up_more=not set_up_counts_once)
    if isinstance(result, tuple):
        raise MistakesError(result)
    if output:
        from ..papers.decision_story import comparison_paper
        from ..papers.printing.pdf import draw

        _write_pdf(draw(comparison_paper(result, today()), paper), output)
    _tell(comparison_told(result), comparison_words(result), as_json, output)


def _prices(typed: Mapping[str, str | None], currency: str) -> dict[str, float]:
    """The prices that were given, by option; how one was read is said on standard error where that is open to doubt."""
    from ..basis.typed.kinds import Wanted, note, understand

    wanted = Wanted("money", most=1e9, currency=currency)
    found, wrong = {}, []
    for name, text in typed.items():
        read = understand(text, wanted, name) if text else None
        if isinstance(read, Problem):
            wrong.append(read)
        elif read is not None:
            found[name] = read.value
            if said := note(text or "", read, "money"):
                click.echo(f"{name}: {said}.", err=True)
    if wrong:
        raise MistakesError(wrong)
    return found


@click.command("trade-in")
@click.argument("file")
@click.option(
    "--protected",
    type=click.Choice(list(PROTECTED)),
    help="Ivory, tortoiseshell, whalebone or a protected wood on it: none, documented, unknown or forbidden here. "
    "[default: what the evaluation says, else unknown]",
)
@click.option("--owner-shown/--owner-not-shown", default=False, help="Whose it is was shown, and is noted.")
@click.option(
    "--identity-shown/--identity-not-shown",
    default=None,
    help="Who offers it has shown a document, and that is noted. [default: as --owner-shown]",
)
@click.option("--ticket", metavar="PRICE", help="What it would be marked at when ready. [default: the ready value]")
@click.option("--new-price", metavar="PRICE", help="The price of the instrument that is bought with it.")
@pdf_option
@paper_option
@json_option
@shop_option
@overlay_option
@seed_option
@sales_option
@leave_out_option
def trade_in(
    file: str,
    protected: str | None,
    owner_shown: bool,
    identity_shown: bool | None,
    ticket: str | None,
    new_price: str | None,
    output: str | None,
    paper: str,
    as_json: bool,
    shop: str | None,
    overlay: tuple[str, ...],
    seed: int,
    sales: str | None,
    leave_out_moved: bool,
) -> None:
    """What a shop can give for the instrument in FILE: cash, in trade, on consignment; and what its owner can do alone.

    No figure is named before it is settled whether it may be dealt in, and whose it is: --protected, --owner-shown.
    """
    from ..choosing.offers import Asked, materials_seen
    from ..choosing.trade_in import Answers
    from ..result.making.result import result_of
    from ..wording.choosing.trade_in import trade_in_json, trade_in_told
    from ..wording.decisions import trade_in_words

    one = evaluation_of(file, shop, seed, overlay, Sales(sales, leave_out_moved))
    materials = materials_seen(one.rubric, one.case) if protected is None else PROTECTED[protected]
    identity = owner_shown if identity_shown is None else identity_shown
    prices = _prices({"--ticket": ticket, "--new-price": new_price}, one.shop.currency)
    asked = Asked(Answers(materials, owner_shown, identity), prices.get("--new-price", 0.0), prices.get("--ticket"))
    result = trade_in_json(result_of(one), one.shop, asked)
    if isinstance(result, tuple):
        raise MistakesError(result)
    if output:
        from ..papers.decision_story import trade_in_paper
        from ..papers.printing.pdf import draw

        _write_pdf(draw(trade_in_paper(result, today()), paper), output)
    _tell(trade_in_told(result), trade_in_words(result), as_json, output)
