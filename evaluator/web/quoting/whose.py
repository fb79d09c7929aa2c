"""Whose instrument a quote is for, as the cards of its customer and of the instrument say."""

from ...store.workshop.customers import find_customer, find_instrument
from ...store.workshop.timeline import belongs_to
from ...wording.phrases import capital
from ...wording.privacy import without_reach
from ..service import service

ON_PAPER = ("label", "serial")  # of the instrument's card; how to reach its owner is never printed on a quote


def whose(evaluation: str) -> str:
    """'For Anna Example. Serial: 1907.' Empty where it stands on no card."""
    engine = service().engine
    instrument = find_instrument(engine, belongs_to(engine, evaluation))
    if instrument is None:
        return ""
    owner = find_customer(engine, instrument.customer)
    marks = [f"{name}: {instrument.record[name]}" for name in ON_PAPER if instrument.record.get(name)]
    said = [f"For {owner.name}", capital("; ".join(marks))] if owner else [capital("; ".join(marks))]
    return " ".join(f"{without_reach(one).rstrip('.')}." for one in said if one)
