"""No code goes by a sentence: with every table of words turned to nonsense, papers keep sections, order and figures."""

import re
from collections.abc import Iterator, Mapping
from dataclasses import MISSING, asdict, fields, is_dataclass
from typing import Any, get_args, get_type_hints

import pytest

from evaluator.assessment.reasons import facts, steps
from evaluator.choosing.entrants import Entrant
from evaluator.choosing.offers import Asked
from evaluator.choosing.trade_in import Answers
from evaluator.papers.blocks import Block, Paper
from evaluator.papers.story import READERS, paper
from evaluator.result.json_form import read_result, result_json
from evaluator.result.model.result import Result
from evaluator.wording import names, reasons
from evaluator.wording.answer import extras, headline, source, verdict
from evaluator.wording.choosing import comparison, trade_in
from evaluator.wording.choosing.comparison import comparison_json
from evaluator.wording.choosing.trade_in import trade_in_json
from tests.papers.cases import BOW, FEW, full_snapshot, rubric, shop, snapshot_of

TABLES = (names, reasons, extras, headline, source, verdict, comparison, trade_in)
FIGURE = re.compile(r"\d(?:[\d,.]*\d)?")


def tables_of(module: Any) -> Iterator[tuple[str, dict[Any, Any]]]:
    """The tables from a code to its words."""
    for name, table in vars(module).items():
        if name.isupper() and not name.startswith("_") and isinstance(table, dict):
            yield name, table


def nonsense(said: Any, number: int) -> Any:
    """Other words in the place of these; amounts and the braces for them stay."""
    if isinstance(said, tuple):
        return type(said)(*(nonsense(one, number) for one in said))
    kept = " ".join(re.findall(r"\{[^}]*\}|\d+", said))
    return f"Xyzzy{'abcdefghijklmnopqrstuvwxyz'[number]} {kept}".strip()


@pytest.fixture
def nothing_said(monkeypatch: pytest.MonkeyPatch) -> None:
    for module in TABLES:
        for _, table in tables_of(module):
            for number, (code, said) in enumerate(list(table.items())):
                monkeypatch.setitem(table, code, nonsense(said, number))


def shape(block: Block | Paper) -> Any:
    """The kinds of blocks inside each other, and of the rows of tables only how many."""
    inside = [getattr(block, field.name) for field in fields(block)] if is_dataclass(block) else []
    parts = [shape(one) for value in inside if isinstance(value, tuple) for one in value if is_dataclass(one)]
    counts = [len(value) for value in inside if isinstance(value, tuple)]
    return type(block).__name__, counts, parts


def figures(value: Any) -> list[str]:
    """Every figure in every text, in reading order."""
    if isinstance(value, str):
        return FIGURE.findall(value)
    if is_dataclass(value) and not isinstance(value, type):
        return [one for field in fields(value) for one in figures(getattr(value, field.name))]
    if isinstance(value, tuple):
        return [one for inner in value for one in figures(inner)]
    return []


def results() -> Mapping[str, Result]:
    found = {
        "violin": snapshot_of(FEW),
        "bow": snapshot_of(BOW),
        "wanting": full_snapshot("cello", "wanting", "4/4", 20),
    }
    return {name: read_result(one) for name, one in found.items()}


RESULTS = results()
BEFORE = {
    (name, reader): (shape(paper(one, reader)), figures(paper(one, reader)))
    for name, one in RESULTS.items()
    for reader in READERS
}


@pytest.mark.parametrize("reader", list(READERS))
@pytest.mark.parametrize("name", list(RESULTS))
@pytest.mark.usefixtures("nothing_said")
def test_papers_keep_their_sections_order_and_figures_whatever_the_words(name: str, reader: str) -> None:
    now = paper(RESULTS[name], reader)
    assert (shape(now), figures(now)) == BEFORE[name, reader]
    assert len(figures(now)) > (10 if reader == "condition" else 40) and "Xyzzy" in str(now)


def told_of(decision: Any) -> list[str]:
    """Every figure and code of a decision for other programs, its sentences left out."""
    worded = ("sentence", "say", "title", "term", "ticket_price_from", "ready_value_from", "worst", "notes")
    return re.findall(r"[^,]+", str(without(asdict(decision), worded)))


def without(told: Any, keys: tuple[str, ...]) -> Any:
    if isinstance(told, Mapping):
        return {name: without(one, keys) for name, one in told.items() if name not in keys and "sentence" not in name}
    return [without(one, keys) for one in told] if isinstance(told, tuple) else told


def chosen() -> tuple[Any, Any]:
    judged, prices = rubric("violin"), shop()
    entrants = [Entrant(name, one, judged) for name, one in (("a", RESULTS["violin"]), ("b", RESULTS["violin"]))]
    settled = Asked(Answers("none", owner_noted=True, identity_noted=True), ticket=1500.0)
    return comparison_json(entrants, prices), trade_in_json(RESULTS["violin"], prices, settled)


CHOSEN = [told_of(one) for one in chosen()]


@pytest.mark.usefixtures("nothing_said")
def test_a_comparison_and_a_trade_in_keep_order_and_figures_whatever_the_words() -> None:
    compared, given = chosen()
    assert [told_of(compared), told_of(given)] == CHOSEN
    assert "Xyzzy" in compared.sentence and "Xyzzy" in given.sentence and "Xyzzy" in given.offers[0].say


@pytest.mark.usefixtures("nothing_said")
def test_a_result_is_made_without_the_words() -> None:
    from evaluator.result.making.result import result_of
    from tests.papers.cases import content, evaluation_of

    assert result_json(result_of(evaluation_of(content(FEW)))) == snapshot_of(FEW)


def test_every_kind_of_fact_has_its_words_and_each_table_all_its_codes() -> None:
    kinds = {
        one for module in (facts, steps) for one in vars(module).values()
        if isinstance(one, type) and is_dataclass(one) and "code" in {field.name for field in fields(one)}
    }  # fmt: skip
    assert kinds - {facts.NotAsked} == set(reasons._WORDS)


def test_every_fact_has_the_code_that_it_is_known_by() -> None:
    for module in (facts, steps):
        for one in vars(module).values():
            if isinstance(one, type) and is_dataclass(one):
                for field in fields(one):
                    if field.name == "code" and field.default is not MISSING:
                        assert field.default in get_args(get_type_hints(one)["code"])
