"""What is wrong at a path, whatever lies there: a folder of rubrics, a rubric, one of its parts, an overlay or a shop.

What a file is follows from its keys, so nobody has to say. Evaluation files (`format:`) are judged elsewhere.
"""

from collections.abc import Iterable, Iterator, Sequence
from pathlib import Path

from ...basis.document import Document
from ...basis.problem import Problem, by_place
from ..facts import read_bench, read_facts, read_owning
from ..files.load import family_names, read_family_file, read_rubric
from ..files.shop_file import read_shop
from ..files.sources import Sources, read_file, read_written
from ..glossary import read_glossary
from ..knowledge import Seasons
from ..rubric import Rubric
from ..shop import Shop
from .everything import Told, check_folder, check_reading, check_rubric
from .limits.sizes import MESSAGES as SIZES
from .shop import GuideSense, shop_problems

SHOP_KEYS = ("shop", "rates", "currency", "buying", "job_prices")


def check_path(path: Path, built_in: Path) -> Told:
    """Everything wrong at a path. `built_in` is the rubrics folder that overlays and shops refer to."""
    if path.is_dir():
        if (path / "families").is_dir():
            shop = path / "shop.yaml"
            told = [check_folder(path), *([_check_shop(shop, path)] if shop.is_file() else [])]
            beside = (
                ("glossary.yaml", _check_words),
                ("owning.yaml", _check_owning),
                ("bench.yaml", _check_bench),
                ("seasons.yaml", _check_seasons),
            )
            return _together([*told, *(check(path / name) for name, check in beside if (path / name).is_file())])
        files = sorted(one for one in path.rglob("*") if one.suffix in {".yaml", ".yml", ".json"})
        return _together(check_path(one, built_in) for one in files)
    sources = Sources()
    document = read_file(path, str(path), sources)
    if document is None:
        return Told(by_place(sources.problems), {})
    return _check_document(path, document, built_in, sources)


def _check_document(path: Path, document: Document, built_in: Path, sources: Sources) -> Told:
    keys = document.data.keys()
    if "format" in keys:
        return Told((), {})
    if any(key in keys for key in SHOP_KEYS):
        return _check_shop(path, built_in)
    if "glossary" in keys:
        return _check_words(path)
    if "habits" in keys:
        return _check_owning(path)
    if "bench" in keys:
        return _check_bench(path)
    if "climates" in keys:
        return _check_seasons(path)
    if "extends" in keys:
        return _check_overlay(path, document, built_in, sources)
    home = path.parent.parent
    if (home / "families").is_dir():
        return _only(check_folder(home), f"{home.name}/{path.relative_to(home).as_posix()}")
    if "family" in keys or "rubric" in keys:
        return check_reading(read_family_file(path, built_in))
    read_written(document, sources)
    return _quoted(sources.problems, [document])


def _check_overlay(path: Path, document: Document, built_in: Path, sources: Sources) -> Told:
    """An overlay over each rubric that it extends; of the rubric below only what the overlay brings about is told."""
    written, _ = read_written(document, sources)
    known = family_names(built_in)
    names = [name for name in written.extends if name in known] or list(known[:1])
    before = {one for name in names for one in check_rubric(built_in, name).problems}
    told = _together(check_rubric(built_in, name, [path]) for name in names)
    # A workshop may set one size its own way: that our rows for the others then stand apart is no mistake of ours.
    ours = {one for one in told.problems if one.code in SIZES and one.place and one.place.file != document.name}
    return Told(tuple(one for one in told.problems if one not in before | ours), told.lines)


def _check_shop(path: Path, built_in: Path) -> Told:
    shop, layers, problems = read_shop(path, built_in / "shop.yaml")
    if shop is not None:
        rubrics = [read_rubric(built_in, name) for name in family_names(built_in)]
        readings = [one.sources for one in rubrics]
        jobs = {name for one in readings for job in one.entries["jobs"].values() for name in (job.job, *job.was)}
        parts = {name for one in readings for name in one.entries["part_prices"]}
        found = shop_problems(shop, layers, jobs, parts)
        if any(one.unreadable or one.broken for one in readings):
            found = (one for one in found if not one.code.startswith("shop.unknown"))
        problems = (*found, *_guide_problems(shop, layers, [one.rubric for one in rubrics if one.rubric]))
    return _quoted(problems, layers)


def _check_words(path: Path) -> Told:
    _, documents, problems = read_glossary(path)
    return _quoted(problems, documents)


def _check_owning(path: Path) -> Told:
    _, documents, problems = read_owning(path)
    return _quoted(problems, documents)


def _check_bench(path: Path) -> Told:
    _, documents, problems = read_bench(path)
    return _quoted(problems, documents)


def _check_seasons(path: Path) -> Told:
    _, documents, problems = read_facts(path, Seasons)
    return _quoted(problems, documents)


def shop_sense(shop: Shop, layers: Sequence[Document], rubrics: Sequence[Rubric]) -> tuple[Problem, ...]:
    """What loads but makes no sense in a shop's figures, by the sound rubrics that it serves."""
    jobs = {name for rubric in rubrics for job in rubric.jobs.values() for name in (job.job, *job.was)}
    parts = {name for rubric in rubrics for name in rubric.part_prices}
    return by_place((*shop_problems(shop, layers, jobs, parts), *_guide_problems(shop, layers, rubrics)))


def _guide_problems(shop: Shop, layers: Sequence[Document], rubrics: Sequence[Rubric]) -> Iterator[Problem]:
    """What makes no sense in the guide, by the classes, sizes and matters of all rubrics that it serves."""
    classes = dict.fromkeys(name for rubric in rubrics for name in rubric.classes)
    outcomes = (one for rubric in rubrics for check in rubric.checks.values() for one in check.outcomes.values())
    matters = {one.matter for one in outcomes if one.matter}
    sizes = {rubric.family: rubric.sizes for rubric in rubrics}
    return GuideSense(shop.guide, layers, tuple(classes), sizes, matters).problems()


def _quoted(problems: Iterable[Problem], documents: Iterable[Document]) -> Told:
    by_name = {document.name: document for document in documents}
    found = by_place(problems)
    places = [one.place for one in found if one.place and one.place.file in by_name]
    return Told(found, {place: by_name[place.file].line(place.line) for place in places})


def _only(told: Told, file: str) -> Told:
    return Told(tuple(one for one in told.problems if one.place and one.place.file == file), told.lines)


def _together(several: Iterable[Told]) -> Told:
    found = list(several)
    lines = {place: line for told in found for place, line in told.lines.items()}
    return Told(by_place(dict.fromkeys(one for told in found for one in told.problems)), lines)
