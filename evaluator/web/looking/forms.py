"""Forms made from a rubric: one class a part of the instrument, and the first page.

A check's fields are called q-ID (outcome), r-ID (reading), u-ID (unit), t-ID (tool), s-ID (seen by) and n-ID (note):
the prefix keeps ids that would be names of WTForms' own attributes apart. Reading and judging a value is the core's
work.
"""

from collections.abc import Iterable, Mapping
from typing import Any

import wtforms
from flask_wtf import FlaskForm
from wtforms import Field, RadioField, SelectField, SelectMultipleField, StringField, TextAreaField
from wtforms.validators import Length, Optional

from ...assessment.model import CANNOT_TELL
from ...basis.units import ShownUnits
from ...rubric.rubric import SAFETY, Rubric
from ...rubric.shop import Shop
from ...rubric.written.checks import Check
from ...wording.names import SEEN_BY

FIELDS = {"q": "outcome", "r": "reading", "u": "unit", "t": "tool", "s": "seen_by", "n": "note"}
UNITS_OF = {"length": ("mm", "cm", "in"), "mass": ("g", "kg", "oz"), "angle": ("deg",)}
MOST_NOTE = 400

_made: dict[tuple[str, str], type[FlaskForm]] = {}


def options(pairs: Iterable[tuple[str, str]]) -> list[Any]:  # the stubs of WTForms do not know SelectChoice yet
    """Choices of a field from (value, words)."""
    library: Any = wtforms.fields  # as above
    return [library.SelectChoice(value, say) for value, say in pairs]


def shown_checks(rubric: Rubric, part: str) -> tuple[Check, ...]:
    """The checks that are asked on a page; what follows from readings is not asked."""
    if part == SAFETY:
        return tuple(rubric.checks[name] for name in rubric.safety_checks)
    first = rubric.safety_checks
    own = (check for check in rubric.checks.values() if check.part == part and check.check not in first)
    return tuple(check for check in own if check.kind != "derived")


def asked_parts(rubric: Rubric) -> tuple[str, ...]:
    """The pages on which something is asked, in order: what must be safe first, then part by part."""
    return tuple(part for part in rubric.pages if shown_checks(rubric, part))


def _fields_of(rubric: Rubric, check: Check) -> dict[str, Field]:
    choices = [(name, outcome.say) for name, outcome in check.outcomes.items()]
    choices += [(CANNOT_TELL, "Cannot tell"), ("", "Not looked at")]
    fields: dict[str, Field] = {
        f"q-{check.check}": RadioField(choices=options(choices), validate_choice=False, validators=[Optional()]),
        f"n-{check.check}": TextAreaField("Note", validators=[Optional(), Length(max=MOST_NOTE)]),
        f"s-{check.check}": SelectField(
            "How was it seen?",
            choices=options([("", "as said at the start"), *SEEN_BY.items()]),
            validate_choice=False,
        ),
    }
    if check.kind != "choice":
        fields[f"r-{check.check}"] = StringField("Reading", validators=[Optional(), Length(max=120)])
    if check.measure is not None:
        units = UNITS_OF.get(check.measure.quantity, (check.measure.unit,))
        ordered = dict.fromkeys((check.measure.unit, *units))
        fields[f"u-{check.check}"] = SelectField(
            "Unit", choices=options((u, u) for u in ordered), validate_choice=False
        )
        tools = [(name, rubric.tools[name].say) for name in check.measure.tools]
        fields[f"t-{check.check}"] = SelectField("Measured with", choices=options(tools), validate_choice=False)
    return fields


def part_form(rubric: Rubric, part: str) -> type[FlaskForm]:
    """The form class of one part's page, made once for each rubric."""
    key = (rubric.hash, part)
    if key not in _made:
        _made[key] = checks_form(rubric, shown_checks(rubric, part))
    return _made[key]


def checks_form(rubric: Rubric, checks: Iterable[Check]) -> type[FlaskForm]:
    """A form class for any checks, of one part or of several."""
    fields: dict[str, Field] = {}
    for check in checks:
        fields |= _fields_of(rubric, check)
    return type("ChecksForm", (FlaskForm,), fields)


def filled(checks: Iterable[Check], answers: Mapping[str, Mapping[str, object]]) -> dict[str, str]:
    """Field values from the answers that are kept."""
    return {
        f"{letter}-{check.check}": str(answers[check.check][name])
        for check in checks
        if check.check in answers
        for letter, name in FIELDS.items()
        if answers[check.check].get(name)
    }


def unit_meant(check: Check, answer: Mapping[str, object], shown: ShownUnits) -> str:
    """The unit that a number without one is in: as it was said, the check's own for a reading kept without, else the
    shop's; empty where the check measures nothing.
    """
    if check.measure is None:
        return ""
    own = check.measure.unit
    return str(answer.get("unit") or (own if answer.get("reading") else shown.of(own)))


def typed_fields(answers: Mapping[str, Mapping[str, str]]) -> dict[str, str]:
    """The field names and texts that would send these answers again."""
    letters = {name: letter for letter, name in FIELDS.items()}
    return {f"{letters[name]}-{check}": text for check, answer in answers.items() for name, text in answer.items()}


def answers_from(checks: Iterable[Check], form: FlaskForm) -> dict[str, dict[str, str]]:
    """What was typed on a page of these checks, by check; an empty mapping where nothing was answered."""
    found: dict[str, dict[str, str]] = {}
    for check in checks:
        texts = {
            name: str(form[f"{letter}-{check.check}"].data or "").strip()
            for letter, name in FIELDS.items()
            if f"{letter}-{check.check}" in form
        }
        answer = {name: text for name, text in texts.items() if text}
        said = {"outcome", "reading", "note"} & set(answer)
        found[check.check] = answer if said else {}
    return found


CURRENCIES = ("USD", "EUR", "GBP", "CAD", "AUD", "CHF", "JPY", "PLN", "CZK", "SEK", "NOK", "DKK")
START_FIELDS = (
    "title", "size", "purpose", "tier", "style", "seen_by", "looker", "asking", "currency", "ready_value", "strings",
    "year", "age", "about", "minutes", "tools",
)  # fmt: skip
PURPOSES = [
    ("buying", "Whether to buy it, and at what price"),
    ("trade_in", "What to offer when it comes in trade"),
    ("quote", "Which work to do, and what it costs"),
]
SEEN = [("in_person", "In my hands"), ("photos", "In photos"), ("seller_statement", "I am told")]
MINUTES_SAID = [("3", "3 min"), ("10", "10 min"), ("30", "30 min"), ("all", "No limit")]
STRINGS = [("", "not known"), ("steel", "steel"), ("synthetic", "synthetic core"), ("gut", "gut")]

# What people have at home or in a bag, and the tools of the rubric that this is. Common practice, no source.
THINGS: Mapping[str, tuple[str, frozenset[str]]] = {
    "rule": ("Ruler", frozenset({"steel_rule", "tape"})),
    "scale": ("Kitchen scale", frozenset({"kitchen_scale"})),
    "card": ("Bank card", frozenset({"card_photo"})),
    "caliper": ("Caliper", frozenset({"caliper"})),
    "bench": ("Bench tools", frozenset({
        "letter_scale", "gram_scale", "feeler_gauge", "string_height_gauge", "thickness_gauge",
        "radius_gauge", "steel_rule", "tape", "caliper", "kitchen_scale",
    })),
}  # fmt: skip
AGES = [
    ("", "not known"), ("new", "new"), ("up_to_40", "up to 40 years"), ("40_to_100", "40 to 100 years"),
    ("over_100", "over 100 years"),
]  # fmt: skip


def size_said(size: str) -> str:
    """A size as it is offered: violas are named in millimetres here and in half inches there."""
    if not size.endswith(" mm"):
        return size
    return f"{size} (about {round(float(size.removesuffix(' mm')) / 12.7) / 2:g} in)"


def start_form(rubric: Rubric, shop: Shop) -> type[FlaskForm]:
    """The first page for one family."""
    currencies = dict.fromkeys((shop.currency, *CURRENCIES))

    class StartForm(FlaskForm):  # type: ignore[misc]  # Flask-WTF is not typed
        title = StringField("A name for it", validators=[Optional(), Length(max=120)])
        size = SelectField(
            "Size", choices=options((s, size_said(s)) for s in rubric.sizes), default=rubric.default_size
        )
        purpose = RadioField("What must be decided?", choices=options(PURPOSES), default="buying")
        tier = RadioField(
            "Held to the standard of which player?",
            choices=options([("student", "Student"), ("intermediate", "Advancing"), ("professional", "Professional")]),
            default="student",
        )
        style = RadioField(
            "What will be played?",
            choices=options([("classical", "Classical"), ("fiddle", "Fiddle")]),
            default="classical",
        )
        seen_by = RadioField("How do you see it?", choices=options(SEEN), default="in_person")
        looker = RadioField(
            "Who looks?",
            choices=options([("student", "Student or parent"), ("teacher", "Teacher"), ("luthier", "Luthier")]),
            default="student",
        )
        minutes = RadioField("How long do you have?", choices=options(MINUTES_SAID), default="10")
        tools = SelectMultipleField(
            "What do you have with you?",
            choices=options((name, say) for name, (say, _) in THINGS.items()),
            validate_choice=False,
        )
        asking = StringField("Asking price", validators=[Optional(), Length(max=40)])
        currency = SelectField("Currency", choices=options((c, c) for c in currencies), default=shop.currency)
        ready_value = StringField("Its worth, ready to play", validators=[Optional(), Length(max=40)])
        strings = SelectField("Strings on it", choices=options(STRINGS), validate_choice=False)  # not asked of a bow
        year = StringField("Year it was made", validators=[Optional(), Length(max=10)])
        age = SelectField("Or its age, about", choices=options(AGES))
        about = TextAreaField("What else is known of it?", validators=[Optional(), Length(max=400)])

    return StartForm
