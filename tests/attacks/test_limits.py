"""Each limit tried at its edge and one beyond."""

import json

import pytest

from service.app import create_app
from service.schemas.json_text import DEEPEST, MOST_DIGITS
from service.settings import Settings
from tests.support.door import HANGING, HARNESS

JSON = {"Content-Type": "application/json"}
OPEN = {"construction": "open", "size": {"body_length": "24 in"}}


def post(client, spec, accept="application/json", query=""):
    return client.post("/v1/patterns" + query, json=spec, headers={"Accept": accept})


def codes(answer):
    return {each["code"] for each in answer.json.get("errors", [])} | {answer.json["code"]}


def service(shop, **settings):
    return create_app(Settings(**settings), shop).test_client()


def test_body(shop):
    client = service(shop, body_max=1024)
    text = json.dumps(OPEN).ljust(1024)
    assert client.post("/v1/patterns", data=text, headers=JSON).status_code == 200
    assert client.post("/v1/patterns", data=text + " ", headers=JSON).json["code"] == "body_too_long"


def test_nesting(client):
    for depth, code in ((DEEPEST, "spec_unreadable"), (DEEPEST + 1, "not_json")):
        text = b"[" * depth + b"]" * depth
        assert client.post("/v1/patterns", data=text, headers=JSON).json["code"] == code


def test_digits(client):
    for digits, code in ((MOST_DIGITS, "spec_unreadable"), (MOST_DIGITS + 1, "not_json")):
        text = b'{"construction":"open","size":{"body_length":%s}}' % (b"9" * digits)
        assert client.post("/v1/patterns", data=text, headers=JSON).json["code"] == code


def test_characters_of_a_length(client):
    for blanks, status in ((40, 200), (41, 422)):
        spec = {"construction": "open", "size": {"body_length": "24 in".ljust(blanks)}}
        assert post(client, spec).status_code == status


def test_characters_of_a_name(client):
    for letters, code in ((40, "cannot_be_made"), (41, "spec_unreadable")):
        assert post(client, OPEN | {"leather": "a" * letters}).json["code"] == code


def test_parameters_of_a_query(client):
    query = "&".join(f"a{n}=1" for n in range(40))
    assert client.get("/v1/shop?" + query).json["errors"][0]["code"] == "unknown_parameter"
    assert client.get("/v1/shop?" + query + "&b=1").json["errors"][0]["code"] == "too_many_parameters"


@pytest.mark.parametrize(("name", "least", "most"), [("dpi", 10, 600), ("width_px", 16, 1000)])
def test_resolution(shop, name, least, most):
    client = service(shop, width_px_max=1000)
    for value, status in ((least - 1, 422), (least, 200), (most, 200), (most + 1, 422)):
        spec = OPEN | {"size": {"body_length": "4 in"}}
        answer = post(client, spec, "image/png", f"?{name}={value}&piece=strap")
        assert answer.status_code == status, value


def test_pixels(shop):
    client = service(shop, pixels_max=200_000)
    refused = post(client, HARNESS, "image/png", "?width_px=8000")
    assert refused.json["code"] == "picture_too_large"
    best = {each["parameter"]: each["limit"] for each in refused.json["errors"]}["width_px"]
    assert post(client, HARNESS, "image/png", f"?width_px={best}").status_code == 200
    assert post(client, HARNESS, "image/png", f"?width_px={best + 1}").json["code"] == "picture_too_large"


def test_pages(shop):
    refused = post(service(shop, pages_max=1), HARNESS, "application/pdf")
    assert (refused.status_code, refused.json["code"]) == (422, "too_many_pages")
    pages = refused.json["errors"][0]["found"]
    assert post(service(shop, pages_max=pages), HARNESS, "application/pdf").status_code == 200
    assert post(service(shop, pages_max=pages - 1), HARNESS, "application/pdf").status_code == 422


def test_pages_of_the_longest_strap_are_within_the_default(client):
    longest = {"construction": "one_piece", "size": {"body_length": "84 in"}}
    assert post(client, longest, "application/pdf", "?paper=a4").status_code == 200


@pytest.mark.parametrize(
    ("place", "edge", "beyond", "code"),
    [
        ("length", "84 in", "84 1/64 in", "size_beyond_limits"),
        ("width", "6 in", "6 1/64 in", "body_beyond_limits"),
    ],
)
def test_the_shops_own_limits(client, place, edge, beyond, code):
    def spec(value):
        return OPEN | ({"size": {"body_length": value}} if place == "length" else {"body": {"width": value}})

    assert code not in codes(post(client, spec(edge)))
    assert code in codes(post(client, spec(beyond)))


def test_counts(client, shop):
    most = shop.limits.ornaments_max
    for count, refused in ((most, False), (most + 1, True)):
        answer = post(client, HANGING | {"ornaments": {"item": "bell_25", "count": count}})
        assert ("count_beyond_limits" in codes(answer)) is refused


def test_text_of_a_refusal_does_not_grow_with_the_request(client):
    """A refusal lists a hundred faults at most, each with forty characters of the caller's at most."""
    spec = OPEN | {("k" * 50 + str(n)): "v" * 50 for n in range(500)}
    answer = post(client, spec)
    assert answer.status_code == 422
    assert len(answer.json["errors"]) == 101
    assert len(answer.data) < 60_000
