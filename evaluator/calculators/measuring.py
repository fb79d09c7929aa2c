"""Calculators about measuring: does a reading meet its tolerance, how far may it be from the truth."""

import math

from ..assessment.believing import conformity
from ..assessment.believing.conformity import conformity_probability, statement_of, with_prior
from ..assessment.observing import uncertainty
from ..basis.chance import normal_quantile
from .model import ANY, Calculator, Given, IncompleteError, Input, Outcome, Result

Sides = tuple[float | None, float | None]


def _sides(given: Given, low: str, high: str) -> Sides:
    """A lower and an upper limit; None where a side is open."""
    bottom, top = (given.number(name) if given.has(name) else None for name in (low, high))
    if bottom is not None and top is not None and bottom >= top:
        raise IncompleteError(f"{low} must be below {high}")
    return bottom, top


def _doubt(given: Given) -> float:
    """The reading's standard uncertainty, written with +- or given by itself."""
    if given.has("uncertainty"):
        if given.doubt("value"):
            raise IncompleteError("give the uncertainty behind +- or as uncertainty, not both")
        return given.number("uncertainty")
    if not given.doubt("value"):
        raise IncompleteError("give the reading's uncertainty, or half_width where only bounds are known")
    return given.doubt("value")


def _guard(given: Given, sides: Sides, u: float) -> tuple[Result, ...]:
    """The guard band for the wanted confidence and the readings that may be accepted with it."""
    width = normal_quantile(given.number("confidence") / 100) * u
    low, high = sides
    results = [Result("guard_band", "Guard band inside each limit", width, given.unit)]
    if low is not None:
        results.append(Result("accept_from", "Accept readings from", low + width, given.unit))
    if high is not None:
        results.append(Result("accept_to", "Accept readings up to", high - width, given.unit))
    return tuple(results)


def _with_costs(given: Given) -> tuple[Result, ...]:
    if not (given.has("cost_of_wrong_yes") or given.has("cost_of_wrong_no")):
        return ()
    if not (given.has("cost_of_wrong_yes") and given.has("cost_of_wrong_no")):
        raise IncompleteError("give cost_of_wrong_yes and cost_of_wrong_no together")
    least = conformity.least_probability(given.number("cost_of_wrong_yes"), given.number("cost_of_wrong_no"))
    return (
        Result("accept_above", "With these costs, accept from this probability", least),
        Result("most_risk", "and so up to this risk", 1 - least),
    )


def _with_prior(given: Given, sides: Sides, u: float) -> tuple[float, float, tuple[Result, ...]]:
    """Value and doubt after the prior, with what the prior says of a whole batch."""
    prior = [name for name in ("prior_mean", "prior_uncertainty") if given.has(name)]
    limits = [name for name in ("accept_low", "accept_high") if given.has(name)]
    if not prior:
        if limits:
            raise IncompleteError("acceptance limits need prior_mean and prior_uncertainty: what usually comes")
        return given.number("value"), u, ()
    if len(prior) == 1:
        raise IncompleteError("give prior_mean and prior_uncertainty together")
    if u <= 0:
        raise IncompleteError("with a prior the reading needs an uncertainty above 0")
    mean, sd = given.number("prior_mean"), given.number("prior_uncertainty")
    value, joined = with_prior(mean, sd, given.number("value"), u)
    alone = conformity_probability(*sides, given.number("value"), u)
    results = [
        Result("value_with_prior", "Value, prior and reading joined", value, given.unit, joined),
        Result("without_prior", "Probability from the reading alone", alone),
        Result("prior_alone", "Probability before the reading", conformity_probability(*sides, mean, sd)),
    ]
    if limits:
        consumer, producer = conformity.global_risks(mean, sd, u, sides, _sides(given, "accept_low", "accept_high"))
        results.append(Result("consumer_risk", "Chance that an item is bad and accepted", consumer))
        results.append(Result("producer_risk", "Chance that an item is good and refused", producer))
    return value, joined, tuple(results)


def _conformity(given: Given) -> Outcome:
    sides = _sides(given, "low", "high")
    if sides == (None, None):
        raise IncompleteError("give a lower limit, an upper limit or both")
    if given.has("half_width"):
        if given.has("uncertainty") or given.has("prior_mean") or given.doubt("value"):
            raise IncompleteError("half_width stands alone: give it or an uncertainty, and no prior with it")
        chance = conformity.rectangular_conformity(*sides, given.number("value"), given.number("half_width"))
        beside: tuple[Result, ...] = ()
    else:
        u = _doubt(given)
        value, joined, results = _with_prior(given, sides, u)
        chance = conformity_probability(*sides, value, joined)
        beside = (*results, *_guard(given, sides, u))
    said = Result("statement", "In words", statement_of(chance))
    main = (Result("probability", "Probability that the true value meets the tolerance", chance),)
    return Outcome(main, (said, *beside, *_with_costs(given)))


CONFORMITY = Calculator(
    "conformity",
    "Does it meet the tolerance?",
    "The probability that the true value behind a reading lies within a tolerance, and which readings to accept.",
    (
        Input("value", "Reading", ANY, required=True),
        Input("uncertainty", "Its standard uncertainty", ANY, low=0.0, doubt=False, difference=True),
        Input("low", "Lower limit", ANY, doubt=False),
        Input("high", "Upper limit", ANY, doubt=False),
        Input(
            "half_width",
            "Instead of an uncertainty: it is off by at most",
            ANY,
            above=0.0,
            doubt=False,
            difference=True,
        ),
        Input("confidence", "Wanted with a guard band", "%", default="95 %", low=50.0, high=99.99, doubt=False),
        Input("prior_mean", "Known before the reading: mean", ANY, doubt=False),
        Input("prior_uncertainty", "and its standard deviation", ANY, above=0.0, doubt=False, difference=True),
        Input("accept_low", "Over a batch: readings accepted from", ANY, doubt=False),
        Input("accept_high", "up to", ANY, doubt=False),
        Input("cost_of_wrong_yes", "What accepting a bad one costs", above=0.0, doubt=False),
        Input("cost_of_wrong_no", "What refusing a good one costs", above=0.0, doubt=False),
    ),
    _conformity,
    "JCGM 106:2012, The role of measurement uncertainty in conformity assessment, clauses 7 to 9",
    "For errors that follow the normal law; with half_width for bounds alone. A prior must be known from other "
    "instruments, not from the hope for this one.",
    {"value": "436 g", "uncertainty": "2 g", "high": "440 g"},
    carries=False,
)

SHAPES = {
    "rectangular": "It is off by at most this, nothing more is known",
    "triangular": "Small errors are likelier, at most this",
    "trapezoid": "Flat in the middle, sloping ends (see top)",
    "arcsine": "It swings to and fro between the bounds",
    "level_95": "95 % of readings are off by no more",
    "standard": "It is a standard uncertainty already",
}


def _tool_part(given: Given) -> float:
    a, shape = given.number("half_width"), given.word("shape")
    top = given.number("top")
    divisors = {
        "rectangular": math.sqrt(3),
        "triangular": math.sqrt(6),
        "trapezoid": math.sqrt(6 / (1 + top * top)),
        "arcsine": math.sqrt(2),
        "level_95": normal_quantile(0.975),
        "standard": 1.0,
    }
    return a / divisors[shape]


def _parts(given: Given) -> tuple[float, tuple[tuple[float, float], ...]]:
    """Further parts combined with their correlation, and each with its degrees of freedom (none: without end)."""
    parts, rho = given.all("parts"), given.number("correlation")
    squares, total = sum(part * part for part in parts), sum(parts)
    variance = (1 - rho) * squares + rho * total * total
    if variance < -1e-12 * squares:
        raise IncompleteError(f"so many parts cannot all be correlated by {rho:g}")
    degrees = given.all("degrees")
    if degrees and len(degrees) != len(parts):
        raise IncompleteError(f"there are {len(parts)} parts and {len(degrees)} degrees; give one for each")
    return math.sqrt(max(0.0, variance)), tuple(zip(parts, degrees, strict=True)) if degrees else ()


def _uncertainty(given: Given) -> Outcome:
    readings = given.all("readings")
    repeats = uncertainty.standard_error(readings)
    tool = _tool_part(given) if given.has("half_width") else 0.0
    step = uncertainty.resolution(given.number("step")) if given.has("step") else 0.0
    further, counted = _parts(given)
    combined = uncertainty.in_quadrature(repeats, tool, step, further)
    if combined <= 0:
        raise IncompleteError("give repeats of a reading, the tool's half_width, its step or other parts")
    shares = [*counted, *([(repeats, len(readings) - 1.0)] if len(readings) > 1 else [])]
    unit = given.unit
    also = [
        Result("repeats", "From the spread of repeats", repeats, unit),
        Result("tool", "From the tool's error", tool, unit),
        Result("steps", "From reading in steps", step, unit),
        Result("others", "From other parts", further, unit),
        Result("expanded", "Twice that, about 95 % of the time within", 2 * combined, unit),
    ]
    if readings:
        also.insert(0, Result("mean", "Mean of the readings", math.fsum(readings) / len(readings), unit))
    denominator = math.fsum(part**4 / degrees for part, degrees in shares)
    if denominator > 0:
        also.append(Result("degrees", "Effective degrees of freedom", combined**4 / denominator))
    warnings: tuple[str, ...] = ()
    if len(readings) == 1 and not given.has("half_width"):
        warnings = ("One reading shows no spread, and no tool error is given: this is the least it can be.",)
    return Outcome((Result("uncertainty", "Standard uncertainty", combined, unit),), tuple(also), warnings)


UNCERTAINTY = Calculator(
    "uncertainty",
    "How far off may a reading be?",
    "The standard uncertainty of a reading from the tool's error, its steps and the spread of repeats.",
    (
        Input("readings", "Readings of the same thing", ANY, many=True, doubt=False),
        Input("half_width", "The tool is off by at most", ANY, low=0.0, doubt=False, difference=True),
        Input("shape", "What is known of that error", kind="choice", default="rectangular", choices=SHAPES),
        Input(
            "top", "Trapezoid: width of its top, as a share of its base", default="0.5", low=0.0, high=1.0, doubt=False
        ),
        Input("step", "It reads in steps of", ANY, low=0.0, doubt=False, difference=True),
        Input("parts", "Other standard uncertainties", ANY, low=0.0, many=True, doubt=False, difference=True),
        Input("degrees", "and their degrees of freedom", above=0.0, many=True, doubt=False),
        Input("correlation", "Correlation of these parts", default="0", low=-1.0, high=1.0, doubt=False),
    ),
    _uncertainty,
    "JCGM 100:2008, Guide to the expression of uncertainty in measurement, 4.2.3, 4.3.7, 4.3.9, 5.2.2, F.2.2.1, G.4.1",
    "To first order and for small errors. Repeats with one tool share its error and do not make that smaller.",
    {"readings": "327.5; 328; 328 mm", "half_width": "0.5 mm", "step": "0.5 mm"},
)

ALL = (CONFORMITY, UNCERTAINTY)
