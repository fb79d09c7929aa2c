"""The same 0/1 programme given to HiGHS (through scipy's milp): for orders that outgrow the plain search.

Imported late: loading scipy.optimize costs more than planning any usual order.
"""

from .programme import ALWAYS, Choice, Programme

_TIE = 1e-3  # of a cent for one more thing; its place in the list adds a thousandth of that
_HALF = 0.5


def solve(programme: Programme, seconds: float = 5.0) -> Choice | None:
    """The cheapest choice; None when there is none.

    `proven` is False when the time ran out; the choice is then the best that was met, or empty. The result is rounded
    here and has to be checked by `Programme.broken`.
    """
    import numpy as np
    from scipy.optimize import Bounds, LinearConstraint, milp
    from scipy.sparse import coo_array

    count = len(programme.names)
    if not count:
        return None if programme.clauses else Choice(frozenset(), True)
    tie = _TIE * min(1.0, 500.0 / count)  # all ties together stay under a cent
    later = min(1e-3, 1.0 / count)
    price = np.array([cents + tie * (1.0 + i * later) for i, cents in enumerate(programme.cents)])
    at_least: list[float] = []
    row: list[int] = []
    column: list[int] = []
    value: list[float] = []
    for asks, need in programme.clauses:
        line = len(at_least)
        entries = [(i, 1.0) for i in sorted(need)] + ([] if asks == ALWAYS else [(asks, -1.0)])
        at_least.append(1.0 if asks == ALWAYS else 0.0)
        for index, factor in entries:
            row.append(line)
            column.append(index)
            value.append(factor)
    for a, b in programme.exclusions:
        line = len(at_least)
        at_least.append(-1.0)
        row += [line, line]
        column += [a, b]
        value += [-1.0, -1.0]
    limits = []
    if at_least:
        matrix = coo_array((value, (row, column)), shape=(len(at_least), count)).tocsr()
        limits.append(LinearConstraint(matrix, lb=np.array(at_least)))
    result = milp(
        price,
        integrality=np.ones(count, dtype=np.int64),
        bounds=Bounds(np.zeros(count), np.ones(count)),
        constraints=limits,
        options={"time_limit": seconds, "mip_rel_gap": 0.0},
    )
    if result.x is None:
        return None if result.status == 2 else Choice(frozenset(), False)
    proven = result.status == 0
    may_save = 0.0 if proven else max(0.0, float(result.fun - result.mip_dual_bound))
    return Choice(frozenset(np.flatnonzero(result.x > _HALF).tolist()), proven, may_save)
