"""The rubric as a whole: shares of the domains, pages, causes, cautions that are demanded, and its examples."""

import re
from collections.abc import Iterable, Iterator, Mapping
from itertools import pairwise
from typing import get_args

from ...basis.problem import Message, Messages
from ..rubric import Rubric
from ..written.checks import Check
from ..written.kinds import Age, Tier
from ..written.surroundings import Caution
from ..written.work import Job, PartPrice
from .slip import Slip

MESSAGES: Messages = {
    "family.shares_missing": Message("there are no shares of the domains for {tier}.", "Add {tier} to domain_shares."),
    "family.shares_sum": Message("the shares for {tier} add up to {total:g}, not to 1.", "Correct one of them."),
    "family.domain_empty": Message(
        "{domain} counts for {tier}, but no check is evidence of it.", "Add a check, or set the share to 0."
    ),
    "family.size_twice": Message('the size "{size}" stands here twice.', "Keep one of them."),
    "family.part_empty": Message("it has no checks, so its page would be empty.", "Drop the part."),
    "cause.certain": Message("a prior of {prior:g} can never change.", "Write a share between 0 and 1."),
    "cause.prior_key": Message('"{key}" is neither a class of making nor an age.', "Use {choices}."),
    "cause.prior_rises": Message(
        'a prior of {prior:g} in "{making}" is above the {below:g} of the cheaper class "{other}".',
        "A better class is never likelier to go wrong.",
    ),
    "cause.unused": Message("no check names it.", "Take it away, or name it as a cause."),
    "caution.unused": Message("nothing names it.", "Take it away, or name it under cautions."),
    "tool.unused": Message("no check is measured with it.", "Take it away, or name it under tools."),
    "standard.unused": Message("no check is held to it.", "Take it away, or name it as a table."),
    "shared.unused": Message("no job shares it.", "Take it away, or name it under shares."),
    "part_price.unused": Message("no job needs it.", "Take it away, or name it under parts."),
    "caution.unknown": Message(
        'it must carry the caution "{caution}", which is not written.', "Add it to the cautions."
    ),
    "caution.check": Message(
        'the caution "{caution}" is missing: the check speaks of {sign}.', "Add {caution} to its cautions."
    ),
    "caution.job": Message(
        'the caution "{caution}" is missing: the job has to do with {sign}.', "Add {caution} to its cautions."
    ),
    "caution.part_price": Message(
        'the caution "{caution}" is missing: the part is of {sign}.', "Add {caution} to its cautions."
    ),
    "example.size": Message('there is no size "{size}".', "Use one of the sizes."),
    "example.check": Message('it answers the check "{check}", which there is not.', "Correct the name."),
    "example.outcome": Message('the check "{check}" has no outcome "{outcome}".', "Correct the outcome."),
}
# What in the words of a check, job or part demands a caution. Judged from what hurts people and instruments.
DEMANDS: tuple[tuple[str, re.Pattern[str], frozenset[str]], ...] = tuple(
    (caution, re.compile(pattern, re.IGNORECASE), frozenset(kinds))
    for caution, pattern, kinds in (
        ("strings_down", r"strings? (?:off|down)\b|(?:take|let|slacken|loosen)\w* (?:all )?(?:the |a )?strings?\b",
         ("checks",)),
        ("solvents", r"\balcohol\b|\bsolvents?\b|\bacetone\b|\bturpentine\b|\bcleaning fluid\b", ("checks", "jobs")),
        ("uv", r"\bUV\b|\bultra-?violet\b|\bblack light\b", ("checks", "jobs")),
        ("dust", r"\bebony\b|\brosewood\b|\bsand(?:s|ed|ing|paper)?\b", ("jobs",)),
        ("live_worm", r"\bwood-?worms?\b|\bworm ?holes?\b|\bwood-boring\b|\bwood dust\b", ("checks", "jobs")),
        ("protected_species",
         r"\b(?:pernambuco|ivory|tortoiseshell|whalebone|baleen|lizard|nautilus|mammoth|rosewood|CITES)\b",
         ("checks", "jobs", "part_prices")),
    )
)  # fmt: skip
STRINGS_OFF = frozenset({"strings_off_on", "bridge_down", "post_down", "bridge_and_post_down"})
_NEAR_ONE = 0.001


def whole_slips(rubric: Rubric) -> Iterator[Slip]:
    """Every slip that shows only when the rubric is seen as a whole."""
    yield from _share_slips(rubric)
    yield from _page_slips(rubric)
    yield from _cause_slips(rubric)
    yield from _caution_slips(rubric)
    yield from _example_slips(rubric)


def _share_slips(rubric: Rubric) -> Iterator[Slip]:
    seen = {domain for check in rubric.checks.values() for domain, share in check.evidence_of.items() if share}
    for tier in get_args(Tier):
        shares = rubric.domain_shares.get(tier)
        if shares is None:
            yield Slip("family.shares_missing", "family", "", ("domain_shares",), {"tier": tier}, key=True)
            continue
        total = sum(shares.values())
        if abs(total - 1) > _NEAR_ONE:
            words = {"tier": tier, "total": round(total, 3)}
            yield Slip("family.shares_sum", "family", "", ("domain_shares", tier), words, key=True)
        for domain, share in shares.items():
            if share and domain not in seen:
                words = {"tier": tier, "domain": domain}
                yield Slip("family.domain_empty", "family", "", ("domain_shares", tier, domain), words, key=True)


def _page_slips(rubric: Rubric) -> Iterator[Slip]:
    for at, size in enumerate(rubric.sizes):
        if size in rubric.sizes[:at]:
            yield Slip("family.size_twice", "family", "", ("sizes", at), {"size": size})
    used = {check.part for check in rubric.checks.values()}
    for part in rubric.parts:
        if part not in used:
            yield Slip("family.part_empty", "parts", part, (), {"part": part})


def _cause_slips(rubric: Rubric) -> Iterator[Slip]:
    for cause in rubric.causes.values():
        priors = cause.prior.items() if isinstance(cause.prior, dict) else [(None, cause.prior)]
        for key, prior in priors:
            if prior in (0, 1):
                path = ("prior",) if key is None else ("prior", key)
                yield Slip("cause.certain", "causes", cause.cause, path, {"prior": prior})
        if isinstance(cause.prior, dict):
            yield from _prior_slips(rubric, cause.cause, cause.prior)


def _prior_slips(rubric: Rubric, cause: str, prior: Mapping[str, float]) -> Iterator[Slip]:
    choices = [*rubric.classes, *get_args(Age)]
    for key in prior:
        if key not in choices:
            words = {"key": key, "choices": ", ".join(choices)}
            yield Slip("cause.prior_key", "causes", cause, ("prior", key), words, key=True)
    written = [name for name in rubric.classes if name in prior]
    for cheaper, better in pairwise(written):
        if prior[better] > prior[cheaper]:
            said: dict[str, object] = {
                "prior": prior[better],
                "making": better,
                "below": prior[cheaper],
                "other": cheaper,
            }
            yield Slip("cause.prior_rises", "causes", cause, ("prior", better), said)


def unused_slips(rubric: Rubric) -> Iterator[Slip]:
    """What this family never names; shared by several families it is unused only if none of them names it."""
    checks, jobs = rubric.checks.values(), rubric.jobs.values()
    cautions = {name for one in checks for name in one.cautions} | {name for one in jobs for name in one.cautions}
    cautions |= {name for one in rubric.part_prices.values() for name in one.cautions}
    shared = {name for job in jobs for name in job.shares}
    shared |= {name for one in rubric.shared_labour.values() for name in one.includes}
    # What holds several others in one serves lists that do not tell them apart, so it may lie idle.
    shared |= {name for name, one in rubric.shared_labour.items() if len(one.includes) > 1}
    held_to = [one.standard for one in checks] + [one.standard for one in rubric.renamed.values()]
    read_with = [one.measure for one in checks] + [one.measure for one in rubric.renamed.values()]
    tools = {tool for one in read_with if one for tool in one.tools}
    tools |= {name for name, one in rubric.tools.items() if not one.offered}
    used: tuple[tuple[str, str, Iterable[str | None]], ...] = (
        ("cause.unused", "causes", {check.cause for check in checks}),
        ("caution.unused", "cautions", cautions),
        ("tool.unused", "tools", tools),
        ("standard.unused", "standards", {one.table for one in held_to if one}),
        ("shared.unused", "shared_labour", shared),
        ("part_price.unused", "part_prices", {part.part for job in jobs for part in job.parts}),
    )
    for code, kind, names in used:
        for name in getattr(rubric, kind):
            if name not in names:
                yield Slip(code, kind, name)


def _caution_slips(rubric: Rubric) -> Iterator[Slip]:
    for kind, code in (("checks", "caution.check"), ("jobs", "caution.job"), ("part_prices", "caution.part_price")):
        for name, entry in getattr(rubric, kind).items():
            for caution, sign in _demanded(rubric, kind, entry):
                if caution not in rubric.cautions:
                    yield Slip("caution.unknown", kind, name, (), {"caution": caution})
                elif caution not in entry.cautions:
                    yield Slip(code, kind, name, (), {"caution": caution, "sign": sign})


def _demanded(rubric: Rubric, kind: str, entry: Check | Job | PartPrice) -> Iterator[tuple[str, str]]:
    """(caution, the words that demand it) for a check, job or part."""
    if isinstance(entry, Job) and STRINGS_OFF & set(entry.shares):
        yield "strings_down", "strings that come down"
    text = _words_of(entry)
    told = set()
    for caution, pattern, kinds in DEMANDS:
        if kind in kinds and (found := pattern.search(text)):
            told.add(caution)
            yield caution, f'"{found[0].lower()}"'
    for one in rubric.cautions.values():
        if one.caution not in told and (sign := _sign(one, text)):
            yield one.caution, f'"{sign}"'


def _sign(caution: Caution, text: str) -> str | None:
    """The first word under `demanded_by` that the text holds."""
    return next(
        (word for word in caution.demanded_by if re.search(rf"\b{re.escape(word)}\b", text, re.IGNORECASE)), None
    )


def _words_of(entry: Check | Job | PartPrice) -> str:
    """What a person is told to do or to handle. What a check warns of under `caution` demands nothing more."""
    if isinstance(entry, Check):
        outcomes = (outcome.say for outcome in entry.outcomes.values())
        return " \n".join((entry.ask, *entry.how, *outcomes))
    if isinstance(entry, Job):
        return " \n".join((entry.say, entry.plain))
    return entry.say


def _example_slips(rubric: Rubric) -> Iterator[Slip]:
    for example in rubric.examples:
        size = example.instrument.get("size")
        if size is not None and size not in rubric.sizes:
            yield Slip("example.size", "examples", example.example, ("instrument", "size"), {"size": size})
        for name, answer in example.observations.items():
            path = ("observations", name)
            check = rubric.checks.get(name)
            outcome = answer.get("outcome") if isinstance(answer, dict) else answer
            if check is None:
                yield Slip("example.check", "examples", example.example, path, {"check": name}, key=True)
            elif check.kind == "choice" and outcome not in check.outcomes and outcome != "cannot_tell":
                words = {"check": name, "outcome": outcome}
                yield Slip("example.outcome", "examples", example.example, path, words)
