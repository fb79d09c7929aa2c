"""Whose instrument a quote is for, and when it falls due again, as its cards say."""

from datetime import date

from ...quoting.work_order import next_service
from ...store.quotes import KeptQuote
from ...store.workshop.customers import find_customer, find_instrument
from ...store.workshop.timeline import belongs_to
from ...wording.phrases import capital
from ...wording.privacy import without_reach
from ..service import service
from ..workshop.history import due_after

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


def service_on(kept: KeptQuote) -> date:
    """When the next service falls due after the work of a quote: by the player's hours where the card says them."""
    engine, done = service().engine, kept.changed[:10]
    instrument = find_instrument(engine, belongs_to(engine, kept.evaluation))
    if instrument is not None:
        return due_after(instrument, done)
    return next_service(date.fromisoformat(done), service().shop.service_every_months)
