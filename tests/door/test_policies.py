"""What holds for every route, walked over the app's own routing table so that no new route is forgotten."""

import json
import re
from importlib import resources

import pytest

from service.door.routes import page_paths, routes
from service.settings import Settings
from tests.support.door import HANGING

CODE = "eyJjb25zdHJ1Y3Rpb24iOiJvcGVuIiwic2l6ZSI6eyJib2R5X2xlbmd0aCI6IjI0IGluIn19"


NAMES = {"code": CODE, "design": "bell_garter"}
NEEDED = {"/oembed": "?url=http://localhost/designs/bell_garter"}
"""Parameters that a route cannot do without."""


POSTED = {
    "/v1/quotes": {"lines": [{"ref": "A1", "spec": HANGING}]},
    "/v1/cut-plans": {"orders": [{"ref": "A1", "spec": HANGING}]},
    "/v1/work-orders": {"lines": [{"ref": "A1", "spec": HANGING}]},
    "/v1/shop-comparisons": {
        "shop_file": (resources.files("service.shop") / "demo.toml").read_text(encoding="utf-8"),
        "designs": ["door_strap"],
    },
}
"""What a path is sent by POST, where it is not a spec."""


def example(path):
    """A path of the table with names in it that are there."""
    filled = re.sub(r"[<{](\w+)[>}]", lambda found: NAMES[found[1]], path)
    return filled + NEEDED.get(path, "")


def table(app):
    """Every route as (path with names in it, its methods)."""
    return [(example(rule.rule), rule.methods) for rule in app.url_map.iter_rules()]


def ask(client, path, methods, query=""):
    query = query.replace("?", "&") if "?" in path else query
    if "POST" in methods:
        return client.post(path + query, json=POSTED.get(path, HANGING))
    return client.get(path + query)


def test_every_route_works_and_carries_the_security_headers(app, client):
    for path, methods in table(app):
        answer = ask(client, path, methods)
        assert answer.status_code == 200, path
        assert answer.headers["X-Content-Type-Options"] == "nosniff", path
        assert answer.headers["Referrer-Policy"] == "no-referrer", path
        assert answer.headers["Content-Security-Policy"].startswith("default-src 'none'"), path
        assert answer.headers["Access-Control-Allow-Origin"] == "*", path
        assert "Access-Control-Allow-Credentials" not in answer.headers, path
        assert "Set-Cookie" not in answer.headers, path
        assert re.fullmatch("[0-9a-f]{32}", answer.headers["X-Request-Id"]), path


def test_every_route_answers_options_and_a_preflight(app, client):
    """RFC 9110, section 9.3.7; the Fetch standard, CORS-preflight fetch."""
    for path, methods in table(app):
        plain = client.options(path)
        assert plain.status_code == 204, path
        assert plain.data == b""
        assert set(plain.headers["Allow"].split(", ")) == methods, path
        asked = {
            "Origin": "https://shop.example",
            "Access-Control-Request-Method": "POST" if "POST" in methods else "GET",
            "Access-Control-Request-Headers": "content-type, if-none-match, x-request-id",
        }
        preflight = client.options(path, headers=asked)
        assert preflight.headers["Access-Control-Allow-Origin"] == "*"
        assert asked["Access-Control-Request-Method"] in preflight.headers["Access-Control-Allow-Methods"]
        allowed = preflight.headers["Access-Control-Allow-Headers"].lower().split(", ")
        assert {"content-type", "if-none-match", "x-request-id"} <= set(allowed)


def test_every_get_answers_head(app, client):
    for path, methods in table(app):
        if "GET" in methods:
            head, got = client.head(path), client.get(path)
            assert (head.status_code, head.data) == (200, b""), path
            assert head.headers["Content-Length"] == str(len(got.data)), path


def test_every_route_but_a_page_refuses_parameters_that_it_does_not_know(app, client):
    pages = {example(path) for path in page_paths(Settings())}
    for path, methods in table(app):
        if path in pages:
            assert ask(client, path, methods, "?colour=red&units=mm&units=mm").status_code == 200, path
            continue
        answer = ask(client, path, methods, "?colour=red&units=mm&units=mm")
        assert answer.status_code == 422, path
        faults = {each["parameter"]: each["code"] for each in answer.json["errors"]}
        assert faults["colour"] == "unknown_parameter", path
        assert faults["units"] in ("given_twice", "unknown_parameter"), path


def test_every_route_is_in_the_document_and_nothing_else_is(app, client):
    document = json.loads(client.get("/openapi.json").data)
    documented = {(path, method.upper()) for path, methods in document["paths"].items() for method in methods}
    routed = {
        (rule.rule.replace("<", "{").replace(">", "}"), method)
        for rule in app.url_map.iter_rules()
        for method in rule.methods - {"HEAD", "OPTIONS"}
    }
    assert documented == routed
    assert {(route.path, route.method) for route in routes(Settings())} == routed


def test_every_conditional_route_answers_304(client):
    for route in routes(Settings()):
        path = example(route.path)
        if route.conditional:
            tag = client.get(path).headers["ETag"]
            assert client.get(path, headers={"If-None-Match": tag}).status_code == 304, path


def test_every_json_answer_but_a_health_check_is_negotiated(client):
    designs = ("/v1/designs", "/v1/designs/{design}", "/v1/designs/{design}/choices", "/v1/designs/{design}/pattern")
    for path in ("/v1/shop", f"/v1/patterns/{CODE}", *map(example, designs)):
        assert client.get(path, headers={"Accept": "text/csv"}).status_code == 406
        assert client.get(path, headers={"Accept": "text/csv, */*;q=0.1"}).status_code == 200


@pytest.mark.parametrize("given", ["a", "order-17.B:2_x", "0" * 64])
def test_a_harmless_request_id_is_kept(client, given):
    assert client.get("/health/live", headers={"X-Request-Id": given}).headers["X-Request-Id"] == given


@pytest.mark.parametrize("given", ["", "0" * 65, "a b", "<script>", "-a", "é", "a;b", '"a"'])
def test_a_doubtful_request_id_is_replaced(client, given):
    answer = client.get("/health/live", headers={"X-Request-Id": given})
    assert re.fullmatch("[0-9a-f]{32}", answer.headers["X-Request-Id"])


def test_script_of_another_origin_may_read_what_the_contract_says(client):
    exposed = client.get("/v1/shop").headers["Access-Control-Expose-Headers"].split(", ")
    assert {"ETag", "Content-Location", "X-Request-Id"} <= set(exposed)
