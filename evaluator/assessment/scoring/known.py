"""`know`: all that is held of a case before any draw, in closed form: beliefs, causes, class of making, weights."""

from collections.abc import Mapping
from dataclasses import dataclass

from ...rubric.making import SignTable
from ...rubric.rubric import Rubric
from ..believing.beliefs import Held, Left, held
from ..believing.causes import CauseState, cause_states
from ..believing.evidence import NOTHING, Evidence, Value, evidence_of, values_of
from ..believing.making import OLD, Hand, Told, hand_of, outcome_shares, prior_of, told
from ..believing.pointing import signs_elsewhere, without_pointers
from ..believing.postponed import postponed
from ..believing.terms import term_of
from ..model import Case
from ..observing.relevance import Relevance, relevance
from ..reasons.facts import InTheWay
from .findings import usually_left
from .score import Weights, weights_of


@dataclass(frozen=True, slots=True)
class Known:
    """Everything that is held before any draw; `held` and `left` follow `relevance.counts`.

    `left`: what the work leaves of each check's outcomes.
    """

    relevance: Relevance
    held: tuple[Held, ...]
    left: tuple[Left, ...]
    causes: Mapping[str, CauseState]
    values: Mapping[str, Value]
    weights: Weights
    postponed: Mapping[str, InTheWay]
    hand: Hand
    told: tuple[Told, ...]
    signs: Mapping[str, SignTable]


def know(rubric: Rubric, case: Case) -> Known:
    """Beliefs and weights of a case, in closed form."""
    found = relevance(rubric, case)
    terms = without_pointers(
        rubric, case, [term_of(rubric, rubric.checks[name], case.instrument) for name in found.counts]
    )
    elsewhere = signs_elsewhere(rubric, case, {term.check: term for term in terms})
    values = values_of(rubric, case, found.counts)
    evidence = {
        term.check: evidence_of(
            rubric.checks[term.check],
            term,
            case.observations.get(term.check, ()),
            values.get(term.check),
            case.looker,
            elsewhere.get(term.check, ()),
        )
        for term in terms
        if term.check in case.observations or term.check in values or term.check in elsewhere
    }
    put_off = postponed(rubric, terms, evidence)
    counted: dict[str, Evidence] = {name: one for name, one in evidence.items() if name not in put_off}
    causes = cause_states(terms, counted)
    hand, signs_told = _hand(rubric, case, evidence)
    beliefs = tuple(
        held(term, counted.get(term.check, NOTHING), causes, _mixture(rubric.signs.get(term.check), hand))
        for term in terms
    )
    left = tuple(usually_left(rubric, one) for one in beliefs)
    checks = [rubric.checks[name] for name in found.counts]
    weights = weights_of(checks, case.instrument, rubric.domain_shares.get(case.instrument.tier, {}))
    return Known(found, beliefs, left, causes, values, weights, put_off, hand, signs_told, rubric.signs)


def _hand(rubric: Rubric, case: Case, evidence: Mapping[str, Evidence]) -> tuple[Hand, tuple[Told, ...]]:
    """The class of making after everything that was seen, and what each sign told."""
    old = case.instrument.age in OLD
    seen = [told(rubric.signs[name], one, old=old) for name, one in evidence.items() if name in rubric.signs]
    signs = tuple(one for one in seen if one is not None)
    prior = prior_of(tuple(rubric.classes.values()), rubric.family, old=old)
    return hand_of(prior, tuple(rubric.sign_groups), signs), signs


def _mixture(table: SignTable | None, hand: Hand) -> tuple[float, ...] | None:
    return None if table is None else outcome_shares(table, hand)
