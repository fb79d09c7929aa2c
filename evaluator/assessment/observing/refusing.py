"""What is wrong with an answer, in a sentence that names the check and says what to do."""

from ...basis.problem import Message, Messages, Problem, problem
from ...rubric.written.checks import Check
from ..model import CANNOT_TELL

MESSAGES: Messages = {
    "observation.unknown_check": Message("there is no such check.", "{hint}"),
    "observation.unknown_outcome": Message('"{text}" is not one of its answers.', "{hint}"),
    "observation.unknown_tool": Message('the tool "{text}" is not known.', "{hint}"),
    "observation.wrong_tool": Message('the tool "{text}" does not measure {thing}.', "{hint}"),
    "observation.unknown_channel": Message(
        '"{text}" is no way of seeing.', "Use in_person, photos, seller_statement or recording. {hint}"
    ),
    "observation.unknown_key": Message('unknown key "{text}".', "{hint}"),
    "observation.both": Message("both an outcome and a reading are given.", "Keep one of them."),
    "observation.no_reading": Message(
        "this check takes no reading.", "Choose one of its answers, for example {example}."
    ),
    "observation.not_text": Message("{what} must be text.", "Write it in quotes."),
    "observation.too_long": Message("{what} is longer than {limit}.", "Shorten it."),
    "observation.negative": Message("{text} is less than nothing.", "Enter {thing} of 0 or more."),
    "observation.too_small": Message(
        "{text} is less than {limit}, the least that can be.", "Look at the unit, or measure again."
    ),
    "observation.too_large": Message(
        "{text} is more than {limit}, the most that can be.", "Look at the unit, or measure again."
    ),
    "observation.no_outcome_for": Message("no answer holds {text}.", "Choose an answer in words."),
    "observation.shape": Message("this is neither an answer nor a reading.", "Write it like {example}."),
    "observation.yes_no": Message(
        "true and false are no answers here.", "Write one of its answers, for example {example}."
    ),
}


class RefusedError(Exception):
    """Carries problems out of the walk; never leaves this module."""

    def __init__(self, *problems: Problem) -> None:
        self.problems = problems
        super().__init__(problems)


def where_of(check: Check) -> str:
    return f'check "{check.check}"'


def refusal(check: Check, code: str, **words: object) -> RefusedError:
    return RefusedError(problem(MESSAGES, code, where_of(check), None, **words))


def in_one_line(value: object) -> str:
    """What was typed, short and without line breaks, for quoting it in a sentence."""
    text = " ".join(str(value).split())
    return text if len(text) <= 40 else text[:39] + "…"


def example_of(check: Check) -> str:
    return next(iter(check.outcomes), CANNOT_TELL)
