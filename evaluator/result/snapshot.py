"""The result as plain JSON values: the one thing that pages, papers, `score --json` and the store show or keep.

Figures are rounded for reading and ids are the rubric's; every sentence that a page or paper prints is in here, so a
finished evaluation can be shown without its rubric. Nothing is computed that the evaluation does not hold, but for
what follows from it and is shown rather than judged by: the reasons (`why`) and the budget curve.
"""

from collections.abc import Iterable
from typing import Any

from ..assessment.model import CANNOT_TELL, Belief, Conformity, Finding, NextCheck, Observation, Range
from ..assessment.reasons.trail import cause_trails, check_trails
from ..assessment.reasons.why import Trace
from ..assessment.reasons.words import title_of
from ..basis.money import Money
from ..quoting.invoice import invoice
from ..rubric.model import Check
from ..rubric.rubric import Rubric
from ..rubric.show import cure_words
from ..valuation.model import Ruling, Verdict
from ..valuation.worth_json import ready_json
from .evaluation import Evaluation, weights_matter
from .work import budget, work

FORMAT = 1


def _range(value: Range) -> dict[str, float]:
    return {"expected": round(value.expected, 2), "low": round(value.low, 2), "high": round(value.high, 2)}


def _money(value: Money | None) -> dict[str, str] | None:
    return None if value is None else {"amount": str(value.amount), "currency": value.currency}


def _price(value: float | None) -> float | None:
    return None if value is None else round(value, 2)


def _finding(finding: Finding, rubric: Rubric) -> dict[str, Any]:
    check = rubric.checks[finding.check]
    return {
        "title": title_of(check, finding.say),
        "term": check.term,
        "part": check.part,
        "means": finding.means,
        "inherent": finding.inherent,
        "urgency": finding.urgency,
        "cures": [cure_words(rubric, cure) for cure in finding.cured_by],
        "check": finding.check,
        "outcome": finding.outcome,
        "class": finding.class_,
        "probability": round(finding.probability, 4),
        "level": finding.level,
        "say": finding.say,
        "required": finding.required,
        "seen": finding.seen,
        "cured_by": list(finding.cured_by),
    }


def _conformity(item: Conformity, rubric: Rubric) -> dict[str, Any]:
    check = rubric.checks[item.check]
    return {
        "check": item.check,
        "ask": check.ask,
        "term": check.term,
        "probability": round(item.probability, 4),
        "statement": item.statement,
        "value": round(item.value, 4),
        "standard_uncertainty": round(item.u, 4),
        "unit": item.unit,
        "low": item.low,
        "high": item.high,
        "target": item.target,
        "confidence": item.confidence,
        "settle": item.settle,
        "sources": [rubric.source_text(source) for source in item.sources],
    }


def _observation(seen: Observation, check: Check) -> dict[str, Any]:
    if seen.outcome == CANNOT_TELL:
        answer = "Cannot tell"
    elif seen.reading is not None:
        answer = ", ".join(seen.reading.texts)
    else:
        answer = check.outcomes[seen.outcome].say if seen.outcome else ""
    return {
        "answer": answer,
        "outcome": seen.outcome,
        "seen_by": seen.seen_by,
        "tool": seen.reading.tool if seen.reading else None,
        "note": seen.note,
        **({"photos": list(seen.photos)} if seen.photos else {}),
    }


def _belief(check: Check, belief: Belief, seen: Iterable[Observation]) -> dict[str, Any]:
    return {
        "check": check.check,
        "part": check.part,
        "ask": check.ask,
        "term": check.term,
        "kind": check.kind,
        **({"drawing": check.drawing} if check.drawing else {}),
        "minutes": check.minutes,
        "seen": belief.seen,
        "clash": belief.clash,
        "postponed": belief.postponed,
        "observations": [_observation(one, check) for one in seen],
        "belief": [
            {"outcome": name, "say": check.outcomes[name].say, "probability": round(share, 4)}
            for name, share in belief.probability.items()
        ],
        "worth": round(belief.worth, 4),
        "worth_after_work": round(belief.worth_after, 4),
        "because": list(belief.because),
    }


def _assessment(evaluation: Evaluation) -> dict[str, Any]:
    found, rubric = evaluation.assessment, evaluation.rubric
    answers = evaluation.case.observations
    trace = Trace(rubric, evaluation.case, found)
    why, why_causes = check_trails(trace), cause_trails(trace)
    return {
        "score": _range(found.score),
        "score_after_work": _range(found.score_after),
        "usual_score": round(found.usual, 2),
        "coverage": round(found.coverage, 4),
        "domains": {
            name: {"as_it_stands": _range(value), "after_work": _range(found.domains_after[name])}
            for name, value in found.domains.items()
        },
        "findings": [_finding(finding, rubric) for finding in found.findings],
        "disqualifying": [_finding(finding, rubric) for finding in found.disqualifying],
        "conformity": {name: _conformity(item, rubric) for name, item in found.conformity.items()},
        "causes": {
            name: {
                "say": rubric.causes[name].say,
                "if_not": rubric.causes[name].if_not,
                "about": rubric.causes[name].about,
                "prior": round(item.prior, 4),
                "probability": round(item.probability, 4),
                "signs": list(item.signs),
                "why": why_causes[name],
            }
            for name, item in found.causes.items()
        },
        "parts": [{"part": part.part, "say": part.say} for part in rubric.parts.values()],
        "checks": [
            _belief(rubric.checks[name], found.beliefs[name], answers.get(name, ())) | {"why": why[name]}
            for name in found.relevant
        ],
        "set_aside": dict(found.set_aside),
    }


def _ruling(ruling: Ruling | None) -> dict[str, Any] | None:
    if ruling is None:
        return None
    return {
        "advice": ruling.advice,
        "walk_away_price": _price(ruling.walk_away),
        "target_price": _price(ruling.target),
    }


def _verdict(verdict: Verdict) -> dict[str, Any]:
    worth_it = verdict.probability_worth_it
    return {
        "advice": verdict.advice,
        "sentence": verdict.sentence,
        "reasons": list(verdict.reasons),
        "test": verdict.test,
        "asking": _money(verdict.asking),
        "ready_value": _money(verdict.ready_value),
        "ready_value_from": verdict.ready_value_from,
        **ready_json(verdict.ready),
        "walk_away_price": _price(verdict.walk_away_price),
        "target_price": _price(verdict.target_price),
        "probability_worth_it": None if worth_it is None else round(worth_it, 4),
        "stopped_by": list(verdict.stopped_by),
        "say_to_seller": verdict.say_to_seller,
        "change_scope": verdict.change_scope,
        "allowing_for_unseen": _ruling(verdict.allowing_for_unseen),
    }


def _look(look: NextCheck, rubric: Rubric) -> dict[str, Any]:
    return {
        "check": look.check,
        "ask": rubric.checks[look.check].ask,
        "part": rubric.checks[look.check].part,
        "minutes": look.minutes,
        "gain": round(look.gain, 4),
        "gain_unit": look.gain_unit,
        "why": look.why,
    }


def _cautions(evaluation: Evaluation) -> list[str]:
    """The cautions of the planned work, of the next looks and of every result, each once; the last is the result's."""
    rubric, work = evaluation.rubric, evaluation.estimate
    texts = [text for line in (*work.lines, *work.optional) for text in line.cautions]
    for look in evaluation.next_checks:
        texts += rubric.caution_texts(rubric.checks[look.check])
    last = rubric.cautions.get("not_a_certificate")
    if last is None:
        return list(dict.fromkeys(texts))
    return [*dict.fromkeys(text for text in texts if text != last.say), last.say]


def _opinions(rubric: Rubric) -> dict[str, list[str]]:
    """Whose opinion stands in for the common one, and on which checks and jobs."""
    found: dict[str, list[str]] = {}
    for name, whose in rubric.opinion_of.items():
        found.setdefault(whose, []).append(name)
    return found


def _instrument(evaluation: Evaluation) -> dict[str, Any]:
    instrument = evaluation.case.instrument
    return {
        "family": evaluation.rubric.family,
        "size": instrument.size,
        "style": instrument.style,
        "tier": instrument.tier,
        "about": instrument.about,
        "year": instrument.year,
        "strings": instrument.strings,
    }


def to_json(evaluation: Evaluation) -> dict[str, Any]:
    """The whole result by the names of the contract; safe for `json.dumps`, equal for equal arguments of `evaluate`."""
    case, rubric = evaluation.case, evaluation.rubric
    holds = evaluation.verdict_holds
    bill = invoice(rubric, evaluation.shop, evaluation.estimate)
    return {
        "format": FORMAT,
        "program": evaluation.program,
        "rubric": {
            "name": rubric.name,
            "title": rubric.title,
            "version": rubric.version,
            "hash": rubric.hash,
            "opinions": _opinions(rubric),
        },
        "shop": {
            "name": evaluation.shop.shop,
            "is_default": evaluation.shop.is_default,
            "version": evaluation.shop.version,
            "hash": evaluation.shop_hash,
        },
        "seed": evaluation.seed,
        "title": case.title,
        "instrument": _instrument(evaluation),
        "purpose": case.purpose,
        "seen_by": case.seen_by,
        "looker": case.looker,
        **_assessment(evaluation),
        **work(evaluation.estimate, rubric, evaluation.assessment, bill),
        "budget": budget(evaluation),
        "verdict": _verdict(evaluation.verdict),
        "next_checks": [_look(look, rubric) for look in evaluation.next_checks],
        "visit": [_look(look, rubric) for look in evaluation.visit],
        "questions": [question.text for question in evaluation.questions],
        "photos_to_ask_for": [wish.text for wish in evaluation.photos],
        "cautions": _cautions(evaluation),
        "views": {
            "verdict_holds": None if holds is None else round(holds, 4),
            "score_band_holds": round(evaluation.score_band_holds, 4),
            "weights_matter": weights_matter(evaluation.verdict),
            "turns": [
                {
                    "domain": turn.domain,
                    "share_now": round(turn.share_now, 4),
                    "share_then": round(turn.share_then, 4),
                    "advice": turn.to,
                }
                for turn in evaluation.turns
            ],
        },
    }


def trace_to_json(evaluation: Evaluation) -> list[dict[str, object]]:
    """Why each figure is what it is: score, causes and findings, down to what was seen, the rules and their sources."""
    trace = Trace(evaluation.rubric, evaluation.case, evaluation.assessment)
    return [reason.as_json() for reason in trace.everything()]
