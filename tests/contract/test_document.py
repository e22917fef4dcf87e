"""The OpenAPI document against the service: it is current, and every answer is one that it describes."""

import json

import jsonschema_rs
import pytest

from openapi.build import DOCUMENT, text
from openapi.example_requests import EXAMPLES, examples
from service.forms.listed import FORMS, JSON
from tests.support.door import GOOD, REFUSED

DOCUMENTED = json.loads(DOCUMENT.read_text(encoding="utf-8"))


def validator(name):
    schema = {"$ref": f"#/components/schemas/{name}", "components": DOCUMENTED["components"]}
    return jsonschema_rs.Draft202012Validator(schema)


def assert_valid(name, value):
    errors = [f"{list(error.instance_path)}: {error.message}" for error in validator(name).iter_errors(value)]
    assert not errors


def test_the_document_is_current():
    """After a change of routes, schemas or examples: `python -m openapi.build`."""
    assert DOCUMENT.read_text(encoding="utf-8") == text()


def test_the_service_serves_the_document(client):
    assert client.get("/openapi.json").json == DOCUMENTED


def test_the_document_is_openapi_3_1():
    """Each schema is held against the metaschema of JSON Schema 2020-12, OpenAPI 3.1's own dialect."""
    assert DOCUMENTED["openapi"] == "3.1.0"
    for schema in DOCUMENTED["components"]["schemas"].values():
        jsonschema_rs.meta.validate(schema | {"$schema": "https://json-schema.org/draft/2020-12/schema"})


def references(part):
    if isinstance(part, dict):
        if isinstance(part.get("$ref"), str):
            yield part["$ref"]
        for value in part.values():
            yield from references(value)
    elif isinstance(part, list):
        for value in part:
            yield from references(value)


def test_every_reference_leads_somewhere_and_every_schema_is_used():
    used = set(references(DOCUMENTED))
    for reference in used:
        here = DOCUMENTED
        for name in reference.removeprefix("#/").split("/"):
            here = here[name]
    assert used >= {f"#/components/schemas/{name}" for name in DOCUMENTED["components"]["schemas"]}


def test_every_example_file_is_in_the_document_as_it_stands():
    body = DOCUMENTED["paths"]["/v1/patterns"]["post"]["requestBody"]["content"]["application/json"]
    assert {name: each["value"] for name, each in body["examples"].items()} == examples()
    assert len(examples()) == len([path for path in EXAMPLES.iterdir() if path.is_file()])


@pytest.mark.parametrize("name", examples())
def test_every_example_is_a_spec_by_the_documents_schema(name):
    assert_valid("Spec", examples()[name])


@pytest.mark.parametrize("name", GOOD)
def test_every_good_example_gives_a_pattern_as_described(client, name):
    answer = client.post("/v1/patterns", json=GOOD[name])
    assert answer.status_code == 200
    assert_valid("Pattern", answer.json)
    assert all(check["passed"] for check in answer.json["checks"])


def test_the_refused_example_gives_a_problem_as_described_with_remedies(client):
    answer = client.post("/v1/patterns", json=REFUSED)
    assert answer.status_code == 422
    assert_valid("Problem", answer.json)
    assert answer.json["remedies"]


def test_shop_and_health_are_as_described(client):
    assert_valid("Shop", client.get("/v1/shop").json)
    assert_valid("Health", client.get("/health/live").json)
    assert_valid("Health", client.get("/health/ready").json)


@pytest.mark.parametrize(
    "wrong",
    [
        {"size": {"body_length": "1 in", "girth": "1 in"}},
        {"size": {}},
        {"size": {"body_length": True}},
        {"leathr": "x"},
        {"ornaments": {"item": "x", "count": "5"}},
        {"ornaments": {"item": "x", "count": 5, "spacing": {"pitch": 1, "more": 1}}},
        {"units": "cm"},
        {"construction": None},
    ],
)
def test_what_the_schema_refuses_the_service_refuses(client, wrong):
    spec = {"construction": "one_piece", "size": {"finished_length": "30 in"}} | wrong
    assert not validator("Spec").is_valid(spec)
    assert client.post("/v1/patterns", json=spec).status_code == 422


def test_statuses_that_a_route_answers_are_in_the_document():
    responses = DOCUMENTED["paths"]["/v1/patterns"]["post"]["responses"]
    assert {"200", "400", "406", "408", "409", "413", "414", "415", "422", "default"} == set(responses)
    by_code = DOCUMENTED["paths"]["/v1/patterns/{code}"]["get"]["responses"]
    assert {"200", "304", "404", "406", "409", "414", "422", "default"} == set(by_code)


def operations():
    return [each for methods in DOCUMENTED["paths"].values() for each in methods.values()]


def test_every_answer_says_what_it_is_of():
    """What generated clients type an answer by: a schema, of bytes with `format` and `contentMediaType` (RFC 2046)."""
    contents = [
        content
        for operation in operations()
        for answer in operation["responses"].values()
        for content in answer.get("content", {}).items()
    ]
    assert all("schema" in described for _, described in contents)
    drawn = {name: described["schema"] for name, described in contents if "contentMediaType" in described["schema"]}
    assert set(drawn) == {form.media_type for form in FORMS if form is not JSON}
    text = {form.media_type for form in FORMS if form.is_text}
    assert text == {"application/json", "image/svg+xml", "image/vnd.dxf"}
    assert drawn == {
        name: {"type": "string", "contentMediaType": name} | ({} if name in text else {"format": "binary"})
        for name in drawn
    }


def test_an_object_in_a_query_says_how_it_is_written():
    """OpenAPI 3.1, Parameter Object: `form` exploded makes each member a parameter of its own name."""
    objects = [
        each
        for operation in operations()
        for each in operation["parameters"]
        if each["in"] == "query" and each["schema"].get("type") == "object"
    ]
    assert objects
    assert all(each["style"] == "form" and each["explode"] is True for each in objects)


def test_a_key_is_optional_wherever_it_does_anything():
    """OpenAPI 3.1, Operation Object: an empty requirement in the list makes security optional."""
    assert DOCUMENTED["security"] == [{}]
    secured = {each["operationId"]: each["security"] for each in operations() if "security" in each}
    assert set(secured) == {"get_shop", "make_quote", "make_cut_plan", "make_work_order", "compare_shops"}
    assert all(each == [{}, {"key": []}] for each in secured.values())


def test_the_choices_of_an_order_are_a_map(client):
    """What the document takes is read, and what no choice may be is refused by both."""
    for choices, status in (({"length": "15in", "bells": 6}, 200), ({"bells": [6]}, 422)):
        body = {"lines": [{"ref": "a", "design": "bell_garter", "choices": choices}]}
        assert client.post("/v1/quotes", json=body).status_code == status
        assert validator("QuoteRequest").is_valid(body) is (status == 200)
