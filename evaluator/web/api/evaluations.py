"""Operations on evaluations: begin, list, read, answer, finish; the result, the paper, and what can be answered."""

from collections.abc import Mapping, Sequence

from ...assessment.observing.case import read_case
from ...assessment.observing.observe import read_observation
from ...basis.problem import Problem
from ...exchange.evaluation_file import answer_of, file_data, typed_from
from ...result.json_form import result_json
from ...result.model.result import Result
from ...rubric.rubric import Rubric
from ...store.evaluations import DRAFT, Conflict, Kept, create, find, finish, newest, save_answers
from ...wording.answer.verdict import with_words
from ..service import service
from .given import CheckAsked, Evaluation, EvaluationsListed, OutcomeNamed, RubricGiven, Summary
from .operations import Made, operation
from .problems import BASE, Mistake, RefusedError
from .sent import AnswersSent, EvaluationFile, Page, PaperWanted, VersionSent

WRITER = "program"


@operation("GET", "/rubrics/{family}", "What can be answered of a family", "evaluations:read", RubricGiven)
def read_rubric(family: str) -> RubricGiven:
    if family not in service().families():
        raise RefusedError("not_found")
    rubric = service().rubric(family)
    checks = tuple(
        CheckAsked(
            check=one.check,
            part=one.part,
            ask=one.ask,
            term=one.term,
            kind=one.kind,
            who=one.who,
            minutes=one.minutes,
            unit=one.measure.unit if one.measure else None,
            outcomes=tuple(OutcomeNamed(outcome=name, say=outcome.say) for name, outcome in one.outcomes.items()),
        )
        for one in rubric.checks.values()
        if one.kind != "derived"
    )
    return RubricGiven(
        rubric=rubric.name, family=rubric.family, version=rubric.version, sizes=rubric.sizes, checks=checks
    )


@operation(
    "GET", "/evaluations", "The evaluations that were changed last", "evaluations:read", EvaluationsListed, query=Page
)
def list_evaluations(query: Page) -> EvaluationsListed:
    return EvaluationsListed(
        evaluations=tuple(Summary(**_summary(one)) for one in newest(service().engine, query.limit))
    )


@operation(
    "POST", "/evaluations", "Begin an evaluation", "evaluations:write", Evaluation, body=EvaluationFile, status=201
)
def begin_evaluation(body: EvaluationFile) -> Made:
    data = body.model_dump(mode="json", exclude_none=True)
    if body.rubric not in service().families():
        raise RefusedError(
            "invalid", f'There is no rubric "{body.rubric}". There is {", ".join(service().families())}.'
        )
    _, problems = read_case(service().rubric(body.rubric), data)
    if problems:
        raise RefusedError("invalid", problems=problems)
    identity = create(service().engine, body.rubric, typed_from(data), service().now())
    return Made(evaluation_given(kept_or_refused(identity)), f"{BASE}/evaluations/{identity}")


@operation("GET", "/evaluations/{identity}", "An evaluation as it stands", "evaluations:read", Evaluation)
def read_evaluation(identity: str) -> Evaluation:
    return evaluation_given(kept_or_refused(identity))


@operation("PUT", "/evaluations/{identity}/answers", "Answer checks", "evaluations:write", Evaluation, body=AnswersSent)
def answer_checks(identity: str, body: AnswersSent) -> Evaluation:
    kept = kept_or_refused(identity)
    rubric = service().rubric(kept.rubric)
    sent = {
        name: one if one is None or isinstance(one, str | float) else one.model_dump(mode="json", exclude_none=True)
        for name, one in body.answers.items()
    }
    wrong = _wrong_answers(rubric, sent)
    if wrong:
        raise RefusedError("invalid", problems=wrong)
    answers = {name: answer_of(one) for name, one in sent.items()}
    saved = save_answers(service().engine, identity, body.version, answers, service().now(), WRITER)
    return evaluation_given(_saved(saved))


@operation(
    "POST", "/evaluations/{identity}/finish", "Freeze its figures", "evaluations:write", Evaluation, body=VersionSent
)
def finish_evaluation(identity: str, body: VersionSent) -> Evaluation:
    kept = kept_or_refused(identity)
    found = service().result(kept)
    now = service().now()
    frozen = finish(service().engine, identity, body.version, result_json(found), found.rubric.hash, now)
    return evaluation_given(_saved(frozen))


@operation(
    "GET", "/evaluations/{identity}/result", "Its result, as `score --json` prints it", "evaluations:read", Result
)
def read_result(identity: str) -> Result:
    return with_words(service().result(kept_or_refused(identity)))


@operation(
    "GET",
    "/evaluations/{identity}/report.pdf",
    "Its paper for a reader",
    "evaluations:read",
    bytes,
    query=PaperWanted,
    media="application/pdf",
)
def read_paper(identity: str, query: PaperWanted) -> bytes:
    return service().report(service().result(kept_or_refused(identity)), query.for_, query.paper)


def kept_or_refused(identity: str) -> Kept:
    kept = find(service().engine, identity)
    if kept is None:
        raise RefusedError("not_found", "There is no evaluation of this id.")
    return kept


def evaluation_given(kept: Kept) -> Evaluation:
    rubric = service().rubric(kept.rubric)
    wrong = service().read(kept).wrong if kept.state == DRAFT else {}
    return Evaluation(
        **_summary(kept),
        file=file_data(rubric.name, kept.typed, rubric.understood),
        unreadable=tuple(
            Mistake(code=one.code, where=name, what=one.what, what_to_do=one.what_to_do)
            for name, problems in wrong.items()
            for one in problems
        ),
    )


def _summary(kept: Kept) -> dict[str, object]:
    names = ("id", "version", "state", "title", "rubric", "created", "changed", "made_from")
    return {name: getattr(kept, name) for name in names}


def _saved(saved: Kept | Conflict | None) -> Kept:
    if saved is None:
        raise RefusedError("clash", "It is finished and cannot be changed.")
    if isinstance(saved, Conflict):
        raise RefusedError("clash", f"Somebody else changed it: it is at version {saved.kept.version}. Read it again.")
    return saved


def _wrong_answers(rubric: Rubric, sent: Mapping[str, object]) -> Sequence[Problem]:
    found: list[Problem] = []
    for name, one in sent.items():
        read = read_observation(rubric, name, one, "in_person")
        found += [problem for problem in read if isinstance(problem, Problem)]
    return found
