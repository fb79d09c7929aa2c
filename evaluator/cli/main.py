"""The command line: one command a question, JSON alone on standard output, messages on standard error.

Exit 0: fine. 1: the user's mistake, told in sentences. 2: wrong usage. 3: a bug, with a reference and a traceback.
Slow libraries are imported inside the command that needs them, so that the rest starts fast.
"""

import atexit
import gc
import os
import sys
from contextlib import suppress
from pathlib import Path

import click

from .. import __version__
from ..basis.problem import Problem, first_told
from .choosing import compare, trade_in
from .files import (
    MistakesError,
    emit,
    json_option,
    overlay_option,
    records_at,
    records_options,
    shop_from,
    shop_option,
    shop_text,
    sound_overlays,
)
from .judging import report, score
from .records import backup, doctor, move, restore, verify
from .rubric import rubric

TROUBLE = 1
BUG = 3
SHELLS = ("bash", "zsh", "fish")
HOW = {
    "bash": 'put  eval "$(evaluator completion bash)"  into ~/.bashrc',
    "zsh": 'put  eval "$(evaluator completion zsh)"  into ~/.zshrc',
    "fish": "put  evaluator completion fish | source  into ~/.config/fish/config.fish",
}


@click.group(context_settings={"help_option_names": ["-h", "--help"]})
@click.version_option(__version__, prog_name="evaluator")
def cli() -> None:
    """Is this bowed instrument, at this price, well made, sound and set up to play? What will it cost to get there?"""


@cli.command()
@click.option("--host", default="127.0.0.1", show_default=True, help="Address to listen on.")
@click.option("--port", type=click.IntRange(0, 65535), default=8765, show_default=True)
@records_options
@click.option("--backups", metavar="FOLDER", help="Where the daily backups go, best on another disk.")
@click.option("--demo", is_flag=True, help="Start with invented example instruments.")
@click.option("--phones", is_flag=True, help="Let phones of this room in, each by a code shown here as a QR code.")
@click.option("--address", default="", metavar="URL", help="By which people outside reach it, as https://NAME.")
@click.option("--proxy", default="", metavar="ADDRESS", help="Of the proxy before it, believed on who asks: 127.0.0.1.")
@overlay_option
@shop_option
def serve(
    host: str,
    port: int,
    data_folder: str | None,
    database: str,
    backups: str | None,
    demo: bool,
    phones: bool,
    address: str,
    proxy: str,
    overlay: tuple[str, ...],
    shop: str | None,
) -> None:
    """Start the service for the browser."""
    import logging

    from ..web.people.house import Listening
    from ..web.serve import serve as run

    gc.enable()
    logging.basicConfig(level=logging.WARNING)
    at = Listening(host, port, phones, address, proxy)
    run(
        at,
        records_at(data_folder, database, demo),
        shop_from(shop),
        shop_text(shop),
        Path(backups) if backups else None,
        sound_overlays(overlay),
    )


@cli.command()
@click.argument("name", required=False)
@click.argument("inputs", nargs=-1, metavar="[KEY=VALUE]...")
@json_option
def calc(name: str | None, inputs: tuple[str, ...], as_json: bool) -> None:
    """Work out one of the trade's formulas (without NAME: list them all).

    Values carry units, as in length=328mm or temperature=70degF. A standard uncertainty may stand behind +-, as in
    length=328+-0.5mm, and is carried to the answer. Lists are separated by semicolons. A NAME alone tells its inputs.
    """
    from ..calculators.answering import PLAIN, answer, calculator_named, calculators, to_json
    from ..calculators.reading import split_pairs
    from ..store.folders import seasons_known
    from ..wording import calculators as words

    every = PLAIN if name in PLAIN else calculators(seasons_known())
    if name is None:
        emit([words.description(one) for one in every.values()]) if as_json else click.echo(words.listing(every))
        return
    calculator = calculator_named(name, every)
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


@cli.command()
@click.argument("shell", type=click.Choice(SHELLS))
@click.pass_context
def completion(context: click.Context, shell: str) -> None:
    """Print what a shell needs to complete commands and options with the tab key."""
    from click.shell_completion import get_completion_class

    found = get_completion_class(shell)
    assert found is not None, "click knows the shells that are offered"
    whole = context.find_root()
    script = found(whole.command, {}, "evaluator", "_EVALUATOR_COMPLETE").source()
    click.echo(script)
    click.echo(f"To keep it, {HOW[shell]}.", err=True)


@cli.command()
@click.argument("of", type=click.Choice(["result", "rubric"]))
def schema(of: str) -> None:
    """Print the JSON Schema of a result (`score --json`), or of rubric files for editors."""
    if of == "result":
        from ..result.json_form import result_schema

        emit(result_schema())
        return
    from ..rubric.file import schema as rubric_schema

    emit(rubric_schema())


cli.add_command(score)
cli.add_command(report)
cli.add_command(rubric)
cli.add_command(compare)
cli.add_command(trade_in)
for command in (backup, restore, verify, move, doctor):
    cli.add_command(command)


def report_bug() -> None:
    """Tell a bug with a reference number; the traceback goes to standard error."""
    import secrets
    import traceback

    reference = secrets.token_hex(4)
    click.echo(traceback.format_exc(), err=True)
    click.echo(f"Something in the program went wrong (reference {reference}). Nothing was changed.", err=True)


def report_fault(error: Exception) -> bool:
    """Tell what the world did, where that is what an exception tells; gives whether it is."""
    from ..store.faults import fault_of, place_fault

    named = isinstance(error, OSError) and error.errno is not None
    told = place_fault(error) if isinstance(error, OSError) and named else fault_of(error)
    if told is not None:
        with suppress(OSError):
            click.echo(str(told), err=True)
    return told is not None


def leave_output() -> None:
    """What could not be written is not tried again while the program ends."""
    with suppress(OSError):
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())


def main() -> None:
    """Run the command line and exit 0, 1, 2 or 3."""
    # A rubric is a hundred thousand small things that live as long as the command: to look through them for rings, over
    # and over and once more at the end, would take an eighth of the time of a cold score. `serve` turns it on again.
    gc.disable()
    atexit.register(gc.freeze)
    # One sum is too small for numpy's second thread, which keeps a processor busy while it waits for a larger one.
    os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")
    # To ask every installed package for a plugin of the models, of which there is none, takes as long as the models.
    os.environ.setdefault("PYDANTIC_DISABLE_PLUGINS", "__all__")
    try:
        cli.main(standalone_mode=False)
        sys.stdout.flush()
    except MistakesError as mistakes:
        listed, more = first_told(mistakes.problems)
        for line in [*map(str, listed), *([more] if more else [])]:
            click.echo(line, err=True)
        sys.exit(TROUBLE)
    except click.exceptions.Exit as stop:
        sys.exit(stop.exit_code)
    except click.ClickException as wrong:
        wrong.show()
        sys.exit(wrong.exit_code)
    except click.Abort:
        sys.exit(130)
    except BrokenPipeError:
        leave_output()
        sys.exit(0)
    except Exception as error:
        if report_fault(error):
            leave_output()
            sys.exit(TROUBLE)
        report_bug()
        sys.exit(BUG)
