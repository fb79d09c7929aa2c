"""For owners: five years' cost, when service is due, the air, and repair or replace.

Everything stands in the address; nothing is kept.
"""

from collections.abc import Mapping
from datetime import date
from urllib.parse import urlencode

from flask import Blueprint, Response, render_template, request, url_for

from ...choosing.ownership import (
    Ownership,
    Prices,
    calendar_text,
    cost_of_owning,
    habits_for,
    service_dates,
    usual_prices,
)
from ...choosing.repair_or_replace import as_found, repair_or_replace
from ...estimate.price import for_size
from ...lutherie.seasons.pegs import TAPER
from ...lutherie.seasons.seasons import Air, Seasons, seasons
from ...result.model.result import Result
from ...rubric.written.kinds import Family
from ...store.evaluations import Kept
from ...store.folders import owning_known, seasons_known
from ...wording.names import OPINION
from ...wording.owning import REPAIR, air_words, good_air_words
from ..asked import Ask, answers_to
from ..looking.pages import View, kept_or_404
from ..service import service

owning = Blueprint("owning", __name__)

YEARS = 5
WEEKS = 52
SERVICES = 4
LEAST_HUMIDITY = 5.0  # of 100: the printed table of moisture begins here
HOURS = Ask("hours", "Playing hours a week", "3", 80, "hours")
# What stands here first for prices comes from the shop's file and its catalogue of work.
OWNING = (
    HOURS,
    Ask("string_set", "A set of strings, fitted", "0"),
    Ask("rehair", "A rehair of the bow", "0"),
    Ask("light_service", "A light service", "0"),
    Ask("full_service", "A full service, with what it usually brings", "0"),
    Ask("value", "What it is insured for", "1000", 10_000_000),
    Ask("reserve", "Set aside for repairs a year", "0"),
    Ask("sundries", "Rosin and small things a year", "0"),
)
AIR = (
    Ask("winter_humidity", "Humidity in winter, of 100", "30", 95, "percent"),
    Ask("winter_degrees", "Warmth in winter, °C", "20", 35, "degrees"),
    Ask("summer_humidity", "Humidity in summer, of 100", "60", 95, "percent"),
    Ask("summer_degrees", "Warmth in summer, °C", "24", 35, "degrees"),
)
WINTER, SUMMER = 0, 6  # January and July of an example climate
REPAIRING = (
    Ask("ready", "What it is worth when ready to play", "0", 10_000_000),
    Ask("as_it_is", "What it would bring as it is", "0", 10_000_000),
    Ask("equal", "What its equal costs in a shop (0: not known)", "0", 10_000_000),
    Ask("trade", "What the shop would take off for it in trade", "0", 10_000_000),
)


@owning.get("/evaluations/<identity>/owning")
def cost(identity: str) -> View:
    """Five years' cost by kind, and the next services."""
    kept = kept_or_404(identity)
    result = service().result(kept)
    ready = result.verdict.ready_value
    usual = _usual(result)
    first = {
        "string_set": f"{usual.string_set:.0f}",
        "rehair": f"{usual.rehair:.0f}",
        "light_service": f"{usual.light_service:.0f}",
        "full_service": f"{usual.full_service:.0f}",
        "reserve": f"{usual.repair_reserve:.0f}",
        "sundries": f"{usual.sundries:.0f}",
    }
    if ready:
        first["value"] = str(round(float(ready.amount)))
    answers, air = answers_to(OWNING, first, result.plan.currency), answers_to(AIR)
    found = None if answers.wrong else _ownership(answers.values, usual)
    family = result.instrument.family
    page = render_template(
        "choosing/owning.html",
        kept=kept,
        asks=OWNING,
        answers=answers,
        air_asks=AIR,
        air=air,
        advice=() if air.wrong else air_words(_seasons(family, air.values), family, seasons_known()),
        climates=_climates(identity),
        good=good_air_words(seasons_known().air),
        rows=_rows(found) if found else [],
        total=sum(round(amount) for _, amount in _rows(found)) if found else None,  # of the lines as they are shown
        years=YEARS,
        currency=result.plan.currency,
        dates=[] if found is None else [day.isoformat() for day in _dates(answers.values)],
        calendar=url_for("owning.calendar", identity=identity, hours=answers.typed["hours"]),
        every=service().shop,
    )
    return (page, 422) if answers.wrong or air.wrong else page


def _usual(result: Result) -> Prices:
    instrument = result.instrument
    rubric = for_size(service().rubric(result.rubric.name), instrument.size)
    return usual_prices(rubric, service().rubric("bow"), service().shop, owning_known().habits, instrument.tier)


def _seasons(family: Family, given: Mapping[str, float]) -> Seasons:
    winter, summer = (
        Air(given[f"{season}_degrees"], max(given[f"{season}_humidity"], LEAST_HUMIDITY))
        for season in ("winter", "summer")
    )
    usual = seasons_known().sizes
    return seasons(winter, summer, usual.lower_bout.get(family), usual.peg.get(family), TAPER.get(family))


def _climates(identity: str) -> list[tuple[str, str]]:
    """Example rooms, each as an address that fills in its figures."""
    found = []
    for room in seasons_known().climates:
        figures = {}
        for season, month in (("winter", WINTER), ("summer", SUMMER)):
            figures[f"{season}_humidity"] = f"{room.humidity[month]:g}"
            figures[f"{season}_degrees"] = f"{room.temperature[month]:g}"
        given = {name: value for name, value in request.args.items() if name not in figures}
        found.append((room.say, f"{url_for('owning.cost', identity=identity)}?{urlencode({**given, **figures})}#air"))
    return found


def _ownership(given: Mapping[str, float], usual: Prices) -> Ownership:
    prices = Prices(
        given["string_set"],
        given["rehair"],
        given["light_service"],
        given["full_service"],
        given["value"],
        insurance_share=usual.insurance_share,
        repair_reserve=given["reserve"],
        sundries=given["sundries"],
    )
    return cost_of_owning(habits_for(given["hours"] * WEEKS, owning_known().habits), prices, YEARS)


def _rows(found: Ownership) -> list[tuple[str, float]]:
    return [
        ("Strings", found.strings),
        ("Bow hair", found.rehairs),
        ("Services", found.services),
        ("Insurance", found.insurance),
        ("Set aside for repairs", found.repairs),
        ("Rosin and small things", found.sundries),
    ]


def _dates(given: Mapping[str, float]) -> tuple[date, ...]:
    today = date.fromisoformat(service().now()[:10])
    return service_dates(today, given["hours"] * WEEKS, service().shop, SERVICES)


@owning.get("/evaluations/<identity>/service.calendar")
def calendar(identity: str) -> Response:
    """The next services as a calendar file."""
    kept = kept_or_404(identity)
    answers = answers_to((HOURS,))
    values = answers.values or {"hours": float(HOURS.first)}
    text = calendar_text(_dates(values), _service_title(kept), date.fromisoformat(service().now()[:10]))
    headers = {"Content-Disposition": f'attachment; filename="service-{kept.id}.ics"'}
    return Response(text, mimetype="text/calendar", headers=headers)


def _service_title(kept: Kept) -> str:
    return f"Service: {kept.title or 'the instrument'}"


@owning.get("/evaluations/<identity>/repair-or-replace")
def repair(identity: str) -> View:
    """For its owner: whether the work is worth it, beside buying its equal; the work to make it safe alone."""
    kept = kept_or_404(identity)
    result = service().result(kept)
    verdict, plan = result.verdict, result.plan
    ready = float(verdict.ready_value.amount) if verdict.ready_value else 0.0
    work = result.with_possible_extras
    as_it_is = as_found(ready, max(work.p80, work.mean), owning_known().repairing)
    answers = answers_to(REPAIRING, {"ready": f"{ready:.0f}", "as_it_is": f"{as_it_is:.0f}"}, plan.currency)
    safe, cost_safe = _make_safe(result)
    given, found = answers.values, None
    if not answers.wrong and given["ready"] > 0:
        equal = given["equal"] or None
        found = repair_or_replace(
            work.mean,
            given["ready"],
            given["as_it_is"],
            owning_known().repairing,
            equal,
            given["trade"],
            cost_safe,
        )
    page = render_template(
        "choosing/repair.html",
        kept=kept,
        asks=REPAIRING,
        answers=answers,
        found=found,
        advice=REPAIR[found.advice] if found else "",
        work=work.mean,
        safe=safe,
        currency=plan.currency,
        opinion=OPINION,
    )
    return (page, 422) if answers.wrong else page


def _make_safe(result: Result) -> tuple[list[str], float]:
    """(what has to be done before it is played, what that costs when it is ordered alone)."""
    alone = next((one for one in result.ambitions if one.name == "safe"), None)
    if alone is not None:
        return [job.say for job in alone.jobs], alone.mean if alone.jobs else 0.0
    lines = [line for line in result.plan.lines if line.urgency == "to_play_safely"]
    return [line.say for line in lines], sum(line.mean for line in lines)
