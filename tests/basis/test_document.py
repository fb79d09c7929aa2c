"""The strict YAML reader: values as typed, places of everything, one sentence for what it refuses."""

import copy
import json

import pytest
from hypothesis import given
from hypothesis import strategies as st

from evaluator.basis.document import MAX_DEPTH, Document, parse_document
from evaluator.basis.problem import Place
from evaluator.basis.spots import WrittenNumber


def document(text: str) -> Document:
    found, problems = parse_document(text, "f.yaml")
    assert found is not None, problems
    return found


@pytest.mark.parametrize(
    ("written", "value"),
    [
        ("no", "no"), ("yes", "yes"), ("on", "on"), ("Off", "Off"), ("12:30", "12:30"), ("2026-01-02", "2026-01-02"),
        ("010", "010"), ("0x1F", "0x1F"), ("1e999", "1e999"), ("1_000", "1_000"), ("NaN", "NaN"), (".inf", ".inf"),
        (".5", ".5"), ("1.", "1."), ("4/4", "4/4"), ("true", True), ("false", False), ("True", "True"),
        ("null", None), ("~", None), ("", None), ("0", 0), ("-3", -3), ("400", 400), ("0.35", 0.35), ("-1.50", -1.5),
        ('"5"', "5"), ("'true'", "true"), ("[1, no]", [1, "no"]), ("{a: 1}", {"a": 1}), ("9" * 30, "9" * 30),
    ],
)  # fmt: skip
def test_values_stay_what_was_typed(written: str, value: object) -> None:
    found = document(f"key: {written}\n").data["key"]
    assert found == value
    assert type(found) is (WrittenNumber if written == "-1.50" else type(value))


def test_keys_may_be_numbers_and_never_change_to_yes_or_no() -> None:
    assert list(document("430: 1\n0.5: 2\nno: 3\ntrue: 4\nnull: 5\n").data) == [430, 0.5, "no", "true", "null"]


def test_places() -> None:
    found = document('a: 1\nlist:\n  - {x: 2, y: "z"}\n  - word\nlong: >\n  folded\n')
    assert found.place() == Place("f.yaml", 1, 1)
    assert found.place("a") == Place("f.yaml", 1, 4)
    assert found.place("a", key=True) == Place("f.yaml", 1, 1)
    assert found.place("list", 0, "y") == Place("f.yaml", 3, 15)
    assert found.place("list", 0, "y", key=True) == Place("f.yaml", 3, 12)
    assert found.place("list", 1) == Place("f.yaml", 4, 5)
    assert found.place("list", 7, "nowhere") == Place("f.yaml", 3, 3)  # the innermost that exists
    assert found.spot_at("list", 0, "y").text_column == 16  # inside the quotes
    assert found.spot_at("long").text_column == 0
    assert found.line(4) == "  - word"
    assert found.line(99) == ""


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ("", "f the file is empty. Write something in it, or name another file."),
        ("  \n# only a comment\n", "f the file is empty. Write something in it, or name another file."),
        (b"\xff\xfe\x00", "f this is not a text file. Give a YAML or JSON file in UTF-8, as any text editor saves it."),
        ("a: \x00", "f this is not a text file. Give a YAML or JSON file in UTF-8, as any text editor saves it."),
        ("x" * 10_000_000, "f the file is larger than 2 MB. Give a smaller file."),
        ("- 1", "f:1:1 the file is a list, not keys with values. Start with a line like rubric: violin."),
        ("word", "f:1:1 the file is a single value, not keys with values. Start with a line like rubric: violin."),
        ("a: [1, 2\nb: 3\n", "f:1:4 the text cannot be read from here: the bracket [ is not closed, or a comma is "
         "missing. Close it, and quote texts with a comma."),
        ("a: b: c", "f:1:5 the text cannot be read from here: a colon stands where none can be. Put a text with a "
         "colon in quotes."),
        ("a: 'x\nb: 1\n", "f:1:4 the text cannot be read from here: a quotation mark is not closed. Close the quotes."),
        ("a:\n\tb: 1", "f:2:1 a tab stands where YAML wants spaces. Indent with spaces."),
        ("a: 1\na: 2", 'f:2:1 the key "a" is written twice, first in line 1. Keep one of them.'),
        ("a: &x 1\nb: *x",
         "f:1:4 anchors and aliases (& and *) are not used here. Write the value out, or quote the text.\n"
         "f:2:4 anchors and aliases (& and *) are not used here. Write the value out, or quote the text."),
        ("a: !!python/name:os.system 1",
         'f:1:4 the tag "!!python/name:os.system" is not used here. Take it away, or quote the text.'),
        ("a: 1\n---\nb: 2", "f:2:1 a second document starts here (---). Keep one document in a file."),
        ("? [a]\n: 1",
         "f:1:3 a list or mapping stands where a key was expected. Put a text that starts with { or [ in quotes."),
        ("[" * 100_000, "f this is nested deeper than 20 levels. Write it flatter."),
        ("- " * 100_000, "f:1:41 this is nested deeper than 20 levels. Write it flatter."),
    ],
    ids=lambda value: str(value)[:20],
)  # fmt: skip
def test_refused_in_one_sentence(text: str | bytes, told: str) -> None:
    found, problems = parse_document(text, "f")
    assert found is None
    assert "\n".join(map(str, problems)) == told


def test_a_bomb_of_aliases_is_not_unfolded() -> None:
    lines = ["a0: &a0 [x, x]"] + [f"a{i}: &a{i} [{', '.join([f'*a{i - 1}'] * 9)}]" for i in range(1, 12)]
    found, problems = parse_document("\n".join(lines), "f")
    assert found is None
    assert {one.code for one in problems} == {"document.alias"}


def test_many_mistakes_stop_at_two_hundred() -> None:
    _, problems = parse_document("a: 1\n" * 1000, "f")
    assert len(problems) == 200


def test_byte_order_mark_and_line_ends_of_other_systems() -> None:
    found, _ = parse_document(b"\xef\xbb\xbfa: 1\r\nb: two\r\n", "f")
    assert found is not None
    assert found.data == {"a": 1, "b": "two"}
    assert found.line(2) == "b: two"


PLAIN = st.recursive(
    st.none() | st.booleans() | st.integers(-(10**9), 10**9) | st.text(st.characters(codec="ascii"), max_size=12)
    | st.decimals(-1000, 1000, places=3).map(float).filter(lambda x: "e" not in repr(x)),
    lambda inner: st.lists(inner, max_size=4) | st.dictionaries(st.text("abcdef", min_size=1), inner, max_size=4),
    max_leaves=15,
)  # fmt: skip


@given(st.dictionaries(st.text("abcdef", min_size=1), PLAIN, max_size=5))
def test_json_comes_back_as_it_was(data: dict[str, object]) -> None:
    found, problems = parse_document(json.dumps(data), "f.json")
    if any(one.code in {"document.too_deep", "document.binary"} for one in problems):
        return
    assert found is not None, problems
    assert found.data == data


@given(st.text(st.sampled_from(" abc:-[]{}&*!|>'\"\n\t#?,%@`0.1"), max_size=60) | st.text(max_size=40))
def test_any_text_gives_data_or_problems(text: str) -> None:
    found, problems = parse_document(text, "f")
    assert (found is None) == bool(problems)
    assert MAX_DEPTH == 20


def test_a_number_that_says_more_than_its_value_keeps_its_text() -> None:
    found = document("price: 1.450\nother: 1.45\n").data
    assert found == {"price": 1.45, "other": 1.45}
    assert found["price"].text == "1.450" and not hasattr(found["other"], "text")
    assert copy.deepcopy(found["price"]).text == "1.450"
    assert json.dumps(found) == '{"price": 1.45, "other": 1.45}'
