"""Calculators as pages and as JSON: the list, one page each, the answer drawn; nothing is kept."""

from collections.abc import Mapping
from functools import lru_cache

from flask import Blueprint, Response, abort, jsonify, render_template, request
from markupsafe import Markup

from ..basis.problem import Problem
from ..calculators.answering import answer, to_json
from ..calculators.answering import calculators as all_calculators
from ..calculators.model import Answer, Calculator
from ..figures.calculators import drawn
from ..figures.svg import svg
from ..store.folders import seasons_known
from ..wording import calculators as words

calculators = Blueprint("calculators", __name__)
WIDE_MM, PHONE_MM = 150.0, 95.0
MOST_LETTERS = 600

# How the list is divided on the page.
GROUPS: tuple[tuple[str, tuple[str, ...]], ...] = (
    ("Strings", ("pitch", "string_tension", "string_mass", "afterlength", "stop_ratio")),
    ("Bridge and board", ("downforce", "break_angle", "projection", "bridge_arch")),
    ("Wood and pegs", ("moisture", "wood_movement", "peg_fit")),
    ("Care", ("tuner_mass", "service_due")),
    ("Measuring and estimating", ("conformity", "uncertainty", "three_point", "photo_scale")),
)


@lru_cache(maxsize=1)
def every_calculator() -> Mapping[str, Calculator]:
    """All calculators by name."""
    return all_calculators(seasons_known())


def _calculator(name: str) -> Calculator:
    found = every_calculator().get(name)
    if found is None:
        abort(404)
    return found


def _typed() -> dict[str, str]:
    """What was typed; empty fields stand for nothing typed."""
    return {key: value[:MOST_LETTERS] for key, value in request.args.items() if value.strip()}


@calculators.get("/calculators")
def index() -> str:
    every = every_calculator()
    groups = [(title, [every[name] for name in names]) for title, names in GROUPS]
    return render_template("calculators/calculators.html", groups=groups)


@calculators.get("/calculators/<name>")
def page(name: str) -> str | tuple[str, int]:
    """The form with an answer: of what was typed, or of the example before anything is typed."""
    calculator = _calculator(name)
    typed = _typed()
    found, problems = answer(calculator, typed or calculator.example)
    shown = typed or {**defaults(calculator), **calculator.example}
    wrong = _by_field(calculator, problems)
    text = render_template(
        "calculators/calculator.html",
        calculator=calculator,
        typed=shown,
        found=found,
        wrong=wrong,
        is_example=not typed,
        words=words,
        figures=_figures(found) if found else "",
    )
    return text if found else (text, 422)


@calculators.get("/calculators/<name>.json")
def as_json(name: str) -> Response | tuple[Response, int]:
    """The answer as the command line prints it; without inputs what it takes; every mistake with status 422."""
    calculator, typed = _calculator(name), _typed()
    if not typed:
        return jsonify(words.description(calculator))
    found, problems = answer(calculator, typed)
    if found is None:
        return jsonify({"problems": [{"code": p.code, "where": p.where, "text": str(p)} for p in problems]}), 422
    return jsonify(to_json(found))


def defaults(calculator: Calculator) -> dict[str, str]:
    return {one.name: one.default for one in calculator.inputs if one.default is not None}


def _by_field(calculator: Calculator, problems: tuple[Problem, ...]) -> dict[str, str]:
    """Mistakes by input; those of no one field under the empty name."""
    fields = {one.name for one in calculator.inputs}
    wrong: dict[str, str] = {}
    for one in problems:
        key = one.where if one.where in fields else ""
        said = f"{one.what} {one.what_to_do}".strip()
        wrong[key] = f"{wrong[key]} {said}" if key in wrong else said[:1].upper() + said[1:]
    return wrong


def _figures(found: Answer) -> Markup:
    """The drawing for wide and for narrow screens; both writers escape every text."""
    wide, narrow = drawn(found, WIDE_MM), drawn(found, PHONE_MM)
    if wide is None or narrow is None:
        return Markup("")
    return Markup(svg(wide, "rule wide") + svg(narrow, "rule narrow"))
