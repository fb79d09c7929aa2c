"""From a snapshot to a paper's blocks, for each reader. Arranges and words; computes no figure."""

from collections.abc import Callable, Mapping, Sequence
from typing import Any

from ..basis import show
from .blocks import (
    Beside,
    Block,
    CautionBlock,
    Column,
    Drawing,
    Heading,
    Lead,
    Listing,
    Paper,
    Paragraph,
    Signature,
    TableBlock,
    Together,
)
from .figures import price_rule, reading_rule, score_rule
from .outline import outline
from .words import (
    DOMAIN_TERMS,
    DOMAINS,
    LEVELS,
    SEEN_BY,
    STATEMENTS,
    URGENCY,
    believed,
    coverage_sentence,
    expected_unseen,
    instrument_line,
    score_sentence,
    unseen_by_part,
)

Snapshot = Mapping[str, Any]
Section = Callable[[Snapshot], Sequence[Block]]

BESIDE_OUTLINE = 9  # rows that fit beside the drawing without leaving half a page empty


def _triple(values: Mapping[str, float]) -> tuple[float, float, float]:
    return values["expected"], values["low"], values["high"]


def _money(snapshot: Snapshot, amount: float) -> str:
    return show.money(round(amount), snapshot["plan"]["currency"])


def answer(snapshot: Snapshot) -> Sequence[Block]:
    """The sentence, its reasons, and the two rules of score and price."""
    verdict = snapshot["verdict"]
    blocks: list[Block] = [Lead(verdict["sentence"])]
    if verdict["reasons"]:
        blocks.append(Listing(tuple(verdict["reasons"])))
    blocks += [
        Heading("How good it is", 2),
        Drawing(score_rule(_triple(snapshot["score"]), _triple(snapshot["score_after_work"]))),
        Paragraph(f"{score_sentence(snapshot)} {coverage_sentence(snapshot)}", "soft"),
    ]
    if verdict["walk_away_price"] is not None:
        blocks += prices(snapshot)
    return blocks


def prices(snapshot: Snapshot) -> Sequence[Block]:
    """The price rule with the sentence that says what the figures rest on."""
    verdict = snapshot["verdict"]
    asking = float(verdict["asking"]["amount"]) if verdict["asking"] else None
    currency = snapshot["plan"]["currency"]
    ready = float(verdict["ready_value"]["amount"])
    text = (
        f"Ready to play it would be worth about {_money(snapshot, ready)} ({verdict['ready_value_from']}). "
        f"The work takes about {_money(snapshot, snapshot['with_possible_extras']['mean'])} of that, possible extras "
        "counted with their chance."
    )
    if verdict["probability_worth_it"] is not None:
        worth = show.chance(verdict["probability_worth_it"])
        text += f" That it is worth what is asked: {worth}."
    figure = price_rule(verdict["target_price"], verdict["walk_away_price"], asking, currency)
    blocks: list[Block] = [Heading("What it is worth to you", 2), Drawing(figure), Paragraph(text, "soft")]
    if verdict["say_to_seller"]:
        blocks.append(Paragraph(f"You could say: “{verdict['say_to_seller']}”"))
    if verdict["change_scope"]:
        blocks.append(Paragraph(verdict["change_scope"]))
    return [Together(tuple(blocks))]


def findings(snapshot: Snapshot) -> Sequence[Block]:
    """Numbered findings, on the outline of the instrument and in the list alike."""
    found = believed(snapshot)
    if not found:
        return [Heading("What was found"), Paragraph("Nothing that needs work was seen.")]
    spots = [(number, item["part"]) for number, item in enumerate(found, 1)]
    drawn = outline(spots, snapshot["instrument"]["family"])
    columns = (Column("", 0.07), Column("Finding", 0.56), Column("What cures it", 0.37))
    rows = tuple(_finding_row(number, item) for number, item in enumerate(found, 1))
    if drawn is None:
        return [Heading("What was found"), TableBlock(columns, rows)]
    blocks: list[Block] = [
        Together((Heading("What was found"), Beside(drawn, (TableBlock(columns, rows[:BESIDE_OUTLINE]),))))
    ]
    if rows[BESIDE_OUTLINE:]:
        blocks.append(TableBlock(columns, rows[BESIDE_OUTLINE:]))
    return blocks


def _finding_row(number: int, item: Mapping[str, Any]) -> tuple[str, str, str]:
    cure = "cannot be mended" if item["inherent"] else ", or ".join(item["cures"])
    meaning = f"{item['means']} " if item["means"] else ""
    return str(number), f"{item['title']}\n{meaning}({LEVELS[item['level']]})", cure


def stop_signs(snapshot: Snapshot) -> Sequence[Block]:
    """What stops the verdict, with its chance in words."""
    items = tuple(
        f"{item['say']} ({LEVELS[item['level']]}; {show.chance(item['probability'])})"
        for item in snapshot["disqualifying"]
    )
    return [Heading("Before anything else", 2), Listing(items)] if items else []


def work(snapshot: Snapshot) -> Sequence[Block]:
    """The plan: each job with its range, the total with its levels, and what may come on top."""
    plan = snapshot["plan"]
    if not plan["lines"]:
        return [Heading("Work and cost"), Paragraph("No work is needed to reach the standard, as far as was seen.")]
    rows = [_line_row(snapshot, line) for line in plan["lines"]]
    rows.append(("Together, most likely", "", _money(snapshot, plan["mean"])))
    rows.append(("In four of five cases not above", "", _money(snapshot, plan["p80"])))
    columns = (Column("Work", 0.62), Column("From – to", 0.2, True), Column("Likely", 0.18, True))
    blocks: list[Block] = [
        Heading("Work and cost"),
        Paragraph(
            "The cheapest set of jobs that brings it to the standard. Work that several jobs share is charged once."
        ),
        TableBlock(columns, tuple(rows), totals=2),
    ]
    if snapshot["shop"]["is_default"]:
        blocks.append(Paragraph("Rates and prices are defaults from memory; ask a workshop for its own.", "soft"))
    return [*blocks, *optional_work(snapshot), *extras(snapshot)]


def _line_row(snapshot: Snapshot, line: Mapping[str, Any]) -> tuple[str, str, str]:
    if line["shared"]:
        why = "charged once for all"
    elif line["forced_by"]:
        why = f"follows from: {line['forced_by_say'] or line['forced_by']}"
    else:
        why = "; ".join(line["because"])
    text = f"{line['say']}\n{why}" if why else line["say"]
    spread = f"{_money(snapshot, line['low'])} – {_money(snapshot, line['high'])}"
    return text, spread, _money(snapshot, line["likely"])


def optional_work(snapshot: Snapshot) -> Sequence[Block]:
    """What is recommended but not needed for the standard."""
    lines = snapshot["optional"]
    if not lines:
        return []
    rows = tuple(
        (f"{line['say']}\n{URGENCY[line['urgency']]}", _line_row(snapshot, line)[1], _money(snapshot, line["likely"]))
        for line in lines
    )
    columns = (Column("Also worth doing", 0.62), Column("From – to", 0.2, True), Column("Likely", 0.18, True))
    return [Heading("Not needed, but worth it", 2), TableBlock(columns, rows)]


def extras(snapshot: Snapshot) -> Sequence[Block]:
    """Possible lines outside the total: chance, price, trigger, and when it will be known."""
    rows = tuple(
        (
            f"{item['say']}\n{item['when']}" + (f" Known: {item['known']}" if item["known"] else ""),
            show.chance(item["chance"]),
            _money(snapshot, item["mean"]),
        )
        for item in snapshot["possible_extras"]
    )
    if not rows:
        return []
    columns = (Column("Could come on top", 0.6), Column("Chance", 0.22), Column("About", 0.18, True))
    return [Heading("Not in the total", 2), TableBlock(columns, rows)]


def readings(snapshot: Snapshot) -> Sequence[Block]:
    """Every reading on a rule with its standard, its doubt and the statement it allows."""
    items = snapshot["conformity"].values()
    if not items:
        return []
    blocks: list[Block] = [
        Heading("Measured"),
        Paragraph(
            "The grey band is the doubt of the reading, twice its standard uncertainty; green is the standard.",
            "soft",
        ),
    ]
    for item in items:
        text = show.doubtful(item["value"], item["standard_uncertainty"], item["unit"])
        said = f"{STATEMENTS[item['statement']]}."
        if item["settle"]:
            said += f" {item['settle']}"
        said = said[0].upper() + said[1:]
        words = (Paragraph(item["ask"], "strong", item["term"]), Paragraph(said))
        if item["low"] is None and item["high"] is None:
            blocks.append(Together((*words, Paragraph(text))))
            continue
        doubt = item["standard_uncertainty"]
        figure = reading_rule(item["value"], doubt, item["low"], item["high"], item["unit"], text, width=88)
        blocks.append(Beside(figure, words))
    return blocks


def domains(snapshot: Snapshot) -> Sequence[Block]:
    """The score by what it is evidence of: what money cannot change stands apart from what it can."""
    rows = tuple(
        (
            f"{DOMAINS[name]} ({DOMAIN_TERMS[name]})",
            _span(values["as_it_stands"]),
            _span(values["after_work"]),
        )
        for name, values in snapshot["domains"].items()
    )
    columns = (Column("Of 100", 0.5), Column("As it stands", 0.25, True), Column("After the work", 0.25, True))
    return [
        Together(
            (
                Heading("Made well, and set up well"),
                Paragraph("How it was made cannot be bought later; how it plays can. So the two are kept apart."),
                TableBlock(columns, rows),
            )
        )
    ]


def _span(values: Mapping[str, float]) -> str:
    return f"{values['expected']:.0f}  ({values['low']:.0f} – {values['high']:.0f})"


def causes(snapshot: Snapshot) -> Sequence[Block]:
    """What lies behind the signs, where the signs say something."""
    told = []
    for item in snapshot["causes"].values():
        if item["signs"] and abs(item["probability"] - item["prior"]) > 0.1:
            more = item["probability"] > item["prior"]
            text = item["say"] if more else item["if_not"]
            share = item["probability"] if more else 1 - item["probability"]
            told.append(f"{text}: {show.chance(share)}. Seen: {'; '.join(item['signs'])}.")
    blocks: list[Block] = [Heading("What lies behind it", 2), Listing(tuple(told))] if told else []
    expected = expected_unseen(snapshot)
    if expected:
        blocks += [Paragraph("Not looked at, but likely from these signs:"), Listing(tuple(expected))]
    return blocks


def not_looked_at(snapshot: Snapshot) -> Sequence[Block]:
    """What is still unknown, the next looks worth taking, and the questions for the seller."""
    blocks: list[Block] = []
    unseen = unseen_by_part(snapshot)
    if unseen:
        blocks += [
            Heading("Not looked at"),
            Listing(tuple(f"{part}: {', '.join(items)}" for part, items in unseen)),
        ]
    looks = tuple(f"{look['ask']} ({show.minutes(look['minutes'])})" for look in snapshot["next_checks"])
    if looks:
        blocks.append(Together((Heading("Look at these next", 2), Listing(looks, numbered=True))))
    if snapshot["questions"]:
        blocks += [Heading("Ask the seller", 2), Listing(tuple(snapshot["questions"]), numbered=True)]
    return blocks


def cautions(snapshot: Snapshot) -> Sequence[Block]:
    return [CautionBlock(tuple(snapshot["cautions"]))] if snapshot["cautions"] else []


def how_sure(snapshot: Snapshot) -> Sequence[Block]:
    """Where the figures come from and how far they can be trusted; the sources of the standards used."""
    holds = snapshot["views"]["verdict_holds"]
    rubric, shop = snapshot["rubric"], snapshot["shop"]
    texts = [
        "The score is an opinion built from what was seen. Its range holds nine of ten ways the unseen may be.",
        f"Looked at {SEEN_BY[snapshot['seen_by']]} unless a line says otherwise.",
    ]
    if holds is not None:
        texts.append(f"Luthiers weigh things differently: in {holds:.0%} of the weightings tried, the advice stays.")
    blocks: list[Block] = [Heading("How sure this is"), Paragraph(" ".join(texts))]
    named = dict.fromkeys(
        f"{item['term'] or item['ask']}: {'; '.join(item['sources'])}"
        for item in snapshot["conformity"].values()
        if item["sources"]
    )
    if named:
        blocks += [Heading("Sources of the standards", 2), Listing(tuple(named))]
    made = (
        f"Rubric {rubric['title']} {rubric['version']} ({rubric['hash'][:12]}), prices: {shop['name']} "
        f"({shop['hash'][:12]}), program {snapshot['program']}, seed {snapshot['seed']}."
    )
    blocks.append(Paragraph(made, "soft"))
    return blocks


def _heading(snapshot: Snapshot) -> Sequence[Block]:
    about = snapshot["instrument"]["about"]
    line = instrument_line(snapshot)
    blocks: list[Block] = [Heading(snapshot["title"] or "Evaluation"), Paragraph(line, "soft")]
    if about:
        blocks.append(Paragraph(about, "soft"))
    return blocks


def _signatures(_: Snapshot) -> Sequence[Block]:
    return [Signature(("Looked at by", "Place and date"))]


READERS: Mapping[str, tuple[str, tuple[Section, ...]]] = {
    "buyer": (
        "For the buyer",
        (
            _heading,
            answer,
            stop_signs,
            findings,
            work,
            domains,
            causes,
            readings,
            not_looked_at,
            how_sure,
            cautions,
            _signatures,
        ),
    ),
    "shop": (
        "Condition report",
        (
            _heading,
            answer,
            stop_signs,
            findings,
            readings,
            work,
            domains,
            causes,
            not_looked_at,
            how_sure,
            cautions,
            _signatures,
        ),
    ),
    "customer": (
        "Proposed work",
        (_heading, findings, work, domains, readings, cautions, not_looked_at, how_sure, _signatures),
    ),
}


def paper(snapshot: Snapshot, reader: str) -> Paper:
    """The paper for a buyer, the shop or a customer; raises KeyError for another reader."""
    title, sections = READERS[reader]
    blocks = [block for section in sections for block in section(snapshot)]
    letterhead = "" if snapshot["shop"]["is_default"] else snapshot["shop"]["name"]
    return Paper(title, letterhead, snapshot["title"] or "Evaluation", tuple(blocks))
