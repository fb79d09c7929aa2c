"""One part's page: which checks are asked of whom, what applies as answered, and what stands on each card."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from ...assessment.model import Case
from ...assessment.observing.relevance import LOOKER_RANK, relevance
from ...assessment.observing.typed import Answers, Typed
from ...basis.units import METRIC, ShownUnits, in_units
from ...quoting.work_order import limits_in_words
from ...rubric.rubric import Rubric
from ...rubric.written.checks import Check
from ...rubric.written.kinds import Looker
from ...wording.looks import waiting_sentence
from ...wording.phrases import capital
from .forms import asked_parts, filled, shown_checks, unit_meant
from .sheets import Shown, shown

SAID = {"outcome", "reading"}
HOUSEHOLD = ("steel_rule", "tape", "kitchen_scale")


@dataclass(frozen=True, slots=True)
class Card:
    """A check as it is asked: `cautions` are said here in full, `reminders` were said further up on the page.

    `condition` is the formula tree for the browser where the check hangs on another answer, else None. `waits` says
    what must be seen to be safe, or mended, first; empty where nothing stands in the way.
    """

    check: Check
    applies: bool
    condition: object | None
    waits: str
    cautions: tuple[str, ...]
    reminders: tuple[str, ...]
    standard: str | None
    shown: Shown | None


@dataclass(frozen=True, slots=True)
class Step:
    """A part of the instrument on the way through: how many of the checks asked here are answered."""

    part: str
    say: str
    answered: int
    asked: int


def asked_of(rubric: Rubric, part: str, looker: Looker, answers: Answers) -> tuple[Check, ...]:
    """The checks that this person can do, and those that were answered all the same."""
    able = LOOKER_RANK[looker]
    return tuple(
        check for check in shown_checks(rubric, part) if LOOKER_RANK[check.who] <= able or answers.get(check.check)
    )


def steps_of(rubric: Rubric, typed: Typed) -> tuple[Step, ...]:
    """Every part that has a page, in order."""
    answers, looker = typed["answers"], looker_of(typed)
    found = []
    for part in asked_parts(rubric):
        checks = asked_of(rubric, part, looker, answers)
        done = sum(1 for check in checks if SAID & set(answers.get(check.check, {})))
        found.append(Step(part, rubric.pages[part].say, done, len(checks)))
    return tuple(found)


def looker_of(typed: Typed) -> Looker:
    """Who looks, as said at the start."""
    said = typed["start"].get("looker")
    return said if said in LOOKER_RANK else "student"


def usual_tool(check: Check, typed: Typed) -> str:
    """The tool that this person is most likely to hold: at home the one of a household, if it can measure this."""
    tools = check.measure.tools if check.measure else ()
    at_home = [tool for tool in tools if tool in HOUSEHOLD and looker_of(typed) != "luthier"]
    return next(iter((*at_home, *tools)), "")


def filled_for(checks: Sequence[Check], typed: Typed, shown: ShownUnits = METRIC) -> dict[str, str]:
    """What stands in the fields of these checks: what is kept, and the usual tool and unit where nothing was said."""
    tools = {f"t-{check.check}": tool for check in checks if (tool := usual_tool(check, typed))}
    meant = ((one, unit_meant(one, typed["answers"].get(one.check, {}), shown)) for one in checks)
    units = {f"u-{one.check}": unit for one, unit in meant if one.measure and unit != one.measure.unit}
    return tools | units | filled(checks, typed["answers"])


def where_to_go_on(steps: tuple[Step, ...]) -> str:
    """The first part that nobody has begun, else the first that is not done, else the first."""
    unbegun = (step for step in steps if step.asked and not step.answered)
    undone = (step for step in steps if step.answered < step.asked)
    return next(unbegun, next(undone, steps[0])).part


def cards_of(
    rubric: Rubric, part: str, typed: Typed, case: Case, units: ShownUnits = METRIC
) -> tuple[tuple[Card, ...], ...]:
    """The cards for this person, and those that need somebody else or a tool."""
    mine = asked_of(rubric, part, looker_of(typed), typed["answers"])
    others = tuple(check for check in shown_checks(rubric, part) if check not in mine)
    both = cards_for(rubric, (*mine, *others), case, units)
    return both[: len(mine)], both[len(mine) :]


def cards_for(rubric: Rubric, checks: Sequence[Check], case: Case, units: ShownUnits = METRIC) -> tuple[Card, ...]:
    """A card for each of these checks, in this order; each caution is said in full where it first comes. Standards are
    told in `units`.
    """
    counts = set(relevance(rubric, case).counts)
    said: set[str] = set()
    cards = []
    for check in checks:
        texts = rubric.caution_texts(check)
        fresh = tuple(text for text in texts if text not in said)
        said |= set(texts)
        formula = rubric.relevant.get(check.check)
        cards.append(
            Card(
                check=check,
                applies=check.check in counts,
                condition=formula.tree() if formula else None,
                waits=waiting_sentence(rubric, case, check),
                cautions=fresh,
                reminders=tuple(text for text in texts if text not in fresh),
                standard=standard_of(rubric, check, case, units),
                shown=shown(check.drawing) if check.drawing else None,
            )
        )
    return tuple(cards)


def lines_of(rubric: Rubric, checks: Sequence[Check]) -> dict[str, str]:
    """The line of caution that stands open at each of these looks: the first that no look before has said, or none."""
    found: dict[str, str] = {}
    for check in checks:
        fresh = (line for line, _ in rubric.caution_lines(check) if line not in found.values())
        found[check.check] = next(fresh, "")
    return found


def standard_of(rubric: Rubric, check: Check, case: Case, units: ShownUnits = METRIC) -> str | None:
    """What a reading will be held to: '352 to 360 mm for this size'."""
    instrument = case.instrument
    limits = rubric.limits(check, instrument.size, instrument.style, instrument.strings)
    if limits is None or check.measure is None or (limits.low is None and limits.high is None):
        return None
    return limits_in_words(replace(in_units(limits, units), target=None))


def known_elsewhere(rubric: Rubric, checks: Sequence[Check], case: Case) -> dict[str, str | float]:
    """What the conditions of these checks need: facts, answers of other parts, and readings of their own page."""
    here = {check.check for check in checks}
    instrument = case.instrument
    known: dict[str, str | float | None] = {
        "family": rubric.family,
        "size": instrument.size,
        "style": instrument.style,
        "tier": instrument.tier,
        "strings": instrument.strings,
        "age": instrument.age,
        "year": instrument.year,
        "purpose": case.purpose,
    }
    for name, observations in case.observations.items():
        last = observations[-1]
        known[name] = last.outcome if last.reading is None else last.reading.value
    measured = {name for name, seen in case.observations.items() if seen[-1].reading is not None}
    needed = {name for check in here & set(rubric.relevant) for name in rubric.relevant[check].names}
    needed -= here - measured  # a choice is read from the page itself
    return {name: value for name, value in known.items() if name in needed and value is not None}


def refusal(rubric: Rubric, name: str, answer: Mapping[str, str]) -> str:
    """A typed answer in words, for a page that could not save it."""
    check = rubric.checks[name]
    outcome = check.outcomes.get(answer.get("outcome", ""))
    said = [outcome.say if outcome else capital(answer["outcome"].replace("_", " "))] if "outcome" in answer else []
    said += [f"{answer['reading']} {answer.get('unit', '')}".strip()] if "reading" in answer else []
    said += [answer["note"]] if "note" in answer else []
    return "; ".join(said) or "nothing"
