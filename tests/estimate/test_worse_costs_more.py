"""A worse answer never lowers the cost of the work, over our own rubrics and several instruments.

Worse: no better in class, worth, lasting loss and what it costs to cure alone. Compared where both answers leave the
same checks asked and waiting: a bridge that is down takes the questions about it away, which is another matter.
"""

from dataclasses import replace
from functools import cache

from hypothesis import given
from hypothesis import strategies as st

from evaluator.assessment.model import Case, Observation
from evaluator.assessment.observing.case import read_case
from evaluator.assessment.scoring.known import Known, know
from evaluator.estimate.estimate import Planned, plan_known
from evaluator.estimate.planning.catalogue import Need
from evaluator.rubric.written.kinds import OutcomeClass
from evaluator.store.folders import rubrics_folder
from tests.laws import tried
from tests.papers.cases import content, rubric, shop

RANK: dict[OutcomeClass, int] = {"sound": 3, "acceptable": 2, "fault": 1, "disqualifying": 0}
INSTRUMENTS = (
    "two_cheap_signs", "half_size_for_a_child", "old_trade_violin_honest_wear", "cello_from_a_school",
    "bow_due_for_work",
)  # fmt: skip
CENT = 0.01
# One hunt finds whatever buzzes; beside a nut that is renewed anyway a buzz on the board costs nothing more. And two
# cracks of the back take two units of one job, one that runs into the button takes two jobs of which one is shorter.
SHARED = {"buzz_rattle", "back_crack"}


@cache
def case_of(name: str) -> Case:
    data = content((rubrics_folder() / "examples" / f"{name}.yaml").read_text(encoding="utf-8"))
    case, problems = read_case(rubric(data["rubric"]), data)
    assert case is not None, problems
    return case


@cache
def answered(name: str, check: str, outcome: str) -> tuple[Known, Planned, float]:
    """What is held and planned with one answer changed, and what its cure alone comes to."""
    case = case_of(name)
    here = rubric(case.rubric)
    changed = replace(case, observations={**case.observations, check: (Observation(check, outcome),)})
    known = know(here, changed)
    planned = plan_known(here, changed, known, shop())
    one = here.checks[check].outcomes[outcome]
    need = Need(check, outcome, one.say, one.cured_by)
    alone = planned.planner.plan([need]).mean if planned.planner.answers(need) else 0.0
    return known, planned, alone


@tried(60)
@given(st.data())
def test_a_worse_answer_never_lowers_the_cost(data: st.DataObject) -> None:
    name = data.draw(st.sampled_from(INSTRUMENTS))
    case = case_of(name)
    checks = [one for one in rubric(case.rubric).checks.values() if one.kind == "choice" and one.check not in SHARED]
    check = data.draw(st.sampled_from(checks))
    better, worse = data.draw(st.permutations(list(check.outcomes)))[:2]
    tier, style = case.instrument.tier, case.instrument.style
    good, bad = check.outcomes[better], check.outcomes[worse]
    losses = [one.lasting_loss.likely if one.lasting_loss else 0.0 for one in (good, bad)]
    (held, first, cheap), (others, second, dear) = (answered(name, check.check, one) for one in (better, worse))
    is_worse = (
        RANK[bad.class_at(tier, style)] <= RANK[good.class_at(tier, style)]
        and bad.worth_at(tier, style) <= good.worth_at(tier, style)
        and losses[1] >= losses[0]
        and dear >= cheap
    )
    same = held.relevance.counts == others.relevance.counts and held.waits_for == others.waits_for
    if is_worse and same:
        assert second.plan.mean >= first.plan.mean - CENT, (name, check.check, better, worse)
