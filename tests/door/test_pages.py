"""The shop, the document and the page."""

import base64
import hashlib
import re
from decimal import Decimal
from html.parser import HTMLParser
from urllib.parse import urljoin

import pytest

from service.app import start
from service.strap.plane.lengths import parse_length


def test_the_shop_lists_what_a_spec_may_name(client, shop):
    found = client.get("/v1/shop").json
    for table in ("leathers", "fasteners", "buckles", "rings", "ornaments", "round_punches"):
        assert [each["id"] for each in found[table]] == list(getattr(shop, table))
    assert found["defaults"]["leather"] == shop.defaults.leather
    assert found["limits"]["ornaments_max"] == 200
    assert found["limits"]["length_max"] == "84 in"
    bell = next(each for each in found["ornaments"] if each["id"] == "bell_30")
    assert (bell["diameter_mm"], bell["mass_g"], bell["price"]) == (30, 28, "1.45")
    assert bell["shank"]["direction"] == "across"


@pytest.mark.parametrize("query", ["", "?units=mm"])
def test_every_length_of_the_shop_is_a_pair_that_agrees(client, query):
    def pairs(part):
        if isinstance(part, list):
            for each in part:
                yield from pairs(each)
        elif isinstance(part, dict):
            for name, value in part.items():
                if name.endswith("_mm"):
                    yield value, part[name.removesuffix("_mm")]
                yield from pairs(value)

    found = list(pairs(client.get("/v1/shop" + query).json))
    assert len(found) > 150
    for millimetres, reading in found:
        read = Decimal(parse_length(reading.removeprefix("≈ "), "in")) / 1_000_000
        assert abs(read - Decimal(str(millimetres))) <= Decimal("0.2")
        assert reading.endswith("mm" if query else "in")


class Page(HTMLParser):
    """Collects what matters of a page: its tags in order, its ids and its links."""

    def __init__(self):
        super().__init__()
        self.open, self.ids, self.links, self.tags = [], [], [], set()

    def handle_starttag(self, tag, attrs):
        attributes = dict(attrs)
        self.tags.add(tag)
        if tag not in ("meta", "link", "br"):
            self.open.append(tag)
        if "id" in attributes:
            self.ids.append(attributes["id"])
        if tag == "a":
            self.links.append(attributes["href"])

    def handle_endtag(self, tag):
        assert self.open.pop() == tag


def test_the_page_is_well_formed_and_every_link_leads_somewhere(client):
    page = Page()
    page.feed(client.get("/docs").text)
    assert page.open == []
    assert len(page.ids) == len(set(page.ids))
    assert page.links
    assert all(link[1:] in page.ids for link in page.links if link.startswith("#"))
    others = [link for link in page.links if not link.startswith("#")]
    assert others == ["docs/rules"]
    assert client.get(urljoin("/docs", others[0])).status_code == 200
    assert not page.tags & {"script", "img", "link", "iframe"}


def test_the_page_tells_of_every_operation_parameter_and_example(client):
    page = client.get("/docs").text
    document = client.get("/openapi.json").json
    for path, methods in document["paths"].items():
        for operation in methods.values():
            assert f'id="{operation["operationId"]}"' in page
            assert all(f"<code>{each['name']}</code>" in page for each in operation["parameters"])
        assert path in page
    bodies = (methods["post"]["requestBody"] for methods in document["paths"].values() if "post" in methods)
    forms = (form for body in bodies for form in body["content"].values())
    assert page.count("<pre") == sum(len(form.get("examples", {})) for form in forms)


def test_the_pages_policy_lets_in_its_own_style_and_no_other(client):
    """CSP level 3, section 8.4: a digest of the style element's content."""
    answer = client.get("/docs")
    style = re.search(r"<style>(.*)</style>", answer.text, re.DOTALL)[1]
    digest = base64.b64encode(hashlib.sha256(style.encode()).digest()).decode()
    policy = answer.headers["Content-Security-Policy"]
    assert f"style-src 'sha256-{digest}';" in policy
    assert "unsafe" not in policy
    assert "url(" not in style


WRONG_CONFIGURATION = "^78$"
"""sysexits(3), EX_CONFIG: by it a supervisor knows that a second try is no use."""


def test_a_wrong_environment_ends_the_start_with_every_mistake(monkeypatch, capsys):
    monkeypatch.setenv("STRAP_BODY_MAX", "1")
    monkeypatch.setenv("STRAP_URL_MAX", "1")
    with pytest.raises(SystemExit, match=WRONG_CONFIGURATION):
        start()
    assert re.search(r"(?s)STRAP_BODY_MAX.*STRAP_URL_MAX", capsys.readouterr().err)


def test_a_wrong_shop_file_ends_the_start_with_its_keys(monkeypatch, tmp_path, capsys):
    path = tmp_path / "ours.toml"
    path.write_text("[shop]\nname = 3\n")
    monkeypatch.setenv("STRAP_SHOP_FILE", str(path))
    with pytest.raises(SystemExit, match=WRONG_CONFIGURATION):
        start()
    assert re.search(r"(?s)ours.toml cannot be used.*shop.name", capsys.readouterr().err)
