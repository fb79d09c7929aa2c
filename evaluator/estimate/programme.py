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
from dataclasses import dataclass, field, replace
from functools import cached_property

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
    def bits(self) -> "_Bits":
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


_Clause = tuple[int, int]  # (bit of the asking thing or 0, bits of the needed)


class _TooLongError(Exception):
    """Left the search because its nodes were used up; never leaves this module."""


@dataclass(slots=True)
class _Bits:
    """A programme with its things as bits of whole numbers. `solved`: parts to their cheapest choice, None: none."""

    weights: list[int]
    clauses: list[_Clause]
    excludes: list[int]
    solved: dict[tuple[_Clause, ...], int | None] = field(default_factory=dict)
    known: dict[int, tuple[int, ...]] = field(default_factory=dict)

    def members(self, mask: int) -> tuple[int, ...]:
        """The things of a mask, in their order."""
        found = self.known.get(mask)
        if found is None:
            left, bits = mask, []
            while left:
                bits.append((left & -left).bit_length() - 1)
                left &= left - 1
            found = self.known[mask] = tuple(bits)
        return found

    def settle(self, yes: int, no: int, clauses: Sequence[_Clause]) -> tuple[int, int, Sequence[_Clause]] | None:
        """Everything that follows; (chosen, ruled out, clauses still open with asking bit), None on a contradiction."""
        open_ = clauses
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

    def parts(self, yes: int, no: int, clauses: Sequence[_Clause]) -> list[tuple[_Clause, ...]]:
        """What is open after settling, less what is decided, in parts that share no thing and exclude none of another.

        Clauses that only ask on account of things which nothing needs are left out: nobody would choose those.
        """
        open_ = [(asks & ~yes, need & ~no) for asks, need in clauses]
        needed, before = 0, -1
        while needed != before:
            before = needed
            for asks, need in open_:
                if not asks or asks & needed:
                    needed |= need
        parts: list[tuple[int, int, tuple[_Clause, ...]]] = []  # (things, those and what they exclude, clauses)
        for asks, need in open_:
            if asks and not asks & needed:
                continue
            things = reach = asks | need
            for index in self.members(things):
                reach |= self.excludes[index]
            joined: tuple[_Clause, ...] = ()
            apart = []
            for part in parts:
                if part[0] & reach:
                    things, reach, joined = things | part[0], reach | part[1], joined + part[2]
                else:
                    apart.append(part)
            parts = [*apart, (things, reach, (*joined, (asks, need)))]
        return [clauses for _, _, clauses in parts]

    def solve(self, part: tuple[_Clause, ...], nodes: int, *, first_will_do: bool) -> tuple[int | None, bool]:
        """The cheapest choice of a part that was met, and whether the search came to its end; None: none was met."""
        if part in self.solved:
            return self.solved[part], True
        search, proven = _Search(self, nodes, first_will_do), True
        try:
            search.run(0, 0, part)
        except _TooLongError:
            proven = False
        found = None if search.best is None else search.best_chosen
        if proven:
            self.solved[part] = found
        return found, proven


@dataclass(slots=True)
class _Search:
    """The state of one search."""

    bits: _Bits
    nodes_left: int
    first_will_do: bool
    best: int | None = None
    best_chosen: int = 0

    def bound(self, no: int, asked: list[int]) -> int:
        """A price that what is still needed cannot stay under."""
        weights, members = self.bits.weights, self.bits.members
        rest: dict[int, int] = {}
        found = 0
        for need in asked:
            free = members(need & ~no)
            least = min([rest.get(i, weights[i]) for i in free])
            if least:
                found += least
                for i in free:
                    rest[i] = rest.get(i, weights[i]) - least
        return found

    def run(self, yes: int, no: int, clauses: Sequence[_Clause]) -> None:
        if self.nodes_left <= 0 or (self.first_will_do and self.best is not None):
            raise _TooLongError
        self.nodes_left -= 1
        bits = self.bits
        settled = bits.settle(yes, no, clauses)
        if settled is None:
            return
        yes, no, open_ = settled
        spent = sum([bits.weights[i] for i in bits.members(yes)])
        needs = {need for asks, need in open_ if not asks or asks & yes}
        asked = sorted(needs, key=lambda need: ((need & ~no).bit_count(), need))
        if self.best is not None and spent + self.bound(no, asked) >= self.best:
            return
        if not asked:
            self.best, self.best_chosen = spent, yes
            return
        free = bits.members(asked[0] & ~no)
        for index in sorted(free, key=lambda i: bits.weights[i]):
            self.run(yes | 1 << index, no | bits.excludes[index], open_)
            no |= 1 << index


def any_choice(programme: Programme, nodes: int = 20_000) -> Choice | None:
    """The first choice met that holds, cheap things tried first; None when none was met within the nodes of a part."""
    return _choice(programme, frozenset(), nodes, first_will_do=True)


def search(programme: Programme, never: frozenset[int] = frozenset(), nodes: int = 2_000) -> Choice | None:
    """The cheapest choice without the things in `never`, within so many nodes a part; None when there is none.

    `proven` is False when the nodes ran out: then the choice (perhaps empty) is worth nothing more than a first guess.
    """
    return _choice(programme, never, nodes, first_will_do=False)


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


def _first_met(bits: _Bits, settled: tuple[int, int, Sequence[_Clause]] | None, nodes: int) -> int | None:
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


def _choice(programme: Programme, never: frozenset[int], nodes: int, *, first_will_do: bool) -> Choice | None:
    bits = programme.bits
    settled = bits.settle(0, sum(1 << i for i in never), bits.clauses)
    if settled is None:
        return None
    chosen, proven = settled[0], True
    for part in bits.parts(*settled):
        found, ended = bits.solve(part, nodes, first_will_do=first_will_do)
        if found is None and (ended or first_will_do):
            return None
        chosen |= found or 0
        proven = proven and ended
    return Choice(frozenset(bits.members(chosen)), proven)


def _bits_of(programme: Programme) -> _Bits:
    excludes = [0] * len(programme.names)
    for a, b in programme.exclusions:
        excludes[a] |= 1 << b
        excludes[b] |= 1 << a
    clauses = [(0 if asks == ALWAYS else 1 << asks, sum(1 << i for i in need)) for asks, need in programme.clauses]
    weights = [programme.weight(i) for i in range(len(programme.names))]
    return _Bits(weights, clauses + _shared_needs(clauses), excludes)


def _shared_needs(clauses: list[_Clause]) -> list[_Clause]:
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
