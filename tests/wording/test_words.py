"""Sentences of pages and papers that hang on several figures at once."""

from typing import Any

from evaluator.result.json_form import read_result, to_json
from evaluator.store.folders import rubrics_folder
from evaluator.wording.words import guides_line, score_sentence, waiting_lines
from tests.papers.cases import content, evaluation_of


def example(name: str) -> dict[str, Any]:
    path = rubrics_folder() / "examples" / f"{name}.yaml"
    return to_json(evaluation_of(content(path.read_text(encoding="utf-8"))))


def test_a_fallen_post_is_put_right_before_anybody_judges_the_sound() -> None:
    waits, counted = waiting_lines(read_result(example("fallen_post")))
    for line in (waits, counted):
        assert line.endswith("First put this right, then look again: soundpost (it has fallen, the strings are tight).")
    assert "more: not judged yet" in waits
    assert "counted as answered, and to be judged again" in counted
    assert waiting_lines(read_result(example("weight_428_g_on_gram_scale"))) == ()


def test_how_far_the_advice_hangs_on_the_guide_is_said_where_it_rests_on_one() -> None:
    own, guided = example("good_body_raw_set_up"), example("old_trade_violin_honest_wear")
    assert guides_line(read_result(own)) == ""
    guided["views"]["verdict_holds"] = 0.8
    assert "the advice stays in 80% of the cases tried" in guides_line(read_result(guided))


def test_the_score_stands_beside_the_usual_one_where_it_was_kept() -> None:
    too_little = example("two_cheap_signs")
    assert "Too little was seen for a number" in score_sentence(read_result(too_little))
    snapshot = example("good_body_raw_set_up")
    assert f"{snapshot['usual_score']:.0f} is usual" in score_sentence(read_result(snapshot))
    snapshot["usual_score"] = None
    assert "is usual" not in score_sentence(read_result(snapshot))
