"""A 0/1 programme of clauses, and its exact solution by branch and bound in plain Python.

Choose things, each with a price, so that every clause holds: "one of these", or "if this, then one of those", and so
that no two that exclude each other are both chosen. Covers, prerequisites, forced jobs and shared labour are all such
clauses. Bound: a feasible solution of the linear programme's dual, raised clause by clause (dual ascent; Nemhauser
and Wolsey, Integer and Combinatorial Optimization, from memory). It solves a workshop's order in about a millisecond;
`highs` takes over when the search grows.

Ties are broken by a stated order: the cheapest; then the fewest things; then those earlier in the list.
"""

from contextlib import suppress
from dataclasses import dataclass, field

ALWAYS = -1  # in the place of "if this": the clause holds whatever is chosen
_COUNT = 1_000  # the tie's weight of one thing; its place in the list (under 1,000) is added
_CENT = 1_000_000  # a cent outweighs every tie of up to about 900 things


@dataclass(frozen=True, slots=True)
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


class _TooLongError(Exception):
    """Left the search because its nodes were used up; never leaves this module."""


@dataclass(slots=True)
class _Search:
    """The state of one search; things are bits of whole numbers."""

    weights: list[int]
    clauses: list[tuple[int, int]]  # (bit of the asking thing or 0, bits of the needed)
    excludes: list[int]
    nodes_left: int
    first_will_do: bool = False
    best: int | None = None
    best_chosen: int = 0
    bits: dict[int, tuple[int, ...]] = field(default_factory=dict)

    def members(self, mask: int) -> tuple[int, ...]:
        found = self.bits.get(mask)
        if found is None:
            found = tuple(i for i in range(mask.bit_length()) if mask >> i & 1)
            self.bits[mask] = found
        return found

    def settle(self, yes: int, no: int) -> tuple[int, int, list[tuple[int, int]]] | None:
        """Everything that follows; (chosen, ruled out, clauses still open with asking bit), None on a contradiction."""
        open_ = self.clauses
        changed = True
        while changed:
            changed = False
            left = []
            for clause in open_:
                asks, need = clause
                if need & yes or asks & no:
                    continue
                free = need & ~no
                asked = not asks or asks & yes
                if not free:
                    if asked:
                        return None
                    no |= asks
                    changed = True
                elif asked and not free & (free - 1):
                    yes |= free
                    no |= self.excludes[free.bit_length() - 1]
                    changed = True
                else:
                    left.append(clause)
                if yes & no:
                    return None
            open_ = left
        return yes, no, open_

    def bound(self, no: int, asked: list[int]) -> int:
        """A price that what is still needed cannot stay under."""
        rest: dict[int, int] = {}
        found = 0
        for need in asked:
            free = self.members(need & ~no)
            least = min([rest.get(i, self.weights[i]) for i in free])
            if least:
                found += least
                for i in free:
                    rest[i] = rest.get(i, self.weights[i]) - least
        return found

    def run(self, yes: int, no: int) -> None:
        if self.nodes_left <= 0 or (self.first_will_do and self.best is not None):
            raise _TooLongError
        self.nodes_left -= 1
        settled = self.settle(yes, no)
        if settled is None:
            return
        yes, no, open_ = settled
        spent = sum([self.weights[i] for i in self.members(yes)])
        needs = {need for asks, need in open_ if not asks or asks & yes}
        asked = sorted(needs, key=lambda need: ((need & ~no).bit_count(), need))
        if self.best is not None and spent + self.bound(no, asked) >= self.best:
            return
        if not asked:
            self.best, self.best_chosen = spent, yes
            return
        free = self.members(asked[0] & ~no)
        for index in sorted(free, key=lambda i: self.weights[i]):
            self.run(yes | 1 << index, no | self.excludes[index])
            no |= 1 << index


def any_choice(programme: Programme, nodes: int = 20_000) -> Choice | None:
    """The first choice met that holds, cheap things tried first; None when none was met within the nodes."""
    state = _state(programme, nodes)
    state.first_will_do = True
    with suppress(_TooLongError):
        state.run(0, 0)
    return None if state.best is None else Choice(frozenset(state.members(state.best_chosen)), False)


def search(programme: Programme, never: frozenset[int] = frozenset(), nodes: int = 2_000) -> Choice | None:
    """The cheapest choice without the things in `never`; None when there is none.

    `proven` is False when the nodes ran out: then the choice (perhaps empty) is worth nothing more than a first guess.
    """
    state = _state(programme, nodes)
    proven = True
    try:
        state.run(0, sum(1 << i for i in never))
    except _TooLongError:
        proven = False
    if state.best is None and proven:
        return None
    return Choice(frozenset(state.members(state.best_chosen)), proven)


def _state(programme: Programme, nodes: int) -> _Search:
    excludes = [0] * len(programme.names)
    for a, b in programme.exclusions:
        excludes[a] |= 1 << b
        excludes[b] |= 1 << a
    clauses = [(0 if asks == ALWAYS else 1 << asks, sum(1 << i for i in need)) for asks, need in programme.clauses]
    weights = [programme.weight(i) for i in range(len(programme.names))]
    return _Search(weights, clauses + _shared_needs(clauses), excludes, nodes)


def _shared_needs(clauses: list[tuple[int, int]]) -> list[tuple[int, int]]:
    """Clauses that follow: where each thing of a clause needs something, one of all those is needed too.

    They let the bound see shared labour before a job is chosen.
    """
    needs: dict[int, int] = {}
    for asks, need in clauses:
        if asks and asks not in needs:
            needs[asks] = need
    found = []
    for asks, need in clauses:
        joined, rest = 0, need
        while rest:
            bit = rest & -rest
            rest ^= bit
            if bit not in needs:
                joined = 0
                break
            joined |= needs[bit]
        if joined:
            found.append((asks, joined))
    return found
