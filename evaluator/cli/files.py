"""What several commands share: options, each worded once; files, rubrics and shops read; and mistakes of users told."""

import json
import sys
from collections.abc import Callable, Iterable
from dataclasses import dataclass
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING, BinaryIO, NoReturn, TypeVar

import click

from ..basis.problem import Problem, by_place
from ..store.folders import rubrics_folder

if TYPE_CHECKING:
    from ..fleet.judging import Judge
    from ..fleet.sources import Source
    from ..result.evaluation import Evaluation
    from ..result.model.result import Result
    from ..rubric.rubric import Rubric
    from ..rubric.shop import Shop
    from ..store.records import Records

MAX_BYTES = 2_000_000
MAX_PAPER = 20_000_000  # a paper with photos, which carries its evaluation
PDF = b"%PDF-"
Command = TypeVar("Command", bound=Callable[..., object])
shop_option = click.option("--shop", metavar="FILE", help="A workshop's own rates and prices instead of the defaults.")
seed_option = click.option(
    "--seed", type=click.IntRange(0, 2**31 - 1), default=1, show_default=True, help="Seed of the draws."
)
overlay_option = click.option(
    "--overlay", multiple=True, metavar="FILE", help="A workshop's own opinions over the rubric."
)
json_option = click.option("--json", "as_json", is_flag=True, help="Print JSON instead of words.")
sales_option = click.option(
    "--sales",
    metavar="FILE.csv",
    help="Known sales; with three or more of the like, the value when ready is taken from them.",
)
leave_out_option = click.option(
    "--leave-out-moved", is_flag=True, help="Leave out the sales that had to be adjusted by more than half."
)


def records_options(command: Command) -> Command:
    """Where the records lie; the command takes `data_folder` and `database`, for `records_at`."""
    data = click.option(
        "--data", "data_folder", metavar="FOLDER", help="Where records are kept: default, the user's data."
    )
    database = click.option(
        "--database",
        envvar="EVALUATOR_DATABASE",
        metavar="ADDRESS",
        default="",
        help="A PostgreSQL database, postgresql://USER@HOST/NAME, instead of the file in that folder.",
    )
    return data(database(command))


def records_at(data_folder: str | None, database: str, demo: bool = False) -> "Records":
    """The records that the options name."""
    from ..store.records import Records, user_data_folder

    return Records(Path(data_folder) if data_folder else user_data_folder(), database, demo)


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
            return _bounded(sys.stdin.buffer), "standard input"
        with Path(path).open("rb") as file:
            return _bounded(file), path
    except OSError as error:
        fail("file.unreadable", path, f"cannot be read: {error.strerror}.", "Give the path of an evaluation file.")


def _bounded(file: BinaryIO) -> bytes:
    start = file.read(len(PDF))
    return start + file.read((MAX_PAPER if start == PDF else MAX_BYTES) + 1 - len(start))


def rubric_named(name: str, overlays: Iterable[str] = ()) -> "Rubric":
    """The rubric of a family, with a shop's overlays on it."""
    from ..fleet.judging import rubric_named as read

    rubric = read(name, tuple(overlays))
    if isinstance(rubric, tuple):
        raise MistakesError(rubric)
    return rubric


def sound_overlays(paths: Iterable[str]) -> tuple[Path, ...]:
    """The overlay files at these paths; every mistake in one is told, and nothing begins."""
    from ..rubric.files.load import family_names, load_rubric

    found = tuple(Path(path).resolve() for path in paths)
    for name in family_names(rubrics_folder()) if found else ():
        rubric, problems = load_rubric(rubrics_folder(), name, found)
        if rubric is None:
            raise MistakesError(problems)
    return found


def shop_text(path: str | None) -> str:
    """The text of the shop file at `path`; empty where there is none."""
    return Path(path).read_text(encoding="utf-8", errors="replace") if path and Path(path).is_file() else ""


def shop_from(path: str | None) -> "Shop":
    """The shop file at `path`, else the built-in default shop."""
    default = rubrics_folder() / "shop.yaml"
    if path:
        from ..rubric.files.shop_file import load_shop

        shop, problems = load_shop(Path(path), default)
    else:
        from ..store.folders import default_shop

        shop, problems = default_shop(default)
    if shop is None:
        raise MistakesError(problems)
    return shop


@dataclass(frozen=True, slots=True)
class Sales:
    """The file of known sales that was named, and whether what was moved by more than half is left out."""

    path: str | None = None
    leave_out_moved: bool = False


def judge_from(shop: str | None, seed: int, overlays: Iterable[str] = (), sales: Sales = Sales()) -> "Judge":
    """Everything by which instruments are judged, but for the instruments."""
    from ..fleet.judging import Judge, SalesFile

    known = None
    if sales.path is not None:
        content, name = read_bytes(sales.path)
        known = SalesFile(content, name, date.today(), sales.leave_out_moved)
    return Judge(shop_from(shop), tuple(overlays), seed, known)


def evaluation_of(
    path: str, shop: str | None, seed: int, overlays: Iterable[str] = (), sales: Sales = Sales()
) -> "Evaluation":
    """The evaluation of a file; raises MistakesError with all that is wrong in it."""
    found = judge_from(shop, seed, overlays, sales).evaluation(_source(path))
    if isinstance(found, tuple):
        raise MistakesError(found)
    return found


def result_from(
    path: str, shop: str | None, seed: int, overlays: Iterable[str] = (), sales: Sales = Sales()
) -> "Result":
    """The result of an evaluation file, or the one that `score --json` printed, as it was printed."""
    from ..fleet.judging import kept_result

    source = _source(path)
    found = judge_from(shop, seed, overlays, sales).result(source)
    if isinstance(found, tuple):
        raise MistakesError(found)
    if (shop or tuple(overlays) or sales.path) and kept_result(source.content, source.name) is not None:
        what = "it is a result that was printed, and is not judged again."
        fail("file.kept", source.name, what, "Leave --shop, --overlay and --sales out, or give the evaluation file.")
    return found


def _source(path: str) -> "Source":
    from ..fleet.sources import Source

    content, name = read_bytes(path)
    return Source(name, content)


def emit(value: object) -> None:
    """JSON on standard output, and nothing else there."""
    click.echo(json.dumps(value, ensure_ascii=False, indent=2, allow_nan=False))
