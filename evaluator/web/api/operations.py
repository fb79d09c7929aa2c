"""What programs can do, each told once: address, scope, what it takes and gives. Served and described from the same.

An operation is a function that takes the parts of its address, its query and its body as checked types, and gives a
value of its type; what speaks against it is raised as a refusal. With an `Idempotency-Key` a request that is sent twice
is done once.
"""

import re
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from functools import cached_property
from typing import Literal, TypedDict, TypeVar, Unpack

from flask import Response, g, json, request
from pydantic import BaseModel, TypeAdapter, ValidationError

from ...result.json_form import money_context
from ...result.model.result import Result
from ...store.desk.tokens import Answered, Token, begin_answer, end_answer, find_token, request_hash
from ...store.people import note_deed
from ..service import service
from .problems import RefusedError, refused, shape_problems

Scope = Literal[
    "evaluations:read",
    "evaluations:write",
    "quotes:read",
    "quotes:write",
    "sales:read",
    "sales:write",
    "offers:read",
    "offers:write",
]
SCOPES: Mapping[Scope, str] = {
    "evaluations:read": "Read evaluations, results and papers",
    "evaluations:write": "Begin evaluations, answer their checks, finish them",
    "quotes:read": "Read quotes and their papers",
    "quotes:write": "Make quotes and offer them",
    "sales:read": "Read the known sales",
    "sales:write": "Add known sales",
    "offers:read": "Read offers for instruments, and how they ended",
    "offers:write": "Make offers of what the shop can give for an instrument",
}
Method = Literal["GET", "POST", "PUT"]
KEY = "Idempotency-Key"
KEY_FORM = re.compile(r"[A-Za-z0-9_.:-]{1,100}")
PATH_ID = r"^[0-9a-f]{12}$"


@dataclass(frozen=True)
class Operation:
    """One operation. `query` and `body` are models (None: it takes none); `gives` any type that pydantic knows."""

    name: str
    method: Method
    path: str
    say: str
    scope: Scope
    act: Callable[..., object]
    gives: type[object]
    body: type[BaseModel] | None = None
    query: type[BaseModel] | None = None
    status: int = 200
    media: str = "application/json"

    @cached_property
    def adapter(self) -> TypeAdapter[object]:
        return TypeAdapter(self.gives)

    @property
    def rule(self) -> str:
        """The path as Flask routes it."""
        return self.path.replace("{", "<").replace("}", ">")

    @property
    def arguments(self) -> tuple[str, ...]:
        """The names in its path."""
        return tuple(re.findall(r"\{(\w+)\}", self.path))


@dataclass(frozen=True, slots=True)
class Made:
    """What was made, with its own address."""

    value: object
    location: str


class More(TypedDict, total=False):
    """What only some operations say of themselves."""

    body: type[BaseModel]
    query: type[BaseModel]
    status: int
    media: str


Act = TypeVar("Act", bound=Callable[..., object])
OPERATIONS: list[Operation] = []


def operation(
    method: Method, path: str, say: str, scope: Scope, gives: type[object], **more: Unpack[More]
) -> Callable[[Act], Act]:
    """Registers a function as an operation under its own name."""

    def registered(act: Act) -> Act:
        OPERATIONS.append(Operation(act.__name__, method, path, say, scope, act, gives, **more))
        return act

    return registered


def run(one: Operation, **arguments: str) -> Response:
    """Serve one request to an operation."""
    try:
        token = _token_for(one.scope)
        given: dict[str, object] = dict(arguments)
        for name in one.arguments:
            if name in ("identity", "quote", "offer") and not re.fullmatch(PATH_ID, arguments[name]):
                raise RefusedError("not_found")
        if one.query is not None:
            given["query"] = _checked(one.query, request.args.to_dict(), from_text=True)
        if one.body is not None:
            given["body"] = _checked(one.body, _sent_json(), from_text=False)
        if one.method == "GET":
            return _answer(one, one.act(**given))
        return _once(one, token, given)
    except RefusedError as error:
        return refused(error)


def _token_for(scope: Scope) -> Token:
    kind, _, sent = request.headers.get("Authorization", "").partition(" ")
    token = find_token(service().engine, sent.strip(), service().now()) if kind.lower() == "bearer" and sent else None
    if token is None:
        raise RefusedError("no_token", "Send a token that holds: Authorization: Bearer TOKEN. The owner makes it.")
    if scope not in token.scopes:
        raise RefusedError("no_scope", f'The token needs the scope "{scope}"; it has {", ".join(token.scopes)}.')
    g.program = token.label
    return token


def _sent_json() -> object:
    if not request.is_json:
        raise RefusedError("wrong_media", "Send JSON, with Content-Type: application/json.")
    try:
        return json.loads(request.get_data())
    except (ValueError, RecursionError) as error:
        raise RefusedError("unreadable") from error


def _checked(model: type[BaseModel], sent: object, from_text: bool) -> BaseModel:
    """What was sent, in its shape; a query is all texts, in a body nothing is turned into another type."""
    try:
        if from_text:
            return model.model_validate(sent, strict=False)
        return model.model_validate_json(json.dumps(sent), strict=True)
    except (ValidationError, UnicodeError) as error:
        problems = shape_problems(error) if isinstance(error, ValidationError) else []
        raise RefusedError("invalid", "", problems) from error


def _once(one: Operation, token: Token, given: Mapping[str, object]) -> Response:
    """Do what changes something, and note who did it; with a key, once for all."""
    key = request.headers.get(KEY)
    engine, now = service().engine, service().now()
    if key is not None:
        if not KEY_FORM.fullmatch(key):
            raise RefusedError("invalid", f"{KEY} may hold 1 to 100 letters, digits and . _ : -")
        asked = request_hash(request.method, request.full_path, request.get_data())
        before = begin_answer(engine, token.token_hash, key, asked, now)
        if before is not None:
            return _again(one, before, asked)
    status = 500
    answer: Response | None = None
    try:
        answer = _answer(one, one.act(**given))
        status = answer.status_code
        note_deed(engine, now, token.label, f"by program: {one.name.replace('_', ' ')}", str(given.get("identity", "")))
        return answer
    finally:
        if key is not None:
            body = answer.get_json() if answer is not None else None
            location = answer.headers.get("Location") if answer is not None else None
            end_answer(engine, token.token_hash, key, status, body, location)


def _again(one: Operation, before: Answered, asked: str) -> Response:
    if before.asked != asked:
        raise RefusedError("invalid", f"This {KEY} was sent with another request. Take a new one for a new request.")
    if before.status is None:
        raise RefusedError("clash", "The first request with this key is still at work. Ask again in a moment.")
    answer = Response(json.dumps(before.body), before.status, mimetype=one.media)
    if before.location:
        answer.headers["Location"] = before.location
    return answer


def _answer(one: Operation, value: object) -> Response:
    if isinstance(value, bytes):
        return Response(value, one.status, mimetype=one.media)
    location = value.location if isinstance(value, Made) else None
    value = value.value if isinstance(value, Made) else value
    context = money_context(value) if isinstance(value, Result) else None
    written = one.adapter.dump_json(value, by_alias=True, context=context)
    answer = Response(written, one.status, mimetype=one.media)
    if location:
        answer.headers["Location"] = location
    return answer
