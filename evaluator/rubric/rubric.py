"""The rubric of one family, loaded and checked: lookups by id, nothing from files any more.

`load` makes it; everything after works on it. Ids are unique inside each mapping; mappings keep the order of the files.
"""

from collections.abc import Mapping
from dataclasses import field

from ..basis.formulas.formula import Formula
from ..basis.frozen import dataclass
from .files.renamed import Renamed
from .making import Band, MakingClass, SignGroup, SignTable
from .written.checks import Check, Likeness
from .written.kinds import Confidence, Domain, Family, StringType, Style, Tier
from .written.surroundings import (
    Cause,
    Caution,
    Figure,
    Judged,
    Part,
    RubricExample,
    Safety,
    StandardRow,
    StandardTable,
    Tool,
    Wait,
    first_sentence,
)
from .written.work import Job, PartPrice, SharedLabour

SAFETY = "safety"  # the id of the first page


@dataclass(frozen=True, slots=True)
class Limits:
    """What a reading is held to: one side may be open (None). `unit` is the check's unit."""

    low: float | None
    high: float | None
    target: float | None
    unit: str
    confidence: Confidence
    sources: tuple[str, ...]
    worth_at: tuple[tuple[float, float], ...] = ()


@dataclass(frozen=True, slots=True)
class Rubric:
    """Everything known about one family. `formulas` holds derived checks' formulas, `relevant` checks' conditions.

    `classes` of making, the cheapest first; `signs` of them by check, ready for sums; `bands` of the score
    in words; `likenesses`: by check, which of its outcomes are drawn; `judged`: every figure of judgement.
    """

    name: str
    version: str
    title: str
    family: Family
    sizes: tuple[str, ...]
    default_size: str
    hash: str
    parts: Mapping[str, Part]
    checks: Mapping[str, Check]
    standards: Mapping[str, StandardTable]
    tools: Mapping[str, Tool]
    causes: Mapping[str, Cause]
    cautions: Mapping[str, Caution]
    sources: Mapping[str, str]
    jobs: Mapping[str, Job]
    shared_labour: Mapping[str, SharedLabour]
    part_prices: Mapping[str, PartPrice]
    domain_shares: Mapping[Tier, Mapping[Domain, float]]
    formulas: Mapping[str, Formula]
    relevant: Mapping[str, Formula]
    examples: tuple[RubricExample, ...] = ()
    safety: Safety | None = None
    waits: Mapping[str, Wait] = field(default_factory=dict)
    renamed: Mapping[str, Renamed] = field(default_factory=dict)
    opinion_of: Mapping[str, str] = field(default_factory=dict)
    classes: Mapping[str, MakingClass] = field(default_factory=dict)
    sign_groups: Mapping[str, SignGroup] = field(default_factory=dict)
    signs: Mapping[str, SignTable] = field(default_factory=dict)
    bands: Mapping[str, Band] = field(default_factory=dict)
    likenesses: Mapping[str, Likeness] = field(default_factory=dict)
    judged: Mapping[str, Judged] = field(default_factory=dict)

    def __hash__(self) -> int:
        """By itself, so that what is worked out for a rubric once can be kept for it."""
        return id(self)

    def figure(self, name: Figure) -> float:
        """A figure of judgement."""
        return self.judged[name].value

    @property
    def understood(self) -> frozenset[str]:
        """The names of checks that an answer may bear: those of today and those of before."""
        return frozenset({*self.checks, *self.renamed})

    def band_of(self, score: float, safe: bool = True) -> str | None:
        """Id of the band that a score of 0..100 lies in, None where the rubric has none for it; where it is not `safe`
        to play as it stands, of the bands that do not ask for that."""
        found = [one for one in self.bands.values() if score >= one.at_least and (safe or not one.when_safe)]
        return max(found, key=lambda one: one.at_least).band if found else None

    @property
    def safety_checks(self) -> tuple[str, ...]:
        """The checks of the first page, in their order: seen to be safe before anything is tuned or tightened."""
        return tuple(name for name in self.safety.checks if name in self.checks) if self.safety else ()

    @property
    def pages(self) -> Mapping[str, Part]:
        """The pages on which checks are asked, in order: safety first, then part by part."""
        first = {SAFETY: Part(part=SAFETY, say=self.safety.say, intro=self.safety.intro)} if self.safety else {}
        return {**first, **self.parts}

    def page_of(self, check: Check) -> str:
        """The page on which a check is asked."""
        return SAFETY if check.check in self.safety_checks else check.part

    def source_text(self, source: str) -> str:
        """The written-out source for a key of the `sources` tables; free text comes back as it is."""
        return self.sources.get(source, source)

    def caution_texts(self, check_or_job: Check | Job) -> tuple[str, ...]:
        """Every caution of a check or job in full sentences."""
        named = tuple(self.cautions[key].say for key in check_or_job.cautions)
        return ((check_or_job.caution,) if check_or_job.caution else ()) + named

    def caution_lines(self, check: Check) -> tuple[tuple[str, str], ...]:
        """Each caution of a check as the short line for whoever looks, and in full."""
        own = ((first_sentence(check.caution), check.caution),) if check.caution else ()
        return own + tuple((self.cautions[key].line, self.cautions[key].say) for key in check.cautions)

    def limits(self, check: Check, size: str, style: Style, strings: StringType | None = None) -> Limits | None:
        """The standard of a check for this size, style and kind of string: the most particular row, or None."""
        here = check.standard
        if here is None:
            return None
        unit = check.measure.unit if check.measure else check.unit or ""
        worth = tuple(sorted(check.worth_at.items()))
        if here.table is None:
            low, high = here.low, here.high
            if here.target is not None and here.tolerance is not None:
                low = here.target - here.tolerance if low is None else low
                high = here.target + here.tolerance if high is None else high
            return Limits(low, high, here.target, unit, here.confidence, here.sources, worth)
        row = self._row(self.standards[here.table], size, style, strings)
        if row is None:
            return None
        worth = tuple(sorted(row.worth_at.items())) or worth
        return Limits(row.low, row.high, row.target, unit, row.confidence, row.sources, worth)

    def _row(self, table: StandardTable, size: str, style: Style, strings: StringType | None) -> StandardRow | None:
        best: tuple[int, StandardRow] | None = None
        for row in table.rows:
            if row.family != self.family or (row.size and size not in row.size):
                continue
            if (row.style and row.style != style) or (row.strings and row.strings != strings):
                continue
            particular = (row.style is not None) + (row.strings is not None) + bool(row.size)
            if best is None or particular > best[0]:
                best = (particular, row)
        return best[1] if best else None
