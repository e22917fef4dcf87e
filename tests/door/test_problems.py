"""Every problem in the table, made to happen. RFC 9457 for bodies, RFC 9110 for statuses and headers."""

import io

import pytest

from service.app import create_app
from service.desk.pipeline import PatternRequest
from service.door.answers import health
from service.door.problems import PROBLEM_TYPE, PROBLEMS
from service.forms.face import FontError
from service.settings import Settings
from tests.support.door import HANGING, HARNESS, REFUSED

JSON = {"Content-Type": "application/json"}
BEYOND_READING = "/v1/patterns/____"


def send(client, path="/v1/patterns", method="POST", **more):
    return client.open(path, method=method, **more)


def cut_off(client):
    """A caller who goes away in the middle of the body."""
    return client.post(
        "/v1/patterns",
        input_stream=io.BytesIO(b'{"constr'),
        headers=JSON,
        environ_overrides={"CONTENT_LENGTH": "500"},
    )


WAYS = {
    "not_json": lambda client: send(client, data="{", headers=JSON),
    "bad_request": cut_off,
    "unknown_code": lambda client: send(client, BEYOND_READING, "GET"),
    "unknown_form": lambda client: send(client, "/v1/patterns/abc.eps", "GET"),
    "not_found": lambda client: send(client, "/v2/patterns", "GET"),
    "method_not_allowed": lambda client: send(client, method="PUT"),
    "not_acceptable": lambda client: send(client, json=HANGING, headers={"Accept": "application/postscript"}),
    "body_too_long": lambda client: send(client, data="[" + " " * 70_000 + "]", headers=JSON),
    "unknown_host": lambda client: send(client, "/v1/shop", "GET", headers={"Host": "evil.example"}),
    "url_too_long": lambda client: send(client, "/v1/patterns/" + "a" * 2000, "GET"),
    "comparison_unreadable": lambda client: client.post("/v1/shop-comparisons", json={"shop_file": 1}),
    "shop_file_unusable": lambda client: client.post("/v1/shop-comparisons", json={"shop_file": "x"}),
    "not_csv": lambda client: client.post("/v1/quotes", data='ref,design\n"A', headers={"Content-Type": "text/csv"}),
    "wrong_media_type": lambda client: send(client, data="{}", headers={"Content-Type": "text/plain"}),
    "wrong_content_encoding": lambda client: send(
        client, data=b"\x1f\x8b", headers=JSON | {"Content-Encoding": "gzip"}
    ),
    "query_unreadable": lambda client: send(client, "/v1/shop?x=1", "GET"),
    "spec_unreadable": lambda client: send(client, json={}),
    "cannot_be_made": lambda client: send(client, json=REFUSED),
    "orders_unreadable": lambda client: send(client, "/v1/quotes", json={"lines": []}),
    "orders_refused": lambda client: send(client, "/v1/quotes", json={"lines": [{"ref": "A1", "spec": REFUSED}]}),
    "unknown_design": lambda client: send(client, "/v1/designs/no_such", "GET"),
    "choice_refused": lambda client: send(client, "/v1/designs/bell_garter/pattern.json?bells=10", "GET"),
    "not_embeddable": lambda client: send(client, "/oembed?url=http://elsewhere.example/", "GET"),
    "format_not_offered": lambda client: send(client, "/oembed?url=x&format=xml", "GET"),
    "unknown_piece": lambda client: send(
        client, "/v1/patterns?piece=keeper", json=HANGING, headers={"Accept": "image/svg+xml"}
    ),
    "kerf_too_wide": lambda client: send(
        client, "/v1/patterns?view=cutter&kerf=4%20mm", json=HARNESS, headers={"Accept": "image/svg+xml"}
    ),
    "hole_not_worn": lambda client: send(
        client, "/v1/patterns?view=worn&hole=1", json=HANGING, headers={"Accept": "image/svg+xml"}
    ),
    "picture_too_large": lambda client: send(
        client, "/v1/patterns?dpi=600", json=HARNESS, headers={"Accept": "image/png"}
    ),
}


def check(answer, code):
    kind = next(kind for kind in PROBLEMS.values() if kind.code == code)
    assert answer.status_code == kind.status
    assert answer.mimetype == PROBLEM_TYPE
    body = answer.json
    assert body["code"] == code
    assert body["status"] == kind.status
    assert body["title"] == kind.title
    assert body["type"] == f"/docs#problem-{code}"
    assert body["request_id"] == answer.headers["X-Request-Id"]
    assert body["detail"]
    assert answer.headers["Cache-Control"] == "no-store"
    assert answer.headers["Access-Control-Allow-Origin"] == "*"
    assert "ETag" not in answer.headers


@pytest.mark.parametrize("code", WAYS)
def test_each_problem_is_answered_as_the_table_has_it(client, code):
    check(WAYS[code](client), code)


def test_the_ways_cover_the_table():
    # made to happen in other files
    ours = {
        "no_price",
        "no_prices",
        "not_ready",
        "internal_error",
        "busy",
        "too_often",
        "key_needed",
        "paper_too_small",
        "request_timeout",
        "shop_changed",
        "took_too_long",
        "too_many_pages",
    }
    assert set(WAYS) | ours == {kind.code for kind in PROBLEMS.values()}


def test_each_problem_has_its_place_on_the_page(client):
    page = client.get("/docs").text
    for kind in PROBLEMS.values():
        assert f'id="problem-{kind.code}"' in page


def test_a_fault_of_ours_is_logged_and_told_without_a_traceback(client, monkeypatch, caplog):
    def fail(*_):
        raise ZeroDivisionError("the secret")

    monkeypatch.setattr(PatternRequest, "make", fail)
    never_asked = HANGING | {"size": {"body_length": "29 7/8 in"}}
    answer = send(client, json=never_asked, headers={"X-Request-Id": "mine-1"})
    check(answer, "internal_error")
    assert "secret" not in answer.text
    assert "Traceback" not in answer.text
    assert "ZeroDivisionError: the secret" in caplog.text
    assert "mine-1" in caplog.text


def test_a_service_without_its_font_is_not_ready_but_lives(client, monkeypatch):
    def fail():
        raise FontError("gone")

    monkeypatch.setattr(health, "check_font", fail)
    check(client.get("/health/ready"), "not_ready")
    assert client.get("/health/live").status_code == 200


@pytest.mark.parametrize(
    ("path", "allowed"),
    [("/v1/patterns", "OPTIONS, POST"), ("/v1/shop", "GET, HEAD, OPTIONS"), ("/docs", "GET, HEAD, OPTIONS")],
)
@pytest.mark.parametrize("method", ["PUT", "DELETE", "PATCH", "TRACE", "BREW"])
def test_405_says_what_is_allowed(client, path, allowed, method):
    """RFC 9110, section 15.5.6."""
    answer = client.open(path, method=method)
    check(answer, "method_not_allowed")
    assert answer.headers["Allow"] == allowed


def test_415_says_what_is_read(client):
    """RFC 9110, sections 12.5.1 (Accept in an answer) and 12.5.3 (Accept-Encoding in an answer)."""
    assert WAYS["wrong_media_type"](client).headers["Accept"] == "application/json"
    assert WAYS["wrong_content_encoding"](client).headers["Accept-Encoding"] == "identity"


@pytest.mark.parametrize(
    "declared",
    [None, "", "text/json", "application/x-www-form-urlencoded", "application/json; charset=latin-1", "json",
     "application/json; profile=x", "application/problem+json"],
)  # fmt: skip
def test_only_json_is_read_as_json(client, declared):
    headers = {} if declared is None else {"Content-Type": declared}
    check(client.post("/v1/patterns", data="{}", headers=headers), "wrong_media_type")


@pytest.mark.parametrize("declared", ["application/json", "Application/JSON", 'application/json;charset="UTF-8"'])
def test_json_is_json_however_it_is_declared(client, declared):
    answer = client.post("/v1/patterns", data="{}", headers={"Content-Type": declared})
    check(answer, "spec_unreadable")


def test_406_lists_what_there_is(client):
    detail = WAYS["not_acceptable"](client).json["detail"]
    assert all(form in detail for form in ("application/json", "image/svg+xml", "image/png"))


@pytest.mark.parametrize("path", ["/v1/patterns/", "/v1/shop/", "/docs//x", "/v1//shop", "/v1/designs/"])
def test_a_path_has_one_spelling_and_nobody_is_sent_elsewhere(client, path):
    check(client.get(path), "not_found")


@pytest.mark.parametrize("path", ["//v1/shop", "//metrics", "///health/ready"])
def test_a_path_begins_with_one_slash(client, path):
    """Said in the environment, since a client reads `//name` as a host (RFC 3986, section 4.2)."""
    check(client.get("/", environ_overrides={"PATH_INFO": path}), "not_found")


def test_a_body_sent_in_pieces_is_measured_too(client):
    """RFC 9112, section 7.1: the chunked coding comes without Content-Length; servers decode it."""
    answer = client.post(
        "/v1/patterns",
        input_stream=io.BytesIO(b" " * 100_000),
        headers=JSON,
        environ_overrides={"wsgi.input_terminated": True, "HTTP_TRANSFER_ENCODING": "chunked"},
    )
    check(answer, "body_too_long")


def test_limits_come_from_the_settings(shop):
    client = create_app(Settings(body_max=1024, url_max=200), shop).test_client()
    check(client.post("/v1/patterns", data=" " * 1025, headers=JSON), "body_too_long")
    assert client.post("/v1/patterns", data=" " * 1024, headers=JSON).json["code"] == "not_json"
    check(client.get("/v1/patterns/" + "a" * 188), "url_too_long")
    assert client.get("/v1/patterns/" + "a" * 187).json["code"] == "unknown_code"


def test_the_detail_tells_the_first_fault_and_how_many_more(client):
    one = client.post("/v1/patterns", json={"construction": "open", "size": {"girth": "x"}})
    assert one.json["detail"].startswith("size.girth: 'x': not a length")
    two = client.post("/v1/patterns", json={"x" * 50_000: 1, "construction": "open", "size": {"girth": "x"}})
    assert two.json["detail"].endswith("(and 1 more, see errors)")
    assert len(two.json["detail"]) < 300
    assert [each["pointer"] for each in two.json["errors"]] == ["/size/girth", "/" + "x" * 50_000]


def test_faults_point_into_the_callers_document_with_their_readings(client):
    answer = client.post("/v1/patterns", json=REFUSED)
    errors = answer.json["errors"]
    assert [each["pointer"] for each in errors] == ["/ornaments/count"]
    assert errors[0]["limit"].endswith(" in")
    assert errors[0]["limit_mm"] == 1.5
    metric = client.post("/v1/patterns", json=REFUSED | {"units": "mm"})
    assert metric.json["errors"][0]["limit"] == "1.5 mm"


@pytest.mark.parametrize("content", [b"[" * 1500, b'{"construction":' * 3000, b"9" * 5000, b'{"a":1,"a":2}'])
def test_texts_that_trip_parsers_are_400(client, content):
    check(client.post("/v1/patterns", data=content, headers=JSON), "not_json")


# ---------------------------------------------------------------- what cannot be read, and what the shop lacks


@pytest.mark.parametrize(
    ("document", "told"),
    [
        (
            {"construction": "open", "size": {"body_length": "20 in"}, "leather": "felt", "colour": "red"},
            {"/colour": "unknown_field", "/leather": "unknown_leather"},
        ),
        (
            {"leather": "felt", "ornaments": {"item": "drum", "count": 3}},
            {
                "/construction": "missing",
                "/size": "missing",
                "/leather": "unknown_leather",
                "/ornaments/item": "unknown_ornament",
            },
        ),
        (
            {"construction": "open", "size": 7, "between": [{"item": "drum"}, {"item": "spot_6", "per_gap": "a"}]},
            {"/size": "wrong_type", "/between/1/per_gap": "wrong_type"},
        ),
        ({"construction": "open", "size": {"body_length": "20 in"}, "leather": ["felt"]}, {"/leather": "wrong_type"}),
        ([], {"": "wrong_type"}),
    ],
    ids=str,
)
def test_all_that_is_wrong_is_told_at_once(client, document, told):
    """A maker mends a spec once, not once for each kind of mistake (common practice of forms)."""
    answer = client.post("/v1/patterns", json=document)
    assert answer.status_code == 422
    assert {error["pointer"]: error["code"] for error in answer.json["errors"]} == told
