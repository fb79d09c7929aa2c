"""`rubric scale`: the reference instruments on one scale, from junk to a maker's own, by a workshop's own rubrics."""

from collections.abc import Iterable
from pathlib import Path
from typing import TYPE_CHECKING

import click

from ..store.folders import rubrics_folder
from .files import MistakesError, emit, json_option, overlay_option, read_bytes, rubric_named, shop_from, shop_option

if TYPE_CHECKING:
    from ..result.examples import Tried
    from ..result.scale import Standing
    from ..rubric.shop import Shop


@click.command("scale")
@shop_option
@overlay_option
@json_option
def scale(shop: str | None, overlay: tuple[str, ...], as_json: bool) -> None:
    """Judge the reference instruments, and print them from the worst to the best."""
    from ..result.scale import standings

    found = standings(reference_instruments(rubrics_folder(), shop_from(shop), overlay))
    if as_json:
        emit([one.to_dict() for one in found])
        return
    for one in found:
        click.echo(_line(one))
        for said in one.differs:
            click.echo(f"        not as judged beforehand: {said}")


def reference_instruments(root: Path, shop: "Shop", overlays: Iterable[str] = ()) -> "tuple[Tried, ...]":
    """The reference instruments of a folder of rubrics, judged; overlays lie on the families that they name."""
    from ..result.examples import tried
    from ..rubric.files.calibration import FILE, load_calibration
    from ..rubric.files.load import family_names, load_rubric

    if not (root / FILE).is_file():
        return ()
    calibration, problems = load_calibration(root / FILE)
    if calibration is None:
        raise MistakesError(problems)
    named = [(path, families_of(path)) for path in overlays]
    rubrics = {}
    for name in family_names(root):
        here = [path for path, families in named if not families or name in families]
        if named and not here:
            continue
        rubrics[name] = load_rubric(root, name)[0] if root != rubrics_folder() else rubric_named(name, here)
    return tried({name: one for name, one in rubrics.items() if one is not None}, shop, calibration)


def families_of(path: str) -> tuple[str, ...]:
    """The families that an overlay file names; none where it names none, is a shop's file or cannot be read."""
    from ..basis.document import parse_document
    from ..rubric.files.load import family_names
    from ..rubric.files.overlay import families_named

    document, _ = parse_document(*read_bytes(path))
    known = family_names(rubrics_folder())
    return tuple(name for name in families_named(document.data if document else {}) if name in known)


def _line(one: "Standing") -> str:
    from ..wording.names import ADVICE

    score = f"{one.now[0]:3.0f} -> {one.after[0]:3.0f}" if one.enough else f"{one.now[1]:3.0f} .. {one.now[2]:3.0f}"
    ready = "no figure" if one.ready is None else f"{one.ready:,.0f} {one.currency}"
    advice = ADVICE[one.advice] if one.advice else "no advice"
    return f"{score}  {one.family:6}  {ready:>12}  {advice:16}  {one.say}"
