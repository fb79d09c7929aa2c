"""The map: every finding is on it or listed, none hides another, and a cello is a cello."""

from itertools import combinations

from hypothesis import example, given
from hypothesis import strategies as st

from evaluator.figures.mapping.map import DISC, VIEWS, Spot, mapped
from evaluator.figures.mapping.places import CHECKS, PARTS, place_of
from evaluator.figures.mapping.views import TOP
from evaluator.figures.shapes import Dot, Figure, Label, Line
from tests.papers.cases import rubric

KNOWN = {
    family: [(check.check, check.part) for check in rubric(family).checks.values()]
    for family in ("violin", "viola", "cello", "bow")
}
FOUND = st.sampled_from(sorted(KNOWN)).flatmap(
    lambda family: st.tuples(
        st.just(family), st.lists(st.sampled_from(KNOWN[family]), max_size=len(KNOWN[family]), unique=True)
    )
)
EVERYTHING = list(KNOWN.items())


def discs(drawn: Figure) -> list[Dot]:
    return [shape for shape in drawn.shapes if isinstance(shape, Dot) and shape.radius == DISC]


def listed(drawn: Figure) -> set[int]:
    """The numbers below the drawing."""
    told = " ".join(one.text for one in drawn.shapes if isinstance(one, Label) and one.anchor == "start")
    return {int(word) for word in told.removeprefix("On no one place:").replace(",", " ").split()}


@given(FOUND, st.sampled_from([1.0, 0.8]), st.sampled_from([VIEWS, VIEWS[:1]]))
@example(EVERYTHING[0], 1.0, VIEWS)
@example(EVERYTHING[0], 0.8, VIEWS[:1])
@example(EVERYTHING[2], 1.0, VIEWS)
@example(EVERYTHING[3], 1.0, VIEWS)
def test_every_finding_is_on_the_map_or_below_it_and_none_hides_another(
    found: tuple[str, list[tuple[str, str]]], size: float, views: tuple[str, ...]
) -> None:
    family, checks = found
    spots = [Spot(number, *one) for number, one in enumerate(checks, 1)]
    drawn = mapped(spots, family, size, views=views)  # type: ignore[arg-type]
    placed = {spot.number for spot in spots if place_of(spot.check, spot.part)}
    assert (drawn is None) == (not placed)
    if drawn is None:
        return
    shown = {int(one.text) for one in drawn.shapes if isinstance(one, Label) and one.strong}
    assert shown == placed
    assert listed(drawn) == {spot.number for spot in spots} - placed
    for one, other in combinations(discs(drawn), 2):
        assert (one.x - other.x) ** 2 + (one.y - other.y) ** 2 >= (2 * DISC) ** 2
    for disc in discs(drawn):
        assert DISC <= disc.x <= drawn.width - DISC
        assert DISC <= disc.y <= drawn.height - DISC
    assert drawn.width <= 174  # between the margins of A4: drawn smaller, its numbers could not be read


def test_every_check_of_the_violin_family_lies_somewhere_or_on_no_one_place() -> None:
    nowhere = {part for known in KNOWN.values() for check, part in known if place_of(check, part) is None}
    assert nowhere == {"papers", "whole", "sound", "bow_play"}
    every = {check for known in KNOWN.values() for check, _ in known}
    assert not set(CHECKS) - every, "places of checks that are no more"
    assert not set(PARTS) - {part for known in KNOWN.values() for _, part in known}


def test_a_finding_is_shown_from_the_side_where_it_is() -> None:
    drawn = mapped([Spot(1, "back_crack", "cracks"), Spot(2, "bridge_stance", "bridge")], "violin")
    assert drawn is not None
    said = [one.text for one in drawn.shapes if isinstance(one, Label) and one.role == "soft"]
    assert said == ["Front", "Back", "Side"]


def test_a_cello_has_an_endpin_and_deeper_ribs() -> None:
    seam = [Spot(1, "open_seams", "ribs")]
    violin, cello = mapped(seam, "violin"), mapped(seam, "cello")
    assert violin is not None and cello is not None
    assert cello.height > violin.height + 10 and cello.width > violin.width + 5
    assert TOP < 0


def test_each_number_has_a_line_to_its_place() -> None:
    drawn = mapped([Spot(i, *one) for i, one in enumerate(KNOWN["violin"][:40], 1)], "violin")
    assert drawn is not None
    leaders = [one for one in drawn.shapes if isinstance(one, Line) and one.role == "accent"]
    assert len(leaders) == len(discs(drawn))
