"""What is needed, from what was seen: which faults must be cured, which may be, which are only possible.

Work needs a look. A fault that nobody looked at is in no plan, however likely its like is; a reading that lies on its
limit asks for a judgement and forces nothing. Both stay what may come on top.
"""

from collections.abc import Iterable, Mapping, Sequence

from ..assessment.believing.making import making_of
from ..assessment.model import Assessment, Case, Finding
from ..assessment.scoring.known import Known
from ..basis.frozen import dataclass
from ..rubric.fitting import Seen, Setting
from ..rubric.rubric import Rubric
from .model import Uncured
from .planning.catalogue import Need

REQUIRED = ("to_play_safely", "to_standard")
SOUND = ("sound", "acceptable")


@dataclass(frozen=True, slots=True)
class Needed:
    """`must` and `may` be cured; `possible`: seen, and doubtful or on a limit; `unlooked`: only expected.

    `uncured`: checks whose fault was seen and no work cures, with the reason.
    """

    must: tuple[Need, ...]
    may: tuple[Need, ...]
    possible: tuple[Finding, ...]
    unlooked: tuple[Finding, ...]
    uncured: Mapping[str, Uncured]


def needed(rubric: Rubric, case: Case, findings: Iterable[Finding]) -> Needed:
    """All findings sorted out; disqualifying ones first.

    A disqualifying outcome that work can cure is priced like any fault: it stops a purchase, not a repair.
    """
    must: list[Finding] = []
    may: list[Finding] = []
    possible: list[Finding] = []
    unlooked: list[Finding] = []
    uncured: dict[str, Uncured] = {}
    for one in findings:
        if one.waits:
            continue
        asked = one.required or (one.class_ == "disqualifying" and one.urgency in REQUIRED)
        doubtful = one.level == "possible" or one.on_limit
        if not one.seen or doubtful:
            if asked and one.cured_by:
                (possible if one.seen and speaks(rubric, case, one) else unlooked).append(one)
        elif not one.cured_by:
            uncured[one.check] = "inherent"
        else:
            (must if asked else may).append(one)
    wanted, optional = needs_of(rubric, case, must), needs_of(rubric, case, may)
    return Needed(tuple(wanted), tuple(optional), tuple(possible), tuple(unlooked), uncured)


def speaks(rubric: Rubric, case: Case, finding: Finding) -> bool:
    """Whether something that was seen speaks for the fault: a reading, or an answer that is no sound one.

    The doubt that a look leaves which found all in order belongs to what nobody has seen: else a sound answer would
    bring work.
    """
    check = rubric.checks[finding.check]
    seen = case.observations.get(finding.check, ())
    named = [check.outcomes[one.outcome] for one in seen if one.outcome in check.outcomes]
    return any(one.reading is not None for one in seen) or any(one.class_ not in SOUND for one in named) or not seen


def needs_of(rubric: Rubric, case: Case, findings: Iterable[Finding]) -> list[Need]:
    """Findings that work can cure as needs, each with how many times it is there."""
    counted = counts_of(rubric, case)
    return [
        Need(one.check, one.outcome, one.say, one.cured_by, one.urgency, _units(rubric, one, counted))
        for one in findings
        if one.cured_by
    ]


def _units(rubric: Rubric, finding: Finding, counted: Mapping[str, int]) -> int:
    """How many times a fault is there: as counted, and no less than its outcome says."""
    return max(rubric.checks[finding.check].outcomes[finding.outcome].units, counted.get(finding.check, 1))


def counts_of(rubric: Rubric, case: Case) -> Mapping[str, int]:
    """How many times the fault of a check is there, where somebody counted it: there, or in a check that asks it."""
    found: dict[str, int] = {}
    for name, seen in case.observations.items():
        count = rubric.checks[name].count if name in rubric.checks else None
        read = [one.reading.value for one in seen if one.reading is not None]
        if count is None or not read:
            continue
        for check in (*count.units_of, *((name,) if count.each_is_a_fault else ())):
            found[check] = max(found.get(check, 1), round(max(read)))
    return found


def setting_of(rubric: Rubric, case: Case, assessment: Assessment) -> Setting:
    """The instrument as an assessment knows it: what was seen of each check, and of what making it is."""
    seen = {name: likeliest(one.probability) for name, one in assessment.beliefs.items() if one.seen}
    read = {name: (one.value, one.low, one.high) for name, one in assessment.conformity.items()}
    made = assessment.making
    return _setting(case, seen, read, made.shares if made.groups_seen else {})


def setting_known(rubric: Rubric, case: Case, known: Known) -> Setting:
    """The same, before anything was drawn."""
    seen = {
        one.term.check: likeliest(dict(zip(one.term.outcomes, one.probability, strict=True)))
        for one in known.held
        if one.seen and one.term.outcomes
    }
    limits = {one.term.check: one.term.limits for one in known.held if one.term.limits is not None}
    read: dict[str, Read] = {}
    for name, value in known.values.items():
        here = limits.get(name)
        read[name] = (value.value, here.low if here else None, here.high if here else None)
    made = making_of(tuple(rubric.classes), known.hand, known.told)
    return _setting(case, seen, read, made.shares if made.groups_seen else {})


Read = tuple[float, float | None, float | None]  # the value and the limits of its standard


def _setting(
    case: Case, seen: Mapping[str, str | None], read: Mapping[str, Read], making: Mapping[str, float]
) -> Setting:
    found = {name: Seen(outcome) for name, outcome in seen.items()}
    for name, (value, low, high) in read.items():
        off = max(0.0, (low - value) if low is not None else 0.0, (value - high) if high is not None else 0.0)
        found[name] = Seen(seen.get(name), value, off)
    return Setting(case.instrument.tier, making, found, case.instrument.age == "over_100")


def likeliest(probability: Mapping[str, float]) -> str | None:
    """The outcome that is most likely, the first of equals."""
    return max(probability, key=lambda name: probability[name], default=None)


def cured_findings(findings: Sequence[Finding]) -> tuple[Finding, ...]:
    """Those that were seen surely enough to be worked at."""
    return tuple(one for one in findings if one.seen and not one.waits and one.level != "possible" and not one.on_limit)
