"""Once all planned work is done and looked at again, no fault that was worked at asks for work a second time."""

from dataclasses import replace

import pytest

from evaluator.assessment.model import Case, Observation
from evaluator.assessment.observing.case import read_case
from evaluator.assessment.scoring.known import know
from evaluator.estimate.estimate import plan_known
from evaluator.estimate.planning.plan import Plan
from evaluator.rubric.rubric import Rubric
from evaluator.store.folders import rubrics_folder
from tests.papers.cases import content, rubric, shop

INSTRUMENTS = (
    "good_body_raw_set_up", "fallen_post", "student_violin_cut_corners", "old_trade_violin_honest_wear",
    "viola_sixteen_inch", "cello_from_a_school", "bow_due_for_work", "repaired_back_crack_disclosed",
)  # fmt: skip


def after(here: Rubric, case: Case, plan: Plan) -> Case:
    """The same instrument as the bench hands it back: each check that was worked at as its job leaves it."""
    left = {check: outcome for job in plan.jobs for check, outcome in here.jobs[job].leaves_as.items()}
    worked = {need.check for need in plan.needs}
    found = dict(case.observations)
    for name in worked | (left.keys() & found.keys()):
        check = here.checks[name]
        best = max(check.outcomes, key=lambda one: check.outcomes[one].worth or 0.5)
        sound = [one for one, outcome in check.outcomes.items() if outcome.class_ == "sound"]
        found[name] = (Observation(name, left.get(name, (sound or [best])[0])),)
    return replace(case, observations=found)


@pytest.mark.parametrize("name", INSTRUMENTS)
def test_what_was_done_is_not_asked_for_again(name: str) -> None:
    data = content((rubrics_folder() / "examples" / f"{name}.yaml").read_text(encoding="utf-8"))
    here = rubric(data["rubric"])
    case, _ = read_case(here, data)
    assert case is not None
    plan = plan_known(here, case, know(here, case), shop()).plan
    done = after(here, case, plan)
    again = plan_known(here, done, know(here, done), shop()).plan
    worked = {need.check for need in plan.needs}
    assert not worked & {need.check for need in again.needs}, "an answer that waited may ask for work now; no other"
