"""Where the points went: what each finding took from the score, and what the score means among its own kind."""

from dataclasses import dataclass

from ...result.model.result import Result
from ..names import DOMAINS
from ..phrases import capital, small
from ..words import found_title

LEAST_ROW = 0.5  # of a point: smaller ones share a row
NEARLY_ALL = 98
UNSEEN = "What nobody looked at, taken as usual for such an instrument"


@dataclass(frozen=True, slots=True)
class Points:
    """A row: what took the points, from which domains (the largest part first), and a remark, which may be empty.

    `check` is None for what many took together, and for what nobody looked at.
    """

    what: str
    points: float
    domains: str
    check: str | None = None
    remark: str = ""


def points_rows(result: Result) -> tuple[Points, ...]:
    """The rows, the largest first, then small ones together, then what is unseen; they add up to what is missing."""
    of_check: dict[str, list[tuple[str, float]]] = {}
    unseen: list[tuple[str, float]] = []
    for one in result.deductions:
        place = unseen if one.check is None else of_check.setdefault(one.check, [])
        place.append((DOMAINS[one.domain], one.points))
    outcomes = {one.check: one for one in result.deductions if one.check}
    sums = {name: sum(points for _, points in parts) for name, parts in of_check.items()}
    rows = [
        Points(
            found_title(result, name, outcomes[name].outcome),
            sums[name],
            _listed(of_check[name]),
            name,
            _remark(waits=outcomes[name].waits, set_aside=outcomes[name].set_aside),
        )
        for name in sorted(sums, key=lambda name: -sums[name])
        if sums[name] >= LEAST_ROW
    ]
    less = [name for name in sums if sums[name] < LEAST_ROW]
    if less:
        what = f"{len(less)} smaller thing{'s' if len(less) > 1 else ''} together"
        rows.append(Points(what, sum(sums[name] for name in less), ""))
    if unseen:
        rows.append(Points(UNSEEN, sum(points for _, points in unseen), _listed(unseen)))
    return tuple(rows)


def _listed(parts: list[tuple[str, float]]) -> str:
    """The domains that lost, the one that lost most first; those with next to nothing are left out."""
    most = max(points for _, points in parts)
    told = [name for name, points in sorted(parts, key=lambda part: -part[1]) if points >= most / 10]
    return capital(", ".join(dict.fromkeys(small(name) for name in told)))


def _remark(*, waits: bool, set_aside: bool) -> str:
    if waits:
        return "To be judged again once what is in the way is put right."
    return "Counted as it was given; another answer sets it aside." if set_aside else ""


def band_line(result: Result) -> str:
    """'72 of 100. Good. Little stands in the way.'; empty where there is no number."""
    if result.score.expected is None:
        return ""
    said = f" {result.band.say}" if result.band else ""
    return f"{result.score.expected:.0f} of 100.{said}"


def place_line(result: Result) -> str:
    """What the score means among instruments of its own class; empty where that is not known."""
    place = result.place_in_class
    if place is None:
        return ""
    says = {one.making: one.say for one in result.making.classes}
    kind = says.get(place.making, place.making)
    return f"Of a hundred of its class ({kind}), looked at in the same places, {_many(place.better)} better."


def _many(of_a_hundred: int) -> str:
    if of_a_hundred < 1:
        return "hardly one is"
    return "nearly all are" if of_a_hundred > NEARLY_ALL else f"about {of_a_hundred} are"
