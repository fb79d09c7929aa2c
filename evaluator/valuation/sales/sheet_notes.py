"""What stands out in a sheet before it goes into the book: sales that are there twice, prices far from the others."""

from collections.abc import Hashable, Iterable, Mapping, Sequence
from statistics import median

from .comparables import Comparable, mark
from .sales_file import ReadRow

FAR = 5.0  # times dearer or cheaper than the middle one of its kind: a slip of a digit is ten
FEWEST = 4  # below that there is no middle to be far from


def flagged(rows: Sequence[ReadRow], book: Iterable[Comparable]) -> Mapping[int, tuple[str, ...]]:
    """What stands out, by line: nothing for most."""
    known = list(book)
    here = {mark(one) for one in known}
    seen: dict[Hashable, int] = {}
    found: dict[int, tuple[str, ...]] = {}
    middles = _middles([*known, *(row.sale for row in rows)])
    for row in rows:
        said, this = [], mark(row.sale)
        if this in here:
            said.append("is in the book already, and is not put there twice")
        elif this in seen:
            said.append(f"is the same as line {seen[this]}, and counts once")
        seen.setdefault(this, row.line)
        middle = middles.get((row.sale.family, row.sale.tier))
        if middle and not middle / FAR <= row.sale.price <= middle * FAR:
            far = f"more than {FAR:.0f} times" if row.sale.price > middle else f"less than one part in {FAR:.0f} of"
            said.append(f"costs {far} the middle one of its kind: look at its figures")
        if said:
            found[row.line] = tuple(said)
    return found


def _middles(sales: Sequence[Comparable]) -> dict[tuple[str, str], float]:
    """The middle price of each family and standard with enough sales."""
    prices: dict[tuple[str, str], list[float]] = {}
    for one in sales:
        prices.setdefault((one.family, one.tier), []).append(one.price)
    return {kind: median(all_) for kind, all_ in prices.items() if len(all_) >= FEWEST}
