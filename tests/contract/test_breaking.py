"""The gate: no change of the document breaks a caller unless the changelog says so."""

import copy
import json
import re
from pathlib import Path

import pytest

from openapi.breaking import CHANGELOG, RELEASED, breaking_changes, unreleased
from openapi.build import DOCUMENT

NOW = json.loads(DOCUMENT.read_text(encoding="utf-8"))
POST = "/v1/patterns"


def test_no_change_breaks_a_caller_unless_the_changelog_says_so():
    """After a wanted one: a line in the changelog's part above the last version that has the place in backticks."""
    released = json.loads(RELEASED.read_text(encoding="utf-8"))
    noted = set(re.findall(r"`([^`]+)`", unreleased(CHANGELOG.read_text(encoding="utf-8"), released)))
    silent = [f"`{each.where}` {each.what}" for each in breaking_changes(released, NOW) if each.where not in noted]
    assert silent == []


def test_a_document_breaks_nothing_of_itself():
    assert breaking_changes(NOW, NOW) == ()


def changed(change):
    document = copy.deepcopy(NOW)
    change(document)
    return document


def schema(document, name):
    return document["components"]["schemas"][name]


def parameter(document, name):
    return next(each for each in document["paths"][POST]["post"]["parameters"] if each["name"] == name)


def drop(holder, name):
    del holder[name]


BREAKS = {
    "a path that is gone": (lambda d: drop(d["paths"], "/v1/quotes"), "POST /v1/quotes", "is gone"),
    "a method that is gone": (lambda d: drop(d["paths"][POST], "post"), "POST /v1/patterns", "is gone"),
    "a parameter that is gone": (
        lambda d: d["paths"][POST]["post"]["parameters"].remove(parameter(d, "view")),
        "POST /v1/patterns query view",
        "is gone",
    ),
    "a parameter that must be given": (
        lambda d: parameter(d, "paper").update(required=True),
        "POST /v1/patterns query paper",
        "must now be given",
    ),
    "a narrower limit": (
        lambda d: parameter(d, "dpi")["schema"].update(maximum=300),
        "POST /v1/patterns query dpi",
        "maximum was 600, is 300",
    ),
    "a value that is no longer taken": (
        lambda d: parameter(d, "units")["schema"].update(enum=["mm"]),
        "POST /v1/patterns query units",
        "no longer takes 'in'",
    ),
    "an answer that is gone": (
        lambda d: drop(d["paths"][POST]["post"]["responses"], "422"),
        "POST /v1/patterns 422",
        "is gone",
    ),
    "a form that is gone": (
        lambda d: drop(d["paths"][POST]["post"]["responses"]["200"]["content"], "application/pdf"),
        "POST /v1/patterns 200 application/pdf",
        "is gone",
    ),
    "a field of a spec that is gone": (
        lambda d: drop(schema(d, "Spec")["properties"], "ornaments"),
        "request Spec/ornaments",
        "is gone",
    ),
    "a field of a spec that must be given": (
        lambda d: schema(d, "Spec")["required"].append("leather"),
        "request Spec/leather",
        "must now be given",
    ),
    "a field of an answer that is gone": (
        lambda d: drop(schema(d, "Pattern")["properties"], "steps"),
        "answer Pattern/steps",
        "is gone",
    ),
    "a field of an answer that may be missing": (
        lambda d: schema(d, "Pattern")["required"].remove("code"),
        "answer Pattern/code",
        "may now be missing",
    ),
    "a field of an answer with another type": (
        lambda d: schema(d, "Pattern")["properties"].update(code={"type": ["string", "null"]}),
        "answer Pattern/code",
        "may now be null",
    ),
}


@pytest.mark.parametrize("name", BREAKS)
def test_it_notices(name):
    change, where, what = BREAKS[name]
    found = {(each.where, each.what) for each in breaking_changes(NOW, changed(change))}
    assert (where, what) in found


HARMLESS = {
    "a new path": lambda d: d["paths"].update({"/v1/new": {"get": {"responses": {}}}}),
    "a new field of a spec": lambda d: schema(d, "Spec")["properties"].update(new={"type": "string"}),
    "a wider limit": lambda d: parameter(d, "dpi")["schema"].update(maximum=1200),
    "a new parameter": lambda d: d["paths"][POST]["post"]["parameters"].append(
        {"in": "query", "name": "new", "schema": {"type": "string"}}
    ),
    "a new field of an answer": lambda d: schema(d, "Pattern")["properties"].update(new={"type": "string"}),
    "a field that need not be given": lambda d: schema(d, "QuoteRequest").update(required=[]),
    "other words": lambda d: d["info"].update(title="Patterns"),
}


@pytest.mark.parametrize("name", HARMLESS)
def test_it_lets_pass(name):
    assert breaking_changes(NOW, changed(HARMLESS[name])) == ()
    assert breaking_changes(changed(HARMLESS[name]), NOW) != () or name == "other words"


FORMS = {"anyOf": [{"type": "string"}, {"type": "integer"}]}
TEXT_OR_NULL = {"type": ["string", "null"]}
FORMS_OR_NULL = {"anyOf": [{"type": "string", "maxLength": 9}, {"type": "null"}]}


@pytest.mark.parametrize(
    ("way", "before", "after", "what"),
    [
        ("request", FORMS, {"type": "string"}, "is no longer taken"),
        ("answer", {"type": "string"}, FORMS, "is new"),
        ("request", {"type": "string"}, FORMS, None),
        ("answer", FORMS, {"type": "string"}, None),
        ("request", TEXT_OR_NULL, {"anyOf": [{"type": "string"}, {"type": "null"}, {"type": "object"}]}, None),
        ("answer", TEXT_OR_NULL, {"anyOf": [{"type": "string"}, {"type": "null"}, {"type": "object"}]}, "is new"),
        ("answer", TEXT_OR_NULL | {"maxLength": 9}, FORMS_OR_NULL, None),
        ("request", {"type": "number"}, {"type": "integer"}, "no longer takes number"),
        ("request", {"type": "integer"}, {"type": "number"}, None),
        (
            "request",
            {"type": "array", "items": FORMS},
            {"type": "array", "items": {"type": "integer"}},
            "is no longer taken",
        ),
        ("request", {"type": "string"}, {"type": "string", "pattern": "^a"}, "pattern was not said, is ^a"),
        ("answer", {"type": "integer", "minimum": 1}, {"type": "integer"}, "minimum was 1, is not said"),
        ("request", {}, {"enum": [1]}, "now takes values of a list only"),
    ],
)
def test_forms_and_types(way, before, after, what):
    """By JSON Schema 2020-12: an integer is a number, a keyword that is not said allows all."""

    def document(part):
        body = {"content": {"application/json": {"schema": part}}}
        there = {"requestBody": body, "responses": {}} if way == "request" else {"responses": {"200": body}}
        return {"paths": {"/x": {"post": there}}}

    found = [each.what for each in breaking_changes(document(before), document(after))]
    assert found == ([what] if what else [])


def test_a_schema_that_holds_itself_is_compared_to_its_end():
    node = {"type": "object", "properties": {"in": {"$ref": "#/components/schemas/Node"}, "a": {"type": "string"}}}

    def document(schema):
        body = {"content": {"application/json": {"schema": {"$ref": "#/components/schemas/Node"}}}}
        return {"paths": {"/x": {"post": {"responses": {"200": body}}}}, "components": {"schemas": {"Node": schema}}}

    after = copy.deepcopy(node)
    del after["properties"]["a"]
    assert [each.where for each in breaking_changes(document(node), document(after))] == ["answer Node/a"]
    assert Path(RELEASED).name == "released.json"
