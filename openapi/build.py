"""Writes `openapi.json` from the route table, the schemas and the examples, and `RULES.md`: `python -m openapi.build`.

`python -m openapi.build --release` takes it for the released one too, against which later changes are held.
"""

import json
import sys
from collections.abc import Callable, Iterable
from pathlib import Path
from typing import Any, get_args

from apispec import APISpec
from apispec.ext.marshmallow import MarshmallowPlugin
from marshmallow import Schema

from openapi import rules
from openapi.answers import ANSWERS, Json, ref
from openapi.bench import BENCH_ANSWERS
from openapi.breaking import RELEASED
from openapi.designs import DESIGN_ANSWERS
from openapi.meanings import MEANINGS
from openapi.reckoning import RECKONING_ANSWERS, RECKONING_MEANINGS
from service.door.negotiation import MEDIA_TYPES
from service.door.pages.error_page import is_for_people
from service.door.problems import PROBLEM_TYPE, PROBLEMS, Kind
from service.door.route import Group, Route
from service.door.routes import routes
from service.schemas.codes import code_of
from service.schemas.cut_plan import LONGEST_S, CutPlanRequestSchema, Seconds
from service.schemas.fields import Choice, Flag, Length, Number, Part, Several, Text, Whole
from service.schemas.lining import LiningField, LiningSchema
from service.schemas.orders import Choices, SpecPart
from service.schemas.quote import QuoteRequestSchema
from service.schemas.spacing import PitchSchema, Spacing
from service.schemas.spec import SIZES, SizeSchema, SpecSchema, read_spec
from service.settings import Settings
from service.shop_file import demo_shop

HERE = Path(__file__).parent
DOCUMENT = HERE / "openapi.json"
EXAMPLES = HERE / "examples"
REQUESTS = HERE / "requests"
DESCRIPTION = HERE / "description.md"

TITLE = "Strap patterns"
VERSION = "1"
"""Of the interface: the heading of its part in `CHANGELOG.md`."""
SUMMARIES = {
    "bag_strap_motif": "A bag strap: open, a ring at each end, with a mirrored sequence of ornaments",
    "dancers_bell_garter": "A dancer's bell garter: one piece, by girth",
    "dog_collar_lead_ring": "A dog's collar by the shop's size table, with a ring for its tag",
    "door_hanging": "A door hanging: open, with a ring fold and a hole end",
    "garter_by_size": "A garter by the shop's size table, with alternating ornaments",
    "goat_collar_centrepiece": "A goat's collar with a centrepiece",
    "graduated_door_hanging": "A door hanging with graduated bells, the largest in the middle",
    "herding_dog_collar": "A herding dog's collar: one piece, by finished length",
    "lined_bell_strap": "A two-ply bell strap: its lining covers the bells' shanks and their lace",
    "lined_bag_strap": "A lined bag strap: open, folded round a ring at each end and stitched",
    "parade_harness_strap": "A parade harness strap: three pieces, with everything said",
    "refused_too_many_bells": "Refused: more bells than the strap has room for; the answer offers remedies",
    "shortest_one_piece": "The shortest one-piece strap",
    "shortest_open": "The shortest open strap",
    "shortest_three_piece": "The shortest three-piece strap",
    "staggered_harness_strap": "A harness strap with three staggered rows and two borders",
    "stitched_collar": "A dog's collar with its edges stitched, eight stitches to the inch",
    "trouser_belt": "A trouser belt by the girth of the waist, plain",
}
"""One line for each file in `examples/`."""
REQUEST_SUMMARIES = {
    "QuoteRequest": {
        "at_several_quantities": "A design at 1, 10 and 50, with a markup, and leather by the cut plan",
        "two_straps": "Three garters by their spec and twelve collars by their design",
    },
    "CutPlanRequest": {
        "bare_pieces_in_millimetres": "Pieces of no pattern, in millimetres, with trims",
        "straps_from_stock": "Two orders of straps out of hides and an offcut",
    },
}
"""One line for each file in the folders of `requests/`."""
_FOLDERS = {"QuoteRequest": "quotes", "CutPlanRequest": "cut_plans"}

_HEADERS: dict[str, Json] = {
    "ETag": {"description": "Strong entity tag.", "schema": {"type": "string"}},
    "Cache-Control": {"description": "How long the answer may be kept.", "schema": {"type": "string"}},
    "Content-Location": {
        "description": "The answer's own URL, by code; left out where that would be too long.",
        "schema": {"type": "string", "format": "uri-reference"},
    },
    "Link": {"description": "The canonical URL of a design as chosen.", "schema": {"type": "string"}},
    "X-Request-Id": {"description": "The caller's request id, or a new one.", "schema": {"type": "string"}},
}


_KEY: Json = {
    "type": "http",
    "scheme": "bearer",
    "description": "Asked for where whoever runs the service has given out keys. Then a cut plan needs one, and costs "
    "and purchase prices are shown to who has one; a key that is not known is answered 401.",
}


def build() -> Json:
    """The whole document."""
    plugin = MarshmallowPlugin(schema_name_resolver=_name)
    spec = APISpec(
        TITLE,
        VERSION,
        "3.1.0",
        plugins=[plugin],
        info={
            "description": DESCRIPTION.read_text(encoding="utf-8").strip(),
            "license": {"name": "MIT", "identifier": "MIT"},
        },
    )
    converter = plugin.converter
    if converter is None:
        raise RuntimeError("the plugin has no converter")
    converter.add_attribute_function(_attributes)  # type: ignore[no-untyped-call] # apispec has not typed it
    spec.components.schema("Length", _length_schema())
    spec.components.schema("Spec", schema=SpecSchema)
    spec.components.schema("QuoteRequest", schema=QuoteRequestSchema)
    spec.components.schema("CutPlanRequest", schema=CutPlanRequestSchema)
    for group in get_args(Group):
        spec.tag({"name": group})
    for name, schema in (ANSWERS | BENCH_ANSWERS | DESIGN_ANSWERS | RECKONING_ANSWERS).items():
        spec.components.schema(name, schema)
    for name, header in _HEADERS.items():
        spec.components.header(name, header)
    spec.components.security_scheme("key", _KEY)
    for route in routes(Settings()):
        spec.path(route.path, operations={route.method.lower(): _operation(route)})
    document: Json = spec.to_dict() | {"x-problems": _problem_list()}
    _finish(document["components"]["schemas"])
    return document


def text() -> str:
    """The document as it is kept: keys sorted, indented."""
    return json.dumps(build(), indent=2, sort_keys=True, ensure_ascii=False) + "\n"


def examples() -> dict[str, Any]:
    """Every example request, by name."""
    return {path.stem: json.loads(path.read_text(encoding="utf-8")) for path in sorted(EXAMPLES.glob("*.json"))}


def requests(asked: str) -> dict[str, Any]:
    """Every example request of one reckoning path, by name."""
    folder = REQUESTS / _FOLDERS[asked]
    return {path.stem: json.loads(path.read_text(encoding="utf-8")) for path in sorted(folder.glob("*.json"))}


def _name(schema: type[Schema] | Schema) -> str:
    cls = schema if isinstance(schema, type) else type(schema)
    return cls.__name__.removesuffix("Schema")


def _length_schema() -> Json:
    return {
        "description": "A text with its unit, or a number (as a text or bare) in the spec's `units`. Units are in, "
        "ft, mm, cm and m, written out or not, and `\"`, `''` and `'`. A comma is a decimal comma; with three digits "
        "behind it, it could part thousands too, and is refused.",
        "anyOf": [
            {
                "type": "string",
                "minLength": 1,
                "maxLength": 40,
                "examples": ["24 1/2 in", "2 ft 1/2 in", "622.3 mm", "62,23 cm"],
            },
            {"type": "number", "minimum": 0, "maximum": 100_000},
        ],
    }


def _attributes(self: Any, field: Any, **_: object) -> Json:
    """What a strict field says of itself in JSON Schema."""
    described = (write(self, field) for kind, write in _WRITERS.items() if isinstance(field, kind))
    return next(described, {})


def _part(converter: Any, field: Part) -> Json:
    resolved: Json = converter.resolve_nested_schema(type(field.each))
    return resolved


def _several(converter: Any, field: Several) -> Json:
    one = next(write(converter, field.one) for kind, write in _WRITERS.items() if isinstance(field.one, kind))
    listed = {"type": "array", "items": one, "minItems": field.least, "maxItems": field.most}
    return {"anyOf": [one, listed]} if field.alone else listed


def _spacing(converter: Any, field: Spacing) -> Json:
    words = {"type": "string", "enum": list(field.word.words)}
    return {"anyOf": [words, converter.resolve_nested_schema(PitchSchema)]}


def _lining(converter: Any, field: LiningField) -> Json:
    named = {"type": "string", "minLength": 1, "maxLength": field.name_alone.most}
    return {"anyOf": [named, converter.resolve_nested_schema(LiningSchema)]}


def _number(_: Any, field: Number) -> Json:
    bounds = {"minimum": float(field.least), "maximum": float(field.most)}
    return {"anyOf": [{"type": "string", "pattern": r"^[0-9]{1,12}(\.[0-9]{1,12})?$"}, {"type": "number", **bounds}]}


_WRITERS: dict[type[Any], Callable[[Any, Any], Json]] = {
    Length: lambda _, _field: ref("Length"),
    Whole: lambda _, field: {"type": "integer", "minimum": field.least, "maximum": field.most},
    Choice: lambda _, field: {"type": "string", "enum": list(field.words)},
    Flag: lambda _, _field: {"type": "boolean"},
    Text: lambda _, field: {"type": "string", "minLength": 1, "maxLength": field.most},
    Part: _part,
    Several: _several,
    Spacing: _spacing,
    LiningField: _lining,
    Number: _number,
    SpecPart: lambda _, _field: ref("Spec"),
    Choices: lambda _, _field: {"type": "object"},
    Seconds: lambda _, _field: {"type": "number", "exclusiveMinimum": 0, "maximum": LONGEST_S},
}


def _finish(schemas: dict[str, Json]) -> None:
    """Close the spec's objects, and say what each of their members means."""
    for name, meanings in (MEANINGS | RECKONING_MEANINGS).items():
        schema = schemas[name]
        schema["additionalProperties"] = False
        if set(schema["properties"]) != set(meanings):
            raise RuntimeError(f"openapi/meanings.py does not fit {name}")
        for member, meaning in meanings.items():
            optional = member not in schema.get("required", ())
            described = _or_null(schema["properties"][member]) if optional else schema["properties"][member]
            schema["properties"][member] = described | {"description": meaning}
    size = schemas[_name(SizeSchema)]
    size["oneOf"] = [{"required": [each], "properties": {each: ref("Length")}} for each in SIZES if each != "table"]
    size["oneOf"].append({"required": ["table", "label"], "properties": {"table": {"type": "string"}}})


def _or_null(schema: Json) -> Json:
    """The schema of an optional member: null says nothing."""
    if "anyOf" in schema:
        return {"anyOf": [*schema["anyOf"], {"type": "null"}]}
    if "$ref" in schema:
        return {"anyOf": [schema, {"type": "null"}]}
    nullable = schema | {"type": [schema["type"], "null"]}
    return nullable | ({"enum": [*schema["enum"], None]} if "enum" in schema else {})


def _operation(route: Route) -> Json:
    operation: Json = {
        "operationId": route.name,
        "tags": [route.group],
        "summary": route.summary,
        "parameters": list(_parameters(route)),
        "responses": _responses(route),
    }
    if route.key != "none":
        operation["security"] = [{}, {"key": []}]
    if route.method == "POST":
        operation["requestBody"] = {"required": True, "content": {"application/json": _body(route.asks)}}
    return operation


def _body(asked: str) -> Json:
    values, summaries = (examples(), SUMMARIES) if asked == "Spec" else (requests(asked), REQUEST_SUMMARIES[asked])
    if set(values) != set(summaries):
        raise RuntimeError("openapi/build.py does not name every example")
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
    meaning = "Choices of the design, each by its own name, as in `?length=15in&bells=6`."
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
    content: Json = {}
    for form in route.forms:
        schema = _answer_schema(route) if form == "json" else {"type": "string"}
        content[MEDIA_TYPES[form]] = {} if form in ("png", "pdf") else {"schema": schema}
    return content


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


def _problem_list() -> list[Json]:
    kinds = sorted(PROBLEMS.values(), key=lambda kind: (kind.status, kind.code))
    return [{"status": kind.status, "code": kind.code, "title": kind.title} for kind in kinds]


if __name__ == "__main__":
    DOCUMENT.write_text(text(), encoding="utf-8")
    rules.DOCUMENT.write_text(rules.text(), encoding="utf-8")
    if "--release" in sys.argv:
        RELEASED.write_text(text(), encoding="utf-8")
