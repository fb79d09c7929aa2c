"""The addresses of the operations, and the OpenAPI 3.1 document that describes them, made from the types that they take
and give. Without a token nothing else is told.
"""

from collections.abc import Mapping
from typing import Literal

from flask import Blueprint, Flask, Response, json
from pydantic import BaseModel, TypeAdapter

from ... import __version__
from ..people.doors import limiter
from . import evaluations, trading
from .operations import KEY, KEY_FORM, OPERATIONS, PATH_ID, SCOPES, Operation, run
from .problems import BASE, MEDIA, TITLES, Details, Kind

api = Blueprint("api", __name__, url_prefix=BASE)
REFUSED_TOKENS = "60 per minute; 600 per hour"
PARTS = (evaluations, trading)  # importing them registers their operations
REFS = "#/components/schemas/{model}"
ALWAYS: tuple[Kind, ...] = ("no_token", "no_scope", "too_many", "fault", "unavailable")
Asked = tuple[tuple[str, str], Literal["validation", "serialization"], TypeAdapter[object]]
SAID = {
    "identity": "The id of an evaluation",
    "quote": "The id of a quote",
    "offer": "The id of an offer",
    "family": "A family: violin, viola, cello or bow",
}


def is_refused(response: Response) -> bool:
    """Whether a token was refused."""
    return response.status_code in (401, 403)


@api.get("/openapi.json")
def openapi() -> Response:
    return Response(json.dumps(document()), mimetype="application/json")


def _hang(one: Operation) -> None:
    def view(**arguments: str) -> Response:
        return run(one, **arguments)

    view.__name__ = view.__qualname__ = one.name
    api.add_url_rule(one.rule, endpoint=one.name, view_func=view, methods=[one.method])


for found in OPERATIONS:
    _hang(found)


def limited(app: Flask) -> None:
    """Whoever guesses at tokens has to wait."""
    limiter.limit(REFUSED_TOKENS, deduct_when=is_refused)(api)
    app.register_blueprint(api)


def document() -> dict[str, object]:
    """The whole document."""
    schemas = _Schemas()
    paths: dict[str, dict[str, object]] = {}
    for one in OPERATIONS:
        paths.setdefault(BASE + one.path, {})[one.method.lower()] = _described(one, schemas)
    return {
        "openapi": "3.1.0",
        "jsonSchemaDialect": "https://json-schema.org/draft/2020-12/schema",
        "info": {
            "title": "Evaluation of bowed instruments",
            "version": __version__,
            "description": (
                "Begin, answer and read evaluations; papers, quotes, known sales, and what a shop can give. Amounts of "
                "money are texts with their currency beside. An evaluation is sent as the file that the command line "
                "takes, and its result is what `evaluator score --json` prints."
            ),
        },
        "servers": [{"url": "/"}],
        "security": [{"token": []}],
        "paths": paths,
        "components": {
            "schemas": schemas.found,
            "responses": {kind: _refusal(kind, schemas) for kind in TITLES},
            "securitySchemes": {
                "token": {
                    "type": "http",
                    "scheme": "bearer",
                    "description": "Made by the owner. Scopes: "
                    + "; ".join(f"{name} ({say[:1].lower()}{say[1:]})" for name, say in SCOPES.items()),
                }
            },
        },
    }


class _Schemas:
    """The schemas of everything that is sent and given; types of one name are told apart."""

    def __init__(self) -> None:
        kinds = {one.body for one in OPERATIONS if one.body} | {Details}
        sent: list[Asked] = [(_key(kind), "validation", TypeAdapter(kind)) for kind in sorted(kinds, key=_name)]
        gives = {one.gives for one in OPERATIONS if one.gives is not bytes} | {Details}
        given: list[Asked] = [(_key(kind), "serialization", TypeAdapter(kind)) for kind in sorted(gives, key=_name)]
        self._made, defined = TypeAdapter.json_schemas([*sent, *given], ref_template=REFS)
        self.found: dict[str, object] = defined.get("$defs", {})

    def of(self, kind: type[object], *, sent: bool) -> dict[str, object]:
        """The schema of a type as it is sent or answered."""
        return self._made[(_key(kind), "validation" if sent else "serialization")]


def _key(kind: type[object]) -> tuple[str, str]:
    return kind.__module__, kind.__qualname__


def _name(kind: type[object]) -> str:
    return kind.__name__


def _described(one: Operation, schemas: _Schemas) -> dict[str, object]:
    told: dict[str, object] = {
        "operationId": one.name,
        "summary": one.say,
        "description": f"Scope: {one.scope}.",
        "tags": [one.path.split("/")[1]],
        "parameters": [*map(_in_path, one.arguments), *_in_query(one.query), *_in_head(one)],
        "responses": _answers(one, schemas),
        "security": [{"token": []}],
    }
    if one.body is not None:
        schema = schemas.of(one.body, sent=True)
        told["requestBody"] = {"required": True, "content": {"application/json": {"schema": schema}}}
    return told


def _answers(one: Operation, schemas: _Schemas) -> dict[str, object]:
    good: dict[str, object] = {"description": one.say}
    if one.media == "application/json":
        good["content"] = {one.media: {"schema": schemas.of(one.gives, sent=False)}}
    else:
        good["content"] = {one.media: {"schema": {"type": "string", "contentMediaType": one.media}}}
    if one.status == 201:
        place = {"description": "The address of what was made", "schema": {"type": "string"}, "required": True}
        good["headers"] = {"Location": place}
    kinds: list[Kind] = [*ALWAYS]
    if one.arguments:
        kinds.append("not_found")
    if one.query is not None or one.method != "GET":
        kinds.append("invalid")
    if one.body is not None:
        kinds += ["unreadable", "too_large", "wrong_media"]
    if one.method != "GET":
        kinds.append("clash")
    refusals = {str(TITLES[kind][0]): {"$ref": f"#/components/responses/{kind}"} for kind in kinds}
    return {str(one.status): good, **dict(sorted(refusals.items()))}


def _refusal(kind: Kind, schemas: _Schemas) -> dict[str, object]:
    found: dict[str, object] = {"description": TITLES[kind][1]}
    found["content"] = {MEDIA: {"schema": schemas.of(Details, sent=False)}}
    return found


def _in_path(name: str) -> dict[str, object]:
    form: Mapping[str, object] = {"type": "string", "pattern": r"^[a-z]{2,20}$" if name == "family" else PATH_ID}
    return {"name": name, "in": "path", "required": True, "description": SAID[name], "schema": form}


def _in_query(model: type[BaseModel] | None) -> list[dict[str, object]]:
    if model is None:
        return []
    schema = model.model_json_schema(mode="validation")
    return [
        {"name": name, "in": "query", "required": name in schema.get("required", ()), "schema": form}
        for name, form in schema["properties"].items()
    ]


def _in_head(one: Operation) -> list[dict[str, object]]:
    if one.method == "GET":
        return []
    say = "A word of your own for this request: sent again within a day, it is done once and answered the same"
    form = {"type": "string", "pattern": f"^{KEY_FORM.pattern}$"}
    return [{"name": KEY, "in": "header", "required": False, "description": say, "schema": form}]
