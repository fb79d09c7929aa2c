"""The command line: one command a question, JSON alone on standard output, messages on standard error.

Exit 0: fine. 1: the user's mistake, told in sentences. 2: wrong usage. 3: a bug, with a reference and a traceback.
Slow libraries are imported inside the command that needs them, so that the rest starts fast.
"""

import json
import logging
import secrets
import sys
import traceback
from collections.abc import Iterable
from pathlib import Path
from typing import TYPE_CHECKING, NoReturn

import click

from . import __version__
from .basis.problem import Problem, by_place
from .cli_decisions import compare, trade_in
from .cli_options import json_option, overlay_option, seed_option, shop_option
from .folders import rubrics_folder

if TYPE_CHECKING:
    from .assessment.model import Case
    from .evaluation import Evaluation
    from .rubric.rubric import Rubric
    from .rubric.shop import Shop

MAX_BYTES = 2_000_000
TROUBLE = 1
BUG = 3


class MistakesError(Exception):
    """The user's mistakes, on their way to standard error and exit 1."""

    def __init__(self, problems: Iterable[Problem]) -> None:
        self.problems = by_place(problems)
        super().__init__(f"{len(self.problems)} problems")


def fail(code: str, where: str, what: str, what_to_do: str = "") -> NoReturn:
    """Stop with one mistake."""
    raise MistakesError([Problem(code, where, what, what_to_do)])


def read_bytes(path: str) -> tuple[bytes, str]:
    """The content of a file, or of standard input for `-`, and the name to show for it."""
    try:
        if path == "-":
            return sys.stdin.buffer.read(MAX_BYTES + 1), "standard input"
        with Path(path).open("rb") as file:
            return file.read(MAX_BYTES + 1), path
    except OSError as error:
        fail("file.unreadable", path, f"cannot be read: {error.strerror}.", "Give the path of an evaluation file.")


def rubric_named(name: str, overlays: Iterable[str] = ()) -> "Rubric":
    """The rubric of a family, with a shop's overlays on it."""
    from .rubric.load import load_rubric

    rubric, problems = load_rubric(rubrics_folder(), name, [Path(p) for p in overlays])
    if rubric is None:
        raise MistakesError(problems)
    return rubric


def shop_from(path: str | None) -> "Shop":
    """The shop file at `path`, else the built-in default shop."""
    from .rubric.load import load_shop

    shop, problems = load_shop(Path(path) if path else rubrics_folder() / "shop.yaml")
    if shop is None:
        raise MistakesError(problems)
    return shop


def case_from(path: str, overlays: Iterable[str] = ()) -> "tuple[Rubric, Case]":
    """The evaluation file at `path` and the rubric that it names."""
    from .assessment.case import read_case, rubric_name_of
    from .basis.document import parse_document

    content, name = read_bytes(path)
    document, problems = parse_document(content, name)
    if document is None:
        raise MistakesError(problems)
    wanted = rubric_name_of(document)
    if isinstance(wanted, Problem):
        raise MistakesError([wanted])
    rubric = rubric_named(wanted, overlays)
    case, problems = read_case(rubric, document.data, document)
    if case is None or problems:
        raise MistakesError(problems)
    return rubric, case


def evaluation_of(path: str, shop: str | None, seed: int, overlays: Iterable[str] = ()) -> "Evaluation":
    from .evaluation import evaluate

    rubric, case = case_from(path, overlays)
    return evaluate(rubric, case, shop_from(shop), seed=seed)


def emit(value: object) -> None:
    """JSON on standard output, and nothing else there."""
    click.echo(json.dumps(value, ensure_ascii=False, indent=2, allow_nan=False))


@click.group(context_settings={"help_option_names": ["-h", "--help"]})
@click.version_option(__version__, prog_name="evaluator")
def cli() -> None:
    """Is this bowed instrument, at this price, well made, sound and set up to play? What will it cost to get there?"""


@cli.command()
@click.option("--host", default="127.0.0.1", show_default=True, help="Address to listen on.")
@click.option("--port", type=click.IntRange(0, 65535), default=8765, show_default=True)
@click.option(
    "--data", "data_folder", metavar="FOLDER", help="Where evaluations are kept instead of the user's data folder."
)
@click.option("--demo", is_flag=True, help="Start with invented example instruments.")
@shop_option
def serve(host: str, port: int, data_folder: str | None, demo: bool, shop: str | None) -> None:
    """Start the service for the browser."""
    from .web.serve import serve as run

    run(host=host, port=port, data_folder=Path(data_folder) if data_folder else None, demo=demo, shop=shop_from(shop))


@cli.command()
@click.argument("file")
@json_option
@shop_option
@overlay_option
@seed_option
@click.option("--why", is_flag=True, help="Print, as JSON, what every figure follows from; with --json under its key.")
def score(file: str, as_json: bool, shop: str | None, overlay: tuple[str, ...], seed: int, why: bool) -> None:
    """Score an evaluation FILE (YAML or JSON; - for standard input)."""
    from .report.words import summary
    from .snapshot import to_json, trace_to_json

    evaluation = evaluation_of(file, shop, seed, overlay)
    if why and not as_json:
        emit(trace_to_json(evaluation))
        return
    result = to_json(evaluation)
    if as_json:
        emit(result | {"why": trace_to_json(evaluation)} if why else result)
    else:
        click.echo(summary(result))


@cli.command()
@click.argument("file")
@click.option("--for", "reader", type=click.Choice(["buyer", "shop", "customer"]), default="buyer", show_default=True)
@click.option("-o", "--output", metavar="OUT.pdf", required=True, help="The PDF to write (- for standard output).")
@click.option("--paper", type=click.Choice(["A4", "Letter"]), default="A4", show_default=True)
@shop_option
@overlay_option
@seed_option
def report(
    file: str, reader: str, output: str, paper: str, shop: str | None, overlay: tuple[str, ...], seed: int
) -> None:
    """Write the paper for a buyer, the shop or a customer."""
    from .report.pdf import report_pdf
    from .snapshot import to_json

    result = to_json(evaluation_of(file, shop, seed, overlay))
    content = report_pdf(result, reader=reader, paper=paper)
    if output == "-":
        sys.stdout.buffer.write(content)
        return
    try:
        Path(output).write_bytes(content)
    except OSError as error:
        fail("file.unwritable", output, f"cannot be written: {error.strerror}.", "Choose another place for the PDF.")
    click.echo(f"Wrote {output}", err=True)


@cli.command()
@click.argument("name", required=False)
@click.argument("inputs", nargs=-1, metavar="[KEY=VALUE]...")
@json_option
def calc(name: str | None, inputs: tuple[str, ...], as_json: bool) -> None:
    """Work out one of the trade's formulas (without NAME: list them all).

    Values carry units, as in length=328mm or temperature=70degF. A standard uncertainty may stand behind +-, as in
    length=328+-0.5mm, and is carried to the answer. Lists are separated by semicolons. A NAME alone tells its inputs.
    """
    from .calculators import words
    from .calculators.answering import answer, calculator_named, to_json
    from .calculators.reading import split_pairs
    from .calculators.registry import CALCULATORS

    if name is None:
        emit([words.description(one) for one in CALCULATORS.values()]) if as_json else click.echo(words.listing())
        return
    calculator = calculator_named(name)
    if isinstance(calculator, Problem):
        raise MistakesError([calculator])
    if not inputs and not as_json:
        click.echo(words.explained(calculator))
        return
    typed, wrong = split_pairs(inputs, calculator.example)
    found, problems = answer(calculator, typed) if not wrong else (None, wrong)
    if found is None:
        raise MistakesError(problems)
    if as_json:
        emit(to_json(found))
    else:
        click.echo(words.told(found))


@cli.group()
def rubric() -> None:
    """Look at rubrics, and find what is wrong in them."""


@rubric.command("check")
@click.argument("paths", nargs=-1)
def rubric_check(paths: tuple[str, ...]) -> None:
    """Tell every mistake in rubrics, overlays and shop files (without PATHS: in the built-in ones)."""
    from .rubric.check import check_path

    root = rubrics_folder()
    told = [check_path(Path(path), root) for path in paths or (str(root),)]
    problems = by_place(problem for one in told for problem in one.problems)
    quoted = {place: line for one in told for place, line in one.lines.items()}
    for problem in problems:
        click.echo(str(problem), err=True)
        if problem.place in quoted:
            click.echo(f"    {quoted[problem.place]}", err=True)
    folders = [Path(path) for path in paths if (Path(path) / "families").is_dir()] if paths else [root]
    failed = [] if problems else [line for folder in folders for line in _examples_not_met(folder)]
    for line in failed:
        click.echo(line, err=True)
    if problems or failed:
        sys.exit(TROUBLE)


def _examples_not_met(folder: Path) -> list[str]:
    """What does not come out as the examples of a folder's rubrics say; without examples nothing is evaluated."""
    from .rubric.load import family_names, load_rubric
    from .rubric_examples import example_problems

    rubrics = [load_rubric(folder, name)[0] for name in family_names(folder)]
    with_examples = [one for one in rubrics if one is not None and one.examples]
    if not with_examples:
        return []
    shop = shop_from(str(folder / "shop.yaml") if (folder / "shop.yaml").is_file() else None)
    return [f"{one.title}: {problem}" for one in with_examples for problem in example_problems(one, shop)]


@rubric.command("schema")
def rubric_schema() -> None:
    """Print the JSON Schema of rubric files, for editors."""
    from .rubric.schema import schema

    emit(schema())


@rubric.command("show")
@click.argument("check_id")
@click.option("--rubric", "name", default="violin", show_default=True)
@overlay_option
def rubric_show(check_id: str, name: str, overlay: tuple[str, ...]) -> None:
    """Print a check or a job as a person would read it."""
    from .rubric.show import show

    text = show(rubric_named(name, overlay), check_id)
    if isinstance(text, Problem):
        raise MistakesError([text])
    click.echo(text)


cli.add_command(compare)
cli.add_command(trade_in)


def report_bug() -> None:
    """Tell a bug with a reference number; the traceback goes to standard error."""
    reference = secrets.token_hex(4)
    click.echo(traceback.format_exc(), err=True)
    click.echo(f"Something in the program went wrong (reference {reference}). Nothing was changed.", err=True)


def main() -> None:
    """Run the command line and exit 0, 1, 2 or 3."""
    logging.basicConfig(level=logging.WARNING)
    try:
        cli.main(standalone_mode=False)
    except MistakesError as mistakes:
        for problem in mistakes.problems:
            click.echo(str(problem), err=True)
        sys.exit(TROUBLE)
    except click.exceptions.Exit as stop:
        sys.exit(stop.exit_code)
    except click.ClickException as wrong:
        wrong.show()
        sys.exit(wrong.exit_code)
    except click.Abort:
        sys.exit(130)
    except BrokenPipeError:
        sys.exit(0)
    except Exception:
        report_bug()
        sys.exit(BUG)
