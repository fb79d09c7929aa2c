"""The work and what it costs: the plan, what is worth doing besides, and what may come on top."""

from collections.abc import Mapping, Sequence
from decimal import Decimal
from typing import Any

from ...basis import show
from ...wording.words import URGENCY, believed, small
from ..blocks import Block, Column, Heading, Lead, Listing, Paragraph, TableBlock
from .opening import Snapshot, money

WORK = (Column("Work", 0.54), Column("Finding", 0.12), Column("From – to", 0.2, True), Column("About", 0.14, True))
OPTIONAL = (Column("Also worth doing", 0.54), *WORK[1:])
TOGETHER, MOST = "Together, about", "In four of five cases not above"
TAXES = {"labour_tax": "Tax on work", "parts_tax": "Tax on parts"}
EXTRAS = (Column("Could come on top", 0.66), Column("Chance", 0.2), Column("About", 0.14, True))
ROOM = 60.0  # millimetres for the heading, its note and the first jobs
MOST_EXTRAS = 3  # on a buyer's paper; the dearest by chance come first


def work_in_short(snapshot: Snapshot) -> Sequence[Block]:
    """The plan with the findings that each job answers, the total with its levels, and the dearest possible extras."""
    return [*_plan(snapshot, in_full=False), *optional_work(snapshot), *extras(snapshot, MOST_EXTRAS)]


def work(snapshot: Snapshot) -> Sequence[Block]:
    """The same with every possible extra."""
    return [*_plan(snapshot, in_full=False), *optional_work(snapshot), *extras(snapshot)]


def work_explained(snapshot: Snapshot) -> Sequence[Block]:
    """The same with what each job does and what happens if it is left, for the person who is to agree to it."""
    return [*_plan(snapshot, in_full=True), *optional_work(snapshot, to_the_cent=True), *extras(snapshot)]


def work_answer(snapshot: Snapshot) -> Sequence[Block]:
    """What the work comes to in a sentence, and what else somebody asks before agreeing to it."""
    plan = snapshot["plan"]
    if not plan["lines"]:
        return [Lead("No work is needed to reach the standard, as far as was seen.")]
    bill = plan.get("invoice") or {"total": plan["mean"], "up_to": plan["p80"]}
    total, most = (money(snapshot, float(bill[key])) for key in ("total", "up_to"))
    told = [f"In four of five cases it stays below {most}{', with tax' if _taxed(snapshot) else ''}."]
    safe = next((one for one in snapshot.get("ambitions") or () if one["name"] == "safe"), None)
    if safe and 0 < round(safe["mean"]) < round(plan["mean"]):
        told.append(f"Only what makes it safe to play comes to about {money(snapshot, safe['mean'])}.")
    if snapshot["possible_extras"]:
        told.append("Some things are known only when the work has begun. We stop and ask before we do them.")
    return [Lead(f"About {total} of work brings it up to the standard."), Listing(tuple(told))]


def _taxed(snapshot: Snapshot) -> bool:
    bill = snapshot["plan"].get("invoice")
    return bill is not None and any(Decimal(bill[name]) for name in TAXES)


def _plan(snapshot: Snapshot, *, in_full: bool) -> Sequence[Block]:
    plan = snapshot["plan"]
    if not plan["lines"]:
        nothing = Paragraph("No work is needed to reach the standard, as far as was seen.")
        return [Heading("Work and cost"), nothing]
    rows = [_line(snapshot, line, numbers_of(snapshot), in_full) for line in plan["lines"]]
    sums = sums_of(snapshot, in_full)
    rows += [(say, "", "", amount) for say, amount in sums]
    note = f"{_how_cheap(snapshot)} Work that several jobs share is charged once."
    if snapshot["shop"]["is_default"]:
        note += " Rates and prices are defaults from memory; ask a workshop for its own."
    table = TableBlock(WORK, tuple(rows), totals=len(sums))
    return [Heading("Work and cost", room=ROOM), Paragraph(note), table, Paragraph(half_of(snapshot), "soft")]


def sums_of(snapshot: Snapshot, to_the_cent: bool) -> list[tuple[str, str]]:
    """What stands below the lines: to the cent with what is added to them, for the person who is to pay."""
    plan = snapshot["plan"]
    bill = plan.get("invoice")
    if bill is None or not to_the_cent:
        return [(TOGETHER, money(snapshot, plan["mean"])), (MOST, money(snapshot, plan["p80"]))]
    added = [("Rounding", bill["rounding"])] if Decimal(bill["rounding"]) else []
    taxes = [
        (f"{say}, {show.number(100 * bill[f'{name}_share'], 3)} %", bill[name])
        for name, say in TAXES.items()
        if Decimal(bill[name])
    ]
    sums = [*taxes, *added, (TOGETHER, bill["total"]), (MOST, bill["up_to"])]
    return [(say, _cents(snapshot, amount)) for say, amount in sums]


def _cents(snapshot: Snapshot, amount: str) -> str:
    return show.money(Decimal(amount), snapshot["plan"]["currency"], cents=True)


def half_of(snapshot: Snapshot) -> str:
    """The level that half of all such orders stay below, in a sentence."""
    without = ", tax not counted" if _taxed(snapshot) else ""
    return f"One such order in two stays below {money(snapshot, snapshot['plan']['p50'])}{without}."


def price_of(snapshot: Snapshot, line: Mapping[str, Any], to_the_cent: bool) -> str:
    """The price of a line at its mean, so that the lines add up: to the cent, or in whole units of the currency."""
    price = line.get("price")
    return _cents(snapshot, price) if to_the_cent and price else money(snapshot, line["mean"])


def _how_cheap(snapshot: Snapshot) -> str:
    """That nothing cheaper reaches the standard, or how much cheaper it might be done."""
    plan = snapshot["plan"]
    if plan["proven_optimal"]:
        return "The cheapest set of jobs that brings it to the standard."
    return (
        "A set of jobs that brings it to the standard; the search for a cheaper one was cut short, and there may be "
        f"one that saves up to {money(snapshot, plan['may_save'])}."
        if "may_save" in plan
        else "A set of jobs that brings it to the standard; there may be a cheaper one."
    )


def numbers_of(snapshot: Snapshot) -> Mapping[str, int]:
    """The number of each check in the list of findings."""
    return {item["check"]: number for number, item in enumerate(believed(snapshot), 1)}


def _line(
    snapshot: Snapshot, line: Mapping[str, Any], numbers: Mapping[str, int], in_full: bool
) -> tuple[str, str, str, str]:
    """A job; what it cures stands by its number in the list of findings, else in words."""
    numbered = [numbers[check] for check in line["cures"] if check in numbers]
    notes = []
    if line["shared"]:
        notes.append("Charged once for all.")
    elif line["forced_by"]:
        notes.append(f"Goes with: {small(line['forced_by_say'] or line['forced_by'])}.")
    elif len(numbered) < len(line["cures"]) or not numbered:
        notes += [f"{say.rstrip('.')}." for say in line["because"]]
    if in_full:
        notes += [_said(text) for text in (line["plain"],) if text and small(text) != small(line["say"])]
        notes += [f"If left: {_said(small(line['if_left']))}"] if line["if_left"] else []
    if line["contact_first"]:
        notes.append(line["contact_first"])
    say = times(line)
    text = "\n".join([say, " ".join(notes)] if notes else [say])
    spread = f"{money(snapshot, line['low'])} – {money(snapshot, line['high'])}"
    return text, ", ".join(map(str, sorted(numbered))), spread, price_of(snapshot, line, in_full)


def times(line: Mapping[str, Any]) -> str:
    """The job of a line, and how often it is done where that is more than once."""
    units = line.get("units", 1)
    return f"{line['say']}, {units} times" if units > 1 else str(line["say"])


def optional_work(snapshot: Snapshot, *, to_the_cent: bool = False) -> Sequence[Block]:
    """What is recommended but not needed for the standard."""
    numbers = numbers_of(snapshot)
    rows = tuple(
        (
            f"{times(line)} ({_why_optional(line)})",
            ", ".join(str(number) for number in sorted(numbers[check] for check in line["cures"] if check in numbers)),
            f"{money(snapshot, line['low'])} – {money(snapshot, line['high'])}",
            price_of(snapshot, line, to_the_cent),
        )
        for line in snapshot["optional"]
    )
    return [Heading("Not needed, but worth it", 2, room=28), TableBlock(OPTIONAL, rows)] if rows else []


def _why_optional(line: Mapping[str, Any]) -> str:
    if line["shared"]:
        return "charged once for all"
    if line["forced_by"]:
        return f"goes with: {small(line['forced_by_say'] or line['forced_by'])}"
    return URGENCY[line["urgency"]]


def extras(snapshot: Snapshot, most: int | None = None) -> Sequence[Block]:
    """Possible lines outside the total: chance, price, trigger, and when it will be known; none that costs nothing."""
    priced = [item for item in snapshot["possible_extras"] if round(item["mean"]) > 0]
    rows = tuple(
        (
            f"{item['say']}\n{item['when']}" + (f" Known {_said(small(item['known']))}" if item["known"] else ""),
            show.chance(item["chance"]),
            money(snapshot, item["mean"]),
        )
        for item in priced[:most]
    )
    return [Heading("Not in the total", 2, room=28), TableBlock(EXTRAS, rows)] if rows else []


def _said(text: str) -> str:
    """Ended as a sentence."""
    return text if text.endswith((".", "?", "!")) else f"{text}."
