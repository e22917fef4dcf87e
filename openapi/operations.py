"""What the document says of each route: its parameters, its body and its answers."""

from collections.abc import Iterable, Iterator

from openapi.answers import ref
from openapi.example_requests import REQUEST_SUMMARIES, SUMMARIES, TABLE_SUMMARIES, examples, requests, tables
from service.door.body import CSV_TYPE, TOML_TYPE
from service.door.pages.error_page import is_for_people
from service.door.problems import PROBLEM_TYPE, PROBLEMS, Kind
from service.door.route import Route
from service.forms.data import JSON
from service.forms.form import Form
from service.schemas.answers.members import Json
from service.schemas.codes import code_of
from service.schemas.spec import read_spec
from service.shop_file import demo_shop


def operation(route: Route) -> Json:
    """The operation that a route is."""
    found: Json = {
        "operationId": route.name,
        "tags": [route.group],
        "summary": route.summary,
        "parameters": list(_parameters(route)),
        "responses": _responses(route),
    }
    if route.key != "none":
        found["security"] = [{}, {"key": []}]
    if route.method == "POST":
        found["requestBody"] = {"required": True, "content": dict(_bodies(route))}
    return found


_CSV: Json = {
    "type": "string",
    "description": "RFC 4180, UTF-8, with a header row: `ref`, `design` (or `code`), `quantity`, `pair`, `sizes` "
    "(labels with `|` between them) and a column for each choice of any design; or whatever `columns` names. An empty "
    "cell is the default.",
}


def _bodies(route: Route) -> Iterator[tuple[str, Json]]:
    """What may be posted, by its media type."""
    for media_type in route.reads:
        if media_type == TOML_TYPE:
            yield media_type, {"schema": {"type": "string", "description": "The other shop file as it stands."}}
        elif media_type == CSV_TYPE:
            told = {name: {"summary": TABLE_SUMMARIES[name], "value": value} for name, value in tables().items()}
            yield media_type, {"schema": _CSV, "examples": told}
        else:
            yield media_type, _body(route.asks)


def _body(asked: str) -> Json:
    if asked == "ComparisonRequest":  # a shop file is too long to show
        return {"schema": ref(asked)}
    values, summaries = (examples(), SUMMARIES) if asked == "Spec" else (requests(asked), REQUEST_SUMMARIES[asked])
    if set(values) != set(summaries):
        raise RuntimeError("openapi/example_requests.py does not name every example")
    named = {name: {"summary": summaries[name], "value": value} for name, value in values.items()}
    schema = {"anyOf": [ref("Spec"), ref("SealedStrap")]} if asked == "Spec" else ref(asked)
    return {"schema": schema, "examples": named}


def _parameters(route: Route) -> Iterable[Json]:
    if "{code}" in route.path:
        code = {"type": "string", "pattern": "^[A-Za-z0-9_-]+$", "minLength": 2, "maxLength": 1980}
        yield {
            "name": "code",
            "in": "path",
            "required": True,
            "schema": code,
            "description": "A pattern's code, or its `sealed`.",
            "examples": _code_examples(),
        }
    if "{design}" in route.path:
        yield {
            "name": "design",
            "in": "path",
            "required": True,
            "schema": {"type": "string", "pattern": "^[a-z][a-z0-9_]*$", "maxLength": 40},
            "description": "A design's name.",
            "examples": {name: {"value": name, "summary": each.title} for name, each in demo_shop().designs.items()},
        }
    if route.takes_choices:
        yield _chosen(route)
    for parameter in route.parameters:
        yield {
            "name": parameter.name,
            "in": "query",
            "schema": dict(parameter.schema),
            "description": parameter.meaning + ".",
            **({"required": True} if parameter.required else {}),
        }
    if route.conditional:
        yield {
            "name": "If-None-Match",
            "in": "header",
            "schema": {"type": "string"},
            "description": "Entity tags that the caller has; the answer is 304 where one is still right.",
        }


def _chosen(route: Route) -> Json:
    """The choices of a design, each a parameter of its own name."""
    meaning = (
        "Choices of the design, each by its own name, as in `?length=15in&bells=6`: the members of one object, in the "
        "style `form`, exploded. Which there are and what each may be says `/v1/designs/{design}`."
    )
    return {
        "name": "choices",
        "in": "query",
        "style": "form",
        "explode": True,
        "schema": {"type": "object", "additionalProperties": {"type": "string"}},
        "description": f"{meaning} What is of no choice is passed over." if route.group == "Pages" else meaning,
    }


def _code_examples() -> Json:
    """The code of the shortest example: it makes every GET path of a pattern one that can be tried."""
    name, units = "shortest_open", demo_shop().defaults.units
    code = code_of(read_spec(examples()[name], units), units)
    return {name: {"summary": SUMMARIES[name], "value": code}}


def _responses(route: Route) -> Json:
    good: Json = {"description": "As asked for.", "headers": _header_refs(route), "content": _content(route)}
    responses: Json = {"200": good}
    if route.conditional:
        responses["304"] = {"description": "The caller has it already.", "headers": _header_refs(route)}
    by_status: dict[int, list[Kind]] = {}
    for kind in PROBLEMS.values():
        if kind.code in route.problems:
            by_status.setdefault(kind.status, []).append(kind)
    for status, kinds in by_status.items():
        responses[str(status)] = _problem(" ".join(f"`{kind.code}`: {kind.title}." for kind in kinds), route)
    responses["default"] = _problem("Any other error, the framework's own included.", route)
    return responses


def _content(route: Route) -> Json:
    if "/" in route.answers:
        return {route.answers: {"schema": {"type": "string"}}}
    return {
        form.media_type: {"schema": _answer_schema(route) if form is JSON else _drawn_schema(form)}
        for form in route.forms
    }


def _drawn_schema(form: Form) -> Json:
    """A drawing: text, or bytes, which generated clients know by `format` or by `contentMediaType`."""
    drawn = {"type": "string", "contentMediaType": form.media_type}
    return drawn if form.is_text else drawn | {"format": "binary"}


def _answer_schema(route: Route) -> Json:
    if route.answers_without_key is None:
        return ref(route.answers)
    return {"anyOf": [ref(route.answers), ref(route.answers_without_key)]}


def _header_refs(route: Route) -> Json:
    names = ["X-Request-Id", "Cache-Control"]
    if route.conditional or route.method == "POST":
        names.append("ETag")
    if route.answers in ("Pattern", "Price"):
        names.append("Content-Location")
    if route.answers == "Pattern" and "{design}" in route.path:
        names.append("Link")
    return {name: {"$ref": f"#/components/headers/{name}"} for name in names}


def _problem(description: str, route: Route) -> Json:
    content: Json = {PROBLEM_TYPE: {"schema": ref("Problem")}}
    if is_for_people(route.path):
        content["text/html"] = {"schema": {"type": "string"}}
    return {"description": description, "content": content}
