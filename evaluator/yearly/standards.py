"""Which standards fail most, among the instruments that were finished in the year: in all, and by what they are."""

from collections import Counter
from collections.abc import Callable, Mapping, Sequence
from typing import Literal

from ..result.model.result import Result
from .tables import Bar, YearTable

Group = Literal["family", "size", "making", "age"]
FAILS = frozenset({"probably_not", "does_not"})
JUDGED = FAILS | {"meets", "probably"}
MOST_SHOWN = 15
AGE_BANDS = ((1900, "before 1900"), (1950, "1900 to 1949"), (1990, "1950 to 1989"), (9999, "from 1990 on"))


def _family(one: Result) -> str:
    return one.rubric.name


def _size(one: Result) -> str:
    return f"{one.rubric.name} {one.instrument.size}"


def _making(one: Result) -> str:
    classes = {each.making: each.say for each in one.making.classes}
    return classes.get(one.making.likeliest or "", "not told") if one.making.groups_seen else "not told"


def _age(one: Result) -> str:
    year = one.instrument.year
    return "not told" if year is None else next(say for end, say in AGE_BANDS if year < end)


GROUPS: Mapping[Group, tuple[str, Callable[[Result], str]]] = {
    "family": ("family", _family),
    "size": ("size", _size),
    "making": ("line of making", _making),
    "age": ("age", _age),
}
NO_READING = "No reading was held to a standard."


def standards(results: Sequence[Result]) -> YearTable:
    """Of every standard that a reading was held to: how often, and how often it was not met; the worst first."""
    judged, failed = _counted(results)
    terms = _terms(results)
    order = sorted(judged, key=lambda name: (-failed[name], -failed[name] / judged[name], name))
    rows = tuple(
        (terms[name], str(judged[name]), str(failed[name]), f"{failed[name] / judged[name]:.0%}") for name in order
    )
    shown = [name for name in order if failed[name]][:MOST_SHOWN]
    bars = tuple(Bar(terms[name], float(failed[name]), f"{failed[name]} of {judged[name]}") for name in shown)
    none = "No standard failed." if judged else NO_READING
    say = f"{terms[order[0]]} fails most: {bars[0].text}." if bars else none
    columns = ("Standard", "Held to it", "Failed", "Share")
    return YearTable("standards", "Which standards fail most", say, columns, rows, "bars", bars, "times failed")


def by_group(results: Sequence[Result], group: Group) -> YearTable:
    """How many readings failed their standard, by what the instruments are, with the standard that fails most."""
    title, told = GROUPS[group]
    groups: dict[str, list[Result]] = {}
    for one in results:
        groups.setdefault(told(one), []).append(one)
    rows, bars = [], []
    for name in sorted(groups):
        judged, failed = _counted(groups[name])
        all_judged, all_failed = sum(judged.values()), sum(failed.values())
        worst = max(failed, key=lambda each: (failed[each], each)) if all_failed else ""
        share = all_failed / all_judged if all_judged else 0.0
        said = f"{_terms(groups[name])[worst]} ({failed[worst]} of {judged[worst]})" if worst else "none"
        rows.append((name, str(len(groups[name])), str(all_judged), f"{share:.0%}" if all_judged else "", said))
        if all_judged:
            bars.append(Bar(name, 100 * share, f"{share:.0%} of {all_judged}"))
    columns = (title.capitalize(), "Instruments", "Readings", "Failed", "Fails most")
    say = "The share of readings that do not meet their standard." if bars else NO_READING
    name = f"standards_by_{group}"
    return YearTable(name, f"Standards by {title}", say, columns, tuple(rows), "bars", tuple(bars), "percent")


def _counted(results: Sequence[Result]) -> tuple[Counter[str], Counter[str]]:
    """By check: how many readings tell whether the standard is met, and how many do not meet it."""
    judged: Counter[str] = Counter()
    failed: Counter[str] = Counter()
    for one in results:
        for name, item in one.conformity.items():
            if item.statement in JUDGED:
                judged[name] += 1
                failed[name] += item.statement in FAILS
    return judged, failed


def _terms(results: Sequence[Result]) -> dict[str, str]:
    found: dict[str, str] = {}
    for one in results:
        for name, item in one.conformity.items():
            text = item.term or name.replace("_", " ")
            found.setdefault(name, text[:1].upper() + text[1:])
    return found
