"""Links as people pass them on: with what others added, old, cut off, with a slash too many. Each leads somewhere."""

from urllib.parse import quote

import pytest

from service.app import create_app
from service.door.answers import design_pages as pages
from service.door.errors import Busy
from service.door.problems import PROBLEM_TYPE
from service.settings import Settings
from tests.door.test_shop_pages import ShopPage

BROWSER = {"Accept": "text/html,application/xhtml+xml,application/xml;q=0.9,image/avif,image/webp,*/*;q=0.8"}
"""What browsers send for an address that is opened (common practice)."""
ADDED = "utm_source=letter&utm_campaign=may%20day&fbclid=IwAR0&gclid=x&gclid=y&%00=&=&" + "&".join(
    f"more{n}=1" for n in range(60)
)
"""What mail and advertisements add to a link (common practice), and more of it than a route would read."""


def shown(answer):
    """An answer's page, which is well formed."""
    assert answer.mimetype == "text/html"
    found = ShopPage(answer.text)
    assert found.open == []
    return found


@pytest.mark.parametrize(
    "path",
    [
        "/",
        "/docs",
        "/docs/rules",
        "/page.css",
        "/page.js",
        "/embed.js",
        "/favicon.svg",
        "/designs/goat_collar",
        "/workshop",
        "/workshop/designs/goat_collar",
    ],
)
def test_a_page_and_its_files_are_the_same_whatever_is_added_to_their_link(client, path):
    plain, added = client.get(path), client.get(f"{path}?{ADDED}")
    assert (added.status_code, added.data) == (200, plain.data)
    assert added.headers["ETag"] == plain.headers["ETag"]


def test_choices_are_read_among_what_is_added_and_the_canonical_link_holds_them_alone(client):
    found = shown(client.get(f"/designs/goat_collar?utm_source=letter&bells=3&{ADDED}&bells=1", headers=BROWSER))
    assert found.chosen["bells"] == "3"
    for link in (found.related["canonical"], found.metas["og:url"]):
        assert "bells=3" in link
        assert "utm" not in link
        assert "more" not in link


def test_a_page_for_choices_that_are_not_offered_shows_others_and_says_so(client):
    html = client.get("/designs/bell_garter?bells=<b>99&length=long&leather=latigo_6_7", headers=BROWSER)
    assert html.status_code == 200
    found = shown(html)
    assert (found.chosen["bells"], found.chosen["length"]) == ("5", "14in")
    assert html.text.count("not offered") == 2
    assert "Bells: what this link asks for is not offered. Shown instead: 5." in html.text
    assert "99" not in html.text.partition("</h1>")[2].partition("<strap-design")[0]
    assert "not offered" not in client.get("/designs/bell_garter?bells=5").text


@pytest.mark.parametrize("path", ["/designs/bell_garter/", "/designs/bell_garter///", "/docs/", "/page.css/"])
@pytest.mark.parametrize("query", ["", "?bells=6&utm_source=letter"])
def test_a_slash_at_the_end_of_a_pages_address_leads_to_the_page(client, path, query):
    """RFC 9110, section 15.4.9; the address is kept within this host: it begins with one slash and a name."""
    answer = client.get(path + query)
    assert (answer.status_code, answer.headers["Location"]) == (308, path.rstrip("/") + query)
    assert client.get(answer.headers["Location"]).status_code == 200


@pytest.mark.parametrize(
    "path", ["/%2Fdesigns/bell_garter/", "/%2Fevil.example/", "/designs/%2F%2Fevil.example/", "/designs/a%0d%0ab: c/",
             "/v1/designs/", "/v1/designs/bell_garter/", "/health/live/", "/designs/"],
)  # fmt: skip
def test_nobody_is_sent_elsewhere_by_slashes(client, path):
    answer = client.get(path)
    assert answer.status_code == 404
    assert "Location" not in answer.headers
    assert client.post("/designs/bell_garter/").status_code == 404


OUT_OF_WAY = {
    404: ("GET", "/designs/none?utm_source=letter"),
    405: ("POST", "/designs/bell_garter"),
    414: ("GET", "/designs/bell_garter?" + "a" * 2000),
    422: ("GET", "/oembed"),
}


@pytest.mark.parametrize(("status", "asked"), [*OUT_OF_WAY.items(), (404, ("GET", "/desings/bell_garter"))])
def test_a_person_gets_a_page_with_a_way_back_and_a_program_the_problem(client, status, asked):
    method, path = asked
    answer = client.open(path, method=method, headers=BROWSER)
    found = shown(answer)
    assert answer.status_code == status
    assert "/" in found.links
    assert all(client.get(link).status_code == 200 for link in found.links)
    assert found.metas["robots"] == "noindex"
    assert "canonical" not in found.related
    assert answer.headers["Cache-Control"] == "no-store"
    assert answer.headers["Content-Security-Policy"].startswith("default-src 'none'; img-src 'self'")
    problem = client.open(path, method=method)
    assert (problem.status_code, problem.mimetype) == (status, PROBLEM_TYPE)
    assert problem.headers.get("Allow") == answer.headers.get("Allow")
    for each in (answer, problem):
        assert "Accept" in each.headers["Vary"]


@pytest.mark.parametrize(
    ("accept", "page"),
    [
        (BROWSER["Accept"], True),
        ("text/html", True),
        ("text/*", True),
        ("text/html;q=0.5, application/json;q=0.4", True),
        ("application/json, text/html;q=0.9", False),
        ("application/problem+json, text/html", False),
        ("*/*", False),
        ("image/avif,image/webp,*/*;q=0.8", False),
        ("", False),
        ("text/html;q=0", False),
    ],
)
def test_a_page_is_for_whom_html_is_dearest(client, accept, page):
    """RFC 9110, section 12.5.1."""
    answer = client.get("/designs/none", headers={"Accept": accept})
    assert answer.mimetype == ("text/html" if page else PROBLEM_TYPE)


@pytest.mark.parametrize("path", ["/v1", "/v1/", "/v1/designs/none", "/v1/designs/bell_garter/choices?utm_source=x"])
def test_what_is_for_programs_stays_strict_whoever_asks(client, path):
    answer = client.get(path, headers=BROWSER)
    assert answer.status_code in (404, 422)
    assert answer.mimetype == PROBLEM_TYPE


@pytest.mark.parametrize("name", ["bell_gartr", "Bell-Garter", "bell_garters"])
def test_a_design_nearly_named_is_offered(client, name):
    assert "/designs/bell_garter" in shown(client.get(f"/designs/{name}", headers=BROWSER)).links


def test_what_passes_says_so_and_leads_to_itself(client, monkeypatch):
    """RFC 9110, section 10.2.3: `Retry-After` stays, beside the words."""

    def full(*_):
        raise Busy

    monkeypatch.setattr(pages, "_details", full)
    answer = client.get("/designs/bell_garter?bells=6", headers=BROWSER)
    assert (answer.status_code, answer.headers["Retry-After"]) == (503, "1")
    assert "try again in a moment" in answer.text
    assert "" in shown(answer).links


def test_a_fault_of_ours_tells_its_number_and_no_more(client, monkeypatch):
    def fail(*_):
        raise ZeroDivisionError("the secret")

    monkeypatch.setattr(pages, "_details", fail)
    answer = client.get("/designs/bell_garter", headers=BROWSER)
    assert answer.status_code == 500
    assert answer.headers["X-Request-Id"] in answer.text
    assert "secret" not in answer.text


def test_who_asks_too_often_is_told_when_to_come_again():
    client = create_app(Settings(rate_per_minute=1)).test_client()
    client.get("/", headers=BROWSER)
    answer = client.get("/", headers=BROWSER)
    assert (answer.status_code, answer.mimetype) == (429, "text/html")
    assert f"try again in {answer.headers['Retry-After']} s" in answer.text


def test_an_address_cannot_write_into_its_error_page(client):
    """Cross-site scripting: nothing of the address is repeated."""
    answer = client.get("/designs/%3Cscript%3Ex?%3Cscript%3Ey", headers=BROWSER)
    assert "script>x" not in answer.text
    assert "<script" not in answer.text


def test_oembed_passes_over_what_is_added_to_its_own_link_and_to_the_pages(client):
    inner = f"http://localhost/designs/door_strap/?utm_source=letter&bells=4&{ADDED}"[:1200]
    plain = client.get("/oembed?url=" + quote("http://localhost/designs/door_strap?bells=4", safe="")).json
    added = client.get(f"/oembed?fbclid=x&url={quote(inner, safe='')}&utm_source=letter")
    assert (added.status_code, added.json) == (200, plain)
    assert "bells=4" in plain["url"]


def test_oembed_shows_what_the_page_shows(client):
    url = "/designs/bell_garter?bells=99"
    photo = client.get(f"/oembed?url={quote('http://localhost' + url, safe='')}").json
    assert photo["url"] == ShopPage(client.get(url).text).metas["og:image"]
