"""What every page needs: database, shop, rubrics, clock, and the way from typed answers to a result."""

import json
import pickle
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, field
from datetime import UTC, date, datetime
from functools import partial
from hashlib import sha256
from pathlib import Path

from flask import current_app
from sqlalchemy import Engine

from ..assessment.model import Case
from ..assessment.observing.case import read_case, read_kept
from ..assessment.observing.observe import read_observation
from ..assessment.observing.typed import Answers, Start, Typed
from ..basis.problem import Problem
from ..basis.typed.numbers import read_factor, read_share
from ..basis.units import METRIC
from ..exchange.evaluation_file import file_data, raw_observation, start_data
from ..papers.blocks import Paper
from ..papers.readers import Issued
from ..result.evaluation import Evaluation, evaluate, shop_hash
from ..result.json_form import read_result
from ..result.making.result import result_of
from ..result.model.result import Result
from ..result.shown import in_shown
from ..rubric.rubric import Rubric
from ..rubric.shop import Shop
from ..store.evaluations import Kept
from ..store.folders import rubrics_folder
from ..store.keeping.daily import Keeper
from ..store.known_sales import revision, whole_book
from ..store.records import Records
from ..valuation.sales.sales_book import SalesBook
from .aside import works
from .aside.process import Aside, Run
from .desk.jobs import Fleets
from .people.house import House
from .remembered import Remembered

MOST_RESULTS = 24  # some 3,000 objects each, which the collector of garbage goes through
MOST_PACKED = 256  # a tenth of a megabyte each
MOST_PAGES = 64
MOST_PAPERS = 16
MOST_READ = 64
MOST_EVALUATED = 12  # with their draws in memory: two comparisons of six
Key = tuple[str, ...]


def utc_now() -> str:
    return datetime.now(UTC).isoformat(timespec="microseconds")


@dataclass(frozen=True, slots=True)
class Read:
    """What was typed, as parsed: the case, and the answers that cannot be read (kept as typed, not counted)."""

    case: Case
    wrong: Mapping[str, tuple[Problem, ...]]

    def wrong_of(self, checks: Iterable[str]) -> dict[str, tuple[Problem, ...]]:
        """The mistakes in the answers to these checks."""
        return {name: self.wrong[name] for name in checks if name in self.wrong}


@dataclass(slots=True)
class Service:
    """One running service. Rubrics are loaded once; what was read and worked out is remembered by what it follows from:
    what was typed, the rubric, the book of known sales, and the day.
    """

    engine: Engine
    shop: Shop
    now: Callable[[], str] = utc_now
    house: House = field(default_factory=House)
    fleets: Fleets = field(default_factory=Fleets)
    keeper: Keeper | None = None  # of the daily backup; None where none is made
    folder: Path | None = None  # of the records; None: where the database's file lies
    shop_text: str = ""  # of the file that it was started with
    shop_version: int = 0  # of the figures saved in the browser
    overlays: tuple[Path, ...] = ()  # that it was started with
    opinions: Path | None = None  # the overlay that is switched on in the browser, as a file
    opinions_version: int = 0
    aside: Aside | None = None  # the processes that work results out and draw papers; None: it is done here
    _rubrics: Remembered[str, Rubric] = field(default_factory=lambda: Remembered(MOST_READ))
    _read: Remembered[Key, Read] = field(default_factory=lambda: Remembered(MOST_READ))
    _evaluations: Remembered[Key, Evaluation] = field(default_factory=lambda: Remembered(MOST_EVALUATED))
    _results: Remembered[Key, Result] = field(default_factory=lambda: Remembered(MOST_RESULTS))
    _packed: Remembered[Key, bytes | None] = field(default_factory=lambda: Remembered(MOST_PACKED))
    pages: Remembered[Key, tuple[str, ...]] = field(default_factory=lambda: Remembered(MOST_PAGES))
    _papers: Remembered[bytes, bytes] = field(default_factory=lambda: Remembered(MOST_PAPERS))

    def families(self) -> tuple[str, ...]:
        return tuple(sorted(path.stem for path in (rubrics_folder() / "families").glob("*.yaml")))

    def rubric(self, name: str) -> Rubric:
        """The rubric by name with the workshop's opinions; a mistake in our own rubric files is a bug and raises."""
        return self.rubric_with(name, self.overlays_now)

    @property
    def overlays_now(self) -> tuple[Path, ...]:
        """The overlays that count: those that it was started with, then the one switched on in the browser."""
        return (*self.overlays, *([self.opinions] if self.opinions else []))

    def rubric_with(self, name: str, overlays: tuple[Path, ...]) -> Rubric:
        """The rubric by name under these overlays, which were checked before."""
        key = "\n".join((name, *map(str, overlays)))
        return self._rubrics.of(key, lambda: works.loaded(name, overlays))

    def result(self, kept: Kept) -> Result:
        """The result that was kept with a finished evaluation, or a draft's, worked out from what is typed now."""
        if (frozen := kept.frozen) is not None:
            return self._results.of(("kept", kept.id, str(kept.version)), lambda: read_result(json.loads(frozen)))
        key = self._key(kept)
        return self._results.of(key, lambda: self._reckoned(key, kept))

    def _reckoned(self, key: Key, kept: Kept) -> Result:
        aside = self.aside
        packed = self._packed.of(key, lambda: self._sent(kept, aside.ask)) if aside is not None else None
        found: Result = pickle.loads(packed) if packed else result_of(self.evaluation(kept))
        return found

    def expect(self, kept: Kept) -> None:
        """Have the result of a draft worked out before somebody asks for it, where there is a process for that."""

        def errand(run: Run) -> None:
            self._packed.ahead(self._key(kept), lambda: self._sent(kept, run))

        if self.aside is not None:
            self.aside.ahead(kept.id, errand)

    def _sent(self, kept: Kept, run: Run) -> bytes | None:
        rubric, overlays = self.rubric(kept.rubric), self.overlays_now
        case, book = self.read(kept).case, self.book(kept)
        return run(partial(works.reckon, kept.rubric, overlays, rubric.hash, case, self.shop, book))

    def drawn(self, paper: Paper, size: str = "A4") -> bytes:
        """The PDF of a paper; the same one is drawn once."""
        return self._pdf(partial(works.drawn, paper, size))

    def report(self, result: Result, reader: str, size: str, issued: Issued | None = None) -> bytes:
        """The PDF of a result for a reader; the same one is drawn once."""
        return self._pdf(partial(works.report, result, reader, size, issued))

    def _pdf(self, draw: Callable[[], bytes]) -> bytes:
        key, aside = sha256(pickle.dumps(draw)).digest(), self.aside
        return self._papers.of(key, lambda: draw() if aside is None else aside.ask(draw, long=True))

    def shown(self, kept: Kept) -> Result:
        """The same result in the units that the shop shows: for pages and papers, never for a file."""
        units = self.shop.units.shown
        if units == METRIC:
            return self.result(kept)
        key = ("shown", units.length, units.weight, *self._key(kept))
        return self._results.of(key, lambda: in_shown(self.result(kept), units))

    def evaluation(self, kept: Kept) -> Evaluation:
        """What was typed, worked out with today's rubric and prices, also where a result is kept."""
        return self._evaluations.of(self._key(kept), lambda: self._evaluated(kept))

    def _evaluated(self, kept: Kept) -> Evaluation:
        return evaluate(self.rubric(kept.rubric), self.read(kept).case, self.shop, book=self.book(kept))

    def read(self, kept: Kept) -> Read:
        """What was typed, parsed once a version."""
        rubric = self.rubric(kept.rubric)
        return self._read.of(_content(rubric, kept), lambda: Read(*case_of(rubric, kept.typed)))

    @property
    def photos_folder(self) -> Path:
        return Records(self.folder or Path(self.engine.url.database or ".").parent).photos

    def today(self) -> date:
        return date.fromisoformat(self.now()[:10])

    def book(self, kept: Kept) -> SalesBook:
        """The shop's known sales today, with what was decided about them for this evaluation."""
        book, chosen = whole_book(self.engine), kept.typed.get("sales", {})
        leave_out = {"yes": True, "no": False}.get(chosen.get("leave_out", ""), book.leave_out_much)
        share = typed_share(chosen.get("retention", ""))
        grades = {key: typed_grade(text) for key, text in chosen.get("grades", {}).items()}
        return SalesBook(
            book.sales,
            self.today(),
            leave_out_much=leave_out,
            set_aside=frozenset(chosen.get("set_aside", ())),
            grades={key: factor for key, factor in grades.items() if isinstance(factor, float)},
            retention=share if isinstance(share, float) else None,
        )

    def _key(self, kept: Kept) -> Key:
        """All that a result follows from: what was typed, the rubric, the shop's figures, its known sales, the day."""
        content = _content(self.rubric(kept.rubric), kept)
        return *content, shop_hash(self.shop), str(revision(self.engine)), self.now()[:10]


def _content(rubric: Rubric, kept: Kept) -> Key:
    """What a case follows from: the rubric, and all that was typed but for what says only how it was asked and kept."""
    typed = {name: value for name, value in kept.typed.items() if name not in ("stamps", "plan")}
    return rubric.hash, json.dumps(typed, sort_keys=True)


def typed_share(text: str) -> float | Problem | None:
    """A typed share of value, 0.01 to 1; None where nothing is typed."""
    return read_share(text, least=0.01) if text.strip() else None


def typed_grade(text: str) -> float | Problem | None:
    """A typed grade factor, 0.2 to 5; None where nothing is typed."""
    return read_factor(text, least=0.2, most=5.0) if text.strip() else None


def service() -> Service:
    """The service of the running app."""
    found: Service = current_app.extensions["evaluator"]
    return found


def problems_of(rubric: Rubric, answers: Answers) -> dict[str, tuple[Problem, ...]]:
    """The mistakes in typed answers by check; checks without any are left out."""
    found: dict[str, tuple[Problem, ...]] = {}
    for name, answer in answers.items():
        raw = raw_observation(answer)
        if raw is None or name not in rubric.checks:
            continue
        read = read_observation(rubric, name, raw, "in_person")
        problems = tuple(one for one in read if isinstance(one, Problem))
        if problems:
            found[name] = problems
    return found


def case_of(rubric: Rubric, typed: Typed) -> tuple[Case, Mapping[str, tuple[Problem, ...]]]:
    """The case from what was typed, and the answers that cannot be read (kept as typed, not counted)."""
    case, problems, wrong = read_kept(rubric, file_data(rubric.name, typed, rubric.understood))
    if case is None:
        raise RuntimeError("; ".join(str(problem) for problem in problems))
    return case, wrong


def start_problems(rubric: Rubric, start: Start) -> dict[str, str]:
    """One sentence for each field of the first page that cannot be read."""
    _, problems = read_case(rubric, {**start_data(rubric.name, start), "observations": {}})
    found: dict[str, str] = {}
    for problem in problems:
        name = next((part for part in reversed(problem.where.split(".")) if part not in {"amount", "currency"}), "")
        sentence = f"{problem.what} {problem.what_to_do}".strip()
        found.setdefault(name, sentence[:1].upper() + sentence[1:])
    return found
