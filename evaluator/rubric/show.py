"""A check or a job as a person would read it: plain text, with whose opinion it is."""

from collections.abc import Iterable, Iterator
from textwrap import fill

from ..basis.problem import Message, Messages, Problem, did_you_mean, problem
from ..basis.show import minutes, number, with_unit
from .rubric import Rubric
from .written.checks import Check, Outcome, Sight, Weight, jobs_of
from .written.kinds import ThreePoint
from .written.surroundings import StandardRow
from .written.work import Job, Limit

MESSAGES: Messages = {
    "show.unknown": Message('there is no check or job "{id}" in the rubric "{rubric}".', "{hint}"),
}
WIDTH = 100
CHANNEL_WORDS = {
    "in_person": "in person",
    "photos": "on photos",
    "seller_statement": "by what the seller says",
    "recording": "on a recording",
}
WHO_WORDS = {"student": "a student can do it", "teacher": "a teacher can do it", "luthier": "for a luthier"}
SKILL_WORDS = {"set_up": "a trained set-up hand", "repair": "a repairer", "restoration": "a restorer"}
STRENGTHS = ((2.5, "much"), (1.5, "something"), (0.0, "a little"))


def show(rubric: Rubric, identity: str) -> str | Problem:
    """The check or job as text of at most 100 letters a line, or a problem when there is neither."""
    if identity in rubric.checks:
        return "\n".join(_check_lines(rubric, rubric.checks[identity])) + "\n"
    if identity in rubric.jobs:
        return "\n".join(_job_lines(rubric, rubric.jobs[identity])) + "\n"
    hint = did_you_mean(identity, [*rubric.checks, *rubric.jobs])
    return problem(MESSAGES, "show.unknown", id=identity, rubric=rubric.name, hint=hint)


def whose(rubric: Rubric, identity: str) -> str:
    """Whose opinion an entry is: a workshop's, or the rubric's own."""
    return rubric.opinion_of.get(identity) or f"the rubric {rubric.title}, version {rubric.version}"


def _lines(label: str, text: str) -> Iterator[str]:
    yield fill(f"{label}: {text}" if label else text, WIDTH, subsequent_indent="  ")


def _items(label: str, items: Iterable[str]) -> Iterator[str]:
    found = list(items)
    if found:
        yield f"{label}:"
        for item in found:
            yield fill(item, WIDTH, initial_indent="  - ", subsequent_indent="    ")


def _check_lines(rubric: Rubric, check: Check) -> Iterator[str]:
    yield from _lines("", f"{check.ask}")
    yield f"  check {check.check}, under {_part(rubric, check.part)}"
    yield f"  opinion of {whose(rubric, check.check)}"
    yield ""
    for label, text in (("Term of the trade", check.term), ("Why", check.why)):
        if text:
            yield from _lines(label, text)
    yield from _items("How to look", check.how)
    yield from _taking_lines(check)
    if check.formula:
        yield from _lines("Follows from", check.formula)
    yield from _counting_lines(rubric, check)
    yield ""
    yield from _items("What can be found", (_outcome(rubric, key, one) for key, one in check.outcomes.items()))
    yield from _items("Standard", standard_lines(rubric, check))
    if check.worth_at:
        points = ", ".join(f"{number(x)}: {number(y)}" for x, y in sorted(check.worth_at.items()))
        yield from _lines("Worth at a reading", points)
    yield from _waiting_lines(rubric, check)
    yield from _items("Beware", rubric.caution_texts(check))
    for label, text in (("Ask the seller", check.seller_question), ("Photo", check.photo)):
        if text:
            yield from _lines(label, text)
    yield from _sources(rubric, check.sources, check.confidence)


def _part(rubric: Rubric, part: str) -> str:
    return rubric.parts[part].say if part in rubric.parts else part


def _taking_lines(check: Check) -> Iterator[str]:
    if check.kind != "derived":
        yield from _lines("Takes", f"{minutes(check.minutes)}; {WHO_WORDS[check.who]}")
    if check.measure and check.measure.tools:
        yield from _lines("Measured with", " or ".join(check.measure.tools))
    if check.count:
        yield from _lines("Counted", f"{check.count.of}, {check.count.at_least} to {check.count.at_most}")
    if check.rate:
        rate = check.rate
        yield from _lines("Rated", f"{rate.lowest} ({rate.low_means}) to {rate.highest} ({rate.high_means})")
    if check.seen_by:
        shares = (f"{CHANNEL_WORDS[key]} {_sight(one)}" for key, one in check.seen_by.items())
        yield from _lines("Shows what is there", ", ".join(shares))


def _sight(one: float | Sight) -> str:
    """'70 %', or of what hides '70 % (92 % to a luthier), and that there is nothing 97 %'."""
    if isinstance(one, float):
        return f"{one * 100:.0f} %"
    luthier = f" ({one.to_luthier * 100:.0f} % to a luthier)" if one.to_luthier is not None else ""
    return f"{one.there * 100:.0f} %{luthier}, and that there is nothing {one.not_there * 100:.0f} %"


def _counting_lines(rubric: Rubric, check: Check) -> Iterator[str]:
    evidence = (f"{next(word for least, word in STRENGTHS if share >= least)} about {domain}"
                for domain, share in check.evidence_of.items() if share)  # fmt: skip
    yield from _lines("Tells", ", ".join(evidence) or "nothing")
    weights = check.weight.model_dump().items() if isinstance(check.weight, Weight) else [("everybody", check.weight)]
    text = ", ".join(f"{number(weight)} for {who}" for who, weight in weights)
    factors = "".join(f"; times {number(factor)} for {style}" for style, factor in check.style_factor.items())
    yield from _lines("Counts (0 to 5)", text + factors)
    if check.cause in rubric.causes:
        yield from _lines("Goes wrong together with others when", rubric.causes[str(check.cause)].say)


def cure_words(rubric: Rubric, cure: str) -> str:
    """One way to cure a fault in the words of its jobs: 'Repair a crack, and refit the bridge'."""
    first, *more = (rubric.jobs[job].say if job in rubric.jobs else job for job in jobs_of(cure))
    return ", and ".join((first, *(f"{say[:1].lower()}{say[1:]}" for say in more)))


def _outcome(rubric: Rubric, key: str, outcome: Outcome) -> str:
    said = f"{outcome.say} ({key}): {outcome.class_}"
    said += "".join(f", {class_} for {who}" for who, class_ in outcome.class_for.items())
    if outcome.worth is not None:
        said += f", worth {number(outcome.worth)}"
    if outcome.cured_by:
        cures = " or ".join(cure_words(rubric, cure) for cure in outcome.cured_by)
        said += f". Cured by: {cures}"
    elif outcome.inherent:
        said += ". Nothing cures it"
    return f"{said}. {outcome.means}" if outcome.means else f"{said}."


def limits_text(low: float | None, high: float | None, target: float | None, unit: str) -> str:
    """'325 to 330 mm, best 328 mm', or one side only."""
    if low is not None and high is not None:
        said = f"{number(low)} to {with_unit(number(high), unit)}"
    elif high is not None:
        said = f"up to {with_unit(number(high), unit)}"
    else:
        said = f"from {with_unit(number(low or 0), unit)}"
    return said if target is None else f"{said}, best {with_unit(number(target), unit)}"


def row_name(row: StandardRow) -> str:
    """'violin 4/4, fiddle, steel strings'."""
    name = f"{row.family} {', '.join(row.size)}".strip()
    return name + (f", {row.style}" if row.style else "") + (f", {row.strings} strings" if row.strings else "")


def standard_lines(rubric: Rubric, check: Check) -> Iterator[str]:
    """Each limit that the check is held to, with its sources."""
    here = check.standard
    if here is None:
        return
    if here.table is None:
        limits = rubric.limits(check, rubric.default_size, "classical")
        if limits:
            said = limits_text(limits.low, limits.high, limits.target, limits.unit)
            yield f"{said} ({_source_list(rubric, here.sources)}; confidence {here.confidence})"
        return
    table = rubric.standards[here.table]
    for row in table.rows:
        if row.family == rubric.family:
            said = limits_text(row.low, row.high, row.target, table.unit)
            yield f"{row_name(row)}: {said} ({_source_list(rubric, row.sources)}; confidence {row.confidence})"


def _waiting_lines(rubric: Rubric, check: Check) -> Iterator[str]:
    if check.relevant_if:
        yield from _lines("Counts only where", check.relevant_if)
    for text in check.postponed_by:
        name, _, outcome = text.partition(".")
        yield from _lines("Not judged while", rubric.checks[name].outcomes[outcome].say)
    yield from _items("No fault when", check.exceptions)


def _source_list(rubric: Rubric, sources: Iterable[str]) -> str:
    return "; ".join(rubric.source_text(source) for source in sources) or "no source"


def _sources(rubric: Rubric, sources: tuple[str, ...], confidence: str) -> Iterator[str]:
    if sources:
        yield from _lines("Sources", f"{_source_list(rubric, sources)} (confidence {confidence})")


def _three(point: ThreePoint, unit: str) -> str:
    if point.low == point.high:
        return with_unit(number(point.low), unit)
    return f"{number(point.low)} to {with_unit(number(point.high), unit)}, most often {number(point.likely)}"


def _job_lines(rubric: Rubric, job: Job) -> Iterator[str]:
    yield from _lines("", job.say)
    yield f"  job {job.job}"
    yield f"  opinion of {whose(rubric, job.job)}"
    yield ""
    yield from _lines("", job.plain)
    yield from _lines("Done by", SKILL_WORDS[job.skill])
    factor = job.family.get(rubric.family, 1.0)
    times = f", times {number(factor)} for a {rubric.family}" if factor != 1 else ""
    yield from _lines("Hours", _three(job.hours, "h") + times)
    yield from _items("Parts", (_part_price(rubric, one.part, one.grade) for one in job.parts))
    yield from _items("Shares", (rubric.shared_labour[one].say for one in job.shares if one in rubric.shared_labour))
    cured = (
        f"{outcome.say} ({check.check})"
        for check in rubric.checks.values()
        for outcome in check.outcomes.values()
        if job.job in outcome.jobs
    )
    yield from _items("Cures", cured)
    yield from _fitting(rubric, job)
    for label, names in (
        ("Needs", job.requires), ("Comes after", job.after), ("Makes needless", job.makes_unnecessary),
        ("Instead of", job.choose_one),
    ):  # fmt: skip
        yield from _items(label, (rubric.jobs[name].say for name in names if name in rubric.jobs))
    yield from _items("May bring with it", _forced(rubric, job))
    for label, text in (
        ("If it is left", job.if_left), ("What can go wrong", job.risk), ("Ask first", job.contact_first),
        ("Warranty", job.warranty),
    ):  # fmt: skip
        if text:
            yield from _lines(label, text)
    yield from _items("Beware", rubric.caution_texts(job))
    yield from _sources(rubric, job.sources, job.confidence)


def _fitting(rubric: Rubric, job: Job) -> Iterator[str]:
    """How far things may have gone, for whom it is done, what it leaves and how long that holds."""
    yield from _items("As far as", (_limit(rubric, one) for one in job.limits if one.check in rubric.checks))
    for label, names in (("Only for", job.fit_for), ("Not for", job.not_for)):
        if names:
            yield from _lines(label, ", ".join(name.replace("_", " ") for name in names))
    left = ((rubric.checks[check], outcome) for check, outcome in job.leaves_as.items() if check in rubric.checks)
    yield from _items("Leaves", (f"{check.outcomes[outcome].say} ({check.check})" for check, outcome in left))
    if job.holds_years:
        years = job.holds_years
        yield from _lines(
            "Holds", f"{number(years.student)} years as a student plays, {number(years.daily)} played daily"
        )


def _limit(rubric: Rubric, limit: Limit) -> str:
    check = rubric.checks[limit.check]
    unit = f" ({check.degree_of})" if check.degree_of else f" {check.measure.unit}" if check.measure else ""
    bounds = (
        ("at least", limit.at_least),
        ("at most", limit.at_most),
        ("outside its standard by at most", limit.off_at_most),
    )
    said = [f"{word} {number(figure)}{unit}" for word, figure in bounds if figure is not None]
    said += [f"not: {check.outcomes[name].say}" for name in limit.not_when if name in check.outcomes]
    return f"{limit.check}: {'; '.join(said)}"


def _part_price(rubric: Rubric, part: str, grade: str) -> str:
    found = rubric.part_prices.get(part)
    prices = {str(key): price for key, price in found.prices.get(rubric.family, {}).items()} if found else {}
    said = f"{found.say if found else part}, {grade}"
    return f"{said}: {_three(prices[grade], 'ratio')}" if grade in prices else said


def _forced(rubric: Rubric, job: Job) -> Iterator[str]:
    for force in job.forces:
        names = (force.job,) if force.job else force.one_of
        said = " or ".join(rubric.jobs[name].say for name in names if name in rubric.jobs)
        yield f"{said}, in {force.chance * 100:.0f} of 100 cases: {force.when}"
