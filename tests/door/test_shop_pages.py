"""The pages on which designs are tried, without a script; their files; and oEmbed."""

import gzip
import re
from dataclasses import replace
from decimal import Decimal
from html import unescape
from urllib.parse import parse_qs, quote, urlsplit

import pytest

from service.app import create_app
from service.door.pages.price_words import money_words
from service.door.pages.shop_pages import CARD
from service.settings import Settings
from service.shop_file import demo_shop
from tests.contract.test_document import assert_valid
from tests.door.test_pages import Page

DESIGNS = demo_shop().designs
VOID = {"meta", "link", "br", "img"}
LARGEST_EMBED = 6400
"""Bytes, compressed as the proxies of deploy/ send it."""


class ShopPage(Page):
    """A page with its images, its metas and what may be chosen on it."""

    def __init__(self, html):
        super().__init__()
        self.images, self.metas, self.options, self.chosen, self.related = [], {}, {}, {}, {}
        self._select = None
        self.feed(html)

    def handle_starttag(self, tag, attrs):
        attributes = dict(attrs)
        if tag not in VOID:
            super().handle_starttag(tag, attrs)
        if tag == "img":
            self.images.append(attributes)
        elif tag == "meta":
            self.metas[attributes.get("property") or attributes.get("name")] = attributes.get("content")
        elif tag == "link":
            self.related[attributes.get("type") or attributes["rel"]] = attributes["href"]
        elif tag == "select":
            self._select = attributes["name"]
        elif tag == "option":
            self.options.setdefault(self._select, {})[attributes["value"]] = "disabled" not in attributes
            if "selected" in attributes:
                self.chosen[self._select] = attributes["value"]


def page(client, path):
    answer = client.get(path)
    assert answer.mimetype == "text/html"
    return ShopPage(answer.text)


@pytest.mark.parametrize(
    "path", ["/", "/workshop", *(f"{face}/designs/{name}" for face in ("", "/workshop") for name in DESIGNS)]
)
def test_every_page_is_well_formed_and_all_that_it_names_is_there(client, path):
    found = page(client, path)
    assert found.open == []
    assert len(found.ids) == len(set(found.ids))
    assert found.links
    for url in [*found.links, *(image["src"] for image in found.images), "/page.css", "/page.js", "/embed.js"]:
        assert url.startswith("/")
        assert client.get(url).status_code == 200, url
    assert all("alt" in image for image in found.images)
    assert "viewport" in found.metas


def test_the_front_page_shows_every_design_and_leads_to_it(client, shop):
    found = page(client, "/")
    assert len(found.images) == len(shop.designs)
    assert {f"/designs/{name}" for name in shop.designs} <= set(found.links)
    for design in shop.designs.values():
        assert design.title in unescape(client.get("/").text)


def test_the_form_without_a_script_leads_to_what_is_chosen(client):
    found = page(client, "/designs/bell_garter?bells=6&length=15in")
    assert found.chosen == {
        "length": "15in", "bells": "6", "bell": "bell_25", "leather": "latigo_6_7", "buckle": "centre_bar_25",
    }  # fmt: skip
    picture = parse_qs(urlsplit(found.images[0]["src"]).query)
    assert (picture["bells"], picture["length"], picture["view"]) == (["6"], ["15in"], ["finished"])
    assert "Bells: 6" in found.images[0]["alt"]


def test_what_cannot_be_made_is_marked_with_its_reason_without_a_script_too(client):
    html = client.get("/designs/bell_garter").text
    makeable = client.get("/v1/designs/bell_garter/choices").json
    at_14 = next(line["counts"] for line in makeable["makeable"] if line["value"] == "14in")
    passing = {str(count) for low, high in at_14 for count in range(low, high + 1)}
    assert set(re.findall(r'<option value="(\d+)"[^>]*>\d+</option>', html)) == passing
    assert '<option value="10">10 – room for at most 8</option>' in html
    assert (
        '<option value="14in">14 in – room for at most 8</option>'
        in client.get("/designs/bell_garter?length=20in&bells=10").text
    )
    thick = client.get("/designs/herding_dog_collar?leather=bridle_10_11").text
    assert '<option value="spot_6">Small, 6 mm – not with Black bridle leather</option>' in thick


BENCH = re.compile(r"pattern\b(?!\.(?:svg|png))|curl|terminal|overlap|punch|skive|/docs|/workshop|\.pdf|\.dxf")
"""What a buyer has no use for: the bench's words, its files, and what programs are told."""


@pytest.mark.parametrize("query", ["", "?{count}={most}"])
@pytest.mark.parametrize("name", DESIGNS)
def test_a_buyers_page_has_nothing_of_the_bench_and_the_makers_page_has(client, name, query):
    count = DESIGNS[name].count
    query = query.format(count=count.name, most=count.offer.most) if count else ""
    plain = client.get(f"/designs/{name}{query}").text
    assert BENCH.findall(plain) == []
    maker = client.get(f"/workshop/designs/{name}{query}").text
    assert 'data-form="pdf"' in maker
    assert "curl -s" in maker
    assert 'content="noindex"' in maker
    assert "noindex" not in plain
    assert f'action="/workshop/designs/{name}"' in maker


def test_the_front_page_has_nothing_of_the_bench(client):
    assert BENCH.findall(client.get("/").text) == []


def test_a_refused_choice_shows_its_reason_and_links_that_mend_it(client):
    html = client.get("/designs/bell_garter?bells=10").text
    assert "<p>Bells: at 14 in there is room for at most 8, not for 10.</p>" in html
    assert "overlap" not in html
    ways = re.findall(r'<li><a href="([^"]+)">([^<]+)</a>', html)
    assert ways[0][1] == "Bells: 8 instead of 10."
    assert "data-made hidden" in html
    for url, _ in ways:
        mended = client.get(unescape(url)).text
        assert 'class="refused"' not in mended


def test_a_pages_card_and_oembed_show_the_design_as_chosen(client):
    found = page(client, "/designs/goat_collar?bells=3")
    assert found.metas["og:title"] == "Goat collar with a bell"
    image = urlsplit(found.metas["og:image"])
    assert "bells=3" in image.query
    answer = client.get(f"{image.path}?{image.query}")
    assert answer.mimetype == "image/png"
    assert (int.from_bytes(answer.data[16:20]), int.from_bytes(answer.data[20:24])) == CARD
    assert (found.metas["og:image:width"], found.metas["og:image:height"]) == tuple(map(str, CARD))
    assert urlsplit(found.related["canonical"]).query.startswith("length=19in&bells=3")
    photo = client.get(found.related["application/json+oembed"]).json
    assert_valid("OEmbed", photo)
    assert photo["url"] == found.metas["og:image"]


def priced(shop, **terms):
    """The price that a page shows in a shop with these terms, and what `/price` answers there."""
    pricing = replace(shop.pricing, **terms)
    client = create_app(Settings(), replace(shop, pricing=pricing)).test_client()
    words = re.search(r'<p class="price">(.*?)</p>', client.get("/designs/bell_garter?bells=6").text)[1]
    return words, client.get("/v1/designs/bell_garter/price?bells=6").json


def test_over_all_is_with_the_ring_that_it_hangs_by(client):
    """Common practice: over all is from the outermost point to the outermost, fittings and all."""
    page = client.get("/designs/door_strap?length=26in").text
    finished = client.get("/v1/designs/door_strap/pattern.json?length=26in").json["finished"]
    assert finished["from"]["frame_mm"] > finished["length_mm"]
    assert f"<dt>Over all</dt><dd>{finished['from']['frame']}</dd>" in page


def test_a_page_shows_what_the_buyer_pays_with_the_tax_by_its_name(shop):
    words, price = priced(shop, shown="gross")
    assert words == f"€{price['total']} including VAT 19 %"
    words, price = priced(shop, shown="net")
    assert words == f"€{price['net']} plus VAT 19 % (€{price['tax']})"
    words, price = priced(shop, tax=Decimal(0), tax_title="no VAT: small <business>")
    assert words == f"€{price['total']} (no VAT: small &lt;business&gt;)"


def test_a_page_shows_no_price_where_there_is_none(client, shop):
    without = create_app(Settings(), replace(shop, pricing=None)).test_client()
    assert 'class="price"' not in without.get("/designs/bell_garter").text
    assert 'class="price"' not in client.get("/designs/bell_garter?bells=10").text


@pytest.mark.parametrize(
    ("amount", "currency", "words"),
    [
        ("53.72", "EUR", "€53.72"),
        ("1234.50", "USD", "$1,234.50"),
        ("1234567", "JPY", "¥1,234,567"),
        ("12.500", "KWD", "KWD\u00a012.500"),
        ("0.90", "CHF", "CHF\u00a00.90"),
        ("10.00", "CAD", "CA$10.00"),
    ],
)
def test_money_reads_as_browsers_write_it_in_english(amount, currency, words):
    """As `Intl.NumberFormat("en", { style: "currency" })` gave it, with the Unicode CLDR of node 20."""
    assert money_words(Decimal(amount), currency) == words


@pytest.mark.parametrize(
    ("query", "size"),
    [
        ("", CARD),
        ("&maxwidth=600", (600, 315)),
        ("&maxheight=100", (190, 99)),
        ("&maxwidth=300&maxheight=90", (171, 89)),
    ],
)
def test_oembed_fits_the_picture_into_what_is_asked_for(client, query, size):
    """oEmbed 1.0, section 2.3: a photo has url, width and height, and keeps maxwidth and maxheight."""
    url = quote("http://localhost/designs/door_strap?bells=4", safe="")
    photo = client.get(f"/oembed?url={url}&format=json{query}").json
    assert_valid("OEmbed", photo)
    assert (photo["type"], photo["version"]) == ("photo", "1.0")
    assert (photo["width"], photo["height"]) == size
    picture = urlsplit(photo["url"])
    answer = client.get(f"{picture.path}?{picture.query}")
    assert (int.from_bytes(answer.data[16:20]), int.from_bytes(answer.data[20:24])) == size


@pytest.mark.parametrize(
    ("query", "status"),
    [
        ("", 422),
        ("?url=http://elsewhere.example/designs/door_strap", 404),
        ("?url=http://localhost/docs", 404),
        ("?url=http://localhost/designs/door_strap/more", 404),
        ("?url=http://localhost/designs/no_such", 404),
        ("?url=http://[", 404),
        ("?url=http://localhost/designs/door_strap&format=xml", 501),
        ("?url=http://localhost/designs/door_strap&format=yaml", 422),
        ("?url=http://localhost/designs/door_strap&maxwidth=1", 422),
    ],
)
def test_oembed_refuses_what_it_has_no_picture_of(client, query, status):
    """oEmbed 1.0, section 2.3.5: 404 where there is nothing of that address, 501 for a format that is not spoken."""
    answer = client.get(f"/oembed{query}")
    assert answer.status_code == status
    assert_valid("Problem", answer.json)


def test_links_to_elsewhere_are_built_on_the_public_address():
    client = create_app(Settings(public_url="https://straps.example")).test_client()
    found = page(client, "/designs/goat_collar")
    assert found.related["canonical"] == "https://straps.example/designs/goat_collar"
    assert found.metas["og:image"].startswith("https://straps.example/v1/")
    url = quote("https://straps.example/designs/goat_collar", safe="")
    assert client.get(f"/oembed?url={url}").json["provider_url"] == "https://straps.example/"


def test_the_policy_of_a_page_lets_in_this_host_and_nothing_inline(client):
    policy = client.get("/designs/bell_garter").headers["Content-Security-Policy"]
    allowed = dict(part.split(" ", 1) for part in policy.split("; "))
    assert allowed["default-src"] == "'none'"
    assert {allowed[name] for name in ("img-src", "script-src", "style-src", "connect-src")} == {"'self'"}
    html = client.get("/designs/bell_garter").text
    assert not re.search(r"<style|<script(?! src=)| style=| on[a-z]+=", html)


def test_the_files_are_small_and_name_no_other_host(client):
    for path in ("/embed.js", "/page.js", "/page.css"):
        media_type = "text/css" if path.endswith("css") else "text/javascript"
        answer = client.get(path)
        assert answer.mimetype == media_type
        assert answer.headers["Access-Control-Allow-Origin"] == "*"
        assert "max-age" in answer.headers["Cache-Control"]
        assert not re.search(r"(?<!HOST/)https?://(?!HOST)|url\(|import\b", answer.text)
    assert len(gzip.compress(client.get("/embed.js").data)) < LARGEST_EMBED


def test_a_name_in_a_shop_file_cannot_write_into_a_page(shop):
    """Cross-site scripting: every text of the file stands as text."""
    evil = replace(shop.designs["goat_collar"], title="</title><script>x</script>", about='"><img src=x onerror=x>')
    client = create_app(Settings(), replace(shop, designs={"goat_collar": evil}, name="<b>")).test_client()
    for path in ("/", "/designs/goat_collar"):
        html = client.get(path).text
        assert "<script>x" not in html
        assert "onerror=x>" not in html.replace("&gt;", ">") or "&lt;img" in html
        assert "<b>" not in html


def test_what_is_chosen_is_sent_by_a_form_without_scripts_too(client):
    """A browser leaves a disabled option out of a form's data; what is marked is sent, and leads to what can be had."""
    page = client.get("/designs/bell_garter?length=11in&bells=6").text
    assert '<option value="6" selected>' in page
    assert '<option value="10">' in page
    assert "disabled" not in page
