"""Below a path of its host the service is whole: every link that it gives leads below that path, and to something.

A path that a proxy takes away is `SCRIPT_NAME` (PEP 3333); what `X-Forwarded-Prefix`, `-Host` and `-Proto` say is
common practice. A relative reference that begins with one slash is to the root of the host (RFC 3986, section 4.2).
"""

import html
import re
from collections import deque
from urllib.parse import urljoin, urlsplit

import pytest
from werkzeug.test import Client

from service.app import create_app
from service.settings import Settings, SettingsError, read_settings
from tests.support.door import HANGING, REFUSED
from tests.support.stripping import PREFIX, Stripping

SITE = f"https://shop.example{PREFIX}"
FORWARDED = {"proxies": 1, "forwarded": ("host", "prefix", "proto"), "hosts": ("shop.example",)}
SAID = {
    "HTTP_X_FORWARDED_PREFIX": PREFIX, "HTTP_X_FORWARDED_HOST": "shop.example", "HTTP_X_FORWARDED_PROTO": "https",
    "HTTP_HOST": "127.0.0.1:8000",
}  # fmt: skip
MEMBERS = ("href", "picture", "price", "quotes", "type", "url", "provider_url", "today")
"""Members of JSON answers that hold an address."""


def by_public_url(shop):
    return Stripping(create_app(Settings(public_url=SITE), shop))


def by_what_the_proxy_says(shop):
    return Stripping(create_app(Settings(**FORWARDED), shop), **SAID)


def by_a_proxy_that_takes_nothing_away(shop):
    return create_app(Settings(public_url=SITE), shop)


def by_a_server_that_mounts_it(shop):
    """As a WSGI server does for several applications."""
    return Stripping(create_app(Settings(hosts=("shop.example",)), shop), SCRIPT_NAME=PREFIX)


WAYS = (by_public_url, by_what_the_proxy_says, by_a_proxy_that_takes_nothing_away, by_a_server_that_mounts_it)


@pytest.fixture(params=WAYS, ids=lambda way: way.__name__)
def caller(request, shop):
    return Client(request.param(shop))


def get(client, path, **headers):
    return client.get(path, base_url="https://shop.example", headers=headers)


def addresses(value):
    """Every address among the members of a JSON value, at any depth."""
    if isinstance(value, dict):
        for name, each in value.items():
            if name in MEMBERS and isinstance(each, str) and re.match("/|https?:", each):
                yield each
            yield from addresses(each)
    elif isinstance(value, list):
        for each in value:
            yield from addresses(each)


def links(answer):
    """Every address that an answer gives, as it stands there."""
    for name in ("Location", "Content-Location"):
        yield from answer.headers.getlist(name)
    yield from re.findall("<([^>]*)>", answer.headers.get("Link", ""))
    if answer.mimetype == "text/html":
        text = answer.get_data(as_text=True)
        yield from map(html.unescape, re.findall(r'(?:href|src|action)="([^"]*)"', text))
        yield from re.findall(r"https?://shop\.example[^\s'\"<>]*", html.unescape(text))
    elif answer.is_json:
        yield from addresses(answer.json)


@pytest.mark.slow
def test_every_link_leads_below_the_path_and_to_something(caller):
    """From the index and the workshop on: pages, styles, scripts, downloads, JSON, oEmbed, snippets."""
    seen, queue = set(), deque(f"{PREFIX}/{path}" for path in ("", "v1/designs", "docs", "workshop"))
    while queue:
        path = queue.popleft()
        answer = get(caller, path)
        assert answer.status_code == 200, path
        for link in links(answer):
            found = urlsplit(urljoin(f"https://shop.example{path}", link))
            where = found.path + (f"?{found.query}" if found.query else "")
            if found.netloc == "shop.example" and where not in seen:
                assert found.path.startswith(f"{PREFIX}/") or found.path == PREFIX, (path, link)
                seen.add(where)
                if "/quotes" not in where and where != PREFIX and len(queue) < 400:
                    queue.append(where)
    kinds = {path.partition("?")[0].rpartition(".")[2] for path in seen}
    assert {"css", "js", "svg", "png", "pdf", "json"} <= kinds
    for needed in ("/oembed", "/embed.js", "/page.js", "/designs/bell_garter", "/v1/designs/bell_garter/price"):
        assert any(path.startswith(PREFIX + needed) for path in seen), needed


def test_headers_and_problems_lead_below_the_path(caller):
    moved = get(caller, f"{PREFIX}/docs/?a=b")
    assert (moved.status_code, moved.headers["Location"]) == (308, f"{PREFIX}/docs?a=b")
    made = caller.post(f"{PREFIX}/v1/patterns", json=HANGING, base_url="https://shop.example")
    assert made.headers["Content-Location"].startswith(f"{PREFIX}/v1/patterns/")
    assert get(caller, made.headers["Content-Location"]).data == made.data
    drawn = get(caller, f"{PREFIX}/v1/designs/bell_garter/pattern.svg?bells=3")
    assert re.fullmatch(rf'<{PREFIX}/v1/designs/bell_garter/pattern\.svg\?.*>; rel="canonical"', drawn.headers["Link"])
    refused = caller.post(f"{PREFIX}/v1/patterns", json=REFUSED, base_url="https://shop.example")
    assert refused.json["type"] == f"{PREFIX}/docs#problem-cannot_be_made"
    lost = get(caller, f"{PREFIX}/v1/nothing")
    assert lost.json["type"] == f"{PREFIX}/docs#problem-not_found"
    assert f"{PREFIX}/docs lists" in lost.json["detail"]
    page = get(caller, f"{PREFIX}/designs/bell_gartr", Accept="text/html")
    assert f'href="{PREFIX}/designs/bell_garter"' in page.text


def test_the_openapi_document_says_where_its_paths_begin(caller, client):
    """OpenAPI 3.1, Server Object: a URL that begins with a slash is of the host that serves the document."""
    document = get(caller, f"{PREFIX}/openapi.json").json
    plain = client.get("/openapi.json").json
    assert [each["url"] for each in document["servers"]] == [PREFIX]
    assert [each["url"] for each in plain["servers"]] == ["/"]
    assert document | {"servers": plain["servers"]} == plain


def test_a_kept_answer_names_the_path_by_which_it_was_asked_for(shop):
    app = create_app(Settings(**FORWARDED), shop)
    url = "/v1/designs/bell_garter/pattern.svg"
    for prefix in ("/one", "/two", "/one", "/two", ""):
        answer = app.test_client().get(url, headers={"X-Forwarded-Prefix": prefix})
        assert answer.headers["Content-Location"].startswith(f"{prefix}/v1/patterns/"), prefix
        assert answer.headers["Link"].startswith(f"<{prefix}/v1/designs/"), prefix


@pytest.mark.parametrize(
    "prefix",
    ["//evil.example", "/a//b", "/a/../b", "/..", "/.", "a", "/a b", "/a?b", "/a#b", '/a"b', "/<a>", "/é",
     "/" + "a" * 200, "https://evil.example", "/a\\b", "/a;b", "/a%2fb"],
)  # fmt: skip
def test_a_path_that_is_none_is_not_believed(shop, prefix):
    client = create_app(Settings(**FORWARDED), shop).test_client()
    plain = client.get("/designs/bell_garter").text
    assert client.get("/designs/bell_garter", headers={"X-Forwarded-Prefix": prefix}).text == plain
    assert client.get("/designs/bell_garter", headers={"X-Forwarded-Prefix": "/ok/"}).text != plain


def test_a_forwarded_host_has_to_be_a_known_one(shop):
    client = create_app(Settings(**FORWARDED), shop).test_client()
    for host, status in (("shop.example", 200), ("evil.example", 421), ("localhost", 200)):
        assert client.get("/v1/shop", headers={"X-Forwarded-Host": host}).status_code == status


def test_of_more_proxies_than_are_trusted_the_last_are_believed(shop):
    client = create_app(Settings(**FORWARDED), shop).test_client()
    said = {"X-Forwarded-Prefix": "/forged, /straps", "X-Forwarded-Host": "evil.example, shop.example"}
    answer = client.get("/v1/designs/bell_garter/pattern", headers=said)
    assert answer.headers["Content-Location"].startswith("/straps/v1/patterns/")


def test_what_is_for_machines_has_one_name_only(shop):
    """A proxy refuses `/metrics` to callers from outside by its name: it may have no other."""
    client = create_app(Settings(public_url=SITE), shop).test_client()
    for path in ("/metrics", "/health/ready", "/health/live"):
        assert client.get(path).status_code == 200
        for spelling in (f"{PREFIX}{path}", f"{PREFIX}{path}/", f"{PREFIX}{PREFIX}{path}", f"{PREFIX}/{path}"):
            assert client.get(spelling).status_code == 404, spelling


def test_a_path_like_one_of_ours_is_taken_as_it_stands(shop):
    stripped = Client(Stripping(create_app(Settings(public_url="https://shop.example/v1"), shop), "/v1"))
    assert get(stripped, "/v1/v1/designs").json["designs"][0]["href"].startswith("/v1/v1/designs/")


@pytest.mark.parametrize("url", [SITE, f"{SITE}/", "http://a.example:81/b/c.d/~e_f-g", "https://straps.example/"])
def test_public_urls_that_are_read(url):
    assert read_settings({"STRAP_PUBLIC_URL": url}).public_url == url.rstrip("/")


@pytest.mark.parametrize(
    "url", [f"{SITE}?a", f"{SITE}#a", "https://a.example//b", "https://a.example/../b", "https://a.example/b/.",
            "https://a.example/b c", "https://a.example/%41", "/straps", "shop.example/straps"],
)  # fmt: skip
def test_public_urls_that_are_not(url):
    with pytest.raises(SettingsError, match="STRAP_PUBLIC_URL"):
        read_settings({"STRAP_PUBLIC_URL": url})


def test_what_is_believed_needs_somebody_to_believe():
    assert read_settings({"STRAP_FORWARDED": "Host prefix", "STRAP_PROXIES": "1"}).forwarded == ("host", "prefix")
    for wrong in ({"STRAP_FORWARDED": "prefix"}, {"STRAP_FORWARDED": "for", "STRAP_PROXIES": "1"}):
        with pytest.raises(SettingsError, match="STRAP_FORWARDED"):
            read_settings(wrong)
