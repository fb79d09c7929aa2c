"""An evaluation file becomes what is typed on the pages, and that becomes a file again: with the same figures."""

from pathlib import Path

import pytest

from evaluator.assessment.model import Case
from evaluator.assessment.observing.case import read_case
from evaluator.basis.document import parse_document
from evaluator.exchange.evaluation_file import as_yaml, file_data, typed_from
from evaluator.fleet.judging import rubric_named
from evaluator.rubric.rubric import Rubric
from tests.fleet.fleets import EXAMPLES

HARD = """format: 1
rubric: violin
title: "no: 'yes' # 1.450 \\u00e9"
instrument: {size: 4/4, year: 1925, about: "- first\\n- second"}
asking: {amount: "1.450", currency: USD}
observations:
  purfling:
    - {outcome: inlaid, seen_by: photos, by: Ada, at: 2026-03-04T05:06:07+00:00}
    - {outcome: painted, note: "on"}
  body_length: {reading: [355, 14 1/64 in], tool: caliper}
  scroll_carving: 4
  varnish_type: cannot_tell
  bridge_height: {note: "not to be reached: chin rest in the way"}
"""


def read(text: bytes | str) -> tuple[Rubric, Case]:
    document, problems = parse_document(text, "file")
    assert document is not None, problems
    rubric = rubric_named(str(document.data["rubric"]))
    assert isinstance(rubric, Rubric)
    case, problems = read_case(rubric, document.data, document)
    assert case is not None, problems
    return rubric, case


def through_the_pages(text: bytes | str) -> str:
    document, _ = parse_document(text, "file")
    assert document is not None
    rubric, _ = read(text)
    return as_yaml(file_data(rubric.name, typed_from(document.data), rubric.understood))


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.stem)
def test_every_example_is_the_same_case_after_it_went_through_the_pages(path: Path) -> None:
    (_, before), (_, after) = read(path.read_bytes()), read(through_the_pages(path.read_bytes()))
    assert after == before


def test_an_answer_by_a_name_of_before_goes_through_the_pages_and_counts() -> None:
    old = HARD.replace(
        "  scroll_carving: 4", "  fingerboard_radius: {reading: 42 mm, tool: radius_gauge}\n  scroll_carving: 4"
    )
    old = old.replace('"1.450"', "1450")
    (_, before), (_, after) = read(old), read(through_the_pages(old))
    assert after == before
    assert "fingerboard_camber" in after.observations


def test_what_is_hard_to_write_stays_as_it_was() -> None:
    hard = HARD.replace('"1.450"', '"1,450.00"')
    (_, before), (_, after) = read(hard), read(through_the_pages(hard))
    assert after == before
    assert [one.outcome for one in after.observations["purfling"]] == ["inlaid", "painted"]
    assert after.title == "no: 'yes' # 1.450 \u00e9"


def test_a_second_way_through_changes_no_letter() -> None:
    hard = HARD.replace('"1.450"', "1450")
    once = through_the_pages(hard)
    assert through_the_pages(once) == once


def test_an_amount_that_can_be_two_stays_one_that_is_asked_back() -> None:
    document, _ = parse_document(HARD.replace('"1.450"', "1.450"), "file")
    assert document is not None
    assert typed_from(document.data)["start"]["asking"] == "1.450"
