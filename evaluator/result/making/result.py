"""From an evaluation to the one result.

Figures are rounded for reading and ids are the rubric's; every text that a page or paper prints is in it, so that a
finished evaluation can be shown without its rubric. Nothing is computed that the evaluation does not hold, but for
what follows from it and is shown rather than judged by: the reasons and the budget curve.
"""

from ...assessment.reasons.why import Trace
from ...quoting.draft import draft_of, invoice
from ...rubric.rubric import Rubric
from ..evaluation import Evaluation
from ..model.instrument import Part
from ..model.result import Result
from ..model.score import Check
from . import decision, instrument, score, work


def result_of(evaluation: Evaluation) -> Result:
    """The whole result; equal for equal arguments of `evaluate`."""
    case, rubric, found, plan = evaluation.case, evaluation.rubric, evaluation.assessment, evaluation.estimate
    draft = draft_of(rubric, evaluation.shop, plan, evaluation.seed)
    bill = invoice(draft)
    trace = Trace(rubric, case, found, evaluation.known)
    return Result(
        program=evaluation.program,
        rubric=instrument.rubric_used(rubric),
        shop=instrument.shop_used(evaluation),
        seed=evaluation.seed,
        title=case.title,
        instrument=instrument.instrument(evaluation),
        purpose=case.purpose,
        seen_by=case.seen_by,
        looker=case.looker,
        score=score.whole(found.score, found),
        score_after_work=score.whole(found.score_after, found),
        band=score.band(found, rubric),
        place_in_class=score.place(found),
        deductions=score.deductions(found),
        usual_score=round(found.usual, 2),
        coverage=round(found.coverage, 4),
        making=instrument.making(found.making, rubric),
        domains={name: score.domain_score(value, found.domains_after[name]) for name, value in found.domains.items()},
        findings=tuple(
            score.finding(one, rubric, found)
            for one in found.findings
            if rubric.checks[one.check].about == "instrument"
        ),
        disqualifying=tuple(score.finding(one, rubric, found) for one in found.disqualifying),
        purchase=decision.purchase(evaluation),
        conformity={name: score.measured(item, rubric) for name, item in found.conformity.items()},
        causes={
            name: score.cause(item, rubric.causes[name], score.cause_trail(trace, name))
            for name, item in found.causes.items()
        },
        parts=tuple(Part(part=part.part, say=part.say) for part in rubric.parts.values()),
        checks=tuple(_check(evaluation, trace, place) for place in _shown(evaluation)),
        set_aside=dict(found.set_aside),
        plan=work.plan(evaluation, bill),
        ambitions=tuple(work.ambition_of(one, rubric) for one in plan.ambitions),
        optional=tuple(work.line_of(line, rubric, bill) for line in plan.optional),
        possible_extras=tuple(map(work.extra_of, plan.possible_extras)),
        not_looked_at=work.not_looked_at(plan),
        with_possible_extras=work.with_extras(plan),
        uncured=dict(plan.uncured),
        budget=work.budget(evaluation),
        quotable=draft,
        verdict=decision.verdict(evaluation),
        next_checks=tuple(decision.look(look, rubric) for look in evaluation.next_checks),
        visit=tuple(decision.look(look, rubric) for look in evaluation.visit),
        questions=tuple(question.text for question in evaluation.questions),
        photos_to_ask_for=tuple(wish.text for wish in evaluation.photos),
        cautions=_cautions(evaluation),
        views=decision.views(evaluation),
    )


def _shown(evaluation: Evaluation) -> tuple[int, ...]:
    """The places of the checks that count; an owner's without what nobody told of the pages that only a buyer reads,
    and of what only a purchase asks elsewhere.
    """
    case, checks = evaluation.case, evaluation.rubric.checks
    here = enumerate(evaluation.assessment.relevant)
    if case.purpose != "quote":
        return tuple(place for place, _ in here)
    of_buyers = _of_buyers(evaluation.rubric)
    return tuple(
        place
        for place, name in here
        if name in case.observations or (checks[name].about == "instrument" and checks[name].part not in of_buyers)
    )


def _of_buyers(rubric: Rubric) -> set[str]:
    """The parts of which most is about the purchase."""
    about = [(check.part, check.about == "purchase") for check in rubric.checks.values()]
    counts = {part: [bought for name, bought in about if name == part] for part, _ in about}
    return {part for part, bought in counts.items() if 2 * sum(bought) > len(bought)}


def _check(evaluation: Evaluation, trace: Trace, place: int) -> Check:
    """The check at this place of those that count."""
    name = evaluation.assessment.relevant[place]
    check, belief = evaluation.rubric.checks[name], evaluation.assessment.beliefs[name]
    seen, drawn = evaluation.case.observations.get(name, ()), evaluation.rubric.likenesses.get(name)
    return score.check_held(check, drawn, belief, seen, score.check_trail(trace, place), trace.counts(name))


def _cautions(evaluation: Evaluation) -> tuple[str, ...]:
    """The cautions of the planned work, of the next looks and of every result, each once; the last is the result's."""
    rubric, work_found = evaluation.rubric, evaluation.estimate
    texts = [text for line in (*work_found.lines, *work_found.optional) for text in line.cautions]
    for look in evaluation.next_checks:
        texts += rubric.caution_texts(rubric.checks[look.check])
    last = rubric.cautions.get("not_a_certificate")
    if last is None:
        return tuple(dict.fromkeys(texts))
    return (*dict.fromkeys(text for text in texts if text != last.say), last.say)
