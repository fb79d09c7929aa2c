"""Whatever is typed, a calculator gives finite figures or mistakes in words, never an exception."""

import json
import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from evaluator.calculators.answering import answer, to_json
from evaluator.calculators.model import Calculator, Input
from evaluator.wording.calculators import told
from tests.known import CALCULATORS
from tests.laws import tried

NUMBERS = st.sampled_from(
    ["0", "1", "-1", "0.000000001", "999999999999", "-999999999999", "5+-1", "50+-40", "5+-0", "1e9", "", "3 mm",
     "20 degC", "1;2;3", "1,2", "5;5;5;5", "x", "0.5", "440", "328 mm", "12", "30", "99", "100"]
)  # fmt: skip
POINTS = st.lists(
    st.tuples(*[st.sampled_from(["0", "1", "-1", "10", "3.5+-0.1", "999999999999", "0.000000001", "330"])] * 3),
    min_size=1,
    max_size=6,
)


def typed_for(one: Input) -> st.SearchStrategy[str]:
    if one.choices:
        return st.sampled_from([*one.choices, "x"])
    if one.kind == "points":
        return POINTS.map(lambda points: "; ".join(",".join(point[: one.width]) for point in points))
    if one.kind == "note":
        return st.sampled_from(["A4", "G3;D4;A4", "C-1", "H"])
    if one.kind == "date":
        return st.sampled_from(["2024-02-29", "2024-13-01", "9000-12-31", "0001-01-01"])
    plain = st.floats(0, 500).map(lambda x: f"{x:.4f}")
    return st.one_of(NUMBERS, plain, st.lists(plain, min_size=2, max_size=4).map("; ".join))


def typed(calculator: Calculator) -> st.SearchStrategy[dict[str, str]]:
    """Anything for any input, or the example with up to three inputs changed."""
    needed = {one.name: typed_for(one) for one in calculator.inputs if one.required}
    others = {one.name: typed_for(one) for one in calculator.inputs if not one.required}
    changes = st.lists(
        st.sampled_from(calculator.inputs).flatmap(lambda one: st.tuples(st.just(one.name), typed_for(one))), max_size=3
    )
    changed = changes.map(lambda pairs: {**calculator.example, **dict(pairs)})
    return st.one_of(changed, st.fixed_dictionaries(needed, optional=others))


@pytest.mark.parametrize("name", CALCULATORS)
@tried(40)
@given(data=st.data())
def test_any_input(name: str, data: st.DataObject) -> None:
    found, problems = answer(CALCULATORS[name], data.draw(typed(CALCULATORS[name])))
    assert (found is None) == bool(problems)
    if found is None:
        assert all(one.what and "Error" not in str(one) for one in problems)
        return
    json.dumps(to_json(found), allow_nan=False)
    assert told(found)
    for one in (*found.main, *found.also):
        assert one.u is None or (one.u >= 0 and math.isfinite(one.u))
