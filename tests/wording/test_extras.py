"""What brings a possible extra reads as one sentence that somebody would say, and so does when it will be known."""

import pytest

from evaluator.assessment.reasons.facts import AsWritten
from evaluator.estimate.model import AtTheBench, Brings, ByLook, IfFound, Known, Trigger
from evaluator.wording.answer.extras import known_words, when_words


def brings(say: str) -> Trigger:
    return Brings(say=say)


def found(say: str) -> Trigger:
    return IfFound(say=say)


@pytest.mark.parametrize(
    ("whens", "said"),
    [
        ([], ""),
        ([brings("If the post falls.")], "If the post falls."),
        ([brings("if the post falls")], "If the post falls."),
        (
            [brings("If the post falls."), brings("If the seam is open.")],
            "If the post falls, or if the seam is open.",
        ),
        ([brings("If a."), brings("If b."), brings("If c.")], "If a, or if b, or if c."),
        ([found("The bar is loose.")], "Only if this is found: The bar is loose."),
        (
            [found("The bar is loose."), found("A crack runs there")],
            "If one of these is found: the bar is loose; a crack runs there.",
        ),
        (
            [brings("If the post falls."), found("The bar is loose.")],
            "If the post falls, or if this is found: the bar is loose.",
        ),
        (
            [found("E string cuts in."), brings("If it buzzes.")],
            "If it buzzes, or if this is found: E string cuts in.",
        ),
        (
            [brings("The mended place is coloured."), brings("If the seam is open.")],
            "The mended place is coloured. Also if the seam is open.",
        ),
        ([brings("The bridge follows."), brings("The post follows.")], "The bridge follows. The post follows."),
        ([IfFound(say="A is high.", on_limit=True)], "If it is judged so at the bench: a is high."),
        (
            [IfFound(say="The nut is high", on_limit=True), found("The bar is loose.")],
            "If it is judged so at the bench: the nut is high, or if this is found: the bar is loose.",
        ),
        ([AsWritten(say="As it was written then.")], "As it was written then."),
    ],
)
def test_triggers_in_one_sentence(whens: list[Trigger], said: str) -> None:
    assert when_words(whens) == said


@pytest.mark.parametrize(
    ("known", "said"),
    [
        (None, None),
        (ByLook(ask="Is the bar firm?", minutes=3.0), "By a look of about 3 minutes: Is the bar firm?"),
        (
            ByLook(ask="How high?", minutes=1.0, on_limit=True),
            "When it is judged at the bench, or measured with a finer tool: the reading lies on the limit.",
        ),
        (AtTheBench(say="When the top is off."), "When the top is off."),
        (AsWritten(say="Then."), "Then."),
    ],
)
def test_when_it_will_be_known(known: Known | None, said: str | None) -> None:
    assert known_words(known) == said
