"""The pattern routes. The contract is the source where none is named."""

import io
import json
from base64 import urlsafe_b64encode
from dataclasses import replace

import pytest
from PIL import Image

from service.app import create_app
from service.schemas.codes import code_of
from service.schemas.spec import read_spec
from service.settings import Settings
from tests.support.door import COLLAR, GARTER, GOOD, HANGING, HARNESS, REFUSED

SVG_POLICY = "default-src 'none'; style-src 'unsafe-inline'; sandbox"
FORMS = {"json": "application/json", "svg": "image/svg+xml", "png": "image/png"}


def post(client, spec, accept=None, query=""):
    headers = {"Accept": accept} if accept else {}
    return client.post("/v1/patterns" + query, json=spec, headers=headers)


@pytest.mark.parametrize("name", GOOD)
def test_a_spec_gives_its_pattern_and_the_patterns_url_gives_it_again(client, name):
    made = post(client, GOOD[name])
    assert (made.status_code, made.mimetype) == (200, "application/json")
    location = made.headers["Content-Location"]
    assert location == f"/v1/patterns/{made.json['code']}"
    again = client.get(location)
    assert again.data == made.data
    assert again.headers["ETag"] == made.headers["ETag"]
    assert again.headers["Content-Location"] == location


def test_the_filled_spec_makes_the_same_pattern(client):
    made = post(client, GOOD["shortest_three_piece"]).json
    filled = post(client, made["spec"]).json
    assert filled["spec"] == made["spec"]
    assert filled["pieces"] == made["pieces"]


@pytest.mark.parametrize("form", FORMS)
def test_each_form_comes_by_accept_and_by_suffix_and_the_suffix_wins(client, form):
    code = post(client, HANGING).json["code"]
    by_accept = client.get(f"/v1/patterns/{code}", headers={"Accept": FORMS[form]})
    by_suffix = client.get(f"/v1/patterns/{code}.{form}", headers={"Accept": "text/plain"})
    by_post = post(client, HANGING, FORMS[form])
    assert by_accept.mimetype == by_suffix.mimetype == by_post.mimetype == FORMS[form]
    assert by_accept.data == by_suffix.data == by_post.data
    assert by_accept.headers["ETag"] == by_suffix.headers["ETag"]


def test_forms_and_options_each_have_their_own_strong_tag(client):
    code = post(client, HANGING).json["code"]
    urls = ["", ".svg", ".png", ".svg?units=mm", ".svg?piece=strap", ".png?dpi=100", ".png?width_px=600"]
    tags = [client.get(f"/v1/patterns/{code}{url}").headers["ETag"] for url in urls]
    assert len(set(tags)) == len(tags)
    assert all(tag.startswith('"') and tag.endswith('"') for tag in tags)


def test_another_shop_file_gives_another_tag(client, shop):
    other = create_app(Settings(), replace(shop, digest="0" * 64)).test_client()
    assert post(client, HANGING).headers["ETag"] != post(other, HANGING).headers["ETag"]


@pytest.mark.parametrize("form", FORMS)
@pytest.mark.parametrize("condition", ["{tag}", "W/{tag}", '"other", {tag}', "*"])
def test_a_caller_who_has_it_gets_304_with_the_same_headers(client, form, condition):
    """RFC 9110, sections 13.1.2 (weak comparison, lists, *) and 15.4.5 (headers of a 304)."""
    url = f"/v1/patterns/{post(client, HANGING).json['code']}.{form}"
    first = client.get(url)
    headers = {"If-None-Match": condition.format(tag=first.headers["ETag"])}
    for method in (client.get, client.head):
        answer = method(url, headers=headers)
        assert answer.status_code == 304
        assert answer.data == b""
        assert "Content-Type" not in answer.headers
        for name in ("ETag", "Cache-Control", "Content-Location", "Vary", "Access-Control-Allow-Origin"):
            assert answer.headers[name] == first.headers[name]


def test_other_tags_and_posts_get_the_whole_answer(client):
    """RFC 9110, section 13.1.2: a POST's target has no representation that a condition could be about."""
    made = post(client, HANGING)
    url = made.headers["Content-Location"]
    assert client.get(url, headers={"If-None-Match": '"other"'}).status_code == 200
    assert client.get(url, headers={"If-None-Match": "not a tag"}).status_code == 200
    again = client.post("/v1/patterns", json=HANGING, headers={"If-None-Match": made.headers["ETag"]})
    assert again.status_code == 200


def test_a_star_does_not_hide_that_a_spec_cannot_be_made(client):
    code = code_of(read_spec({"construction": "open", "size": {"body_length": "1 in"}}, "in"), "in")
    assert client.get(f"/v1/patterns/{code}", headers={"If-None-Match": "*"}).status_code == 422


def test_a_code_of_what_cannot_be_read_or_made_is_told_like_the_spec_itself(client):
    for document, code in (({"size": 3}, "spec_unreadable"), (REFUSED, "cannot_be_made")):
        text = urlsafe_b64encode(json.dumps(document).encode()).rstrip(b"=").decode()
        by_code, by_post = client.get(f"/v1/patterns/{text}.svg"), post(client, document)
        assert by_code.status_code == by_post.status_code == 422
        assert by_code.json["code"] == by_post.json["code"] == code
        assert by_code.json["errors"] == by_post.json["errors"]
        assert by_code.json.get("remedies") == by_post.json.get("remedies")


def test_a_good_answer_carries_the_headers_of_the_contract(client):
    made = post(client, HANGING)
    assert made.headers["Vary"] == "Accept"
    assert made.headers["Cache-Control"] == "public, max-age=3600"
    svg = post(client, HANGING, "image/svg+xml")
    assert svg.headers["Content-Security-Policy"] == SVG_POLICY
    assert svg.headers["X-Content-Type-Options"] == "nosniff"
    assert svg.headers["Cross-Origin-Resource-Policy"] == "cross-origin"


def test_head_says_what_get_would_without_the_content(client):
    url = f"/v1/patterns/{post(client, HANGING).json['code']}.svg"
    got, head = client.get(url), client.head(url)
    assert head.status_code == 200
    assert head.data == b""
    skipped = {"X-Request-Id", "Server-Timing"}
    assert {k: v for k, v in head.headers if k not in skipped} == {k: v for k, v in got.headers if k not in skipped}
    assert int(head.headers["Content-Length"]) == len(got.data)


def test_a_spelling_of_a_code_works_and_names_the_canonical_one(client):
    canonical = post(client, HANGING).headers["Content-Location"]
    spelled = urlsafe_b64encode(json.dumps(HANGING, indent=3).encode()).rstrip(b"=").decode()
    answer = client.get(f"/v1/patterns/{spelled}")
    assert answer.status_code == 200
    assert answer.headers["Content-Location"] == canonical
    assert client.get(f"/v1/patterns/{spelled}.svg").headers["Content-Location"] == canonical + ".svg"


def test_a_code_too_long_for_a_url_is_left_out_and_the_post_works(shop):
    client = create_app(Settings(url_max=200), shop).test_client()
    made = post(client, HARNESS)
    assert made.status_code == 200
    assert len(made.json["code"]) > 200
    assert "Content-Location" not in made.headers


def test_units_change_the_readings_and_nothing_else(client):
    code = post(client, COLLAR).json["code"]
    inches, metric = (client.get(f"/v1/patterns/{code}.json{query}").json for query in ("", "?units=mm"))
    assert inches["pieces"][0]["width"] == "3/4 in"
    assert metric["pieces"][0]["width"] == "≈ 19.1 mm"
    assert metric["pieces"][0]["width_mm"] == inches["pieces"][0]["width_mm"] == 19.05
    assert metric["spec"] == inches["spec"]


@pytest.mark.parametrize(("query", "width"), [("?width_px=600", 600), ("?width_px=16", 16)])
def test_a_png_is_as_wide_as_asked_for(client, query, width):
    image = Image.open(io.BytesIO(post(client, GARTER, "image/png", query).data))
    assert image.width == width


def test_a_png_says_its_resolution(client):
    """pHYs holds whole pixels a metre (PNG specification, 11.3.4.3), so 120 dpi reads back within 0.02."""
    image = Image.open(io.BytesIO(post(client, GARTER, "image/png", "?dpi=120").data))
    assert image.info["dpi"] == pytest.approx((120, 120), abs=0.02)
    plain = Image.open(io.BytesIO(post(client, GARTER, "image/png").data))
    assert plain.info["dpi"] == pytest.approx((150, 150), abs=0.02)


def test_one_piece_alone(client):
    svg = post(client, HARNESS, "image/svg+xml", "?piece=keeper")
    whole = post(client, HARNESS, "image/svg+xml")
    assert svg.status_code == 200
    assert len(svg.data) < len(whole.data) / 2
    assert svg.headers["Content-Location"].endswith(".svg?piece=keeper")


@pytest.mark.parametrize(
    ("accept", "query", "parameter", "code"),
    [
        ("image/png", "?dpi=100&width_px=300", "width_px", "one_of"),
        ("image/svg+xml", "?dpi=100", "dpi", "without_meaning"),
        ("application/json", "?piece=body", "piece", "without_meaning"),
        ("image/png", "?dpi=9", "dpi", "invalid"),
        ("image/png", "?dpi=601", "dpi", "invalid"),
        ("image/png", "?dpi=1e2", "dpi", "invalid"),
        ("image/png", "?dpi=", "dpi", "invalid"),
        ("image/png", "?width_px=8001", "width_px", "invalid"),
        ("image/svg+xml", "?view=from_behind", "view", "invalid"),
        ("image/svg+xml", "?units=cm", "units", "invalid"),
        ("image/svg+xml", "?units=mm&units=mm", "units", "given_twice"),
        ("image/svg+xml", "?piec=body", "piec", "unknown_parameter"),
        ("image/svg+xml", "?Units=mm", "Units", "unknown_parameter"),
        ("image/svg+xml", "?piece=bdoy", "piece", "invalid"),
    ],
)
def test_a_bad_parameter_is_refused_by_name(client, accept, query, parameter, code):
    answer = post(client, HARNESS, accept, query)
    assert answer.status_code == 422
    assert [(each["parameter"], each["code"]) for each in answer.json["errors"]] == [(parameter, code)]


def test_an_unknown_parameter_is_told_the_nearest(client):
    detail = post(client, HARNESS, "image/svg+xml", "?piec=body").json["errors"][0]["detail"]
    assert "did you mean 'piece'?" in detail


def test_a_picture_too_large_names_what_would_do_and_that_does(client):
    answer = post(client, HARNESS, "image/png", "?dpi=600")
    assert answer.status_code == 422
    limits = {each["parameter"]: each["limit"] for each in answer.json["errors"]}
    assert post(client, HARNESS, "image/png", f"?dpi={limits['dpi']}").status_code == 200
    assert set(limits) == {"dpi", "width_px"}
