"""Who is asked what, what applies, and which caution stands where in full."""

from typing import Any

import pytest

from evaluator.rubric.rubric import Rubric
from evaluator.web.looking.cards import asked_of, cards_of, known_elsewhere, steps_of, where_to_go_on
from evaluator.web.looking.forms import asked_parts, shown_checks
from evaluator.web.service import Service, case_of


def typed(looker: str = "student", **outcomes: str) -> dict[str, Any]:
    answers = {name: {"outcome": outcome} for name, outcome in outcomes.items()}
    start = {"size": "4/4", "style": "classical", "tier": "student", "looker": looker}
    return {"start": start, "answers": answers}


@pytest.fixture
def rubric(service: Service) -> Rubric:
    return service.rubric("violin")


def cards(rubric: Rubric, part: str, said: dict[str, Any]) -> Any:
    case, _ = case_of(rubric, said)
    return cards_of(rubric, part, said, case)


@pytest.mark.parametrize("looker", ["student", "teacher", "luthier"])
def test_each_check_is_on_the_page_once_and_only_what_one_can_do_is_asked_first(rubric: Rubric, looker: str) -> None:
    for part in asked_parts(rubric):
        mine, others = cards(rubric, part, typed(looker))
        names = [card.check.check for card in (*mine, *others)]
        assert sorted(names) == sorted(check.check for check in shown_checks(rubric, part))
        allowed = {"student": {"student"}, "teacher": {"student", "teacher"}}.get(looker)
        assert allowed is None or {card.check.who for card in mine} <= allowed
        if looker == "luthier":
            assert others == ()


def test_what_was_answered_stays_in_sight(rubric: Rubric) -> None:
    hard = next(check for check in rubric.checks.values() if check.who == "luthier" and check.kind == "choice")
    outcome = next(iter(hard.outcomes))
    assert hard not in asked_of(rubric, hard.part, "student", {})
    assert hard in asked_of(rubric, hard.part, "student", {hard.check: {"outcome": outcome}})


def test_every_caution_of_a_page_is_said_in_full_where_it_first_comes(rubric: Rubric) -> None:
    for part in asked_parts(rubric):
        seen: set[str] = set()
        for group in cards(rubric, part, typed("luthier")):
            for card in group:
                assert set(card.reminders) <= seen
                assert not set(card.cautions) & seen
                seen |= set(card.cautions)
                assert {*card.cautions, *card.reminders} == set(rubric.caution_texts(card.check))


def test_what_hangs_on_another_answer_knows_whether_it_applies(rubric: Rubric) -> None:
    def feet(said: dict[str, Any]) -> Any:
        return next(
            c for group in cards(rubric, "bridge", said) for c in group if c.check.check == "bridge_fitted_feet"
        )

    assert feet(typed()).applies
    assert not feet(typed(bridge_stance="down")).applies
    assert feet(typed(bridge_stance="down")).condition is not None


def test_a_page_knows_the_answers_of_other_parts_that_it_needs(rubric: Rubric) -> None:
    said = typed(bridge_stance="down")
    case, _ = case_of(rubric, said)
    assert known_elsewhere(rubric, shown_checks(rubric, "tail"), case)["bridge_stance"] == "down"
    case, _ = case_of(rubric, typed(purfling="painted"))
    assert known_elsewhere(rubric, shown_checks(rubric, "edges"), case) == {}, "the page asks it itself"


def test_going_on_leads_to_what_nobody_has_begun(rubric: Rubric) -> None:
    first, second = asked_parts(rubric)[:2]
    assert where_to_go_on(steps_of(rubric, typed())) == first
    begun = next(c for c in shown_checks(rubric, first) if c.who == "student" and c.kind == "choice")
    said = typed(**{begun.check: next(iter(begun.outcomes))})
    assert where_to_go_on(steps_of(rubric, said)) == second
    assert steps_of(rubric, said)[0].answered == 1


def test_a_measured_check_shows_the_standard_of_its_size(rubric: Rubric) -> None:
    found = [card for group in cards(rubric, "whole", typed("luthier")) for card in group]
    standard = {card.check.check: card.standard for card in found}
    assert standard["body_length"] == "352 to 360 mm"
    assert standard["weight_without_chin_rest"] is not None
