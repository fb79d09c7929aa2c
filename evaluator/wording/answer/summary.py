"""The answer for a terminal, in plain lines."""

from collections.abc import Sequence

from ...result.model.result import Result
from ..names import LEVELS
from ..words import believed, coverage_sentence, instrument_line, score_sentence, title, waiting_lines
from .prices import paid
from .verdict import words_of


def summary(result: Result) -> str:
    """The answer for a terminal: the sentence, reasons, score, findings, plan and next looks as plain lines."""
    plan, currency, told = result.plan, result.plan.currency, words_of(result)
    lines = [result.title or "Evaluation", instrument_line(result), "", told.sentence]
    lines += [f"  {reason}" for reason in told.reasons]
    lines += ["", "Score", f"  {score_sentence(result)}", f"  {coverage_sentence(result)}"]
    lines += _section("Put right first", waiting_lines(result))
    lines += _section("Found", [f"{title(item)} ({LEVELS[item.level]})" for item in believed(result)])
    lines += _section("Work", [f"{line.say}: {line.low:.0f} to {line.high:.0f}" for line in plan.lines])
    if plan.lines:
        about, most = paid(result)
        lines.append(f"  Together about {about:.0f} {currency}; in four of five cases not above {most:.0f}.")
    looks = [f"{look.ask} ({look.minutes:g} min)" for look in result.next_checks]
    lines += _section("Look at next", looks)
    return "\n".join(lines)


def _section(title: str, items: Sequence[str]) -> list[str]:
    return ["", title, *(f"  {item}" for item in items)] if items else []
