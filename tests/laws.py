"""How often a law is tried: `tests/conftest.py` says on how many examples, this says which laws get fewer."""

from hypothesis import settings

USUAL = 100


def tried(usual: int) -> settings:
    """For a law whose examples are slow: so many in the usual run and not a hundred, ten times as many in the long."""
    return settings(max_examples=usual * settings().max_examples // USUAL)
