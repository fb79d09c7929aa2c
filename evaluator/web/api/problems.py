"""Refusals as RFC 9457 problem details: what kind, in one sentence, and each mistake with where and what to do."""

from collections.abc import Iterable, Sequence
from typing import Literal

from flask import Response, json, request
from pydantic import BaseModel, ConfigDict, Field, ValidationError
from werkzeug.exceptions import HTTPException, MethodNotAllowed

from ...basis.problem import MOST_TOLD, Problem

BASE = "/api/1"
MEDIA = "application/problem+json"
Kind = Literal[
    "unreadable", "no_token", "no_scope", "not_found", "wrong_method", "clash", "too_large", "wrong_media", "invalid",
    "too_many", "fault", "unavailable",
]  # fmt: skip
TITLES: dict[Kind, tuple[int, str]] = {
    "unreadable": (400, "What was sent cannot be read as JSON"),
    "no_token": (401, "No token, or one that does not hold"),
    "no_scope": (403, "The token does not reach so far"),
    "not_found": (404, "There is nothing at this address"),
    "wrong_method": (405, "This address does not take that method"),
    "clash": (409, "It is not as the request takes it to be"),
    "too_large": (413, "What was sent is too large"),
    "wrong_media": (415, "What was sent is not JSON"),
    "invalid": (422, "What was sent has mistakes"),
    "too_many": (429, "Too many tries"),
    "fault": (500, "The program failed; the fault is ours"),
    "unavailable": (503, "The records cannot be reached or written now"),
}
BY_STATUS: dict[int, Kind] = {status: kind for kind, (status, _) in TITLES.items()}


class Mistake(BaseModel):
    """One mistake: its code, where it is, what is wrong, what to do."""

    model_config = ConfigDict(frozen=True, extra="forbid")
    code: str
    where: str
    what: str
    what_to_do: str


class Details(BaseModel):
    """A refusal (RFC 9457). `type` names its kind and does not change; `detail` is one sentence about this one."""

    model_config = ConfigDict(frozen=True, extra="forbid")
    type: str = Field(description="A URN that names the kind of refusal")
    title: str
    status: int
    detail: str
    errors: tuple[Mistake, ...] = ()


class RefusedError(Exception):
    """A refusal on its way to the answer."""

    def __init__(self, kind: Kind, detail: str = "", problems: Sequence[Problem] = ()) -> None:
        self.kind, self.problems = kind, tuple(problems[:MOST_TOLD])
        self.detail = detail or (_said(self.problems[0]) if self.problems else TITLES[kind][1] + ".")
        super().__init__(self.detail)


def is_for_programs() -> bool:
    """Whether this request is one to the interface for programs."""
    return request.path == BASE or request.path.startswith(f"{BASE}/")


def refused(error: RefusedError) -> Response:
    """The answer to a refused request."""
    status, title = TITLES[error.kind]
    found = Details(
        type=f"urn:evaluator:problem:{error.kind.replace('_', '-')}",
        title=title,
        status=status,
        detail=error.detail,
        errors=tuple(_mistake(one) for one in error.problems),
    )
    answer = Response(json.dumps(found.model_dump(mode="json")), status, mimetype=MEDIA)
    if status == 401:
        answer.headers["WWW-Authenticate"] = 'Bearer realm="api"'
    return answer


def told(error: HTTPException) -> Response:
    """What the web server itself refuses, in the same form."""
    kind = BY_STATUS.get(error.code or 500, "unreadable")
    answer = refused(RefusedError(kind))
    if isinstance(error, MethodNotAllowed) and error.valid_methods:
        answer.headers["Allow"] = ", ".join(sorted(error.valid_methods))
    return answer


def shape_problems(error: ValidationError) -> list[Problem]:
    """What does not have the shape that the document names."""
    return [Problem("api.shape", path(one["loc"]), f"{one['msg']}.") for one in error.errors(include_url=False)]


def path(steps: Iterable[object]) -> str:
    """'instrument.size'; the names of union members that pydantic puts between are left as they are."""
    return ".".join(str(step) for step in steps)[:200]


def _mistake(one: Problem) -> Mistake:
    return Mistake(code=one.code, where=one.where, what=one.what, what_to_do=one.what_to_do)


def _said(one: Problem) -> str:
    return f"{one.where}: {one.what} {one.what_to_do}".strip(": ")
