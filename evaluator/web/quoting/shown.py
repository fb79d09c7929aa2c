"""The photographs of what was found, for the customer's page: those that a line of her quote answers, and no others."""

from collections.abc import Mapping

from ...store.quotes import KeptQuote
from ..looking.pages import kept_or_404
from ..service import service

MOST = 3  # beside one line; a phone holds three in a row


def photos_of(kept: KeptQuote) -> Mapping[str, tuple[str, ...]]:
    """The names of the photographs of what each line of a quote cures, by its job; lines without any are left out."""
    result = service().result(kept_or_404(kept.evaluation))
    taken = {
        check.check: tuple(name for answer in check.observations for name in answer.photos) for check in result.checks
    }
    asked = {line.job for line in kept.quote.lines}
    found = {
        line.job: tuple(dict.fromkeys(name for check in line.cures for name in taken.get(check, ())))[:MOST]
        for line in (*result.plan.lines, *result.optional)
        if line.job in asked
    }
    return {job: names for job, names in found.items() if names}
