"""What a drawing teaches, its geometry keeps: common practice for a violin, from memory and without a source.

The same relations are in the standards tables, where their sources are; here they hold the sketches to them.
"""

from math import hypot

import pytest

from evaluator.drawings.geometry import bridge_shape, outline, plan, profile
from evaluator.drawings.neck import fingerboard, head
from evaluator.drawings.set_up import soundpost

STRING_LENGTH = outline.STOP_MM - plan.NUT_Y


@pytest.mark.parametrize(
    ("what", "drawn", "usual", "share"),
    [
        ("string length", STRING_LENGTH, 327, 0.01),
        ("neck to body stop", -plan.NUT_Y / outline.STOP_MM, 2 / 3, 0.01),
        ("afterlength to string length", (plan.TAIL_STRING_Y - outline.STOP_MM) / STRING_LENGTH, 1 / 6, 0.02),
        ("length of the board", plan.BOARD_END_Y - plan.NUT_Y, 270, 0.01),
        ("width of the bridge at its feet", 2 * max(x for edge in bridge_shape.CARVED for x, _ in edge), 41.5, 0.02),
        ("crest of the bridge", bridge_shape.crest_y(0), 33, 0.001),
        ("outer strings on the bridge", bridge_shape.STRINGS_MM[3] - bridge_shape.STRINGS_MM[0], 33.5, 0.001),
        ("outer strings at the nut", 33.5 * plan.STRINGS_AT_NUT, 16.5, 0.02),
        ("diameter of the post", soundpost.POST_MM, 6.0, 0.1),
        ("projection of the board at the bridge", profile.board_y(195) - profile.belly_y(195), 27, 0.02),
        ("overstand", profile.board_y(0) - profile.BOARD_MIDDLE_MM, 6, 0.2),
        ("width of the board at its end", 2 * fingerboard.HALF_MM, 42, 0.03),
    ],
)  # fmt: skip
def test_a_measure_is_the_usual_one(what: str, drawn: float, usual: float, share: float) -> None:
    assert drawn == pytest.approx(usual, rel=share), what


def test_the_thinnest_string_lies_lowest_on_the_bridge() -> None:
    thick, *_, thin = (bridge_shape.crest_y(x) for x in bridge_shape.STRINGS_MM)
    assert 0.8 < thick - thin < 2


def test_the_crest_and_the_board_share_their_curve() -> None:
    assert bridge_shape.CREST_RADIUS_MM == fingerboard.RADIUS_MM == 42


@pytest.mark.parametrize("x", [-130, -60, 0, 60, 139])
def test_strings_rise_from_the_board_towards_the_bridge(x: float) -> None:
    room = [profile.string_y(at) - profile.board_y(at) for at in (x, x + 1)]
    assert 0 < room[0] < room[1]


@pytest.mark.parametrize("y", [5.0, 12.0, 19.0, 28.0])
def test_the_bridge_has_wood_where_it_is_said_to(y: float) -> None:
    spans = bridge_shape.wood_at(y)
    assert spans
    assert all(0 <= low < high <= 21 for low, high in spans)


def test_the_bridge_is_open_at_its_heart_and_between_its_legs() -> None:
    assert all(low > 0 for y in (5.0, 19.0) for low, _ in bridge_shape.wood_at(y))
    assert bridge_shape.wood_at(12.0)[0][0] == 0 == bridge_shape.wood_at(28.0)[0][0]


def test_the_post_stands_under_the_foot_of_the_thinnest_string() -> None:
    post = soundpost.POST_X - soundpost.POST_MM / 2, soundpost.POST_X + soundpost.POST_MM / 2
    assert post[0] > 9.2 and post[1] <= 20.8


def test_the_scroll_winds_inwards_for_more_than_two_turns() -> None:
    line = head.volute()
    radii = [hypot(x - head.EYE[0], y - head.EYE[1]) for x, y in line]
    assert radii == sorted(radii, reverse=True)
    assert 2 < head.TURNS <= 2.75
