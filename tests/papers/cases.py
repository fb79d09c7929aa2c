"""Evaluations for the tests of papers and of the whole: YAML text in, the evaluation or its snapshot out."""

import json
from ast import literal_eval
from collections.abc import Mapping
from functools import cache, lru_cache
from io import BytesIO
from typing import Any

from pypdf import PdfReader

from evaluator.assessment.observing.case import read_case
from evaluator.basis.document import parse_document
from evaluator.papers.printing.pdf import report_pdf
from evaluator.result.evaluation import Evaluation, evaluate
from evaluator.result.json_form import read_result, to_json
from evaluator.rubric.files.shop_file import load_shop
from evaluator.rubric.rubric import Rubric
from evaluator.rubric.shop import Shop
from evaluator.rubric.written.checks import Check
from evaluator.store.folders import rubrics_folder
from tests.known import shipped as rubric

FEW = """
format: 1
rubric: violin
title: Violin in a shop window
instrument: {size: 4/4, style: classical, tier: student}
purpose: buying
asking: {amount: 780, currency: USD}
ready_value: {amount: 1000, currency: USD}
observations:
  fingerboard_end: blunt
  purfling: painted
  bridge_carved: boxy
  weight_without_chin_rest: {reading: 436 g, tool: kitchen_scale}
"""
BOW = """
format: 1
rubric: bow
title: A bow with thin hair
instrument: {size: violin 4/4, style: classical, tier: intermediate}
purpose: buying
asking: {amount: 450, currency: USD}
ready_value: {amount: 900, currency: USD}
observations:
  bow_camber: flat
  bow_hair: due
  bow_weight: {reading: 60 g, tool: gram_scale}
"""


@cache
def shop() -> Shop:
    found, problems = load_shop(rubrics_folder() / "shop.yaml")
    assert found is not None, problems
    return found


def evaluation_of(data: Mapping[str, Any], draws: int = 400, seed: int = 1) -> Evaluation:
    """The evaluation of a file's content; fewer draws than a user gets, for speed, and kept for the next that asks."""
    return _kept(repr(data), draws, seed)


@lru_cache(maxsize=64)
def _kept(data: str, draws: int, seed: int) -> Evaluation:
    return evaluated_anew(literal_eval(data), draws, seed)


def evaluated_anew(data: Mapping[str, Any], draws: int = 400, seed: int = 1) -> Evaluation:
    judged = rubric(data["rubric"])
    case, problems = read_case(judged, data)
    assert case is not None and not problems, problems
    return evaluate(judged, case, shop(), seed=seed, draws=draws)


def content(text: str) -> dict[str, Any]:
    document, problems = parse_document(text.encode(), "here")
    assert document is not None, problems
    found: dict[str, Any] = document.data
    return found


def paper_of(snapshot: Mapping[str, Any], reader: str = "buyer", size: str = "A4") -> bytes:
    """The PDF of a snapshot for a reader, drawn once for all tests that read it."""
    return _drawn(json.dumps(snapshot), reader, size)


@lru_cache(maxsize=128)
def _drawn(snapshot: str, reader: str, size: str) -> bytes:
    return report_pdf(read_result(json.loads(snapshot)), reader, size)


@lru_cache(maxsize=128)
def pages_of(pdf: bytes) -> tuple[str, ...]:
    """The text of each page."""
    return tuple(page.extract_text() for page in PdfReader(BytesIO(pdf)).pages)


def length_of(pdf: bytes) -> int:
    """How many pages it has."""
    return len(PdfReader(BytesIO(pdf)).pages)


def text_of(pdf: bytes) -> str:
    """All text with any white space as one space, so that line breaks do not matter."""
    return " ".join(" ".join(pages_of(pdf)).split())


@cache
def snapshot_of(text: str) -> dict[str, Any]:
    """The snapshot of an evaluation in YAML; do not change it."""
    return to_json(evaluation_of(content(text)))


def in_numbers(told: Any) -> Any:
    """JSON with each amount of money as its number, to reckon with."""
    if isinstance(told, dict):
        if set(told) == {"amount", "currency"}:
            return float(told["amount"])
        return {name: in_numbers(one) for name, one in told.items()}
    return [in_numbers(one) for one in told] if isinstance(told, list) else told


def answers(name: str, kind: str, readings: int = 99) -> dict[str, Any]:
    """An answer for every check: the best ("sound") or the worst ("wanting") outcome, and up to so many readings."""
    found: dict[str, Any] = {}
    judged = rubric(name)
    for check in judged.checks.values():
        if check.kind == "measure" and readings > 0:
            reading = _reading(judged, check, kind)
            if reading is not None:
                found[check.check] = reading
                readings -= 1
        elif check.kind == "choice":
            found[check.check] = _outcome(check, kind)
        elif check.kind in ("count", "rating"):
            wanted = check.outcomes[_outcome(check, kind)]
            bounds = (wanted.at_least, wanted.at_most, check.rate.lowest if check.rate else 0)
            found[check.check] = next(int(bound) for bound in bounds if bound is not None)
    return found


def full(name: str, kind: str, size: str, readings: int = 99) -> dict[str, Any]:
    """An evaluation in which everything was looked at."""
    return {
        "format": 1,
        "rubric": name,
        "title": f"Everything looked at, {kind}",
        "instrument": {"size": size, "style": "classical", "tier": "intermediate"},
        "purpose": "buying",
        "looker": "luthier",
        "asking": {"amount": 2400, "currency": "USD"},
        "ready_value": {"amount": 4500, "currency": "USD"},
        "observations": answers(name, kind, readings),
    }


@cache
def full_snapshot(name: str, kind: str, size: str, readings: int = 99) -> dict[str, Any]:
    return to_json(evaluation_of(full(name, kind, size, readings)))


def _reading(judged: Rubric, check: Check, kind: str) -> dict[str, str] | None:
    limits = judged.limits(check, judged.default_size, "classical")
    if limits is None or check.measure is None or (limits.low is None and limits.high is None):
        return None
    low = limits.low if limits.low is not None else 0.8 * (limits.high or 0.0)
    high = limits.high if limits.high is not None else 1.2 * low
    value = (low + high) / 2 if kind == "sound" else high + 0.1 * (high - low)
    return {"reading": f"{value:.2f} {limits.unit}", "tool": check.measure.tools[0]}


def _outcome(check: Check, kind: str) -> str:
    wanted = ("sound", "acceptable", "fault", "disqualifying") if kind == "sound" else ("fault", "acceptable", "sound")
    for class_ in wanted:
        for key, outcome in check.outcomes.items():
            if outcome.class_ == class_:
                return key
    return next(iter(check.outcomes))
