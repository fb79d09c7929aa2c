"""One fault counts once, at its home; and what looks alike to whoever looked is shared by what is usual."""

import pytest

from evaluator.assessment.model import Assessment
from evaluator.assessment.observing.relevance import looks_like
from evaluator.assessment.scoring.draws import assess
from evaluator.rubric.written.checks import Check
from evaluator.rubric.written.kinds import Looker
from tests.assessment.small import FAULT, SOUND, case_of, check_of, rubric_of

CROOKED = FAULT | {"say": "Crooked", "worth": 0.2}
RUBRIC = rubric_of(
    check_of("neck", outcomes={"straight": SOUND, "crooked": CROOKED}, seen_by={"in_person": 0.9}, weight=5),
    check_of(
        "strings_line",
        term="line of the strings",
        outcomes={"straight": SOUND, "neck_off": FAULT | {"counts_as": "neck.crooked"}, "bridge_off": FAULT},
        seen_by={"in_person": 0.9, "photos": 0.5},
    ),
    check_of("edge"),
)


def found(answers: dict[str, object], **keys: object) -> Assessment:
    return assess(RUBRIC, case_of(RUBRIC, answers, **keys))


def test_a_pointer_counts_at_home_and_not_where_it_was_given() -> None:
    alone = found({"strings_line": "neck_off"})
    at_home = alone.beliefs["neck"]
    assert at_home.seen
    assert at_home.probability["crooked"] == pytest.approx(
        found({"neck": "crooked"}).beliefs["neck"].probability["crooked"]
    )
    assert "neck" in {one.check for one in alone.findings}
    assert "strings_line" not in {one.check for one in alone.findings}
    assert alone.beliefs["strings_line"].worth == pytest.approx(1.0, abs=0.05)


def test_the_fault_and_its_pointer_cost_what_the_fault_costs() -> None:
    one, both = found({"neck": "crooked"}), found({"neck": "crooked", "strings_line": "neck_off"})
    same = found({"neck": "crooked", "strings_line": "straight"})
    assert both.score.expected < same.score.expected + 1e-9
    assert abs(both.score.expected - same.score.expected) < 0.03 * one.score.expected
    assert both.beliefs["neck"].probability["crooked"] > one.beliefs["neck"].probability["crooked"]


def test_a_pointer_in_a_photo_tells_less() -> None:
    near = found({"strings_line": "neck_off"}).beliefs["neck"].probability["crooked"]
    photo = found({"strings_line": {"outcome": "neck_off", "seen_by": "photos"}}).beliefs["neck"]
    assert photo.probability["crooked"] < near


def test_what_does_not_point_counts_where_it_is() -> None:
    other = found({"strings_line": "bridge_off"})
    assert not other.beliefs["neck"].seen
    assert {one.check for one in other.findings} >= {"strings_line"}


def test_home_and_pointer_that_do_not_agree_are_told() -> None:
    assert found({"neck": "straight", "strings_line": "neck_off"}).beliefs["neck"].clash


LINES = {
    "inlaid": SOUND | {"if_good": 0.5, "if_bad": 0.1},
    "fibre": {"say": "Of fibre", "class": "acceptable", "who": "luthier", "seen_as": "inlaid", "if_good": 0.3,
              "if_bad": 0.3},
    "painted": FAULT | {"if_good": 0.2, "if_bad": 0.6},
}  # fmt: skip
ALIKE = rubric_of(check_of("line", outcomes=LINES, seen_by={"in_person": 0.8}))


def line(answer: str, looker: str) -> dict[str, float]:
    return dict(assess(ALIKE, case_of(ALIKE, {"line": answer}, looker=looker)).beliefs["line"].probability)


def test_what_looks_alike_is_shared_by_what_is_usual() -> None:
    usual = assess(ALIKE, case_of(ALIKE)).beliefs["line"].probability
    student = line("inlaid", "student")
    assert student["fibre"] / student["inlaid"] == pytest.approx(usual["fibre"] / usual["inlaid"])
    # Bayes: seen as inlaid with 0.8 where either is true, and by chance else.
    like = {name: (0.8 if name != "painted" else 0.0) + 0.2 * (usual["inlaid"] + usual["fibre"]) for name in usual}
    total = sum(usual[name] * like[name] for name in usual)
    for name, share in student.items():
        assert share == pytest.approx(usual[name] * like[name] / total, abs=1e-9)


def test_a_luthier_tells_them_apart() -> None:
    assert line("inlaid", "luthier")["fibre"] < 0.1 < line("inlaid", "student")["fibre"]
    assert line("fibre", "luthier")["fibre"] > 0.8
    assert line("fibre", "student")["fibre"] > 0.8  # an answer of before is still what it says


@pytest.mark.parametrize(
    ("looker", "alike"),
    [("student", {"clean", "touched", "redone"}), ("teacher", {"clean", "redone"}), ("luthier", {"clean"})],
)
def test_who_can_tell_what_looks_alike(looker: Looker, alike: set[str]) -> None:
    check = Check.model_validate(
        check_of(
            "varnish",
            outcomes={
                "clean": SOUND,
                "touched": SOUND | {"seen_as": "clean", "who": "teacher"},
                "redone": FAULT | {"seen_as": "clean", "who": "luthier"},
            },
        )
    )
    assert looks_like(check, "clean", looker) == alike
    assert looks_like(check, "redone", looker) == {"redone"}
