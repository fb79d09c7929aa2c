"""What the trade knows of owning and of the seasons, as the program ships it, for tests."""

from evaluator.calculators.registry import calculators
from evaluator.store.compiled.knowledge import owning_known, seasons_known

OWNING = owning_known()
SEASONS = seasons_known()
CALCULATORS = calculators(SEASONS)
