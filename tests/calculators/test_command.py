"""`evaluator calc` as it is typed: JSON alone on standard output, one sentence on standard error, exit 1."""

import json
import subprocess
import sys

import pytest


def run(*arguments: str) -> subprocess.CompletedProcess[str]:
    command = [sys.executable, "-m", "evaluator", "calc", *arguments]
    return subprocess.run(command, capture_output=True, text=True, check=False, timeout=60)


def test_the_agreed_call() -> None:
    done = run("moisture", "temperature=70degF", "humidity=50%", "--json")
    assert (done.returncode, done.stderr) == (0, "")
    found = json.loads(done.stdout)
    assert found["value"] == pytest.approx(9.2, abs=0.066)  # Wood Handbook, table 4-2, 70 F, 50 %
    assert set(found) == {"name", "value", "unit", "source"}


def test_the_list() -> None:
    done = run()
    assert done.returncode == 0
    assert "peg_fit" in done.stdout
    assert len(json.loads(run("--json").stdout)) == 18


@pytest.mark.parametrize(
    ("arguments", "said"),
    [
        (("moisture", "temperature=70degF", "humidity=130%", "--json"), "130 % is above 100 %"),
        (("moisture", "--json"), "temperature: it is missing"),
        (("moist", "temperature=70degF"), 'Did you mean "moisture"?'),
        (("moisture", "wet"), '"wet" is not an input'),
        (("bridge_arch", "notch=0,0;10,5;20,10"), "lie on a line"),
    ],
)
def test_mistakes(arguments: tuple[str, ...], said: str) -> None:
    done = run(*arguments)
    assert (done.returncode, done.stdout) == (1, "")
    assert said in done.stderr
    assert "Traceback" not in done.stderr


def test_no_slow_library_is_loaded() -> None:
    """A cold start must not pay for scipy or pint."""
    code = (
        "import sys, evaluator.calculators.answering as a\n"
        "print([m for m in ('scipy', 'pint', 'flask', 'pandas') if m in sys.modules])"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True, timeout=60)
    assert done.stdout.strip() == "[]"
