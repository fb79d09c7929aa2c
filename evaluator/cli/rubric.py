"""The commands for who writes rubrics: check, show, diff, schema, and the catalogue of mistakes."""

import sys
from collections.abc import Sequence
from pathlib import Path

import click

from ..basis.problem import Problem, by_place, first_told
from ..store.folders import rubrics_folder
from .files import MistakesError, emit, overlay_option, rubric_named, shop_from
from .guide import guide
from .scale import families_of, reference_instruments, scale

TROUBLE = 1


@click.group()
def rubric() -> None:
    """Look at rubrics, and find what is wrong in them."""


@rubric.command("check")
@click.argument("paths", nargs=-1)
def rubric_check(paths: tuple[str, ...]) -> None:
    """Tell every mistake in rubrics, overlays and shop files (without PATHS: in the built-in ones)."""
    from ..rubric.sense.check import check_path

    root = rubrics_folder()
    told = [check_path(Path(path), root) for path in paths or (str(root),)]
    problems = by_place(problem for one in told for problem in one.problems)
    quoted = {place: line for one in told for place, line in one.lines.items()}
    listed, more = first_told(problems)
    for problem in listed:
        click.echo(str(problem), err=True)
        if problem.place in quoted:
            click.echo(f"    {quoted[problem.place]}", err=True)
    if more:
        click.echo(more, err=True)
    folders = [Path(path) for path in paths if (Path(path) / "families").is_dir()] if paths else [root]
    failed = [] if problems else [line for folder in folders for line in _examples_not_met(folder)]
    if not problems and paths:
        failed += _judged_otherwise([path for path in paths if Path(path).is_file()])
    for line in failed:
        click.echo(line, err=True)
    if problems or failed:
        sys.exit(TROUBLE)
    click.echo("No mistake found.", err=True)


def _examples_not_met(folder: Path) -> list[str]:
    """What does not come out as the examples of a folder's rubrics say; without examples nothing is evaluated."""
    from ..result.examples import example_problems
    from ..rubric.files.calibration import FILE
    from ..rubric.files.load import family_names, load_rubric

    rubrics = [load_rubric(folder, name)[0] for name in family_names(folder)]
    with_examples = [one for one in rubrics if one is not None and one.examples]
    if not with_examples and not (folder / FILE).is_file():
        return []
    shop = shop_from(str(folder / "shop.yaml") if (folder / "shop.yaml").is_file() else None)
    told = [f"{one.title}: {problem}" for one in with_examples for problem in example_problems(one, shop)]
    return told + [f"{FILE}: {problem}" for one in reference_instruments(folder, shop) for problem in one.problems]


def _judged_otherwise(paths: Sequence[str]) -> list[str]:
    """Which reference instruments an overlay judges otherwise than was judged beforehand, at the default's prices."""
    overlays = [path for path in paths if families_of(path)]
    return [
        f"{path}: {problem}"
        for path in overlays
        for one in reference_instruments(rubrics_folder(), shop_from(None), (path,))
        for problem in one.problems
    ]


@rubric.command("schema")
def rubric_schema() -> None:
    """Print the JSON Schema of rubric files, for editors."""
    from ..rubric.file import schema

    emit(schema())


@rubric.command("show")
@click.argument("check_id")
@click.option("--rubric", "name", default="violin", show_default=True)
@overlay_option
def rubric_show(check_id: str, name: str, overlay: tuple[str, ...]) -> None:
    """Print a check or a job as a person would read it."""
    from ..rubric.show import show

    text = show(rubric_named(name, overlay), check_id)
    if isinstance(text, Problem):
        raise MistakesError([text])
    click.echo(text)


@rubric.command("diff")
@click.argument("before")
@click.argument("after")
@click.option("--rubric", "name", default="violin", show_default=True, help="The rubric that overlays lie on.")
def rubric_diff(before: str, after: str, name: str) -> None:
    """Say in words what differs from BEFORE to AFTER: each a rubric's name or an overlay file."""
    from ..rubric.diff import differences
    from ..rubric.files.load import family_names

    known = family_names(rubrics_folder())
    first, second = (
        rubric_named(one) if one in known else rubric_named(_extended(one, name), [one]) for one in (before, after)
    )
    for line in differences(first, second) or ("They say the same.",):
        click.echo(line)


def _extended(path: str, name: str) -> str:
    """The rubric that an overlay file lies on, as far as it says so; else the given one."""
    return next(iter(families_of(path)), name)


@rubric.command("catalogue")
def rubric_catalogue() -> None:
    """Print every mistake that can be told, for reading aloud."""
    from ..rubric.sense.messages import catalogue_text

    click.echo(catalogue_text())


rubric.add_command(scale)
rubric.add_command(guide)
