"""From a result to a paper's blocks, for each reader. Arranges and words; computes no figure."""

from collections.abc import Callable, Mapping, Sequence

from ..result.model.result import Result
from .blocks import Block, Paper
from .sections.budget import ambitions, budget
from .sections.closing import agreed, cautions, signed
from .sections.condition import causes, findings, findings_in_short, looks, not_looked_at, questions
from .sections.costs import work, work_answer, work_explained, work_in_short
from .sections.measured import readings, sources
from .sections.opening import answer, domains, heading
from .sections.pictured import pictured

Section = Callable[[Result], Sequence[Block]]

BUYER: tuple[Section, ...] = (
    heading,
    answer,
    domains,
    causes,
    findings_in_short,
    work_in_short,
    readings,
    not_looked_at,
    looks,
    questions,
    sources,
    cautions,
    signed,
)
SHOP: tuple[Section, ...] = (
    heading,
    answer,
    domains,
    causes,
    findings,
    readings,
    work,
    ambitions,
    budget,
    not_looked_at,
    looks,
    sources,
    cautions,
    signed,
)
CUSTOMER: tuple[Section, ...] = (
    heading,
    work_answer,
    findings,
    pictured,
    work_explained,
    ambitions,
    budget,
    domains,
    readings,
    not_looked_at,
    sources,
    cautions,
    agreed,
)
READERS: Mapping[str, tuple[str, tuple[Section, ...]]] = {
    "buyer": ("For the buyer", BUYER),
    "shop": ("Condition report", SHOP),
    "customer": ("Proposed work", CUSTOMER),
}


def paper(result: Result, reader: str) -> Paper:
    """The paper for a buyer, the shop or a customer; raises KeyError for another reader."""
    title, sections = READERS[reader]
    blocks = [block for section in sections for block in section(result)]
    letterhead = "" if result.shop.is_default else result.shop.name
    return Paper(title, letterhead, result.title or "Evaluation", tuple(blocks))
