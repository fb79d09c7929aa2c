"""A 0/1 programme of clauses, and its exact solution by branch and bound in plain Python.

Choose things, each with a price, so that every clause holds: "one of these", or "if this, then one of those", and so
that no two that exclude each other are both chosen. Covers, prerequisites, forced jobs and shared labour are all such
clauses. What surely follows is settled first; what is left falls into parts that have nothing to do with each other,
and each part is searched alone and only once. Bound: a feasible solution of the linear programme's dual, raised
clause by clause (dual ascent; Nemhauser and Wolsey, Integer and Combinatorial Optimization, from memory). It solves a
workshop's order in about a millisecond; `highs` takes over when the search of a part grows.

Ties are broken by a stated order: the cheapest; then the fewest things; then those earlier in the list.
"""

from collections.abc import Sequence
from dataclasses import replace
from functools import cached_property

from ...basis.frozen import dataclass
from .bits import Bits, Clause, shared_needs

ALWAYS = -1  # in the place of "if this": the clause holds whatever is chosen
_COUNT = 1_000  # the tie's weight of one thing; its place in the list (under 1,000) is added
_CENT = 1_000_000  # a cent outweighs every tie of up to about 900 things


@dataclass(frozen=True)
class Programme:
    """`names` in the order that breaks ties, at most 1,000; prices in whole cents, not negative.

    `clauses`: (thing or ALWAYS, things of which one is then needed); `exclusions`: pairs. All by index.
    """

    names: tuple[str, ...]
    cents: tuple[int, ...]
    clauses: tuple[tuple[int, frozenset[int]], ...]
    exclusions: tuple[tuple[int, int], ...] = ()

    def weight(self, index: int) -> int:
        """Price and tie in one whole number."""
        return self.cents[index] * _CENT + _COUNT + index

    @cached_property
    def bits(self) -> "Bits":
        """The same for the search, made when it is first searched."""
        return _bits_of(self)

    def cost(self, chosen: frozenset[int]) -> int:
        """Cents of a choice."""
        return sum(self.cents[i] for i in chosen)

    def broken(self, chosen: frozenset[int]) -> tuple[str, ...]:
        """What a choice breaks, in words; empty when it holds. Knows nothing of how the choice was found."""
        faults = [
            f"{'always' if asks == ALWAYS else self.names[asks]} needs one of {sorted(self.names[i] for i in need)}"
            for asks, need in self.clauses
            if (asks == ALWAYS or asks in chosen) and not need & chosen
        ]
        faults += [
            f"{self.names[a]} excludes {self.names[b]}" for a, b in self.exclusions if a in chosen and b in chosen
        ]
        return tuple(faults)


@dataclass(frozen=True, slots=True)
class Choice:
    """The things chosen, whether it is proven that nothing is cheaper, and how many cents less there might be if
    not."""

    chosen: frozenset[int]
    proven: bool
    may_save_cents: float = 0.0


def any_choice(programme: Programme, nodes: int = 20_000) -> Choice | None:
    """The first choice met that holds, cheap things tried first; None when none was met within the nodes of a part."""
    return _choice(programme, frozenset(), nodes, (), first_will_do=True)


def search(
    programme: Programme,
    never: frozenset[int] = frozenset(),
    nodes: int = 2_000,
    near: Sequence[frozenset[int]] = (),
) -> Choice | None:
    """The cheapest choice without the things in `never`, within so many nodes a part; None when there is none.

    `near`: choices that hold and have nothing of `never`, perhaps of other prices; the search begins from them.

    `proven` is False when the nodes ran out: then the choice (perhaps empty) is worth nothing more than a first guess.
    """
    return _choice(programme, never, nodes, near, first_will_do=False)


def met_in_turn(programme: Programme, asked: Sequence[frozenset[int]], nodes: int = 20_000) -> tuple[bool, ...]:
    """Which of the `asked`, each one of whose things is needed, hold together when they are taken one after the other.

    The programme's own clauses that ask always are left out. What followed from those that were taken is kept, and a
    choice that meets the next one already is not searched for again.
    """
    rules = replace(programme, clauses=tuple(clause for clause in programme.clauses if clause[0] != ALWAYS)).bits
    state = rules.settle(0, 0, rules.clauses)
    assert state is not None, "nothing is asked yet"
    chosen, met = 0, []
    for things in asked:
        need = sum(1 << i for i in things)
        settled = rules.settle(state[0], state[1], [*state[2], (0, need)])
        found = chosen if settled is not None and chosen & need else _first_met(rules, settled, nodes)
        met.append(found is not None)
        if settled is not None and found is not None:
            state, chosen = settled, found
    return tuple(met)


def _first_met(bits: Bits, settled: tuple[int, int, Sequence[Clause]] | None, nodes: int) -> int | None:
    """The first choice met of what is settled; None where it cannot hold, or none was met."""
    if settled is None:
        return None
    chosen = settled[0]
    for part in bits.parts(*settled):
        found, _ = bits.solve(part, nodes, first_will_do=True)
        if found is None:
            return None
        chosen |= found
    return chosen


def _choice(
    programme: Programme, never: frozenset[int], nodes: int, near: Sequence[frozenset[int]], *, first_will_do: bool
) -> Choice | None:
    bits = programme.bits
    begun = [sum(1 << i for i in chosen) for chosen in near]
    settled = bits.settle(0, sum(1 << i for i in never), bits.clauses)
    if settled is None:
        return None
    chosen, proven = settled[0], True
    for part in bits.parts(*settled):
        found, ended = bits.solve(part, nodes, first_will_do=first_will_do, near=begun)
        if found is None and (ended or first_will_do):
            return None
        chosen |= found or 0
        proven = proven and ended
    return Choice(frozenset(bits.members(chosen)), proven)


def _bits_of(programme: Programme) -> Bits:
    excludes = [0] * len(programme.names)
    for a, b in programme.exclusions:
        excludes[a] |= 1 << b
        excludes[b] |= 1 << a
    clauses = [(0 if asks == ALWAYS else 1 << asks, sum(1 << i for i in need)) for asks, need in programme.clauses]
    weights = [programme.weight(i) for i in range(len(programme.names))]
    return Bits(weights, clauses + shared_needs(clauses), excludes)
