"""Every text that a caller can set, as markup, script or line break: none of it gets into a drawing or a page."""

import copy
import re
import xml.etree.ElementTree as ET
from html.parser import HTMLParser

import pytest

from service.door.routes import routes
from service.settings import Settings
from tests.support.door import GOOD

MARK = "zqx"
PAYLOADS = (
    f"<script>{MARK}</script>",
    f'"><svg onload={MARK}>',
    f"' onmouseover='{MARK}",
    f"]]><!ENTITY {MARK} SYSTEM 'file:///etc/passwd'>",
    f"</text><image href='javascript:{MARK}'/>",
    f"{MARK}\r\nX-Injected: 1",
    f"{{{{{MARK}}}}}",
    f"\u2028{MARK}\u202e",
)
SVG = "{http://www.w3.org/2000/svg}"
SAFE = {
    *("svg", "title", "desc", "metadata", "style", "g", "defs", "symbol", "use", "image", "text", "tspan"),
    *("path", "circle", "rect", "line", "linearGradient", "radialGradient", "stop", "clipPath", "marker", "pattern"),
    "filter",
}


def places(value, path=()):
    """The path of every text and every name in a document."""
    if isinstance(value, dict):
        for name, inner in value.items():
            yield (*path, name), True
            yield from places(inner, (*path, name))
    elif isinstance(value, list):
        for n, inner in enumerate(value):
            yield from places(inner, (*path, n))
    elif isinstance(value, str):
        yield path, False


def changed(document, path, is_name, text):
    changed = copy.deepcopy(document)
    inner = changed
    for step in path[:-1]:
        inner = inner[step]
    if is_name:
        inner[text] = inner.pop(path[-1])
    else:
        inner[path[-1]] = text
    return changed


def assert_harmless_svg(content):
    for element in ET.fromstring(content).iter():  # our own answer, and checked to hold no entity
        assert element.tag.removeprefix(SVG) in SAFE
        for name, value in element.attrib.items():
            assert not name.lower().startswith("on")
            assert "javascript:" not in value.lower()
            if name.endswith("href"):
                assert value.startswith(("#", "data:image/png;base64,"))


@pytest.mark.slow
@pytest.mark.parametrize("name", GOOD)
def test_no_text_of_a_spec_becomes_markup(client, name):
    tried = 0
    for n, (path, is_name) in enumerate(places(GOOD[name])):
        for payload in (PAYLOADS + PAYLOADS)[n % len(PAYLOADS) :][:3]:
            spec = changed(GOOD[name], path, is_name, payload)
            answer = client.post("/v1/patterns", json=spec, headers={"Accept": "image/svg+xml"})
            tried += 1
            assert answer.status_code in (200, 422)
            assert "X-Injected" not in answer.headers
            if answer.status_code == 200:
                assert b"<!ENTITY" not in answer.data
                assert_harmless_svg(answer.data)
            else:
                assert answer.mimetype == "application/problem+json"
                assert answer.headers["X-Content-Type-Options"] == "nosniff"
    assert tried >= 9


class Page(HTMLParser):
    """Finds what of a payload became markup."""

    def __init__(self):
        super().__init__()
        self.found = []
        self._in_script = False

    def handle_starttag(self, tag, attrs):
        self._in_script = tag == "script"
        for name, value in attrs:
            if name.startswith("on") or MARK in name or (name in ("href", "src") and "javascript:" in (value or "")):
                self.found.append((tag, name, value))
        if MARK in tag:
            self.found.append(tag)

    def handle_data(self, data):
        if self._in_script and MARK in data:
            self.found.append(data)

    def handle_endtag(self, _):
        self._in_script = False


GETS = [route for route in routes(Settings()) if route.method == "GET"]


@pytest.mark.slow
@pytest.mark.parametrize("route", GETS, ids=lambda route: route.name)
def test_no_text_of_a_url_becomes_markup_or_a_header(client, route):
    designs = client.get("/v1/designs")
    known = designs.json["designs"][0]["name"] if designs.status_code == 200 and "designs" in designs.json else "x"
    parameters = [each.name for each in route.parameters] or ["q"]
    for payload in PAYLOADS:
        for filled in (re.sub(r"{\w+}", "x", route.path), re.sub(r"{\w+}", known, route.path)):
            for name in (*parameters, payload, "length", "url"):
                _assert_harmless(client.get(filled, query_string={name: payload}))
        odd = re.sub(r"{\w+}", lambda _, payload=payload: payload.replace("/", ""), route.path)
        _assert_harmless(client.get(odd))


def _assert_harmless(answer):
    assert answer.status_code < 500 or answer.status_code == 501  # what oEmbed asks for
    assert "X-Injected" not in answer.headers
    assert all("\n" not in value and "\r" not in value for value in answer.headers.values())
    if answer.mimetype == "text/html":
        page = Page()
        page.feed(answer.text)
        assert not page.found
    elif answer.mimetype == "image/svg+xml":
        assert_harmless_svg(answer.data)
    else:
        assert answer.headers["X-Content-Type-Options"] == "nosniff"


HEADERS = ("Accept", "If-None-Match", "Origin", "X-Request-Id", "traceparent", "Authorization")
ODD = ("\u00ff" * 100, "a" * 8000, ",".join(["*/*;q=0.1"] * 800), '"' * 4000, "W/" * 3000, ";" * 5000)


@pytest.mark.parametrize("header", HEADERS)
@pytest.mark.parametrize("text", ODD, ids=("latin", "long", "list", "quotes", "weak", "semicolons"))
def test_odd_headers_are_answered(client, header, text):
    assert client.get("/v1/shop", headers={header: text}).status_code < 500
