"""`compare` and `trade-in`: JSON and words, the questions before any figure, exit codes, papers."""

import json
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner, Result

from evaluator.choosing.trade_in import as_said
from evaluator.cli.main import MistakesError, cli
from tests.papers.cases import in_numbers

HEAD = "format: 1\nrubric: violin\ninstrument: {size: 4/4, style: classical, tier: student}\n"
SEEN = "observations:\n  set_up_by: factory_only\n  soundpost_standing: fallen\n"
SETTLED = ("--protected", "none", "--owner-shown")


@pytest.fixture
def write(tmp_path: Path) -> Any:
    def written(name: str, asking: str | None = "500", more: str = "", ready: str | None = "1200 ") -> str:
        text = HEAD + (f"title: {name}\n" if name else "")
        text += f"asking: {{amount: {asking}, currency: USD}}\n" if asking else ""
        text += f"ready_value: {{amount: {ready}, currency: USD}}\n" if ready else ""
        path = tmp_path / f"{name or 'nameless'}.yaml"
        path.write_text(text + (more or "observations: {}\n"))
        return str(path)

    return written


def run(*arguments: str) -> Result:
    return CliRunner().invoke(cli, list(arguments), catch_exceptions=True)


def problems(result: Result) -> list[str]:
    assert isinstance(result.exception, MistakesError), result.exception
    return [problem.code for problem in result.exception.problems]


def found(result: Result) -> dict[str, Any]:
    assert result.exception is None, result.exception
    value: dict[str, Any] = in_numbers(json.loads(result.stdout))
    return value


def test_the_cheaper_of_two_equal_ones_comes_first(write: Any) -> None:
    result = found(run("compare", write("dear", "900"), write("cheap", "500"), "--json"))
    assert [one["name"] for one in result["candidates"]] == ["cheap", "dear"]
    assert [one["place"] for one in result["candidates"]] == [1, 0]
    assert sum(one["first_share"] for one in result["candidates"]) == pytest.approx(1, abs=1e-3)
    for one in result["candidates"]:
        assert one["cost_to_own"] == pytest.approx(one["asking"] + one["work"], abs=0.02)
        assert one["cost_to_own"] <= one["cost_to_own_p80"] + 0.01
        assert one["score"]["low"] < one["score"]["high"]
        assert one["score"]["expected"] is None  # too little was seen of these for a number


def test_money_is_text_with_its_currency_in_json(write: Any) -> None:
    told = json.loads(run("compare", write("a", "900"), write("b", "500"), "--json").stdout)
    assert told["candidates"][0]["asking"] == {"amount": "500.00", "currency": "USD"}
    told = json.loads(run("trade-in", write("a"), *SETTLED, "--json").stdout)
    assert set(told["offers"][0]["to_owner"]) == {"amount", "currency"}
    assert told["ticket_price"] == {"amount": "1200.00", "currency": "USD"}


def test_one_beside_itself_is_a_tie_under_two_names(write: Any) -> None:
    path = write("same")
    result = found(run("compare", path, path, "--json"))
    assert {one["name"] for one in result["candidates"]} == {"same", "same (2)"}
    assert [one["first_share"] for one in result["candidates"]] == pytest.approx([0.5, 0.5])
    assert result["sentence"].startswith("It is close")


def test_nothing_is_praised_that_ought_to_be_left(write: Any) -> None:
    result = found(run("compare", write("one", "5000"), write("two", "6000"), "--json"))
    assert [one["verdict"]["advice"] for one in result["candidates"]] == ["walk_away", "walk_away"]
    assert result["sentence"] == "None of them is worth buying at the price that is asked."


def test_a_little_seen_leader_is_only_so_far_ahead(write: Any) -> None:
    result = found(run("compare", write("cheap", "480"), write("dear", "500"), "--json"))
    assert result["unsettled"] and result["look_next"]["minutes"] > 0
    assert "Look further" in result["sentence"] or "close" in result["sentence"]


def test_set_up_money_counts_as_the_shop_says_and_once_when_asked(write: Any) -> None:
    paths = write("a"), write("b", more=SEEN)
    notes = found(run("compare", *paths, "--json"))["notes"]
    assert len(notes) == 1 and "no source" in notes[0]
    assert found(run("compare", *paths, "--set-up-counts-once", "--json"))["notes"] == []


@pytest.mark.parametrize("count", [1, 7])
def test_two_to_six_are_compared(write: Any, count: int) -> None:
    assert problems(run("compare", *[write("a")] * count)) == ["compare.count"]


def test_a_candidate_without_a_price_is_named(write: Any) -> None:
    result = run("compare", write("a"), write("priceless", None), "--json")
    assert problems(result) == ["compare.asking"] and result.stdout == ""
    assert isinstance(result.exception, MistakesError) and result.exception.problems[0].where == "priceless"


def test_words_name_every_candidate_and_say_what_the_figures_are(write: Any) -> None:
    text = run("compare", write("first one"), write("second one", "700")).stdout
    assert "first one" in text and "second one" in text and "not looked at yet" in text
    assert "not an insurance or legal appraisal" in text


def test_no_figure_before_the_questions_are_settled(write: Any) -> None:
    path = write("a")
    unasked = run("trade-in", path, "--json")
    assert set(problems(unasked)) == {"trade_in.materials_unknown", "trade_in.owner", "trade_in.identity"}
    assert unasked.stdout == ""
    assert problems(run("trade-in", path, "--protected", "forbidden", "--owner-shown")) == [
        "trade_in.materials_not_allowed"
    ]
    noted = ("--protected", "documented", "--owner-shown", "--identity-not-shown")
    assert problems(run("trade-in", path, *noted)) == ["trade_in.identity"]


def test_what_was_seen_of_protected_materials_answers_the_question(write: Any) -> None:
    for outcome, expected in (("none", "none"), ("documented", "allowed")):
        more = f'observations:\n  restricted_materials_papers: "{outcome}"\n'
        assert found(run("trade-in", write(outcome, more=more), "--owner-shown", "--json"))["materials"] == expected
    more = "observations:\n  restricted_materials_papers: unlawful\n"
    assert problems(run("trade-in", write("u", more=more), "--owner-shown")) == ["trade_in.materials_not_allowed"]
    more = 'observations:\n  restricted_materials_papers: {outcome: "none", seen_by: seller_statement}\n'
    assert problems(run("trade-in", write("s", more=more), "--owner-shown")) == ["trade_in.materials_unknown"]


def test_the_offers_follow_the_shops_terms(write: Any) -> None:
    result = found(run("trade-in", write("a", more=SEEN), *SETTLED, "--new-price", "2000", "--json"))
    offers = {one["kind"]: one for one in result["offers"]}
    terms, sale, ready = result["terms"], result["sale_price"], result["making_ready"]
    assert list(offers) == ["cash", "trade", "consignment", "alone"]
    assert sale == pytest.approx(1200 * terms["sale_share_of_ticket"])
    cash = (sale * (1 - terms["margin"]) - ready) / (1 + terms["holding"])
    assert offers["cash"]["to_owner"] == as_said(cash)
    allowance = terms["share_of_new_margin"] * 2000 * terms["margin"]
    assert offers["trade"]["to_owner"] == as_said(cash + allowance)
    net = sale * (1 - terms["commission"])
    paid = result["work"] + result["not_seen"]
    assert result["not_seen"] > 0
    assert offers["consignment"]["to_owner"] == pytest.approx(net - paid, abs=0.02)
    assert offers["consignment"]["expected"] == pytest.approx(net * terms["chance_of_sale"] - paid, abs=0.02)
    most = max(offers.values(), key=lambda one: one["shop_earns"])
    assert result["profits_shop_most"] == most["kind"]
    assert most["title"][1:] in result["shop_sentence"]


def test_no_trade_allowance_without_a_new_instrument(write: Any) -> None:
    kinds = [one["kind"] for one in found(run("trade-in", write("a"), *SETTLED, "--json"))["offers"]]
    assert kinds == ["cash", "consignment", "alone"]


def test_no_cash_offer_where_the_work_takes_all(write: Any) -> None:
    result = found(run("trade-in", write("a", more=SEEN), *SETTLED, "--ticket", "20", "--json"))
    assert result["nothing_left"] and result["sentence"].startswith("No cash offer")
    assert result["cash_steps"][-1]["say"] == "What is left" and result["cash_steps"][-1]["amount"] < 0
    assert result["ticket_price_from"] == "the shop's own figure"


@pytest.mark.parametrize("ticket", ["60", "120", "777", "1333.33", "2500"])
@pytest.mark.parametrize("new_price", ["0", "430", "2000"])
def test_the_steps_to_the_cash_add_up_in_whole_units(write: Any, ticket: str, new_price: str) -> None:
    arguments = (*SETTLED, "--ticket", ticket, "--new-price", new_price, "--json")
    result = found(run("trade-in", write("a", more=SEEN), *arguments))
    running = 0
    for step in result["cash_steps"]:
        running = running if step["sum"] else running + step["amount"]
        assert not step["sum"] or step["amount"] == running
    offered = {one["kind"]: round(one["to_owner"]) for one in result["offers"]}
    sums = [step["amount"] for step in result["cash_steps"] if step["sum"]]
    assert sums == [offered[kind] for kind in ("cash", "trade") if kind in offered] or sums[0] <= 0


@pytest.mark.parametrize("ticket", ["20", "300", "900"])
def test_what_is_not_offered_earns_the_shop_nothing_and_is_never_its_best(write: Any, ticket: str) -> None:
    arguments = (*SETTLED, "--ticket", ticket, "--new-price", "100", "--json")
    result = found(run("trade-in", write("a", more=SEEN), *arguments))
    closed = [one["kind"] for one in result["offers"] if one["kind"] in {"cash", "trade"} and one["to_owner"] <= 0]
    assert result["profits_shop_most"] not in closed


def test_words_where_every_way_costs_the_owner(write: Any) -> None:
    text = run("trade-in", write("a", more=SEEN), *SETTLED, "--ticket", "20").stdout
    assert "Nothing is left to offer." in text and "Not offered, so the shop earns nothing by it." in text
    assert "Every way costs the owner more than it brings." in text and "Costs you $" in text


def test_words_say_openly_what_the_shop_earns(write: Any) -> None:
    text = run("trade-in", write("a"), *SETTLED).stdout
    assert "The shop earns most with this one" in text and "That it does not sell: about 1 in 4" in text
    assert "ask elsewhere" in text


@pytest.mark.parametrize("paper", ["A4", "Letter"])
def test_both_papers_are_one_page(write: Any, tmp_path: Path, paper: str) -> None:
    from pypdf import PdfReader

    path, out = write("a", more=SEEN), tmp_path / "out.pdf"
    for arguments in (("compare", *[path] * 6), ("trade-in", path, *SETTLED, "--new-price", "2000")):
        result = run(*arguments, "--paper", paper, "-o", str(out), "--json")
        assert result.exception is None
        pages = PdfReader(out).pages
        assert len(pages) == 1 and "insurance or legal appraisal" in " ".join(pages[0].extract_text().split())


def test_a_paper_that_cannot_be_written_is_told(write: Any, tmp_path: Path) -> None:
    result = run("compare", write("a"), write("b"), "-o", str(tmp_path / "none" / "x.pdf"))
    assert problems(result) == ["file.unwritable"]


SALES = "name,sold_on,kind,price,currency,family,size,tier\n" + "".join(
    f"One,2026-0{month}-01,dealer_sale,{price},USD,violin,4/4,student\n"
    for month, price in ((1, 1800), (2, 1900), (3, 2000))
)


MADE = "".join(
    f"  {name}: {outcome}\n"
    for name, outcome in {
        "purfling": "inlaid_fibre", "purfling_corners": "tidy", "varnish_type": "nitro", "scroll_carving": "plain",
        "fhole_workmanship": "fair", "interior_finish": "furry", "varnish_application": "clean_spray",
        "plate_carved_or_pressed": "machine_carved", "linings": "plain", "fingerboard_material": "other_hardwood",
    }.items()
)  # fmt: skip


def test_known_sales_go_before_the_own_figure_in_every_command(write: Any, tmp_path: Path) -> None:
    more = f"observations:\n{MADE}"
    file, known = write("one", more=more), tmp_path / "sales.csv"
    known.write_text(SALES)
    told = found(run("score", file, "--sales", str(known), "--json"))
    verdict, words = told["verdict"], told["words"]
    assert verdict["ready_value_kind"] == "comparables"
    assert words["ready_value_from"].startswith(f"from 3 sales of {known}; between $1,")
    assert "your own figure of $1,200" in words["ready_value_from"]
    assert found(run("score", file, "--json"))["words"]["ready_value_from"] == "your own figure"
    rows = found(run("compare", file, write("two", more=more), "--sales", str(known), "--json"))["candidates"]
    assert {row["verdict"]["ready_value"] for row in rows} == {verdict["ready_value"]}
    offer = found(run("trade-in", file, *SETTLED, "--sales", str(known), "--json"))
    assert offer["ticket_price"] == verdict["ready_value"]
    paper = tmp_path / "out.pdf"
    assert run("report", file, "--sales", str(known), "-o", str(paper)).exception is None
    assert paper.read_bytes().startswith(b"%PDF")


def test_one_bad_row_of_known_sales_stops_with_its_place(write: Any, tmp_path: Path) -> None:
    known = tmp_path / "sales.csv"
    known.write_text(SALES + "Bad,2026-01-01,dealer_sale,lots,USD,violin,4/5,student\n")
    assert problems(run("score", write("one"), "--sales", str(known))) == ["money.not_an_amount", "sales.word"]
    known.write_bytes(b"\xff\xfe\x00")
    assert problems(run("score", write("one"), "--sales", str(known))) == ["sheet.encoding"]


def test_the_moved_ones_are_left_out_by_a_switch(write: Any, tmp_path: Path) -> None:
    known = tmp_path / "sales.csv"
    known.write_text(SALES + "Far,2026-01-01,auction,200,USD,violin,4/4,student\n")
    for switch, count in (((), 4), (("--leave-out-moved",), 3)):
        verdict = found(run("score", write("one"), "--sales", str(known), "--json", *switch))["verdict"]
        assert len(verdict["known_sales"]["rows"]) == count


def test_a_guide_is_fitted_to_sales_and_goes_into_a_shop_file(write: Any, tmp_path: Path) -> None:
    known, shop = tmp_path / "sales.csv", tmp_path / "shop.yaml"
    rows = "".join(
        f"No {n},2026-01-01,dealer_sale,{900 + 20 * n},USD,violin,4/4,student,factory work\n" for n in range(9)
    )
    known.write_text(f"{SALES.splitlines()[0]},made as\n{rows}")
    told = run("rubric", "guide", "--sales", str(known))
    assert "violin, in USD: 9 sales" in told.stdout
    assert "factory work: now 750 (350 to 1,500); by 9 sales" in told.stdout
    shop.write_text(f"extends: default\nshop: Mine\n{run('rubric', 'guide', '--sales', str(known), '--yaml').stdout}")
    own = run("rubric", "guide", "--sales", str(known), "--shop", str(shop)).stdout
    assert "factory work: now 750 " not in own and "workshop work: now 2,500 " in own
    known.write_text(f"{SALES.splitlines()[0]},made as\nOne,2026-01-01,dealer_sale,5,USD,violin,4/4,student,gold\n")
    assert problems(run("rubric", "guide", "--sales", str(known))) == ["sales.word"]
