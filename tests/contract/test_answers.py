"""Declared answers: what a declaration says is what the document says, and what answers have."""

from typing import Annotated, Literal, NotRequired, TypedDict

import jsonschema_rs
import pytest

from openapi.answers import answers, schema_of
from service.schemas.answers.members import AtLeast, Count, Json, Keyword, Named, Reading
from tests.support.door import GOOD, REFUSED

Words = Literal["a", "b"]


class Inner(TypedDict):
    """Inside."""

    id: str


class Outer(Inner):
    """What it is.

    And what else.
    """

    kind: Annotated[Words | Literal["c"], "Which."]
    bound: NotRequired[int | Reading]
    inner: list[Inner]


def test_an_object_is_closed_and_has_what_is_declared():
    schema = schema_of(Outer)
    assert schema["description"] == "What it is. And what else."
    assert schema["required"] == ["id", "kind", "inner"]
    assert schema["properties"]["kind"] == {"type": "string", "enum": ["a", "b", "c"], "description": "Which."}
    taken = jsonschema_rs.Draft202012Validator(schema).is_valid
    good = {"id": "x", "kind": "c", "inner": [{"id": "y"}], "bound": "1/2 in"}
    assert taken(good)
    assert taken({name: good[name] for name in ("id", "kind", "inner")})
    for wrong in ({"kind": "d"}, {"more": 1}, {"inner": [{}]}, {"bound": "half an inch"}, {"bound": None}):
        assert not taken(good | wrong)


@pytest.mark.parametrize(
    ("declared", "schema"),
    [
        (str | None, {"type": ["string", "null"]}),
        (dict[str, int], {"type": "object", "additionalProperties": {"type": "integer"}}),
        (Annotated[Count, "How many."], {"type": "integer", "minimum": 0, "description": "How many."}),
        (Annotated[str, Keyword("format", "uri")], {"type": "string", "format": "uri"}),
        (Annotated[Json, Named("Spec"), "It."], {"$ref": "#/components/schemas/Spec", "description": "It."}),
        (
            Annotated[Json, AtLeast(Inner)],
            {"type": "object", "properties": {"id": {"type": "string"}}, "required": ["id"]},
        ),
    ],
)
def test_types_are_written_as_json_schema(declared, schema):
    """JSON Schema 2020-12: `type` may be a list; `additionalProperties` is the schema of all other members."""
    assert schema_of(declared) == schema


@pytest.mark.parametrize("declared", [bytes, tuple[int, int], set[str]])
def test_what_no_answer_has_is_refused(declared):
    with pytest.raises(TypeError, match="no schema of"):
        schema_of(declared)


def members_of(schema, value, documented):
    """Every declared member that an answer has, by the object that declares it."""
    while "$ref" in schema:
        schema = documented[schema["$ref"].rpartition("/")[2]]
    if isinstance(value, list):
        for each in value:
            yield from members_of(schema["items"], each, documented)
    elif isinstance(value, dict):
        for name, member in value.items():
            if name in schema.get("properties", {}):
                yield schema["description"], name
                yield from members_of(schema["properties"][name], member, documented)


def declared_in(schema, documented, met):
    """Every member that a schema of answers declares."""
    name = schema.get("$ref", "").rpartition("/")[2]
    if name in met:
        return
    met |= {name} - {""}
    schema = documented.get(name, schema)
    for member, each in schema.get("properties", {}).items():
        yield schema["description"], member
        yield from declared_in(each, documented, met)
    if "items" in schema:
        yield from declared_in(schema["items"], documented, met)


def test_every_member_that_may_be_missing_is_in_some_answer(client):
    """A type checker holds what writes an answer against its declaration, but cannot tell what is never written."""
    documented = answers() | {"Spec": {}}
    seen, pattern = set(), {"$ref": "#/components/schemas/Pattern"}
    for spec in GOOD.values():
        seen |= set(members_of(pattern, client.post("/v1/patterns", json=spec).json, documented))
    refused = client.post("/v1/patterns", json=REFUSED).json
    seen |= set(members_of({"$ref": "#/components/schemas/Problem"}, refused, documented))
    remedies = {"$ref": "#/components/schemas/Remedy"}
    assert set(declared_in(pattern, documented, {"Spec"})) <= seen
    elsewhere = {"parameter", "text"}  # of the query and of designs
    assert {name for _, name in declared_in(remedies, documented, set())} <= {name for _, name in seen} | elsewhere
