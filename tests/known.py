"""The rubrics, and what the trade knows of owning and of the seasons, as the program ships them, for tests."""

from dataclasses import fields
from functools import cache

import yaml

from evaluator.calculators.answering import calculators
from evaluator.rubric.file import RubricFile
from evaluator.rubric.files.load import load_rubric
from evaluator.rubric.rubric import Rubric
from evaluator.store.folders import owning_known, rubrics_folder, seasons_known
from evaluator.valuation.deciding.ladder import Turns

OWNING = owning_known()
SEASONS = seasons_known()
CALCULATORS = calculators(SEASONS)
_JUDGING = yaml.safe_load((rubrics_folder() / "judging.yaml").read_text(encoding="utf-8"))
JUDGED = {one.judged: one for one in RubricFile.model_validate(_JUDGING).judged}
_BY_NAME: dict[str, float] = {one.judged: one.value for one in JUDGED.values()}
AT = Turns(**{field.name: float(_BY_NAME[field.name]) for field in fields(Turns)})


@cache
def shipped(name: str) -> Rubric:
    """A rubric without overlays, read once: it is frozen."""
    found, problems = load_rubric(rubrics_folder(), name)
    assert found is not None, problems
    return found
