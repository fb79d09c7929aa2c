"""How a paper begins and how it ends: the instrument, the sentence that answers the question, and the rules of score
and price; cautions in full size, how sure the figures are, and the signature.
"""

from collections.abc import Sequence

from ...basis import show
from ...figures.money import price_rule
from ...figures.rules import score_rule
from ...figures.shapes import Figure
from ...result.model.result import Result
from ...result.model.score import Score, Span
from ...wording.answer.verdict import named_checks, words_of
from ...wording.names import DOMAIN_TERMS, DOMAINS, LEVELS, SEEN_BY
from ...wording.phrases import without_reach
from ...wording.words import (
    coverage_sentence,
    guides_line,
    instrument_line,
    opinions_line,
    score_sentence,
    title,
    waiting_lines,
)
from ..blocks import (
    Block,
    CautionBlock,
    Column,
    Drawing,
    Heading,
    Lead,
    Listing,
    Paragraph,
    Signature,
    TableBlock,
    Together,
)

WIDE = 174.0  # millimetres between the margins of A4
LOOKED = ("Looked at by", "Place and date")
AGREED = ("For the workshop", "Agreed by", "Place and date")


def money(result: Result, amount: float) -> str:
    """An amount of the estimate in whole units of its currency."""
    return show.money(round(amount), result.plan.currency)


def _triple(values: Score) -> tuple[float | None, float, float]:
    return values.expected, values.low, values.high


def score_rule_of(result: Result, width: float) -> Figure:
    """The score as it stands and after the work, with what is usual, on one rule (width in mm)."""
    after = _triple(result.score_after_work) if result.plan.lines else None
    return score_rule(_triple(result.score), after, width, usual=result.usual_score)


def price_rule_of(result: Result, width: float) -> Figure:
    """The offer, the ceiling and what is asked on one rule of money (width in mm); only where there is a ceiling."""
    verdict = result.verdict
    assert verdict.offer is not None and verdict.ceiling is not None, "there are prices to draw"
    asking = float(verdict.asking.amount) if verdict.asking else None
    return price_rule(verdict.offer, verdict.ceiling, asking, result.plan.currency, width)


def heading(result: Result) -> Sequence[Block]:
    """The title, and what is evaluated by which standard."""
    about = without_reach(result.instrument.about)
    line = instrument_line(result)
    return [Heading(result.title or "Evaluation"), Paragraph(f"{line} {about}" if about else line, "soft")]


def answer(result: Result) -> Sequence[Block]:
    """The sentence, its reasons, what could still stop it, and the two rules of score and price."""
    told = words_of(result)
    blocks: list[Block] = [Lead(told.sentence)]
    if told.reasons:
        blocks.append(Listing(told.reasons))
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
    told = named_checks(result)
    items = tuple(
        f"{title(item)} ({LEVELS[item.level]}; {show.chance(item.probability)})"
        for item in result.disqualifying
        if item.check not in told
    )
    return [Heading("Before anything else", 2), Listing(items)] if items else []


def waiting(result: Result) -> Sequence[Block]:
    """What cannot be judged until something is put right."""
    lines = waiting_lines(result)
    return [Heading("Put right first", 2), Listing(lines)] if lines else []


def prices(result: Result) -> Sequence[Block]:
    """The price rule with the sentence that says what its marks mean, and what to say to the seller."""
    verdict = result.verdict
    if verdict.ceiling is None:
        return []
    blocks: list[Block] = [Heading("What it is worth to you", 2)]
    if verdict.ceiling > 0:
        text = "At most: its worth to you ready to play, less the work and the usual cost of what nobody looked at."
        blocks += [Drawing(price_rule_of(result, WIDE)), Paragraph(text, "soft")]
    else:
        blocks.append(Paragraph("Nothing is left to pay for it."))
    said = words_of(result).say_to_seller
    if said:
        blocks.append(Paragraph(f"You could say: “{said}”"))
    return [Together(tuple(blocks))]


def domains(result: Result) -> Sequence[Block]:
    """The score by what it is evidence of: what money cannot change stands apart from what it can."""
    worked = bool(result.plan.lines)
    rows = tuple(
        (
            f"{DOMAINS[name]} ({DOMAIN_TERMS[name]})" if DOMAINS[name].lower() != DOMAIN_TERMS[name] else DOMAINS[name],
            _span(values.as_it_stands),
            *([_span(values.after_work)] if worked else []),
        )
        for name, values in result.domains.items()
    )
    after = [Column("After the work", 0.25, True)] if worked else []
    columns = (Column("Of 100", 0.5 if worked else 0.75), Column("As it stands", 0.25, True), *after)
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


def cautions(result: Result) -> Sequence[Block]:
    """All but the last caution, which stands by the signature."""
    texts = tuple(result.cautions[:-1])
    return [CautionBlock(texts)] if texts else []


def signed(result: Result) -> Sequence[Block]:
    """How sure it all is, what the paper is no proof of, what it was made from, and the signature, on one page."""
    return _closing(result, LOOKED, guides_line(result))


def agreed(result: Result) -> Sequence[Block]:
    """The same without any advice, for two people who agree on work."""
    return _closing(result, AGREED)


def _closing(result: Result, labels: tuple[str, ...], views: str = "") -> Sequence[Block]:
    rubric, shop = result.rubric, result.shop
    made = (
        f"Rubric {rubric.title} {rubric.version} ({rubric.hash[:12]}), prices: {shop.name} "
        f"({shop.hash[:12]}), program {result.program}, seed {result.seed}."
    )
    told: list[Block] = [CautionBlock(tuple(result.cautions[-1:]))] if result.cautions else []
    sure = Paragraph(_how_sure(result, views))
    return [Together((Heading("How sure this is", room=0), sure, *told, Paragraph(made, "soft"), Signature(labels)))]


def _how_sure(result: Result, views: str) -> str:
    """Where the figures come from, how far they can be trusted, and how far the advice hangs on prices."""
    texts = (
        "The score is an opinion built from what was seen. Its range holds nine of ten ways the unseen may be.",
        f"Looked at {SEEN_BY[result.seen_by]} unless a line says otherwise.",
        views,
        opinions_line(result),
    )
    return " ".join(text for text in texts if text)
