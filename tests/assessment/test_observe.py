"""The one parser of answers: what it takes, and one sentence for everything else."""

from typing import Any

import pytest

from evaluator.assessment.model import CANNOT_TELL, Observation
from evaluator.assessment.observing.observe import read_observation
from evaluator.assessment.observing.uncertainty import reading_uncertainty
from evaluator.basis.problem import Problem
from tests.assessment.small import FAULT, SOUND, check_of, rubric_of

RUBRIC = rubric_of(
    check_of("purfling", outcomes={"inlaid": SOUND, "painted": FAULT}),
    check_of(
        "string_length",
        measure={"quantity": "length", "unit": "mm", "tools": ("steel_rule", "caliper"), "at_most": 800.0},
        standard={"low": 325.0, "high": 332.0},
    ),
    check_of(
        "weight", measure={"quantity": "mass", "unit": "g", "tools": ("kitchen_scale",)}, standard={"high": 430.0}
    ),
    check_of("ratio", formula="string_length / 54", unit="ratio", standard={"low": 5.8, "high": 6.2}),
    check_of(
        "tuners",
        count={"of": "fine tuners", "at_most": 8},
        outcomes={"few": SOUND | {"at_most": 1}, "many": FAULT | {"at_least": 2}},
    ),
    check_of(
        "response",
        rate={"low_means": "slow", "high_means": "quick"},
        outcomes={"slow": FAULT | {"at_most": 2}, "quick": SOUND | {"at_least": 4}},
    ),
)


def seen(check: str, raw: Any, default: Any = "in_person") -> tuple[Observation, ...]:
    found = read_observation(RUBRIC, check, raw, default)
    return tuple(one for one in found if isinstance(one, Observation))


def sentences(check: str, raw: Any) -> list[str]:
    return [str(one) for one in read_observation(RUBRIC, check, raw) if isinstance(one, Problem)]


@pytest.mark.parametrize(
    ("check", "raw", "outcome", "values"),
    [
        ("purfling", "inlaid", "inlaid", None),
        ("purfling", " painted ", "painted", None),
        ("purfling", "cannot_tell", CANNOT_TELL, None),
        ("purfling", {"outcome": "painted"}, "painted", None),
        ("string_length", 328, None, (328.0,)),
        ("string_length", "328,5 mm", None, (328.5,)),
        ("string_length", "12 15/16 in", None, (328.6125,)),
        ("string_length", {"reading": ["327.5 mm", 328], "tool": "steel_rule"}, None, (327.5, 328.0)),
        ("string_length", {"reading": "32.8", "unit": "cm"}, None, (328.0,)),
        ("string_length", {"reading": "12 15/16", "unit": "in"}, None, (328.6125,)),
        ("string_length", "too_high", "too_high", None),
        ("weight", {"reading": "436 g", "tool": "gram_scale"}, None, (436.0,)),
        ("ratio", "meets", "meets", None),
        ("tuners", 1, "few", (1.0,)),
        ("tuners", "4", "many", (4.0,)),
        ("tuners", {"outcome": "many"}, "many", None),
        ("response", 5, "quick", (5.0,)),
    ],
)
def test_an_answer(check: str, raw: Any, outcome: str | None, values: tuple[float, ...] | None) -> None:
    (one,) = seen(check, raw)
    assert one.outcome == outcome
    assert (one.reading.values if one.reading else None) == (pytest.approx(values) if values else None)


@pytest.mark.parametrize(
    "raw", [None, "", "  ", {}, {"outcome": ""}, {"reading": "", "tool": "steel_rule"}, {"note": ""}]
)
def test_nothing_is_no_observation(raw: Any) -> None:
    assert read_observation(RUBRIC, "string_length", raw) == ()


def test_everything_written_beside_an_answer_is_kept() -> None:
    (one,) = seen("purfling", {"outcome": "inlaid", "seen_by": "photos", "note": "<b>lower bout", "photos": ["a.jpg"]})
    assert (one.seen_by, one.note, one.photos) == ("photos", "<b>lower bout", ("a.jpg",))
    (alone,) = seen("purfling", {"note": "varnish too thick to see"})
    assert (alone.outcome, alone.note) == (CANNOT_TELL, "varnish too thick to see")


def test_a_reading_with_a_tool_that_nobody_knows_is_doubtful_by_a_hundredth() -> None:
    """Derived: 1 % of 300 mm either way, evenly likely between (JCGM 100:2008, 4.3.7)."""
    assert reading_uncertainty((300.0,), "mm", None) == pytest.approx(3.0 / 3**0.5)
    assert reading_uncertainty((-300.0,), "mm", None) == pytest.approx(3.0 / 3**0.5)


def test_a_reading_at_the_very_limit_is_taken_and_one_beyond_is_not() -> None:
    (most,) = seen("string_length", "800 mm")
    assert most.reading is not None and most.reading.values == (800.0,)
    assert "800 mm" in " ".join(sentences("string_length", "800.1 mm"))


def test_who_looked_and_when_is_kept_on_one_line_and_is_text() -> None:
    (one,) = seen("purfling", {"outcome": "inlaid", "by": " Ada  B. ", "at": "2026-03-02"})
    assert (one.by, one.at) == ("Ada B.", "2026-03-02")
    for key in ("by", "at"):
        assert len(sentences("purfling", {"outcome": "inlaid", key: 3})) == 1
        assert len(sentences("purfling", {"outcome": "inlaid", key: "x" * 81})) == 1
        assert sentences("purfling", {"outcome": "inlaid", key: "x" * 80}) == []


def test_a_list_holds_several_observations_and_the_default_channel_fills_in() -> None:
    two = seen("purfling", [{"outcome": "inlaid", "seen_by": "seller_statement"}, "painted"], "photos")
    assert [(one.outcome, one.seen_by) for one in two] == [("inlaid", "seller_statement"), ("painted", "photos")]


def test_the_usual_tool_is_taken_and_a_written_doubt_stands_before_it() -> None:
    (usual,) = seen("string_length", "328 mm")
    (fine,) = seen("string_length", {"reading": "328 mm", "tool": "caliper"})
    (written,) = seen("string_length", "328 mm +- 3 mm")
    assert usual.reading and fine.reading and written.reading
    assert usual.reading.tool == "steel_rule"
    assert fine.reading.u < usual.reading.u < written.reading.u == pytest.approx(3 / 3**0.5)
    assert written.reading.texts == ("328 mm +- 3 mm",)


@pytest.mark.parametrize(
    ("check", "raw", "part"),
    [
        ("purflin", "inlaid", 'Did you mean "purfling"?'),
        ("purfling", "inlayed", 'Did you mean "inlaid"?'),
        ("purfling", "??", "Use one of: inlaid, painted, cannot_tell."),
        ("purfling", 3, '"3" is not one of its answers.'),
        ("purfling", True, "true and false are no answers here. Write one of its answers, for example inlaid."),
        (
            "purfling",
            {"outcome": False},
            "true and false are no answers here. Write one of its answers, for example inlaid.",
        ),
        ("purfling", {"reading": 3}, "this check takes no reading"),
        ("purfling", {"outcome": "inlaid", "reading": 3}, "both an outcome and a reading"),
        ("purfling", {"outcome": "inlaid", "seen_by": "photo"}, 'Did you mean "photos"?'),
        ("purfling", {"outcom": "inlaid"}, 'Did you mean "outcome"?'),
        ("purfling", {"outcome": "inlaid", "note": ["a"]}, "the note must be text"),
        ("purfling", {"outcome": "inlaid", "note": "a\x00b"}, "a sign stands in the note that is no letter"),
        ("purfling", {"outcome": "inlaid", "photos": [3]}, "each photo's name must be text"),
        ("purfling", {"outcome": "inlaid", "note": "x" * 2001}, "the note is longer than 2000 letters"),
        ("string_length", "-3 mm", "-3 mm is less than nothing."),
        ("string_length", "4,5,6", "more than one comma or point"),
        ("string_length", "NaN", "is not a number"),
        ("string_length", "infinity", "is not a number"),
        ("string_length", float("nan"), "is not a number"),
        ("string_length", "1e999", "exponent"),
        ("string_length", "12 kg", "is a weight"),
        ("string_length", "900 mm", "900 mm is more than 800 mm, the most that can be."),
        ("string_length", {"reading": "328", "tool": "steel_rul"}, 'Did you mean "steel_rule"?'),
        ("string_length", {"reading": "328", "tool": "kitchen_scale"}, "does not measure a length"),
        ("string_length", {"reading": [328] * 21}, "longer than 20 readings"),
        ("string_length", "long", "is not one of its answers"),
        ("tuners", "2.5", "is not a whole number"),
        ("tuners", -1, "-1 is less than 0"),
        ("tuners", 9, "9 is more than 8"),
        ("response", 3, "no answer holds 3."),
        ("response", 6, "6 is more than 5"),
        ("purfling", ["inlaid"] * 21, "the list is longer than 20 answers."),
        ("purfling", b"inlaid", "neither an answer nor a reading"),
        ("purfling", {"outcome": "inlaid", "photos": ["a.jpg"] * 41}, "the list of photos is longer than 40 photos."),
        ("tuners", {"reading": [3, 4]}, "neither an answer nor a reading. Write it like 3."),
        ("purfling", "in" * 21, f'"{"in" * 19}i…" is not one of its answers.'),
        ("purfling", "in" * 20 + "l", f'"{"in" * 19}i…" is not one of its answers.'),
        ("purfling", "in" * 20, f'"{"in" * 20}" is not one of its answers.'),
    ],
)
def test_one_sentence_about_each_mistake(check: str, raw: Any, part: str) -> None:
    (sentence,) = sentences(check, raw)
    assert part in sentence
    assert sentence.startswith(f'check "{check}": ')
    assert "\n" not in sentence


def test_all_mistakes_at_once() -> None:
    found = sentences("purfling", [{"outcome": "inlayed", "sen_by": "photos"}, {"seen_by": "x", "outcome": "inlaid"}])
    assert len(found) == 3
