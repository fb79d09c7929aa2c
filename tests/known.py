"""What an owner meets, as the program ships it, for tests."""

from evaluator.rubric.owning.reading import load_owning
from evaluator.store.folders import rubrics_folder

FOUND, _PROBLEMS = load_owning(rubrics_folder() / "owning.yaml")
assert FOUND is not None, _PROBLEMS
OWNING = FOUND
