"""What is done in the processes beside the service: a result worked out, a paper drawn. No database, no Flask."""

import pickle
from functools import lru_cache
from importlib import import_module
from pathlib import Path

from ...assessment.model import Case
from ...fleet.running import cores
from ...papers.blocks import Paper
from ...papers.readers import Issued
from ...result.evaluation import evaluate
from ...result.making.result import result_of
from ...result.model.result import Result
from ...rubric.files.load import load_rubric
from ...rubric.rubric import Rubric
from ...rubric.shop import Shop
from ...store.folders import rubrics_folder
from ...valuation.sales.sales_book import SalesBook
from .process import Aside

MOST_RUBRICS = 16
MOST_PROCESSES = 4  # each holds some 130 MB


def beside() -> Aside:
    """The processes beside a service, none started yet: one, or two when there is work, more on a larger computer."""
    return Aside(ready, max(2, min(MOST_PROCESSES, cores() - 1)))


def loaded(name: str, overlays: tuple[Path, ...] = ()) -> Rubric:
    """The rubric by name under these overlays; a mistake in our own rubric files is a bug and raises."""
    rubric, problems = load_rubric(rubrics_folder(), name, overlays)
    if rubric is None:
        raise RuntimeError("; ".join(str(problem) for problem in problems))
    return rubric


_loaded = lru_cache(maxsize=MOST_RUBRICS)(loaded)


def reckon(
    name: str, overlays: tuple[Path, ...], rubric_hash: str, case: Case, shop: Shop, book: SalesBook
) -> bytes | None:
    """The result of a case, packed, as few are looked at twice; None where the rubric's files are not the service's."""
    rubric = _loaded(name, overlays)
    if rubric.hash != rubric_hash:
        _loaded.cache_clear()
        return None
    return pickle.dumps(result_of(evaluate(rubric, case, shop, book=book)), pickle.HIGHEST_PROTOCOL)


def ready() -> None:
    """Read what every result and every paper needs."""
    from ...papers.printing.fonts import register

    import_module("scipy.optimize")  # which plans import late
    register()
    _loaded("violin")


def drawn(paper: Paper, size: str) -> bytes:
    """The PDF of a paper."""
    from ...papers.printing.pdf import draw

    return draw(paper, size)


def report(result: Result, reader: str, size: str, issued: Issued | None) -> bytes:
    """The PDF of a result for a reader."""
    from ...papers.printing.pdf import report_pdf

    return report_pdf(result, reader=reader, paper=size, issued=issued)
