"""JSON Schemas of the requests, made from the fields that read them."""

from collections.abc import Callable
from typing import Any

from marshmallow import Schema

from openapi.answers import ref
from openapi.meanings import MEANINGS
from service.schemas.answers.members import Json
from service.schemas.cut_plan import LONGEST_S, Seconds
from service.schemas.fields import Choice, Flag, Length, Number, Text, Whole
from service.schemas.gathered import Part, Several
from service.schemas.lining import LiningField, LiningSchema
from service.schemas.orders import Choices, SpecPart
from service.schemas.spacing import PitchSchema, Spacing
from service.schemas.spec import SIZES, SizeSchema
from service.schemas.splices import SplicesField, SplicesSchema


def name_of(schema: type[Schema] | Schema) -> str:
    """What the document calls a schema."""
    cls = schema if isinstance(schema, type) else type(schema)
    return cls.__name__.removesuffix("Schema")


def length_schema() -> Json:
    """What every length in a request may be."""
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


def attributes(self: Any, field: Any, **_: object) -> Json:
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


def _splices(converter: Any, field: SplicesField) -> Json:
    words = {"type": "string", "enum": list(field.word.words)}
    return {"anyOf": [words, converter.resolve_nested_schema(SplicesSchema)]}


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
    SplicesField: _splices,
    Number: _number,
    SpecPart: lambda _, _field: ref("Spec"),
    Choices: lambda _, _field: {"type": "object", "additionalProperties": {"type": ["string", "number", "boolean"]}},
    Seconds: lambda _, _field: {"type": "number", "exclusiveMinimum": 0, "maximum": LONGEST_S},
}


def finish(schemas: dict[str, Json]) -> None:
    """Close the spec's objects, and say what each of their members means."""
    for name, meanings in MEANINGS.items():
        schema = schemas[name]
        schema["additionalProperties"] = False
        if set(schema["properties"]) != set(meanings):
            raise RuntimeError(f"openapi/meanings.py does not fit {name}")
        for member, meaning in meanings.items():
            optional = member not in schema.get("required", ())
            described = _or_null(schema["properties"][member]) if optional else schema["properties"][member]
            schema["properties"][member] = described | {"description": meaning}
    size = schemas[name_of(SizeSchema)]
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
