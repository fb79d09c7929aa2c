"""The command line: exit codes, JSON alone on standard output, and one sentence for every mistake of the user."""

import io
import json
import re
import subprocess
import sys
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from pathlib import Path

import click
import pytest
from jsonschema import Draft202012Validator

from evaluator.basis.document import MAX_BYTES
from evaluator.cli.main import cli, main
from evaluator.papers.story import READERS
from evaluator.store.folders import default_shop, rubric_read, rubrics_folder
from tests.laws import sampled
from tests.papers.cases import BOW, FEW, text_of

EXAMPLES = sorted((rubrics_folder() / "examples").glob("*.yaml"))


@dataclass(frozen=True)
class Ran:
    code: int
    out: str
    err: str


Run = Callable[..., Ran]


@pytest.fixture
def run(monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> Run:
    """Runs the program with these words and gives its exit code and what it wrote."""

    def ran(*words: str, stdin: bytes = b"") -> Ran:
        monkeypatch.setattr(sys, "argv", ["evaluator", *words])
        monkeypatch.setattr(sys, "stdin", io.TextIOWrapper(io.BytesIO(stdin), encoding="utf-8"))
        code: int | str | None = 0
        try:
            main()
        except SystemExit as stop:
            code = stop.code
        said = capsys.readouterr()
        assert isinstance(code, int)
        return Ran(code, said.out, said.err)

    return ran


@pytest.fixture
def file(tmp_path: Path) -> Callable[[str | bytes], str]:
    """Writes an evaluation file and gives its path."""

    def written(content: str | bytes) -> str:
        path = tmp_path / "evaluation.yaml"
        path.write_bytes(content.encode() if isinstance(content, str) else content)
        return str(path)

    return written


def violin(*observations: str) -> str:
    lines = "".join(f"\n  {line}" for line in observations) or " {}"
    return (
        f"format: 1\nrubric: violin\ninstrument: {{size: 4/4, style: classical, tier: student}}\nobservations:{lines}\n"
    )


def lines(text: str) -> list[str]:
    return [line for line in text.splitlines() if line.strip()]


def test_score_prints_json_and_nothing_else(run: Run, file: Callable[[str], str]) -> None:
    ran = run("score", file(FEW), "--json")
    assert (ran.code, ran.err) == (0, "")
    assert json.loads(ran.out)["verdict"]["advice"] in {
        "look_first",
        "buy",
        "buy_if_it_suits",
        "negotiate",
        "walk_away",
    }


def test_score_in_words_begins_with_the_answer(run: Run, file: Callable[[str], str]) -> None:
    ran = run("score", file(FEW))
    said = json.loads(run("score", file(FEW), "--json").out)
    assert ran.code == 0
    assert said["words"]["sentence"] in lines(ran.out)[:3]
    assert "Look at next" in ran.out


def test_a_dash_reads_standard_input(run: Run, file: Callable[[str], str]) -> None:
    from_file, from_input = run("score", file(FEW), "--json"), run("score", "-", "--json", stdin=FEW.encode())
    assert json.loads(from_file.out) == json.loads(from_input.out)


def test_json_is_read_as_yaml_is(run: Run) -> None:
    data = {"format": 1, "rubric": "violin", "instrument": {"size": "4/4"}, "observations": {"purfling": "painted"}}
    assert run("score", "-", "--json", stdin=json.dumps(data).encode()).code == 0


def test_the_seed_changes_the_draws_and_nothing_else_does(run: Run, file: Callable[[str], str]) -> None:
    one, again, other = (run("score", file(FEW), "--json", "--seed", seed).out for seed in ("1", "1", "2"))
    assert one == again != other


def test_why_prints_the_trace_alone_or_under_its_key(run: Run, file: Callable[[str], str]) -> None:
    alone = json.loads(run("score", file(FEW), "--why").out)
    both = json.loads(run("score", file(FEW), "--why", "--json").out)
    assert both["why"] == alone
    assert alone[0]["about"] == "score" and alone[0]["because"]
    assert "why" not in json.loads(run("score", file(FEW), "--json").out)
    assert "common practice, no source" in json.dumps(alone)


@pytest.mark.parametrize("text", sampled([FEW, BOW], 2), ids=["violin", "bow"])
@pytest.mark.parametrize("reader", list(READERS))
def test_report_writes_a_pdf_and_says_so_on_standard_error(
    run: Run, file: Callable[[str], str], tmp_path: Path, reader: str, text: str
) -> None:
    out = tmp_path / "paper.pdf"
    ran = run("report", file(text), "--for", reader, "--output", str(out), "--paper", "Letter")
    assert (ran.code, ran.out) == (0, "")
    assert str(out) in ran.err
    assert out.read_bytes().startswith(b"%PDF-")


def test_a_report_names_its_evaluation_and_its_day(run: Run, file: Callable[[str], str], tmp_path: Path) -> None:
    for name, day in (("one", "2026-03-02"), ("two", "2026-03-02"), ("three", "2026-03-03")):
        assert run("report", file(FEW), "-o", str(tmp_path / name), "--on", day).code == 0
    one, two, three = ((tmp_path / name).read_bytes() for name in ("one", "two", "three"))
    assert one == two != three
    number = re.search(r"Evaluation ([0-9a-f]{8}), as of 2 March 2026", text_of(one))
    assert number and number[1] in text_of(three)


def test_report_writes_to_standard_output(
    monkeypatch: pytest.MonkeyPatch, capsysbinary: pytest.CaptureFixture[bytes], tmp_path: Path
) -> None:
    path = tmp_path / "evaluation.yaml"
    path.write_text(FEW, encoding="utf-8")
    monkeypatch.setattr(sys, "argv", ["evaluator", "report", str(path), "-o", "-"])
    main()
    said = capsysbinary.readouterr()
    assert said.out.startswith(b"%PDF-") and said.out.rstrip().endswith(b"%%EOF") and said.err == b""


@pytest.mark.parametrize("path", sampled(EXAMPLES, 3), ids=lambda path: path.stem)
def test_every_example_is_scored(run: Run, path: Path) -> None:
    ran = run("score", str(path), "--json")
    assert (ran.code, ran.err) == (0, "")
    result = json.loads(ran.out)
    score, enough = result["score"], result["coverage"] >= 0.12
    assert 0 <= score["low"] <= score["high"] <= 100
    assert score["low"] <= score["expected"] <= score["high"] if enough else score["expected"] is None


@pytest.mark.long  # the usual run asks the same of the rubrics themselves, and each change the command
def test_the_built_in_rubrics_have_no_mistake(run: Run) -> None:
    assert run("rubric", "check") == Ran(0, "", "No mistake found.\n")


def test_rubric_check_quotes_the_line_of_a_mistake(run: Run, tmp_path: Path) -> None:
    shop = tmp_path / "shop.yaml"
    shop.write_text("shop: Mine\ncurency: EUR\n", encoding="utf-8")
    ran = run("rubric", "check", str(shop))
    assert ran.code == 1 and ran.out == ""
    assert "shop.yaml:2:1" in ran.err and 'Did you mean "currency"?' in ran.err and "    curency: EUR" in ran.err


def test_an_overlay_is_told_which_reference_instrument_it_judges_otherwise(run: Run, tmp_path: Path) -> None:
    overlay = tmp_path / "light.yaml"
    light = "change:\n  soundpost_crack_back: {weight: 0.01, outcomes: {open: {bite: 0.01}}}\n"
    overlay.write_text(f"extends: violin\ntitle: Cracks do not matter\n{light}", encoding="utf-8")
    ran = run("rubric", "check", str(overlay))
    assert ran.code == 1
    assert 'example "workshop_violin_open_post_crack": score.at_most should be 58.0 and is ' in ran.err
    assert "school_cello" not in ran.err


def test_the_scale_goes_from_the_worst_to_the_best(run: Run) -> None:
    ran = run("rubric", "scale", "--json")
    assert (ran.code, ran.err) == (0, "")
    scores = [one["now"][0] for one in json.loads(ran.out) if one["enough"]]
    assert scores == sorted(scores)
    assert scores[0] < 25 and scores[-1] > 85


def test_rubric_schema_is_a_json_schema_that_a_rubric_meets(run: Run) -> None:
    schema = json.loads(run("rubric", "schema").out)
    Draft202012Validator.check_schema(schema)
    assert Draft202012Validator(schema).is_valid({"checks": []})
    assert not Draft202012Validator(schema).is_valid({"chekcs": []})


@pytest.mark.parametrize("name", ["purfling", "bridge_new"])
def test_rubric_show_reads_a_check_or_a_job_aloud(run: Run, name: str) -> None:
    ran = run("rubric", "show", name)
    assert ran.code == 0 and name in ran.out


BAD_ANSWERS = [
    ("string_length: {reading: -3 mm}", "5:18", "-3 mm"),
    ('string_length: {reading: "4,5,6"}', "5:18", "4,5,6"),
    ("string_length: {reading: NaN}", "5:18", "NaN"),
    ("string_length: {reading: 1e999}", "5:18", "1e999"),
    ("string_length: {reading: 12 kg}", "5:18", "Enter a length"),
    ("string_length: {reading: [328 mm, 12 kg]}", "5:18", "12 kg"),
    ("no_such_check: painted", "5:3", "no_such_check"),
    ("purflin: painted", "5:3", 'Did you mean "purfling"?'),
    ("purfling: paintd", "5:13", 'Did you mean "painted"?'),
    ("purfling: {outcome: painted, seen_by: a friend}", "5:", "a friend"),
    ("purfling: {outcome: painted, colour: red}", "5:", "colour"),
    ("purfling: 3", "5:13", "purfling"),
    ("string_length: {reading: 328 mm, tool: thumb}", "5:18", "thumb"),
]


@pytest.mark.parametrize(("answer", "place", "words"), BAD_ANSWERS, ids=[answer for answer, _, _ in BAD_ANSWERS])
def test_a_bad_answer_is_one_sentence_with_its_place(
    run: Run, file: Callable[[str], str], tmp_path: Path, answer: str, place: str, words: str
) -> None:
    out = tmp_path / "paper.pdf"
    for command in (("score",), ("score", "--json"), ("report", "-o", str(out))):
        ran = run(*command, file(violin(answer)))
        assert (ran.code, ran.out) == (1, "")
        assert len(lines(ran.err)) == 1
        assert f"evaluation.yaml:{place}" in ran.err and words in ran.err
        assert ran.err.rstrip().endswith((".", "?")) and "Traceback" not in ran.err
    assert not out.exists()


BAD_FILES: list[tuple[str, str | bytes, str]] = [
    ("empty", b"", "the file is empty"),
    ("blank", b"\n  \n", "the file is empty"),
    ("10 MB", b"a" * 10_000_000, "larger than 2 MB"),
    ("10 MB of answers", b"format: 1\n" + b"# words\n" * 1_250_000, "larger than 2 MB"),
    ("binary", bytes(range(256)) * 20, "not a text file"),
    ("a picture", b"\x89PNG\r\n\x1a\n" + bytes(500), "not a text file"),
    ("UTF-16", "format: 1\n".encode("utf-16"), "not a text file"),
    ("a list", b"- format: 1\n", "is a list"),
    ("a word", b"violin\n", "not keys with values"),
    ("no rubric", b"format: 1\n", "rubric"),
    ("unknown rubric", b"format: 1\nrubric: guitar\n", "guitar"),
    ("rubric outside", b"format: 1\nrubric: ../../etc/passwd\n", "rubric"),
    ("broken", b"format: 1\nrubric: [violin\n", "cannot be read"),
    ("a bomb", b"a: &a [x, x]\nb: [*a, *a]\n", "anchors and aliases"),
    ("a tag", b"a: !!python/object:os.system x\n", "tag"),
    ("deep", b"a: " + b"[" * 5000 + b"]" * 5000, "deeper"),
]


@pytest.mark.parametrize(("content", "words"), [row[1:] for row in BAD_FILES], ids=[row[0] for row in BAD_FILES])
def test_a_bad_file_is_told_in_one_sentence_and_nothing_is_written(
    run: Run, file: Callable[[str | bytes], str], tmp_path: Path, content: str | bytes, words: str
) -> None:
    path, out = file(content), tmp_path / "paper.pdf"
    for command in (("score",), ("score", "--json"), ("report", "-o", str(out))):
        ran = run(*command, path)
        assert (ran.code, ran.out) == (1, "")
        assert words in ran.err and "Traceback" not in ran.err
        assert words in lines(ran.err)[0] and len(ran.err) < 600
    assert sorted(one.name for one in tmp_path.iterdir()) == ["evaluation.yaml"]


TEN_MISTAKES = """\
format: 1
rubric: violin
instrumnt: {size: 4/4}
instrument: {size: 5/4, style: jazz, tier: student, year: last}
purpose: bying
asking: {amount: cheap, currency: USD}
observations:
  purflin: painted
  fingerboard_end: bluntt
  string_length: {reading: 12 kg}
  weight_without_chin_rest: {reading: -3 g}
  bridge_height: {reading: "4,5,6"}
"""
TEN_PLACES = ["3:1", "4:20", "4:32", "4:59", "5:10", "6:18", "8:3", "9:20", "10:18", "11:29", "12:18"]


def test_every_mistake_of_a_file_is_told_at_once_in_its_order(run: Run, file: Callable[[str], str]) -> None:
    ran = run("score", file(TEN_MISTAKES))
    found = re.findall(r"^\S+evaluation\.yaml:(\d+:\d+) ", ran.err, re.MULTILINE)
    assert ran.code == 1
    assert found == TEN_PLACES
    assert len(lines(ran.err)) == len(TEN_PLACES) >= 10
    assert all(line.endswith((".", "?")) for line in lines(ran.err))


@pytest.mark.parametrize(
    "words",
    [
        ("score", "/no/such/file.yaml"),
        ("score", "{folder}"),
        ("report", "{file}", "-o", "{folder}/missing/paper.pdf"),
        ("report", "{file}", "-o", "{folder}"),
        ("score", "{file}", "--shop", "/no/such/shop.yaml"),
        ("score", "{file}", "--overlay", "/no/such/overlay.yaml"),
        ("rubric", "check", "/no/such/folder"),
        ("rubric", "show", "no_such_check"),
        ("rubric", "show", "purfling", "--rubric", "guitar"),
    ],
    ids=" ".join,
)
def test_what_is_not_there_is_told_in_one_sentence(
    run: Run, file: Callable[[str], str], tmp_path: Path, words: tuple[str, ...]
) -> None:
    path = file(FEW)
    ran = run(*(word.format(file=path, folder=tmp_path) for word in words))
    assert (ran.code, ran.out) == (1, "")
    assert len(lines(ran.err)) == 1 and ran.err.rstrip().endswith((".", "?"))
    assert sorted(one.name for one in tmp_path.iterdir()) == ["evaluation.yaml"]


@pytest.mark.parametrize(
    "words",
    [
        ("score",),
        ("score", "a", "b"),
        ("score", "a", "--jsn"),
        ("nothing",),
        ("report", "a"),
        ("report", "a", "-o", "b", "--for", "thief"),
        ("report", "a", "-o", "b", "--paper", "A5"),
        ("score", "a", "--seed", "-1"),
        ("serve", "--port", "70000"),
    ],
    ids=" ".join,
)
def test_wrong_usage_exits_2(run: Run, words: tuple[str, ...]) -> None:
    ran = run(*words)
    assert (ran.code, ran.out) == (2, "")
    assert "Usage:" in ran.err or "Error:" in ran.err


@pytest.mark.parametrize("words", [("--help",), ("score", "-h"), ("rubric", "--help"), ("--version",)], ids=" ".join)
def test_help_and_version_exit_0(run: Run, words: tuple[str, ...]) -> None:
    ran = run(*words)
    assert ran.code == 0 and ran.out and not ran.err


@pytest.fixture
def broken_command() -> Iterator[str]:
    """A command with a bug, for as long as a test."""

    @click.command("broken")
    def broken() -> None:
        raise ZeroDivisionError("a bug")

    cli.add_command(broken)
    yield "broken"
    del cli.commands["broken"]


def test_a_bug_exits_3_with_a_reference_and_a_traceback(run: Run, broken_command: str) -> None:
    ran = run(broken_command)
    assert (ran.code, ran.out) == (3, "")
    assert re.search(r"\(reference [0-9a-f]{8}\)", ran.err)
    assert "ZeroDivisionError: a bug" in ran.err


def test_a_file_at_the_limit_is_still_read(run: Run, file: Callable[[bytes], str]) -> None:
    text = FEW.encode()
    assert run("score", file(text + b"#" * (MAX_BYTES - len(text))), "--json").code == 0
    assert run("score", file(text + b"#" * (MAX_BYTES - len(text) + 1)), "--json").code == 1


@pytest.mark.parametrize("indent", ["", "observations:\n  ", "observations:\n  purfling:\n    outcome: inlaid\n    "])
def test_of_many_mistakes_fifty_are_listed_and_the_rest_is_counted(
    run: Run, file: Callable[[str | bytes], str], indent: str
) -> None:
    before, _, space = indent.rpartition("\n")
    lines = "".join(f"{space}key_{i}: 1\n" for i in range(400))
    told = run("score", file(f"format: 1\nrubric: violin\n{before}\n{lines}")).err.splitlines()
    assert len(told) == 51 and told[-1] == "And 350 more."


UNASKED = {"scipy", "flask", "sqlalchemy", "reportlab", "importlib.metadata", "zipfile", "tempfile", "xml.etree",
           "difflib", "traceback", "numpy.ma", "pint"}  # fmt: skip


def test_a_score_loads_nothing_that_it_does_not_ask() -> None:
    """What would cost a cold command its time for nothing; `python -m tests.bench cold` measures the whole."""
    rubric_read(rubrics_folder(), "violin")
    default_shop(rubrics_folder() / "shop.yaml")
    told = (
        "import sys\nfrom evaluator.cli.main import main\nmain()\n"
        f"sys.exit(', '.join({UNASKED!r} & sys.modules.keys()) or None)"
    )
    command = [
        sys.executable,
        "-c",
        told,
        "score",
        str(rubrics_folder() / "examples" / "student_violin_cut_corners.yaml"),
    ]
    done = subprocess.run(command, capture_output=True, text=True, check=False, timeout=60)
    assert (done.returncode, done.stderr) == (0, "")
