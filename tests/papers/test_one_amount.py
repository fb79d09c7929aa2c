"""No paper says two amounts for one thing: read back from all its blocks, of every example and of random cases."""

import random
import re
from collections.abc import Iterator
from dataclasses import fields, is_dataclass
from decimal import Decimal
from typing import Any

import pytest

from evaluator.assessment.observing.case import read_case
from evaluator.papers.story import READERS, paper
from evaluator.result.evaluation import evaluate
from evaluator.result.json_form import read_result, to_json
from evaluator.result.model.result import Result
from evaluator.rubric.rubric import Rubric
from evaluator.store.folders import rubrics_folder
from tests.laws import sampled
from tests.papers.cases import content, evaluation_of, rubric
from tests.papers.test_sums import TAXED, shop_with

EXAMPLES = sorted((rubrics_folder() / "examples").glob("*.yaml"))
MONEY = r"\$([\d,]+(?:\.\d\d)?)"
# What a paper may name, and every way in which it names it.
THINGS = {
    "offer": [rf"[Oo]ffer {MONEY}", r"offer ([\d,]+)(?= )", rf"meet at {MONEY}", rf"and take {MONEY}"],
    "ceiling": [rf"pay no more than {MONEY}", r"at most ([\d,]+)", rf"worth no more than {MONEY}", rf"up to {MONEY}"],
    "asked": [rf"asked {MONEY}", r"asked ([\d,]+)(?= )", rf"A good buy at {MONEY}"],
    "work": [rf"About {MONEY} of work", rf"comes to about {MONEY}(?:, with tax)?;", rf"Together, about {MONEY}"],
    "work at most": [rf"stay below {MONEY}", rf"In four of five cases not above {MONEY}", rf"it stays below {MONEY}"],
    "score": [
        r"([\d.]+) of 100 as it stands",
        r"as it stands ([\d.]+)",
        r"([\d.]+) of 100\. [A-Z]",
        r"which leaves ([\d.]+)",
    ],
}
HALF = Decimal("0.5")  # between an amount in whole dollars and the same to the cent


def texts(value: object) -> Iterator[str]:
    """Every text of a block and of what is in it, in reading order."""
    if isinstance(value, str):
        yield value
    elif isinstance(value, tuple):
        for inner in value:
            yield from texts(inner)
    elif is_dataclass(value):
        for field in fields(value):
            yield from texts(getattr(value, field.name))


def amounts(text: str) -> dict[str, set[Decimal]]:
    return {
        thing: {Decimal(found.replace(",", "")) for way in ways for found in re.findall(way, text)}
        for thing, ways in THINGS.items()
    }


def clashes(result: Result, reader: str) -> list[str]:
    """The things of which a paper says two amounts; two that differ by the rounding of a unit are one."""
    found = amounts(" ".join(texts(tuple(paper(result, reader).blocks))))
    return [
        f"{reader} {thing}: {sorted(said)}" for thing, said in found.items() if said and max(said) - min(said) > HALF
    ]


def random_case(number: int) -> tuple[Rubric, dict[str, Any]]:
    """A case of any family, purpose and price with some of its looks answered."""
    dice = random.Random(number)
    judged = rubric(dice.choice(["violin", "viola", "cello", "bow"]))
    choices = [check for check in judged.checks.values() if check.kind == "choice"]
    looked = dice.sample(choices, dice.randint(0, len(choices)))
    data: dict[str, Any] = {
        "format": 1,
        "rubric": judged.name,
        "title": f"Case {number}",
        "instrument": {
            "size": judged.default_size,
            "style": "classical",
            "tier": dice.choice(["student", "professional"]),
        },
        "purpose": dice.choice(["buying", "buying", "quote", "trade_in"]),
        "observations": {check.check: dice.choice(list(check.outcomes)) for check in looked},
    }
    if dice.random() < 0.8:
        data["asking"] = {"amount": dice.choice([150, 480, 900, 2400, 9500]), "currency": "USD"}
    return judged, data


def result_of(number: int) -> Result:
    judged, data = random_case(number)
    case, problems = read_case(judged, data)
    assert case is not None, problems
    changes = TAXED | {"minimum_charge": "90"} if number % 2 else {}
    return read_result(to_json(evaluate(judged, case, shop_with(changes), draws=200, seed=number)))


@pytest.mark.parametrize("path", sampled(EXAMPLES, 3), ids=lambda path: path.stem)
def test_no_paper_of_an_example_says_two_amounts_for_one_thing(path: Any) -> None:
    result = read_result(to_json(evaluation_of(content(path.read_text(encoding="utf-8")))))
    assert [one for reader in READERS for one in clashes(result, reader)] == []


@pytest.mark.parametrize("number", sampled(range(200), 20))
def test_no_paper_of_a_random_case_says_two_amounts_for_one_thing(number: int) -> None:
    result = result_of(number)
    assert [one for reader in READERS for one in clashes(result, reader)] == []


def test_two_amounts_are_noticed() -> None:
    found = amounts("Offer $640, and pay no more than $700; asked $900. So could we meet at $645? at most 700")
    assert found["offer"] == {Decimal(640), Decimal(645)} and found["ceiling"] == {Decimal(700)}


def test_every_thing_is_named_on_some_paper() -> None:
    result = read_result(
        to_json(evaluation_of(content((EXAMPLES[0].parent / "good_body_raw_set_up.yaml").read_text("utf-8"))))
    )
    for reader in ("parent", "buyer", "shop"):
        found = amounts(" ".join(texts(tuple(paper(result, reader).blocks))))
        assert all(found.values()), found
