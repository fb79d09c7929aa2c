"""The risk of the purchase in words: groups by how grave it is, and a line that says how much there is of it."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from ...result.model.decision import Risk, RiskLevel
from ...result.model.result import Result
from ..phrases import capital, small

TITLE = "The purchase, apart from the instrument"
INTRO = "Seller, terms, papers, case and fit. None of it takes points: it says what you risk by buying it here."
GROUPS: Mapping[RiskLevel, str] = {
    "stops": "Stops the purchase",
    "great": "A risk",
    "some": "To bear in mind",
    "none": "In order",
    "open": "Not asked yet",
}


@dataclass(frozen=True, slots=True)
class Group:
    """Risks of one gravity under their heading."""

    level: RiskLevel
    title: str
    risks: tuple[Risk, ...]


def told(result: Result) -> tuple[Risk, ...]:
    """What somebody answered, the gravest first."""
    return tuple(one for one in result.purchase if one.level != "open")


def groups(result: Result) -> tuple[Group, ...]:
    """The gravest first; what nobody asked only where it is to be bought."""
    return tuple(_groups(result))


def _groups(result: Result) -> Iterator[Group]:
    for level, title in GROUPS.items():
        risks = tuple(one for one in result.purchase if one.level == level)
        if risks and (level != "open" or result.purpose != "quote"):
            yield Group(level, title, risks)


def subject(risk: Risk) -> str:
    """What it is about, in a few words: the trade's term, else the check's name."""
    return capital(risk.term or risk.check.removeprefix("bow_").replace("_", " "))


def title(risk: Risk) -> str:
    """'Return terms: no return, sold as seen'."""
    return f"{subject(risk)}: {small(risk.say.strip().rstrip('.'))}" if risk.say else subject(risk)


def line(result: Result) -> str | None:
    """How much there is: '1 stops it, 2 risks; 5 not asked'. None where nothing was answered and nothing is bought."""
    found = {group.level: len(group.risks) for group in groups(result)}
    said = [
        f"{found['stops']} stops it" if "stops" in found else "",
        f"{found['great']} risk{'s' if found['great'] > 1 else ''}" if "great" in found else "",
        f"{found['some']} to bear in mind" if "some" in found else "",
    ]
    grave = ", ".join(one for one in said if one) or ("nothing against it" if "none" in found else "")
    open_ = f"{found['open']} not asked yet" if "open" in found else ""
    return "; ".join(one for one in (grave, open_) if one) or None
