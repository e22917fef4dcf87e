"""The price of a design as chosen: what a buyer pays, nothing of what it costs the shop, and kept like choices."""

import re
from dataclasses import replace
from decimal import Decimal

import pytest

from service.app import create_app
from service.door.answers import designs
from service.settings import Settings
from service.shop_file import demo_shop
from tests.contract.test_document import assert_valid

DESIGNS = demo_shop().designs
PATH = "/v1/designs/bell_garter/price"


def priced(shop, **pricing):
    """A caller of the shop with other prices."""
    return create_app(Settings(), replace(shop, pricing=replace(shop.pricing, **pricing))).test_client()


@pytest.mark.parametrize("name", DESIGNS)
def test_every_design_names_where_its_price_is_and_it_is_that_of_a_quote(client, name):
    found = client.get(f"/v1/designs/{name}").json
    price = client.get(found["price"])
    assert_valid("Price", price.json)
    quote = client.post(found["quotes"], json={"lines": [{"ref": "A1", "design": name}]}).json
    assert {each: price.json[each] for each in ("net", "tax", "total", "currency", "tax_title")} == {
        each: quote[each] for each in ("net", "tax", "total", "currency", "tax_title")
    }


def test_the_price_is_what_the_buyer_pays_and_the_tax_is_named(client):
    """By hand: 44.43 x 0.19 = 8.4417, rounded half up 8.44; 44.43 + 8.44 = 52.87."""
    found = client.get(PATH).json
    assert {name: found[name] for name in ("price", "shown", "net", "tax", "total")} == {
        "price": "52.87", "shown": "gross", "net": "44.43", "tax": "8.44", "total": "52.87",
    }  # fmt: skip
    assert (found["tax_title"], found["currency"]) == ("VAT 19 %", "EUR")


def test_a_shop_may_show_the_price_without_the_tax(shop):
    found = priced(shop, shown="net").get(PATH).json
    assert_valid("Price", found)
    assert (found["price"], found["shown"], found["total"]) == ("44.43", "net", "52.87")


def test_the_price_tells_no_cost(client):
    said = client.get(PATH).json
    assert set(said) == {"price", "shown", "net", "tax", "total", "tax_title", "currency", "sealed", "shop"}
    assert set(said["shop"]) == {"name", "digest"}


def test_the_price_follows_the_choices(client):
    few, many = (client.get(f"{PATH}?bells={count}").json for count in (3, 6))
    assert Decimal(few["price"]) < Decimal(many["price"])
    assert few["shop"] == many["shop"]


def test_any_order_and_any_way_of_saying_it_is_one_answer_at_one_address(client):
    queries = ("length=15in&bells=6", "bells=06&length=381mm", "leather=latigo_6_7&length=15+in&bells=6")
    answers = [client.get(f"{PATH}?{query}") for query in queries]
    assert len({each.data for each in answers}) == len({each.headers["ETag"] for each in answers}) == 1
    (location,) = {each.headers["Content-Location"] for each in answers}
    assert client.get(location).data == answers[0].data


def test_the_price_can_be_kept_and_asked_for_again(client):
    got = client.get(PATH)
    assert got.headers["Cache-Control"].startswith("public, max-age=")
    assert got.headers["Vary"] == "Accept"
    head = client.head(PATH)
    assert (head.data, head.headers["ETag"]) == (b"", got.headers["ETag"])
    kept = client.get(PATH, headers={"If-None-Match": got.headers["ETag"]})
    assert (kept.status_code, kept.data) == (304, b"")
    assert kept.headers["Content-Location"] == got.headers["Content-Location"]
    assert client.get(f"{PATH}?bells=6", headers={"If-None-Match": got.headers["ETag"]}).status_code == 200


def test_a_price_is_reckoned_once(shop, monkeypatch):
    caller = create_app(Settings(), shop).test_client()
    first = caller.get(PATH).data
    monkeypatch.setattr(designs, "price_of", None)
    assert caller.get(PATH).data == first


def test_another_shop_file_is_another_tag(shop):
    tags = [
        create_app(Settings(), each).test_client().get(PATH).headers["ETag"]
        for each in (shop, replace(shop, digest="0" * 64))
    ]
    assert tags[0] != tags[1]


def test_what_cannot_be_made_has_no_price_but_ways_out(client):
    refused = client.get(f"{PATH}?length=12in&bells=10")
    assert (refused.status_code, refused.json["code"]) == (422, "choice_refused")
    assert refused.headers["Cache-Control"] == "no-store"
    (change,) = refused.json["remedies"][0]["changes"]
    assert client.get(f"{PATH}?length=12in&bells=10".replace("bells=10", f"bells={change['text']}")).status_code == 200


@pytest.mark.parametrize("query", ["moon=1", "bells=99", "bells=3&bells=4", "margin=0"])
def test_what_is_not_offered_is_refused_by_name(client, query):
    refused = client.get(f"{PATH}?{query}")
    assert (refused.status_code, refused.json["code"]) == (422, "query_unreadable")
    assert refused.json["errors"][0]["parameter"] == query.partition("=")[0]


def test_a_shop_without_prices_says_so_and_names_no_address(shop):
    caller = create_app(Settings(), replace(shop, pricing=None)).test_client()
    answer = caller.get(PATH)
    assert (answer.status_code, answer.json["code"]) == (404, "no_prices")
    assert caller.get("/v1/designs/bell_garter").json["price"] is None
    assert caller.get("/v1/designs/no_such/price").json["code"] == "unknown_design"


def test_a_shop_without_a_price_for_the_lace_says_that_it_is_this(shop):
    """A bell on a shank is laced: without a price for lace there is none for the strap."""
    answer = priced(shop, per_metre={}).get(PATH)
    assert (answer.status_code, answer.json["code"]) == (422, "no_price")
    assert re.search("metre of lace", answer.json["detail"])
