"""Declared answers: what a declaration says is what the document says, and what answers have."""

from typing import Annotated, Literal, NotRequired, TypedDict

import jsonschema_rs
import pytest

from openapi.answers import answers, schema_of
from openapi.example_requests import requests
from service.schemas.answers.members import AtLeast, Count, Json, Keyword, Named, Reading
from service.schemas.codes import code_of
from service.schemas.spec import read_spec
from service.shop_file import DEMO, demo_shop
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


FEW_HIDES = {
    "orders": [{"ref": "a", "quantity": 90, "design": "bell_garter"}],
    "stock": [{"id": "h", "leather": "latigo_6_7", "length": "60 in", "width": "6 in", "count": 1}],
}
FEW_OF_ALL = {"stock": [{"id": "h", "leather": "latigo_6_7", "length": "60 in", "width": "2 in", "count": 1}]}
ALL = {"lines": [{"ref": name, "spec": spec} for name, spec in GOOD.items()]}
A_CODE = code_of(read_spec(GOOD["shortest_open"], "in"), "in")
OTHER_SHOP = (
    DEMO.read_text(encoding="utf-8")
    .replace('edge_web = "3 mm"', 'edge_web = "5 mm"')
    .replace('joint_end_distance = "3/4 in"', 'joint_end_distance = "7/8 in"')
)
"""What cannot be made any more by it, and what is another strap."""
TIP_ALONE = {
    "construction": "two_ends",
    "size": {"overall_length": "24 in"},
    "ends": {"head": {"kind": "ring", "ring": "hook_25"}, "foot": {"kind": "tip"}},
}
"""A strap whose holes nothing of its own closes."""
GARTER = {"construction": "one_piece", "size": {"girth": "14 in"}, "ornaments": {"item": "bell_25", "count": 3}}
TURNED = ("buckle:centre_bar_25&price=true", "rules.edge_web:5 mm")
ANSWERED = {
    "Pattern": [
        *(("/v1/patterns", spec) for spec in (*GOOD.values(), TIP_ALONE)),
        *((f"/v1/patterns?vary={vary}", GARTER) for vary in TURNED),
    ],
    "Quote": [("/v1/quotes", asked) for asked in requests("QuoteRequest").values()],
    "CutPlan": [("/v1/cut-plans", asked) for asked in (*requests("CutPlanRequest").values(), FEW_HIDES)],
    "WorkOrder": [("/v1/work-orders", asked) for asked in (requests("WorkOrderRequest")["a_day"] | FEW_OF_ALL, ALL)],
    "Designs": [("/v1/designs", None)],
    "Design": [(f"/v1/designs/{name}", None) for name in demo_shop().designs],
    "Choices": [("/v1/designs/bell_garter/choices", None)],
    "Price": [("/v1/designs/bell_garter/price", None)],
    "Shop": [("/v1/shop", None)],
    "Comparison": [
        ("/v1/shop-comparisons", {"shop_file": OTHER_SHOP, "designs": ["bell_garter", "staggered_garter"]}),
        ("/v1/shop-comparisons", {"shop_file": OTHER_SHOP, "codes": [A_CODE]}),
    ],
    "Remedy": [
        ("/v1/patterns", REFUSED),
        ("/v1/designs/bell_garter/pattern?length=12in&bells=9", None),
        ("/v1/quotes", "ref,design,length,bells\nA1,bell_garter,12 in,9\n"),
    ],
}
"""Requests whose answers, between them, have every declared member."""
TURNED_ALONE = "Varied"
"""What only a strap that is posted by itself has."""


def asked(client, path, body):
    """The answer to a body as JSON or, where it is a text, as CSV."""
    if body is None:
        return client.get(path)
    if isinstance(body, str):
        return client.post(path, data=body, content_type="text/csv")
    return client.post(path, json=body)


@pytest.mark.parametrize("name", ANSWERED)
def test_every_member_that_is_declared_is_in_some_answer(client, name):
    """A type checker holds what writes an answer against its declaration, but cannot tell what is never written."""
    documented, schema = answers() | {"Spec": {}}, {"$ref": f"#/components/schemas/{name}"}
    seen = set()
    for path, body in ANSWERED[name]:
        answer = asked(client, path, body)
        told = answer.json["remedies"] if name == "Remedy" else [answer.json]
        for each in told:
            seen |= set(members_of(schema, each, documented))
    declared = set(declared_in(schema, documented, {"Spec"} if name == "Pattern" else {"Spec", TURNED_ALONE}))
    assert {each for each in declared if name == "Pattern" or each[1] != "varied"} <= seen
