"""Reference instruments on one scale: what came out of each, from the worst to the best."""

from collections.abc import Iterable
from dataclasses import asdict, dataclass

from ..assessment.model import Range
from ..rubric.written.kinds import Family
from ..valuation.model import Advice
from .examples import Tried

Triple = tuple[float, float, float]


@dataclass(frozen=True, slots=True)
class Standing:
    """One instrument. Scores of 100 as (expected, low, high), both None with `enough` False; `ready` in `currency`.

    `differs`: what does not come out as it was judged beforehand, a sentence each.
    """

    name: str
    say: str
    family: Family
    enough: bool
    now: Triple
    after: Triple
    band: str | None
    making: str | None
    advice: Advice | None
    asking: float | None
    ready: float | None
    currency: str
    differs: tuple[str, ...]

    @property
    def score(self) -> float | None:
        """The score as it stands; None where too little was seen for a number."""
        return self.now[0] if self.enough else None

    def to_dict(self) -> dict[str, object]:
        """As plain data, for JSON."""
        return asdict(self)


def standings(tried: Iterable[Tried]) -> tuple[Standing, ...]:
    """The worst first; those of which too little was seen for a score last, and those that cannot be read left out."""
    found = [_standing(one) for one in tried if one.found is not None]
    return tuple(sorted(found, key=lambda one: (not one.enough, one.now[0], one.name)))


def _standing(one: Tried) -> Standing:
    found = one.found
    assert found is not None
    judged, verdict = found.assessment, found.verdict
    band = found.rubric.bands.get(judged.band or "") if judged.enough else None
    likeliest = judged.making.likeliest
    return Standing(
        name=one.example.example,
        say=one.example.say,
        family=one.example.family,
        enough=judged.enough,
        now=_triple(judged.score),
        after=_triple(judged.score_after),
        band=band.say if band else None,
        making=found.rubric.classes[likeliest].say if likeliest else None,
        advice=verdict.advice,
        asking=one.example.asking,
        ready=None if verdict.ready_value is None else float(verdict.ready_value.amount),
        currency=verdict.currency,
        differs=tuple(f"{problem.what} {problem.what_to_do}".strip() for problem in one.problems),
    )


def _triple(value: Range) -> Triple:
    return round(value.expected, 1), round(value.low, 1), round(value.high, 1)
