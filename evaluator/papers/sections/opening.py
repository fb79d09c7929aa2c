"""How a paper begins: the instrument, the sentence that answers the question, and the rules of score and price."""

from collections.abc import Sequence

from ...basis import show
from ...figures.rules import Figure, price_rule, score_rule
from ...result.model.result import Result
from ...result.model.score import Span
from ...wording.names import DOMAIN_TERMS, DOMAINS, LEVELS
from ...wording.phrases import small
from ...wording.words import coverage_sentence, instrument_line, score_sentence, title, waiting_lines
from ..blocks import Block, Column, Drawing, Heading, Lead, Listing, Paragraph, TableBlock, Together
from ..sales_story import lasting_sentence

WIDE = 174.0  # millimetres between the margins of A4


def money(result: Result, amount: float) -> str:
    """An amount of the estimate in whole units of its currency."""
    return show.money(round(amount), result.plan.currency)


def _triple(values: Span) -> tuple[float, float, float]:
    return values.expected, values.low, values.high


def score_rule_of(result: Result, width: float) -> Figure:
    """The score as it stands and after the work, with what is usual, on one rule (width in mm)."""
    now, after = _triple(result.score), _triple(result.score_after_work)
    return score_rule(now, after, width, usual=result.usual_score)


def price_rule_of(result: Result, width: float) -> Figure:
    """The prices at which the verdict turns on one rule of money (width in mm); only where there are any."""
    verdict = result.verdict
    assert verdict.target_price is not None and verdict.walk_away_price is not None, "there are prices to draw"
    asking = float(verdict.asking.amount) if verdict.asking else None
    allowing = verdict.allowing_for_unseen
    return price_rule(
        verdict.target_price,
        verdict.walk_away_price,
        asking,
        result.plan.currency,
        width,
        allowing=allowing.walk_away_price if allowing else None,
    )


def heading(result: Result) -> Sequence[Block]:
    """The title, and what is evaluated by which standard."""
    about = result.instrument.about
    line = instrument_line(result)
    return [Heading(result.title or "Evaluation"), Paragraph(f"{line} {about}" if about else line, "soft")]


def answer(result: Result) -> Sequence[Block]:
    """The sentence, its reasons, what could still stop it, and the two rules of score and price."""
    verdict = result.verdict
    blocks: list[Block] = [Lead(verdict.sentence)]
    reasons = [text for text in verdict.reasons if text != verdict.sentence]
    if reasons:
        blocks.append(Listing(tuple(reasons)))
    blocks += [
        *stop_signs(result),
        *waiting(result),
        Heading("How good it is", 2),
        Drawing(score_rule_of(result, WIDE)),
        Paragraph(f"{score_sentence(result)} {coverage_sentence(result)}", "soft"),
    ]
    return [*blocks, *prices(result)]


def stop_signs(result: Result) -> Sequence[Block]:
    """What stops the verdict or still could, where the reasons do not say it already."""
    told = " ".join((result.verdict.sentence, *result.verdict.reasons)).casefold()
    items = tuple(
        f"{title(item)} ({LEVELS[item.level]}; {show.chance(item.probability)})"
        for item in result.disqualifying
        if small(item.say).casefold() not in told
    )
    return [Heading("Before anything else", 2), Listing(items)] if items else []


def waiting(result: Result) -> Sequence[Block]:
    """What cannot be judged until something is put right."""
    lines = waiting_lines(result)
    return [Heading("Put right first", 2), Listing(lines)] if lines else []


def prices(result: Result) -> Sequence[Block]:
    """The price rule with the sentences that say what its marks mean."""
    verdict = result.verdict
    if verdict.target_price is None or verdict.walk_away_price is None:
        return []
    text = "Not above: its worth ready to play, less the work and possible extras by their chance."
    if verdict.target_price > 0:
        text += " Aim for: the same, if the work turns out dear."
    if verdict.allowing_for_unseen:
        text += " Band: down to what is left if faults nobody has looked for cost what is usual."
    chance = verdict.probability_worth_it
    if chance is not None and not any("to be worth" in reason for reason in verdict.reasons):
        text += f" Worth what is asked: {show.chance(chance)}."
    blocks: list[Block] = [Heading("What it is worth to you", 2)]
    if verdict.walk_away_price > 0:
        blocks += [Drawing(price_rule_of(result, WIDE)), Paragraph(text, "soft")]
    else:
        blocks.append(Paragraph("The work takes all that it would be worth, so no price leaves you better off."))
    lasting = lasting_sentence(verdict.lasting)
    if lasting and verdict.ready_value_kind != "own_figure":
        blocks.append(Paragraph(lasting))
    if verdict.say_to_seller:
        blocks.append(Paragraph(f"You could say: “{verdict.say_to_seller}”"))
    if verdict.change_scope:
        blocks.append(Paragraph(verdict.change_scope))
    return [Together(tuple(blocks))]


def domains(result: Result) -> Sequence[Block]:
    """The score by what it is evidence of: what money cannot change stands apart from what it can."""
    rows = tuple(
        (
            f"{DOMAINS[name]} ({DOMAIN_TERMS[name]})" if DOMAINS[name].lower() != DOMAIN_TERMS[name] else DOMAINS[name],
            _span(values.as_it_stands),
            _span(values.after_work),
        )
        for name, values in result.domains.items()
    )
    columns = (Column("Of 100", 0.5), Column("As it stands", 0.25, True), Column("After the work", 0.25, True))
    return [
        Together(
            (
                Heading("Made well, and set up well", room=0),
                Paragraph("How it was made cannot be bought later; how it plays can. So the two are kept apart."),
                TableBlock(columns, rows),
            )
        )
    ]


def _span(values: Span) -> str:
    return f"{values.expected:.0f}  ({values.low:.0f} – {values.high:.0f})"
