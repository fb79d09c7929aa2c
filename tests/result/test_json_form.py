"""A result as JSON and back: nothing is lost, nothing strange is taken, older kept results open, the schema holds."""

import json
import re
from dataclasses import FrozenInstanceError, replace
from pathlib import Path
from typing import Any

import pytest
from jsonschema import Draft202012Validator

from evaluator.result.json_form import NoResultError, read_result, result_json, result_schema, with_plain_money
from evaluator.result.making.result import result_of
from evaluator.store.folders import rubrics_folder
from evaluator.valuation.model import Turning
from evaluator.wording.answer.headline import subject
from evaluator.wording.answer.source import source_words
from evaluator.wording.answer.verdict import with_words, words_of
from tests.papers.cases import BOW, FEW, content, evaluation_of, in_numbers

KEPT = sorted((Path(__file__).parent / "kept").glob("*.json"))
CASES = [BOW, FEW, *(path.read_text("utf-8") for path in sorted((rubrics_folder() / "examples").glob("*.yaml"))[::5])]


def kept(path: Path) -> dict[str, Any]:
    found: dict[str, Any] = json.loads(path.read_text("utf-8"))
    return found


@pytest.mark.parametrize("text", CASES, ids=lambda text: content(text)["title"])
def test_a_result_comes_back_from_its_json_and_the_schema_describes_it(text: str) -> None:
    result = result_of(evaluation_of(content(text), draws=100))
    written = result_json(result)
    assert read_result(json.loads(json.dumps(written))) == result
    Draft202012Validator(result_schema()).validate(written)


def test_with_plain_money_it_is_the_same_but_for_the_amounts() -> None:
    result = result_of(evaluation_of(content(FEW), draws=100))
    plain = with_plain_money(result)
    assert set(plain) == set(result_json(result))
    assert set(plain["findings"][0]) == set(result_json(result)["findings"][0]) >= {"class"}  # type: ignore[index,call-overload]
    assert plain["plan"]["mean"] == result.plan.mean  # type: ignore[index]


def test_the_schema_is_one_and_knows_every_field_by_its_name() -> None:
    schema = result_schema()
    Draft202012Validator.check_schema(schema)
    assert schema["additionalProperties"] is False
    finding = schema["$defs"]["Finding"]
    assert {"class", "check", "probability"} <= set(finding["properties"])
    assert "class_" not in finding["properties"]


def test_a_result_cannot_be_changed() -> None:
    result = result_of(evaluation_of(content(BOW), draws=100))
    with pytest.raises(FrozenInstanceError):
        result.coverage = 1.0  # type: ignore[misc]


@pytest.mark.parametrize("path", KEPT, ids=lambda path: path.stem)
def test_results_that_older_programs_kept_open_with_their_figures(path: Path) -> None:
    old = kept(path)
    result, told = read_result(old), in_numbers(old)
    assert result.score.expected == old["score"]["expected"]
    assert [line.mean for line in result.plan.lines] == [line["mean"] for line in told["plan"]["lines"]]
    verdict = told["verdict"]
    highest = verdict["ceiling"] if "ceiling" in verdict else verdict["walk_away_price"]
    assert result.verdict.ceiling == (None if highest is None else max(0.0, highest))
    assert [one.check for one in result.findings] == [one["check"] for one in old["findings"]]
    assert read_result(result_json(result)) == result


def test_a_result_kept_with_plain_numbers_has_the_same_amounts_as_text() -> None:
    old = kept(Path(__file__).parent / "kept" / "money_as_numbers.json")
    assert old["format"] == 2
    again = result_json(read_result(old))
    assert in_numbers(again["verdict"]["known_sales"]) == old["verdict"]["known_sales"]
    assert again["verdict"]["ready_range"]["low"] == {"amount": "1500.00", "currency": "USD"}
    assert in_numbers(again["plan"]) == {**old["plan"], "invoice": in_numbers(again["plan"]["invoice"]),
                                         "lines": in_numbers(again["plan"]["lines"])}  # fmt: skip
    for name, amount in old["plan"]["invoice"].items():
        shown = again["plan"]["invoice"][name]
        assert (shown["amount"] if isinstance(shown, dict) else shown) == amount


def test_a_decision_that_was_kept_in_words_is_told_in_those_words() -> None:
    old = kept(Path(__file__).parent / "kept" / "worded_decision.json")
    assert old["format"] == 3
    result, verdict = read_result(old), old["verdict"]
    told = words_of(result)
    assert (told.sentence, list(told.reasons), told.say_to_seller) == (
        verdict["sentence"], verdict["reasons"], verdict["say_to_seller"]
    )  # fmt: skip
    assert source_words(result) == verdict["ready_value_from"] == "your own figure"
    assert subject(result, next(one for one in result.verdict.because if one.check)) != ""


def test_words_for_who_reads_the_json_alone_are_those_that_are_shown() -> None:
    result = result_of(evaluation_of(content(FEW), draws=100))
    assert "words" not in result_json(result)
    written = result_json(with_words(result))
    again = read_result(written)
    assert words_of(again) == words_of(result)
    assert written["words"]["ready_value_from"] == "your own figure"
    Draft202012Validator(result_schema()).validate(written)


def test_the_first_kept_results_say_where_they_have_nothing() -> None:
    result = read_result(kept(Path(__file__).parent / "kept" / "first_pages.json"))
    assert result.budget is None
    assert result.plan.invoice is None
    assert result.usual_score is None
    assert result.checks[0].why.steps == ()


@pytest.mark.parametrize(
    "change",
    [
        {"wieght": 1},
        {"score": {"expected": "82", "low": 1.0, "high": 2.0}},
        {"seed": True},
        {"purpose": "swapping"},
        {"coverage": None},
        {"findings": None},
    ],
    ids=lambda change: next(iter(change)),
)
def test_what_is_no_result_is_refused(change: dict[str, Any]) -> None:
    with pytest.raises(NoResultError):
        read_result(kept(KEPT[0]) | change)


def amounts(told: Any) -> list[str]:
    """Every amount of money in a JSON value, but for what a quote would be made of, which is kept exact."""
    if isinstance(told, dict):
        if set(told) == {"amount", "currency"}:
            return [told["amount"]]
        return [one for name, inner in told.items() if name != "quotable" for one in amounts(inner)]
    return [one for inner in told for one in amounts(inner)] if isinstance(told, list) else []


def test_estimates_are_told_to_the_cent() -> None:
    evaluation = evaluation_of(content(FEW), draws=100)
    turning = Turning(minutes=7.0, chance=0.123456, gain=12.3456)
    verdict = replace(evaluation.verdict, turning=turning)
    written = result_json(result_of(replace(evaluation, verdict=verdict)))
    assert written["verdict"]["turning"] == {
        "minutes": 7.0, "chance": 0.1235, "gain": {"amount": "12.35", "currency": "USD"}
    }  # fmt: skip
    spans = [written[name] for name in ("score", "score_after_work")]
    spans += [one[name] for one in written["domains"].values() for name in ("as_it_stands", "after_work")]
    assert all(value is None or value == round(value, 2) for span in spans for value in span.values())
    found = amounts(written)
    assert len(found) > 50
    assert [one for one in found if not re.fullmatch(r"-?[0-9]+\.[0-9]{2}", one)] == []


def test_money_is_text_with_its_currency_everywhere() -> None:
    """No number stands where the records hold money; what was kept as numbers comes back as the same amounts."""
    written = result_json(result_of(evaluation_of(content(FEW), draws=100)))
    assert written["plan"]["mean"]["currency"] == "USD"
    assert re.fullmatch(r"[0-9]+\.[0-9]{2}", written["plan"]["mean"]["amount"])
    line = written["quotable"]["lines"][0]
    assert all(set(line["cost"][name]) == {"amount", "currency"} for name in line["cost"])
    old = kept(KEPT[0])
    again = result_json(read_result(old))
    assert float(again["plan"]["mean"]["amount"]) == old["plan"]["mean"]
    assert with_plain_money(read_result(old))["plan"]["mean"] == old["plan"]["mean"]
    for name in ("amount", "currency"):
        wrong = json.loads(json.dumps(written))
        wrong["plan"]["mean"][name] = {"amount": "much", "currency": "EUR"}[name]
        with pytest.raises(NoResultError):
            read_result(wrong)
