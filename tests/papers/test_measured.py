"""What the papers say below the readings."""

from evaluator.papers.blocks import Listing
from evaluator.papers.sections.measured import QUESTION, readings
from evaluator.result.json_form import read_result
from tests.papers.cases import snapshot_of

HALF = """
format: 1
rubric: violin
instrument: {size: 1/2, style: classical, tier: student}
observations:
  action_low: {reading: 6.5 mm, tool: steel_rule}
  body_length: {reading: 312 mm, tool: tape}
"""
FULL = HALF.replace("1/2", "4/4").replace("312", "356")


def told(text: str) -> str:
    blocks = readings(read_result(snapshot_of(text)))
    return " ".join(item for block in blocks if isinstance(block, Listing) for item in block.items)


def test_outside_a_doubtful_standard_is_said_to_be_a_question() -> None:
    """Small sizes are held to figures from memory; a full size outside its standard is a fault, without that line."""
    assert f"Action, thickest string: {QUESTION}" in told(HALF)
    assert QUESTION not in told(FULL)
