"""A table of ratios, run by hand: `python -m tests.bench [PART ...]`, beside the last one; `--keep` keeps it.

Each row is a ratio of two things measured in one run, or a count; never seconds, since these are the machine's.
"""

import json
from collections.abc import Callable, Iterator, Mapping
from functools import partial
from pathlib import Path

import click

from tests.bench import cold, lists, served

KEPT = Path(__file__).parent / "kept.json"
PARTS: Mapping[str, Callable[[], Iterator[served.Row]]] = {
    "cold": cold.starts,
    "idle": served.idle,
    "result": served.kept_page,
    "lists": partial(lists.rows, False),
    "lists-on-server": partial(lists.rows, True),
    "crowd": served.crowd,
}


@click.command()
@click.argument("parts", nargs=-1, type=click.Choice(list(PARTS)))
@click.option("--keep", is_flag=True, help="Keep these rows for the next run to stand beside.")
def main(parts: tuple[str, ...], keep: bool) -> None:
    """Measure all, or the named PARTS."""
    kept: dict[str, float] = json.loads(KEPT.read_text("utf-8")) if KEPT.exists() else {}
    click.echo(f"{'now':>8} {'kept':>8} {'most':>6}")
    for part in parts or tuple(PARTS):
        for what, value, most in PARTS[part]():
            before = f"{kept[what]:8.2f}" if what in kept else " " * 8
            click.echo(f"{value:8.2f} {before} {most:6g}  {what}{'' if value <= most else '  OVER'}")
            kept[what] = round(value, 2)
    if keep:
        KEPT.write_text(json.dumps(kept, indent=1) + "\n", "utf-8")


if __name__ == "__main__":
    main()
