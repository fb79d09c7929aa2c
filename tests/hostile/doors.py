"""The ways by which files of other hands come in: a door gives the mistakes that it tells; what it raises is a bug."""

import json
import shutil
from collections.abc import Callable, Mapping
from functools import cache
from pathlib import Path
from random import Random

from evaluator.basis.problem import Problem
from evaluator.fleet.judging import Judge
from evaluator.fleet.sources import Source
from evaluator.result.evaluation import evaluate
from evaluator.result.json_form import to_json
from evaluator.rubric.files.load import load_rubric
from evaluator.rubric.files.shop_file import load_shop, read_shop_text
from evaluator.rubric.rubric import Rubric
from evaluator.rubric.shop import Shop
from evaluator.store.folders import rubrics_folder
from tests.known import shipped

Told = tuple[Problem, ...]  # none: the file was sound, and used
DEFAULT_SHOP = rubrics_folder() / "shop.yaml"
OWN_SHOP = (
    "extends: default\nshop: Ours\ncurrency: EUR\nrates: {bench: 80, assistant: 50}\ntax: {parts: 19 %, labour: 19 %}\n"
)


def evaluation(content: bytes, _folder: Path) -> Told:
    """As `score FILE --json` takes it."""
    found = Judge(_shop()).result(Source("spoilt.yaml", content))
    return found if isinstance(found, tuple) else ()


def shop(content: bytes, folder: Path) -> Told:
    """As a file, and as the text that is saved in the browser; a sound one judges an instrument."""
    path = folder / "shop.yaml"
    path.write_bytes(content)
    found, problems = load_shop(path, DEFAULT_SHOP)
    read_shop_text(content.decode("utf-8", "replace"), "ours", DEFAULT_SHOP)
    if found is not None:
        _judged(shipped("violin"), found)
    return problems


def overlay(content: bytes, folder: Path) -> Told:
    path = folder / "overlay.yaml"
    path.write_bytes(content)
    found, problems = load_rubric(rubrics_folder(), "cello" if b"extends: cello" in content else "violin", (path,))
    if found is not None:
        _judged(found, _shop())
    return problems


def rubric(content: bytes, folder: Path) -> Told:
    """One file of the rubrics, its name on the first line; the others stand as they are."""
    named, _, content = content.partition(b"\n")
    root = folder / "rubrics"
    if not root.exists():
        shutil.copytree(rubrics_folder(), root)
    path = root / named.decode().removeprefix("# ")
    sound = path.read_bytes()
    path.write_bytes(content)
    try:
        found, problems = load_rubric(root, "bow" if path.stem == "bow" else "violin")
    finally:
        path.write_bytes(sound)
    if found is not None:
        _judged(found, _shop())
    return problems


Door = Callable[[bytes, Path], Told]
DOORS: Mapping[str, Door] = {"evaluation": evaluation, "rubric": rubric, "shop": shop, "overlay": overlay}


@cache
def seeds(kind: str) -> tuple[str, ...]:
    """Sound files of a kind."""
    root = rubrics_folder()
    if kind == "shop":
        return DEFAULT_SHOP.read_text("utf-8"), OWN_SHOP
    if kind == "rubric":
        folders = ("checks", "jobs", "standards", "families")
        paths = [path for folder in folders for path in sorted((root / folder).glob("*.yaml"))]
        return tuple(path.read_text("utf-8") for path in [*paths, root / "classes.yaml", root / "renamed.yaml"])
    folder = root / ("examples" if kind == "evaluation" else "overlays")
    found = [path.read_text("utf-8") for path in sorted(folder.glob("*.yaml"))]
    return (*found, json.dumps(_example())) if kind == "evaluation" else tuple(found)


def rubric_files() -> tuple[str, ...]:
    """The names of the files of `seeds("rubric")`, in their order."""
    root = rubrics_folder()
    folders = ("checks", "jobs", "standards", "families")
    paths = [path for folder in folders for path in sorted((root / folder).glob("*.yaml"))]
    return tuple(path.relative_to(root).as_posix() for path in [*paths, root / "classes.yaml", root / "renamed.yaml"])


def spoilt_for(kind: str, number: int) -> bytes:
    """The content to send through a door: a spoilt file, that of a rubric with its name before it."""
    from tests.hostile.mutating import spoilt

    if kind != "rubric":
        return spoilt(seeds(kind), number)
    place = Random(number).randrange(len(seeds(kind)))
    return f"# {rubric_files()[place]}\n".encode() + spoilt((seeds(kind)[place],), number)


@cache
def _shop() -> Shop:
    found, problems = load_shop(DEFAULT_SHOP)
    assert found is not None, problems
    return found


@cache
def _example() -> dict[str, object]:
    from evaluator.basis.document import parse_document

    path = rubrics_folder() / "examples" / "good_body_raw_set_up.yaml"
    document, _ = parse_document(path.read_bytes(), path.name)
    assert document is not None
    return dict(document.data)


def _judged(by: Rubric, shop: Shop) -> None:
    """An example judged, where it can be read by these rules; answers that they do not know are left out."""
    from evaluator.assessment.observing.case import read_case

    data = _example()
    kept = {name: one for name, one in data["observations"].items() if name in by.checks}  # type: ignore[attr-defined]
    case, _ = read_case(by, data | {"observations": kept})
    if case is not None:
        json.dumps(to_json(evaluate(by, case, shop, draws=200)), allow_nan=False)
