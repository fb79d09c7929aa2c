"""The search for the cheapest choice of a programme, its things as bits of whole numbers: part by part, each once."""

from collections.abc import Sequence
from dataclasses import dataclass, field

Clause = tuple[int, int]  # (bit of the asking thing or 0, bits of the needed)


class TooLongError(Exception):
    """Left the search because its nodes were used up; never leaves this module."""


@dataclass(slots=True)
class Bits:
    """A programme with its things as bits of whole numbers. `solved`: parts to their cheapest choice, None: none."""

    weights: list[int]
    clauses: list[Clause]
    excludes: list[int]
    solved: dict[tuple[Clause, ...], int | None] = field(default_factory=dict)
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

    def settle(self, yes: int, no: int, clauses: Sequence[Clause]) -> tuple[int, int, Sequence[Clause]] | None:
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

    def parts(self, yes: int, no: int, clauses: Sequence[Clause]) -> list[tuple[Clause, ...]]:
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
        parts: list[tuple[int, int, tuple[Clause, ...]]] = []  # (things, those and what they exclude, clauses)
        for asks, need in open_:
            if asks and not asks & needed:
                continue
            things = reach = asks | need
            for index in self.members(things):
                reach |= self.excludes[index]
            joined: tuple[Clause, ...] = ()
            apart = []
            for part in parts:
                if part[0] & reach:
                    things, reach, joined = things | part[0], reach | part[1], joined + part[2]
                else:
                    apart.append(part)
            parts = [*apart, (things, reach, (*joined, (asks, need)))]
        return [clauses for _, _, clauses in parts]

    def solve(
        self, part: tuple[Clause, ...], nodes: int, *, first_will_do: bool, near: Sequence[int] = ()
    ) -> tuple[int | None, bool]:
        """The cheapest choice of a part that was met, and whether the search came to its end; None: none was met.

        `near`: choices of the whole that hold, to begin from: what cannot be cheaper than one of them is not searched.
        """
        if part in self.solved:
            return self.solved[part], True
        search, proven = _Search(self, nodes, first_will_do), True
        things = 0
        for asks, need in part:
            things |= asks | need
        for chosen in near:
            search.begin(chosen & things)
        try:
            search.run(0, 0, part)
        except TooLongError:
            proven = False
        found = None if search.best is None else search.best_chosen
        if proven:
            self.solved[part] = found
        return found, proven


@dataclass(slots=True)
class _Search:
    """The state of one search."""

    bits: Bits
    nodes_left: int
    first_will_do: bool
    best: int | None = None
    best_chosen: int = 0

    def begin(self, chosen: int) -> None:
        """Take a choice that holds as the best so far, if it is."""
        spent = sum([self.bits.weights[i] for i in self.bits.members(chosen)])
        if self.best is None or spent < self.best:
            self.best, self.best_chosen = spent, chosen

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

    def run(self, yes: int, no: int, clauses: Sequence[Clause]) -> None:
        if self.nodes_left <= 0 or (self.first_will_do and self.best is not None):
            raise TooLongError
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


def shared_needs(clauses: list[Clause]) -> list[Clause]:
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
