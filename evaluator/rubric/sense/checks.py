"""Checks that load but make no sense: outcomes, cures, worth, numbers, who can look."""

from collections.abc import Iterator
from itertools import combinations

from ...basis.problem import Message, Messages
from ..rubric import Rubric
from ..written.checks import Check, Outcome, Weight, jobs_of
from ..written.kinds import WORTH_BY_CLASS, OutcomeClass
from .formulas import answers, circle_slips, formula_slips, unit_slips
from .slip import Slip

MESSAGES: Messages = {
    "check.two_kinds": Message("{first} and {second} stand in one check.", "Make two checks of it."),
    "check.few_outcomes": Message("there is nothing to choose between.", "Give it two outcomes or more."),
    "check.nothing_good": Message("no outcome is sound or acceptable.", "Say what it looks like when it is right."),
    "check.side_unknown": Message(
        'a measured check has no outcome "{outcome}".', "Name them too_low, meets and too_high only."
    ),
    "check.no_meets": Message("the outcome meets is missing.", "Say under meets: what a right reading means."),
    "check.fault_no_cure": Message(
        "no job cures this, and nothing says that it cannot be cured.",
        "Name a job under cured_by, or write inherent: true.",
    ),
    "check.cure_and_inherent": Message("it is inherent, and yet a job cures it.", "Keep one of the two."),
    "check.cured_sound": Message("it is {class_}, and yet a job cures it.", "Take cured_by away, or make it a fault."),
    "check.cure_twice": Message('the cure "{cure}" names "{job}" twice.', "Name each job once."),
    "check.cure_clash": Message('of "{first}" and "{second}" only one is ever done.', "Join jobs that go together."),
    "check.cure_longer": Message('"{cure}" does no more than "{job}" alone.', "Keep one of the two."),
    "check.made_in_cured": Message(
        'the cause "{cause}" was built in, and yet the set-up job "{job}" cures it.', "Name another cause or cure."
    ),
    "check.worth_order": Message(
        'it is {class_} and worth {worth:g}, less than "{other}", which is worth {other_worth:g} as {other_class}.',
        "A better class is never worth less.",
    ),
    "check.class_for_same": Message(
        "class_for says {class_} for {who}, which it is anyway.", "Take {who} out of class_for."
    ),
    "check.range_without_number": Message(
        "at_least and at_most belong to counts and ratings.", "Take them away, or give the check count: or rate:."
    ),
    "check.number_uncovered": Message("no outcome holds the number {number}.", "Let at_least or at_most reach it."),
    "check.number_twice": Message('the number {number} falls in "{first}" and "{second}".', "Let them not overlap."),
    "check.range_empty": Message(
        "the least, {low:g}, is not below the most, {high:g}.", "Write the smaller one first."
    ),
    "check.nobody": Message("nobody can do this check: every share under seen_by is 0.", "Say how it can be seen."),
    "check.hides_nothing": Message(
        "that there is nothing shows less often than that there is something.",
        "Write one number, or make not_there the larger one.",
    ),
    "check.no_tool": Message("nobody can do this check: it names no measuring tool.", "Name one under tools."),
    "check.no_time": Message("it takes no time.", "Write the minutes, for example 0.5."),
    "check.too_long": Message("{minutes:g} minutes is longer than a whole visit.", "Write what one look takes."),
    "check.no_how": Message("nothing says how to look.", "Write one step or more under how:."),
    "check.cut_text": Message(
        'the text "{text}" begins in the middle of a sentence.',
        "Put a text with a comma in quotes, or on its own line.",
    ),
    "check.no_evidence": Message("it is evidence of nothing.", "Name a domain under evidence_of."),
    "check.no_weight": Message("it weighs nothing for anybody.", "Give a weight, or drop the check."),
    "check.weight_over": Message("the weight {weight:g} is above 5.", "Weights go from 0 to 5."),
    "check.no_source": Message("it has no source.", "Name one, or write common practice, no source."),
}
RANK: dict[OutcomeClass, int] = {"sound": 3, "acceptable": 2, "fault": 1, "disqualifying": 0}
SIDES = ("too_low", "meets", "too_high")
LONGEST_MINUTES = 30


def check_slips(rubric: Rubric) -> Iterator[Slip]:
    """Every slip in the checks of a rubric."""
    for check in rubric.checks.values():
        yield from _kind_slips(check)
        yield from _outcome_slips(check, rubric)
        yield from _worth_slips(check)
        yield from _number_slips(check)
        yield from _looking_slips(check)
        yield from _counting_slips(check)
        yield from unit_slips(check, rubric)
        yield from formula_slips(check, rubric)
    yield from circle_slips(rubric)


def _kind_slips(check: Check) -> Iterator[Slip]:
    blocks = [key for key in ("measure", "count", "rate", "formula") if getattr(check, key) is not None]
    if len(blocks) > 1:
        words = {"first": blocks[0], "second": blocks[1]}
        yield Slip("check.two_kinds", "checks", check.check, (blocks[1],), words, key=True)
    if check.kind in {"measure", "derived"}:
        for name in check.outcomes:
            if name not in SIDES:
                yield Slip("check.side_unknown", "checks", check.check, ("outcomes", name), {"outcome": name}, key=True)
        if check.outcomes and "meets" not in check.outcomes:
            yield Slip("check.no_meets", "checks", check.check, ("outcomes",), key=True)
    if len(check.outcomes) < 2 and (check.outcomes or check.kind != "choice"):
        yield Slip("check.few_outcomes", "checks", check.check, ("outcomes",), key=True)


def _classes(outcome: Outcome) -> set[OutcomeClass]:
    return {outcome.class_, *outcome.class_for.values()}


def _outcome_slips(check: Check, rubric: Rubric) -> Iterator[Slip]:
    if check.outcomes and not any(RANK[c] >= 2 for one in check.outcomes.values() for c in _classes(one)):
        yield Slip("check.nothing_good", "checks", check.check, ("outcomes",), key=True)
    for name, outcome in check.outcomes.items():
        path = ("outcomes", name)
        bad = any(RANK[one] < 2 for one in _classes(outcome))
        if bad and not outcome.cured_by and not outcome.inherent:
            yield Slip("check.fault_no_cure", "checks", check.check, (*path, "class"))
        if outcome.cured_by and outcome.inherent:
            yield Slip("check.cure_and_inherent", "checks", check.check, (*path, "inherent"), key=True)
        if outcome.cured_by and _classes(outcome) == {"sound"}:
            words = {"class_": "sound"}
            yield Slip("check.cured_sound", "checks", check.check, (*path, "cured_by"), words, key=True)
        yield from _together_slips(check, outcome, path, rubric)
        for who, class_ in outcome.class_for.items():
            if class_ == outcome.class_ and not (set(outcome.class_for) - {who}):
                words = {"who": who, "class_": class_}
                yield Slip("check.class_for_same", "checks", check.check, (*path, "class_for", who), words, key=True)
        yield from _built_in_slips(check, outcome, path, rubric)


def _together_slips(check: Check, outcome: Outcome, path: tuple[str, str], rubric: Rubric) -> Iterator[Slip]:
    """Jobs joined by "+" that are the same, exclude each other, or cure it without the others too."""
    for at, cure in enumerate(outcome.cured_by):
        jobs = jobs_of(cure)
        here = (*path, "cured_by", at)
        for place, job in enumerate(jobs):
            if job in jobs[:place]:
                yield Slip("check.cure_twice", "checks", check.check, here, {"cure": cure, "job": job})
            elif len(jobs) > 1 and job in outcome.cured_by:
                yield Slip("check.cure_longer", "checks", check.check, here, {"cure": cure, "job": job})
            for other in jobs[:place]:
                if other != job and (_excludes(rubric, job, other) or _excludes(rubric, other, job)):
                    yield Slip("check.cure_clash", "checks", check.check, here, {"first": other, "second": job})


def _excludes(rubric: Rubric, job: str, other: str) -> bool:
    known = rubric.jobs.get(job)
    return known is not None and other in (*known.choose_one, *known.makes_unnecessary)


def _built_in_slips(check: Check, outcome: Outcome, path: tuple[str, str], rubric: Rubric) -> Iterator[Slip]:
    """Made-in quality that an hour at the bench would cure is not made in."""
    cause = rubric.causes.get(check.cause or "")
    if cause is None or cause.about != "made_in":
        return
    for at, cure in enumerate(outcome.cured_by):
        if all(job in rubric.jobs and rubric.jobs[job].skill == "set_up" for job in jobs_of(cure)):
            words = {"cause": cause.cause, "job": cure}
            yield Slip("check.made_in_cured", "checks", check.check, (*path, "cured_by", at), words)


def worth_of(outcome: Outcome) -> float:
    """Worth of an outcome in its general class."""
    return WORTH_BY_CLASS[outcome.class_] if outcome.worth is None else outcome.worth


def _worth_slips(check: Check) -> Iterator[Slip]:
    """A disqualifying outcome stops the verdict and stays out of the sum, so only the three other classes compare."""
    counted = [(name, one) for name, one in check.outcomes.items() if one.class_ != "disqualifying"]
    for (name, one), (other_name, other) in combinations(counted, 2):
        first, second = (name, one), (other_name, other)
        if RANK[one.class_] < RANK[other.class_]:
            first, second = second, first
        (better_name, better), (worse_name, worse) = first, second
        if RANK[better.class_] > RANK[worse.class_] and worth_of(better) < worth_of(worse):
            words = {
                "class_": better.class_, "worth": worth_of(better), "other": worse_name,
                "other_class": worse.class_, "other_worth": worth_of(worse),
            }  # fmt: skip
            at_better = better.worth is not None
            path = ("outcomes", better_name if at_better else worse_name, "worth")
            yield Slip("check.worth_order", "checks", check.check, path, words | {"at": better_name})


def _number_slips(check: Check) -> Iterator[Slip]:
    numbered = check.count is not None or check.rate is not None
    for name, outcome in check.outcomes.items():
        has = outcome.at_least is not None or outcome.at_most is not None
        if has and not numbered:
            key = "at_least" if outcome.at_least is not None else "at_most"
            yield Slip("check.range_without_number", "checks", check.check, ("outcomes", name, key), key=True)
    block = next((key for key in ("measure", "count", "rate") if getattr(check, key) is not None), None)
    if block is None:
        return
    low, high = answers(check)
    if low >= high:
        yield Slip("check.range_empty", "checks", check.check, (block,), {"low": low, "high": high}, key=True)
    elif numbered:
        yield from _coverage_slips(check, int(low), int(high))


def _coverage_slips(check: Check, low: int, high: int) -> Iterator[Slip]:
    """Every number that can be answered falls in exactly one outcome; the first that does not is told."""
    for number in range(low, min(high, low + 1000) + 1):
        found = [
            name
            for name, one in check.outcomes.items()
            if not (one.at_least is None and one.at_most is None)
            and (one.at_least is None or number >= one.at_least)
            and (one.at_most is None or number <= one.at_most)
        ]
        if not found:
            yield Slip("check.number_uncovered", "checks", check.check, ("outcomes",), {"number": number}, key=True)
            return
        if len(found) > 1:
            words = {"number": number, "first": found[0], "second": found[1]}
            yield Slip("check.number_twice", "checks", check.check, ("outcomes", found[1]), words, key=True)
            return


def _looking_slips(check: Check) -> Iterator[Slip]:
    sights = [one if isinstance(one, float) else one.there for one in check.seen_by.values()]
    if check.seen_by and not any(sights):
        yield Slip("check.nobody", "checks", check.check, ("seen_by",), key=True)
    for channel, sight in check.seen_by.items():
        if not isinstance(sight, float) and sight.not_there < max(sight.there, sight.to_luthier or 0.0):
            yield Slip("check.hides_nothing", "checks", check.check, ("seen_by", channel), key=True)
    if check.measure and not check.measure.tools:
        yield Slip("check.no_tool", "checks", check.check, ("measure",), key=True)
    if check.kind != "derived" and check.minutes == 0:
        yield Slip("check.no_time", "checks", check.check, ("minutes",))
    if check.minutes > LONGEST_MINUTES:
        yield Slip("check.too_long", "checks", check.check, ("minutes",), {"minutes": check.minutes})
    if check.kind != "derived" and not check.how:
        yield Slip("check.no_how", "checks", check.check)
    for key in ("how", "exceptions"):
        for at, text in enumerate(getattr(check, key)):
            if text[0].islower():  # [Look here, then there] is two texts to YAML
                words = {"text": text if len(text) <= 40 else text[:39] + "…"}
                yield Slip("check.cut_text", "checks", check.check, (key, at), words)


def _counting_slips(check: Check) -> Iterator[Slip]:
    only_counts = check.count is not None and bool(check.count.units_of)
    only_counts = only_counts or check.about == "purchase"
    if not only_counts and not any(check.evidence_of.values()):
        yield Slip("check.no_evidence", "checks", check.check, ("evidence_of",), key=True)
    weights = check.weight.model_dump() if isinstance(check.weight, Weight) else {"": check.weight}
    if not only_counts and not any(weights.values()):
        yield Slip("check.no_weight", "checks", check.check, ("weight",))
    for tier, weight in weights.items():
        if weight > 5:
            yield Slip("check.weight_over", "checks", check.check, ("weight", tier), {"weight": weight})
    if not check.sources and check.standard is None:  # limits and tables are asked for their own sources
        yield Slip("check.no_source", "checks", check.check)
