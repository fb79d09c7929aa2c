"""The commands that judge: `score` and `report`, of one instrument or of a fleet.

A fleet goes on past what cannot be read, and lists it at the end.
"""

import os
import sys
from collections.abc import Callable
from datetime import datetime
from pathlib import Path
from typing import TypeVar

import click

from ..papers.readers import TITLES
from ..wording.phrases import undrawn
from .files import (
    Sales,
    emit,
    evaluation_of,
    fail,
    json_option,
    leave_out_option,
    overlay_option,
    result_from,
    sales_option,
    seed_option,
    shop_option,
)
from .fleet import Spread, papers_of, table_of

Command = TypeVar("Command", bound=Callable[..., object])


def fleet_options(command: Command) -> Command:
    """How a fleet is spread: `--workers` on this computer, or `--cluster`."""
    for option in (
        click.option(
            "--cluster", metavar="ADDRESS", help="Judge on the Dask cluster at this address, as tcp://HOST:8786."
        ),
        click.option("--workers", type=click.IntRange(1, 256), help="Processes on this computer. [default: its cores]"),
    ):
        command = option(command)
    return command


def is_fleet(files: tuple[str, ...]) -> bool:
    """Whether more than one instrument may be meant: several files, a folder, a sheet or an archive."""
    return len(files) > 1 or os.path.isdir(files[0]) or files[0].lower().endswith((".zip", ".csv", ".xlsx", ".ods"))


@click.command()
@click.argument("files", nargs=-1, required=True, metavar="FILE|FOLDER...")
@json_option
@click.option("--csv", "csv_out", metavar="OUT.csv", help="Write a line an instrument (- for standard output).")
@fleet_options
@shop_option
@overlay_option
@seed_option
@sales_option
@leave_out_option
@click.option("--why", is_flag=True, help="Print, as JSON, what every figure follows from; with --json under its key.")
def score(
    files: tuple[str, ...],
    as_json: bool,
    csv_out: str | None,
    workers: int | None,
    cluster: str | None,
    shop: str | None,
    overlay: tuple[str, ...],
    seed: int,
    sales: str | None,
    leave_out_moved: bool,
    why: bool,
) -> None:
    """Score an evaluation FILE (YAML or JSON; - for standard input), or every one of a fleet into a table.

    A fleet is several files, a folder of them, a ZIP, or a sheet with one instrument a row; it needs --csv.
    """
    known = Sales(sales, leave_out_moved)
    if csv_out is not None:
        table_of(files, csv_out, Spread(workers, cluster), (shop, seed, overlay, known))
    elif len(files) > 1:
        raise click.UsageError("Several instruments need --csv OUT.csv (- for standard output).")
    elif is_fleet(files):
        fail(
            "fleet.no_table",
            files[0],
            "these may be several.",
            "Name a table for them: --csv OUT.csv, or --csv -.",
        )
    elif why:
        _reasons(files[0], as_json, shop, seed, overlay, known)
    else:
        _one(files[0], as_json, shop, seed, overlay, known)


def _one(file: str, as_json: bool, shop: str | None, seed: int, overlay: tuple[str, ...], known: Sales) -> None:
    from ..result.json_form import result_json
    from ..wording.answer.verdict import summary

    result = result_from(file, shop, seed, overlay, known)
    if as_json:
        from ..wording.answer.verdict import with_words

        emit(result_json(with_words(result)))
    else:
        click.echo(summary(result))


def _reasons(file: str, as_json: bool, shop: str | None, seed: int, overlay: tuple[str, ...], known: Sales) -> None:
    from ..assessment.reasons.why import Trace
    from ..result.json_form import result_json
    from ..result.making.result import result_of
    from ..wording.answer.verdict import with_words
    from ..wording.reasons import told_tree

    evaluation = evaluation_of(file, shop, seed, overlay, known)
    trace = Trace(evaluation.rubric, evaluation.case, evaluation.assessment, evaluation.known)
    reasons = [told_tree(reason) for reason in trace.everything()]
    emit(result_json(with_words(result_of(evaluation))) | {"why": reasons} if as_json else reasons)


@click.command()
@click.argument("files", nargs=-1, required=True, metavar="FILE|FOLDER...")
@click.option("--for", "reader", type=click.Choice(list(TITLES)), default="buyer", show_default=True)
@click.option(
    "-o",
    "--output",
    metavar="OUT",
    required=True,
    help="The PDF to write (- for standard output); of a fleet, the folder.",
)
@click.option("--paper", type=click.Choice(["A4", "Letter"]), default="A4", show_default=True)
@fleet_options
@shop_option
@overlay_option
@seed_option
@sales_option
@leave_out_option
@click.option(
    "--on",
    type=click.DateTime(["%Y-%m-%d"]),
    metavar="YYYY-MM-DD",
    help="The day that the paper names where no look has one; an equal day gives equal bytes. [default: today]",
)
def report(
    files: tuple[str, ...],
    reader: str,
    output: str,
    paper: str,
    workers: int | None,
    cluster: str | None,
    shop: str | None,
    overlay: tuple[str, ...],
    seed: int,
    sales: str | None,
    leave_out_moved: bool,
    on: datetime | None,
) -> None:
    """Write the paper for a reader: of a FILE, of what `score --json` printed, or of a fleet."""
    known, day = Sales(sales, leave_out_moved), (on or datetime.now()).date().isoformat()
    if is_fleet(files):
        papers_of(files, output, (reader, paper, day), Spread(workers, cluster), (shop, seed, overlay, known))
        return
    from ..papers.printing.fonts import undrawable
    from ..papers.printing.pdf import report_pdf
    from ..papers.story import issued_from_file, typed_in

    result = result_from(files[0], shop, seed, overlay, known)
    issued = issued_from_file(result, day)
    content = report_pdf(result, reader=reader, paper=paper, issued=issued)
    if letters := undrawable(typed_in(result)):
        click.echo(undrawn(letters), err=True)
    if output == "-":
        sys.stdout.buffer.write(content)
        return
    try:
        Path(output).write_bytes(content)
    except OSError as error:
        fail("file.unwritable", output, f"cannot be written: {error.strerror}.", "Choose another place for the PDF.")
    click.echo(f"Wrote {output}", err=True)
