"""`know`: all that is held of a case before any draw, in closed form: beliefs, causes, class of making, weights."""

from collections.abc import Mapping
from dataclasses import replace

import numpy as np

from ...basis.frozen import dataclass
from ...rubric.making import SignTable
from ...rubric.rubric import Rubric
from ..believing.beliefs import Held, Left, held
from ..believing.causes import CauseState, cause_states
from ..believing.evidence import NOTHING, Evidence, Value, evidence_of, values_of
from ..believing.making import OLD, Hand, Told, hand_of, outcome_shares, shares_before, told
from ..believing.pointing import postponed, signs_elsewhere, without_pointers
from ..believing.terms import Term, bare_term, prior_of
from ..model import Case, Instrument
from ..observing.relevance import Relevance, relevance
from .findings import usually_left
from .score import Setting, usual_of
from .weights import Weights, weights_of


@dataclass(frozen=True, slots=True)
class Known:
    """Everything that is held before any draw; `held` and `left` follow `relevance.counts`.

    `left`: what the work leaves of each check's outcomes. `kept`: checks that do not apply because of another answer;
    answered ones count in the score as given, the others as unseen. `setting` is what the score is reckoned with.
    """

    relevance: Relevance
    held: tuple[Held, ...]
    kept: tuple[Held, ...]
    left: tuple[Left, ...]
    left_kept: tuple[Left, ...]
    causes: Mapping[str, CauseState]
    values: Mapping[str, Value]
    setting: Setting
    waits_for: Mapping[str, tuple[str, ...]]
    hand: Hand
    told: tuple[Told, ...]
    signs: Mapping[str, SignTable]

    @property
    def weights(self) -> Weights:
        return self.setting.weights

    @property
    def left_of_all(self) -> tuple[Left, ...]:
        """What the work leaves, of all checks of `setting.held`."""
        return self.left + self.left_kept


def know(rubric: Rubric, case: Case) -> Known:
    """Beliefs and weights of a case, in closed form."""
    found = relevance(rubric, case)
    names = (*found.counts, *found.kept, *found.open)
    values = values_of(rubric, case, names)
    it = case.instrument
    every = [bare_term(rubric, name, it.size, it.style, it.tier, it.strings, it.age) for name in names]
    bare = without_pointers(rubric, case, every)
    elsewhere = signs_elsewhere(rubric, case, {term.check: term for term in bare})
    evidence = {
        term.check: evidence_of(
            rubric.checks[term.check],
            term,
            case.observations.get(term.check, ()),
            values.get(term.check),
            case.looker,
            elsewhere.get(term.check, ()),
        )
        for term in bare
        if term.check in case.observations or term.check in values or term.check in elsewhere
    }
    hand, signs_told = _hand(rubric, case, evidence)
    making = dict(zip(rubric.classes, hand.shares, strict=True))
    terms = [_with_prior(rubric, case.instrument, term, making) for term in bare]
    waits_for = postponed(rubric, terms, evidence)
    causes = cause_states(terms, evidence)
    beliefs = tuple(
        held(term, evidence.get(term.check, NOTHING), causes, _mixture(rubric.signs.get(term.check), hand))
        for term in terms
    )
    left = tuple(usually_left(rubric, one, waits=one.term.check in waits_for) for one in beliefs)
    checks = [rubric.checks[name] for name in names]
    weights = weights_of(checks, case.instrument, rubric.domain_shares.get(case.instrument.tier, {}))
    usual = usual_of([one.usual for one in rubric.classes.values()], weights.domains)
    setting = Setting(weights, beliefs, bare, np.array(hand.shares or (1.0,)), usual)
    count = len(found.counts)
    return Known(
        relevance=found,
        held=beliefs[:count],
        kept=beliefs[count:],
        left=left[:count],
        left_kept=left[count:],
        causes=causes,
        values=values,
        setting=setting,
        waits_for=waits_for,
        hand=hand,
        told=signs_told,
        signs=rubric.signs,
    )


def _with_prior(rubric: Rubric, instrument: Instrument, term: Term, making: Mapping[str, float]) -> Term:
    """The term with how likely its bad state is in what the instrument is likely to be."""
    cause = rubric.causes.get(term.cause) if term.cause else None
    prior = prior_of(cause, instrument, making)
    return term if prior == term.prior else replace(term, prior=prior)


def _hand(rubric: Rubric, case: Case, evidence: Mapping[str, Evidence]) -> tuple[Hand, tuple[Told, ...]]:
    """The class of making after everything that was seen, and what each sign told."""
    old = case.instrument.age in OLD
    seen = [told(rubric.signs[name], one, old=old) for name, one in evidence.items() if name in rubric.signs]
    signs = tuple(one for one in seen if one is not None)
    prior = shares_before(tuple(rubric.classes.values()), rubric.family, old=old)
    return hand_of(prior, tuple(rubric.sign_groups), signs), signs


def _mixture(table: SignTable | None, hand: Hand) -> tuple[float, ...] | None:
    return None if table is None else outcome_shares(table, hand)
