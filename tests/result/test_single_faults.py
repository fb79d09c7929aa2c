"""What a workshop would ask for one fault on an instrument that is sound elsewhere, written down before it was run.

Bands are in dollars at the default rates, judged at the bench, no published source, for what is planned; what may come
on top stands beside it. `jobs`: what must be in the plan. `never`: what must not.
"""

from typing import Any, NamedTuple

import pytest

from evaluator.result.evaluation import Evaluation
from tests.papers.cases import content, evaluated_anew

ORDER = """
format: 1
rubric: {rubric}
title: One fault
instrument: {{size: {size}, style: classical, tier: {tier}}}
purpose: quote
looker: luthier
observations: {{{check}: {outcome}}}
"""


class Fault(NamedTuple):
    """One fault, the band of its quote, the jobs that it takes and those that it must not take."""

    fault: str
    low: float
    high: float
    jobs: tuple[str, ...]
    never: tuple[str, ...] = ()
    tier: str = "student"
    rubric: str = "violin"

    @property
    def text(self) -> str:
        check, outcome = self.fault.split(".")
        size = "violin 4/4" if self.rubric == "bow" else "4/4"
        return ORDER.format(rubric=self.rubric, size=size, tier=self.tier, check=check, outcome=outcome)


FAULTS = (
    Fault("peg_wear_bushings.one_worn", 140, 215, ("peg_hole_bush_one",), ("pegs_dress", "peg_hole_spiral_bush")),
    Fault("wing_crack.open", 140, 215, ("crack_wing",)),
    Fault("fingerboard_projection.low", 370, 530, ("bridge_new",), ("bridge_recut", "neck_reset")),
    Fault("bridge_stance.leaning", 5, 35, ("bridge_upright",), ("bridge_reset", "bridge_new", "bridge_recut")),
    Fault("fingerboard_wear.felt", 80, 140, ("fingerboard_dress",), ("fingerboard_plane", "fingerboard_replace")),
    Fault("fingerboard_wear.deep", 160, 300, ("fingerboard_plane",), ("fingerboard_dress", "fingerboard_replace")),
    Fault("soundpost_standing.fallen", 45, 95, ("soundpost_reset",), ("soundpost_new",)),
    Fault("bridge_warp.bent", 160, 270, ("bridge_new",), ("bridge_straighten", "bridge_recut")),
    Fault("open_seams.one_short", 50, 90, ("seam_reglue",), ("top_remove_replace",)),
    Fault("peg_function.slips", 100, 155, ("pegs_dress",), ("pegs_new_set", "pegbox_rebush_full")),
    Fault("nut_height.high", 40, 75, ("nut_lower",), ("nut_new",)),
    Fault("tailgut.frayed", 45, 95, ("tailgut_replace",)),
    Fault("saddle_crack.short", 200, 340, ("crack_saddle", "saddle_relieve"), ("crack_top_long",)),
    Fault("neck_heel_joint.gap", 250, 430, ("neck_reglue",), ("neck_reset",)),
    Fault("peg_wear_bushings.worn", 550, 850, ("pegbox_rebush_full",), ("peg_hole_spiral_bush",), "intermediate"),
    Fault(
        "soundpost_crack_top.open_short", 1900, 3000, ("crack_soundpost_top_patch", "top_remove_replace"),
        ("crack_post_glue",), "intermediate",
    ),
    Fault("bow_hair.due", 60, 110, ("bow_rehair",), (), "student", "bow"),
    Fault("bow_tip_plate.cracked", 170, 300, ("bow_tip_plate", "bow_rehair"), (), "student", "bow"),
)  # fmt: skip


def worked_out(fault: Fault) -> Evaluation:
    return evaluated_anew(content(fault.text))


@pytest.mark.parametrize("fault", FAULTS, ids=lambda one: one.fault)
def test_one_fault_costs_what_a_workshop_would_ask(fault: Fault) -> None:
    plan = worked_out(fault).estimate
    jobs = {line.job for line in plan.lines}
    assert jobs >= set(fault.jobs)
    assert not jobs & set(fault.never)
    assert fault.low <= plan.mean <= fault.high


def test_nothing_is_planned_for_what_was_not_looked_at() -> None:
    for fault in FAULTS:
        for line in worked_out(fault).estimate.lines:
            check = fault.fault.split(".")[0]
            told: Any = line.shared or line.forced_by is not None or set(line.cures) == {check}
            assert told, (fault.fault, line.job, line.cures)
