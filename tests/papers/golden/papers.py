"""A selection of papers, each made anew of the same instruments and days: what a shop hands out in a year."""

from collections.abc import Callable, Mapping
from dataclasses import replace
from datetime import UTC, date, datetime
from decimal import Decimal
from functools import cache, partial

from evaluator.assessment.observing.case import read_case
from evaluator.basis.money import Money
from evaluator.papers.after_story import after_paper
from evaluator.papers.before_after import before_after
from evaluator.papers.bill_story import bill_paper, receipt_paper
from evaluator.papers.offer_story import offer_paper
from evaluator.papers.printing.pdf import draw, report_pdf
from evaluator.papers.quote_story import quote_paper
from evaluator.papers.readers import Issued
from evaluator.papers.shop_story import preview_paper, tag_paper
from evaluator.papers.work_story import work_paper
from evaluator.quoting.answers import Answers, all_yes
from evaluator.quoting.billing.bill import Asked, Bill, Order, Payment, Seller
from evaluator.quoting.billing.making import bill_of, credit_of
from evaluator.quoting.consent import Consent, agree, head
from evaluator.quoting.draft import quote_of
from evaluator.quoting.quote import Quote, moved
from evaluator.quoting.work_order import WorkOrder, noted, work_order
from evaluator.result.json_form import read_result, to_json
from evaluator.result.model.result import Result
from evaluator.store.folders import rubrics_folder
from tests.choosing.test_offer_letter import letter
from tests.papers.cases import content, evaluation_of, full, rubric

ON = date(2026, 3, 2)
ISSUED = Issued("3f2a9c", 4, "2026-03-02", draft=False, contact=("1 Hill Lane, Oldtown", "01 234 567"))
SELLER = Seller("Bench and Bow", ("1 Hill Lane, Oldtown", "01 234 567"), "DE 123 456 789")
SQUARES = [[(row * 7 + column * 3) % 5 < 2 for column in range(25)] for row in range(25)]
WHO = ("Mother of Anna", "2 Mill Road", "Oldtown")
Made = Callable[[], bytes]


@cache
def example(name: str) -> Result:
    """The result of an example of the rubrics."""
    text = (rubrics_folder() / "examples" / f"{name}.yaml").read_text("utf-8")
    return read_result(to_json(evaluation_of(content(text))))


@cache
def everything(kind: str, name: str = "violin", size: str = "4/4") -> Result:
    return read_result(to_json(evaluation_of(full(name, kind, size))))


@cache
def quote() -> Quote:
    draft = example("good_body_raw_set_up").quotable
    assert draft is not None
    found = moved(quote_of(draft, "2026-0003", ON, "Anna's violin"), "offered")
    assert isinstance(found, Quote)
    return found


@cache
def answers() -> Answers:
    """Yes to all but the last line."""
    asked = all_yes(quote())
    return {**asked, list(asked)[-1]: "no"}


@cache
def consent() -> Consent:
    at = datetime(2026, 3, 5, 12, 0, tzinfo=UTC)
    most = Money(Decimal(900), "USD")
    chain = agree((), head(()), quote(), answers(), "Mother of Anna", "spoken", at, most, noted_by="The luthier")
    found = chain[-1]
    assert isinstance(found, Consent), chain
    return found


@cache
def order() -> WorkOrder:
    judged = rubric("violin")
    text = (rubrics_folder() / "examples" / "good_body_raw_set_up.yaml").read_text("utf-8")
    case, problems = read_case(judged, content(text))
    assert case is not None, problems
    made = work_order(judged, case.instrument, quote(), answers())
    for task in made.tasks:
        made = noted(made, task.job, 0.75, "maple blank")
    return made


@cache
def bill() -> Bill:
    paid = (Payment("R2026-0001", date(2026, 3, 5), consent().total.times(0.25).rounded(), "card", WHO[0]),)
    about = "Violin 4/4, Anna's violin"
    agreed = Order(
        ((quote(), answers()),), about, date(2026, 3, 18), consent().total, consent().ceiling, (3.0, 2.5), paid
    )
    found = bill_of(agreed, (), SELLER, WHO, date(2026, 3, 20), 14, "Thank you.")
    assert isinstance(found, Bill), found
    return replace(found, number="B2026-0007", asked=Asked("R-12", "PO-7"))


def credit() -> Bill:
    found = credit_of(bill(), date(2026, 3, 22), "The name was wrong.")
    assert isinstance(found, Bill)
    return replace(found, number="B2026-0008")


def reported(name: str, reader: str, paper: str = "A4") -> bytes:
    return report_pdf(example(name), reader, paper, ISSUED)


def quoted() -> bytes:
    return draw(quote_paper(quote(), example("good_body_raw_set_up"), (), ready_by="2026-03-31"))


def agreed() -> bytes:
    given = replace(quote(), state="agreed")
    return draw(quote_paper(given, example("good_body_raw_set_up"), (consent(),), ready_by="2026-03-31"))


def worked() -> bytes:
    return draw(work_paper(order(), quote(), example("good_body_raw_set_up"), consent()))


def done() -> bytes:
    before = example("good_body_raw_set_up")
    found = before_after(before, everything("sound"))
    service = date(2026, 9, 18)
    return draw(after_paper(order(), quote(), before, consent(), None, found, "2026-03-18", service))


def tagged() -> bytes:
    return draw(tag_paper("2026-0003", "Anna's violin", [task.say for task in order().tasks], "2026-03-31", SQUARES))


def again() -> bytes:
    """A condition report of a year later, with what its card says and the luthier's picture of its front gone."""
    card = (("Label, as it reads", "Made in a town, 1911"), ("Serial or stamp", "K 12"))
    before = ("2025-03-02", example("good_body_raw_set_up"))
    issued = replace(ISSUED, card=card, sides=(("Front", b""),), before=before)
    return report_pdf(everything("sound"), "condition", issued=issued)


def received() -> bytes:
    return draw(receipt_paper(bill().paid[0], SELLER, "Quote 2026-0003, Anna's violin", None))


PAPERS: Mapping[str, Made] = {
    "parent": partial(reported, "good_body_raw_set_up", "parent"),
    "buyer": partial(reported, "student_violin_cut_corners", "buyer"),
    "buyer-letter": partial(reported, "viola_sixteen_inch", "buyer", "Letter"),
    "buyer-bow": partial(reported, "bow_due_for_work", "buyer"),
    "shop-cello": partial(reported, "cello_from_a_school", "shop"),
    "customer": partial(reported, "repaired_back_crack_disclosed", "customer"),
    "annex": partial(reported, "half_size_for_a_child", "annex"),
    "condition": partial(reported, "everything_looked_at", "condition"),
    "condition-bow": partial(reported, "bow_due_for_work", "condition"),
    "many-findings": lambda: report_pdf(everything("wanting"), "buyer", issued=ISSUED),
    "quote": quoted,
    "quote-agreed": agreed,
    "work-order": worked,
    "tag": tagged,
    "bill": lambda: draw(bill_paper(bill())),
    "credit-note": lambda: draw(bill_paper(credit())),
    "receipt": received,
    "before-and-after": done,
    "offer": lambda: draw(offer_paper(letter(), "Bench and Bow")),
    "condition-again": again,
    "preview": lambda: draw(preview_paper("Bench and Bow", ("1 Hill Lane",), b"")),
}
QUICK = ("parent", "bill", "receipt", "tag")
