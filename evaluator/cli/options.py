"""Options that several commands share, each worded once."""

from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING, TypeVar

import click

if TYPE_CHECKING:
    from ..store.records import Records

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
