"""The plain search and HiGHS agree; a choice is checked clause by clause; ties fall as stated."""

import random
from dataclasses import replace

import pytest

from evaluator.estimate.planning import highs
from evaluator.estimate.planning.programme import ALWAYS, Choice, Programme, search


def programme_of(*cents: int, clauses: tuple = (), exclusions: tuple = ()) -> Programme:
    names = tuple("abcdefghij"[: len(cents)])
    return Programme(names, cents, tuple((asks, frozenset(need)) for asks, need in clauses), exclusions)


def chosen(programme: Programme, never: str = "") -> str | None:
    found = search(programme, frozenset(programme.names.index(name) for name in never))
    return None if found is None else "".join(programme.names[i] for i in sorted(found.chosen))


@pytest.mark.parametrize(
    ("programme", "wanted"),
    [
        (programme_of(), ""),
        (programme_of(5, 3, clauses=((ALWAYS, {0, 1}),)), "b"),
        (programme_of(5, 3, 3, clauses=((ALWAYS, {0, 1}), (1, {2}))), "a"),
        (programme_of(5, 3, 1, clauses=((ALWAYS, {0, 1}), (1, {2}))), "bc"),
        (programme_of(9, 3, 3, clauses=((ALWAYS, {0, 1}), (ALWAYS, {0, 2})), exclusions=((1, 2),)), "a"),
        (programme_of(3, 3, clauses=((ALWAYS, {0}), (ALWAYS, {1})), exclusions=((0, 1),)), None),
        (programme_of(3, clauses=((ALWAYS, set()),)), None),
        (programme_of(0, 0, clauses=()), ""),
    ],
)
def test_small_programmes(programme: Programme, wanted: str | None) -> None:
    assert chosen(programme) == wanted
    found = highs.solve(programme)
    assert (found is None) == (wanted is None)
    if found is not None and wanted is not None:
        assert "".join(programme.names[i] for i in sorted(found.chosen)) == wanted


def test_ties_fall_to_the_fewest_then_to_the_earliest() -> None:
    assert chosen(programme_of(4, 2, 2, clauses=((ALWAYS, {0, 1}), (ALWAYS, {0, 2})))) == "a"
    assert chosen(programme_of(4, 4, clauses=((ALWAYS, {0, 1}),))) == "a"
    assert chosen(programme_of(4, 4, clauses=((ALWAYS, {0, 1}),)), never="a") == "b"


def test_a_broken_choice_is_named() -> None:
    programme = programme_of(1, 1, 1, clauses=((ALWAYS, {0, 1}), (1, {2})), exclusions=((0, 1),))
    assert programme.broken(frozenset()) == ("always needs one of ['a', 'b']",)
    assert programme.broken(frozenset({1})) == ("b needs one of ['c']",)
    assert programme.broken(frozenset({0, 1, 2})) == ("a excludes b",)
    assert programme.broken(frozenset({0})) == ()


def test_what_was_proven_once_is_proven_when_it_is_asked_for_again() -> None:
    """Also in another order that holds the same part, with one thing more that is ruled out or decided."""
    clauses = ((ALWAYS, {0, 1}), (ALWAYS, {1, 2}), (ALWAYS, {0, 2}), (ALWAYS, {3, 4}))
    programme = programme_of(2, 2, 2, 5, 7, clauses=clauses)
    first, second = search(programme), search(programme)
    assert first is not None and first == second and first.proven
    other = search(programme, frozenset({3}))
    assert other is not None and other.proven
    assert programme.cost(other.chosen) == programme.cost(first.chosen) + 2


def test_a_search_cut_short_says_so() -> None:
    programme = programme_of(2, 2, 2, clauses=((ALWAYS, {0, 1}), (ALWAYS, {1, 2}), (ALWAYS, {0, 2})))
    found = search(programme, nodes=1)
    assert isinstance(found, Choice)
    assert not found.proven


def tangled(chance: random.Random) -> Programme:
    """30 things with prerequisites, shared labour, exclusions and ties."""
    cents = tuple(chance.choice((0, 100, 200, 300, 500, 800)) for _ in range(30))
    clauses = [(ALWAYS, frozenset(chance.sample(range(25), chance.randint(1, 4)))) for _ in range(14)]
    clauses += [(chance.randrange(25), frozenset(chance.sample(range(30), chance.randint(1, 2)))) for _ in range(20)]
    pairs = tuple((a, b) for a, b in (sorted(chance.sample(range(25), 2)) for _ in range(6)))
    return Programme(tuple(f"{i:02d}" for i in range(30)), cents, tuple(clauses), pairs)


@pytest.mark.parametrize("seed", range(40))
def test_plain_search_and_highs_choose_the_same(seed: int) -> None:
    programme = tangled(random.Random(seed))
    ours, theirs = search(programme, nodes=50_000), highs.solve(programme)
    assert (ours is None) == (theirs is None)
    if ours is not None and theirs is not None:
        assert ours.proven
        assert theirs.proven
        assert not programme.broken(ours.chosen)
        assert not programme.broken(theirs.chosen)
        assert programme.cost(ours.chosen) == programme.cost(theirs.chosen)
        assert len(ours.chosen) <= len(theirs.chosen)


@pytest.mark.parametrize("seed", range(40))
def test_a_search_that_begins_near_ends_at_the_same_choice_sooner(seed: int) -> None:
    """It begins from the best choices of other prices, as the steps of a budget do."""
    chance = random.Random(seed)
    programme = tangled(chance)
    others = [replace(programme, cents=tuple(chance.sample(programme.cents, 30))) for _ in range(3)]
    near = [found.chosen for found in (search(other, nodes=50_000) for other in others) if found is not None]
    alone = search(programme, nodes=50_000)
    anew = replace(programme)  # nothing is remembered of the search before
    assert search(anew, nodes=50_000, near=near) == alone
    if alone is not None:
        assert search(replace(programme), nodes=1, near=[alone.chosen]) in (alone, replace(alone, proven=False))


@pytest.mark.parametrize("count", [10, 400, 3000])
def test_however_many_things_cost_nothing_they_do_not_outweigh_a_cent(count: int) -> None:
    """HiGHS breaks ties by a bit of a cent a thing; all of them together stay below the cent."""
    clauses = [(ALWAYS, frozenset({0, 1})), *((i, frozenset({i + 1})) for i in range(1, count - 1))]
    programme = Programme(tuple(f"{i}" for i in range(count)), (1, *(0,) * (count - 1)), tuple(clauses), ())
    found = highs.solve(programme)
    assert found is not None and found.proven
    assert programme.cost(found.chosen) == 0
    assert found.chosen == frozenset(range(1, count))
