"""Offers over HTTP: the prices of the quote, what a customer is told and what she is not, pages that hold it all."""

import hashlib
from dataclasses import replace
from decimal import Decimal

import pypdfium2
import pytest

from openapi.example_requests import requests
from service.app import create_app
from service.drawing.printed.paper import PAPERS
from service.keys_file import Key, Keys
from service.settings import Settings
from service.shop.offer import OfferWords
from service.shop_file import demo_shop
from tests.support.door import GARTER

PATH = "/v1/quotes"
PDF = {"Accept": "application/pdf"}
DESIGNS = ("bell_garter", "herding_dog_collar", "goat_collar", "parade_harness_strap", "door_strap", "staggered_garter")
SAID = {"number": "2026-014", "date": "30 November 2026", "for": ["The dancers", "of the lower village"]}
COSTS = ("Leather balm", "minutes", "margin", "Margin", "Overhead", "cost", "an hour", "waste", "Not for the customer")
"""What only the maker is told."""
KEY = "a key of the workshop's"


def request(count, **more):
    lines = [{"ref": f"A{n + 1}", "design": DESIGNS[n % 6], "quantity": 1 + n % 9} for n in range(count)]
    return {"lines": lines, "offer": SAID} | more


def printed(answer):
    assert (answer.status_code, answer.content_type) == (200, "application/pdf")
    return pypdfium2.PdfDocument(answer.data)


def words(answer):
    """What is read on its pages, a space where the line or the space is."""
    pages = [page.get_textpage().get_text_range() for page in printed(answer)]
    return " ".join(" ".join(pages).replace("\u00a0", " ").split())


def test_an_offer_says_what_the_quote_says_and_what_it_is_asked_to_say(client):
    quote = client.post(PATH, json=request(5)).json
    told = words(client.post(PATH, json=request(5), headers=PDF))
    for line in quote["lines"]:
        assert f"{line['quantity']} × {line['unit_price']} {line['total']}" in told
    assert f"Together, without tax {quote['net']} {quote['tax_title']} {quote['tax']}" in told
    assert f"Total, EUR {quote['total']}" in told
    shop = demo_shop()
    said = (shop.name, *shop.offer.contact, shop.offer.validity, *shop.offer.terms, "Offer 2026-014", SAID["date"])
    for text in (*said, *SAID["for"], "Harness leather, 8-9 oz, russet", "7 × shank bell, 38 mm"):
        assert text in told


@pytest.mark.parametrize("asked", [request(5), requests("QuoteRequest")["pairs_sizes_and_sets"]])
def test_a_customer_is_told_nothing_of_what_it_costs(client, asked):
    customer = client.post(PATH, json=asked, headers=PDF)
    maker = client.post(f"{PATH}?copy=maker", json=asked, headers=PDF)
    for text in COSTS:
        assert text not in words(customer)
    assert sum(text in words(maker) for text in COSTS) > 5
    quote = client.post(PATH, json=asked).json
    for line in quote["lines"]:
        assert f"Cost {line['cost']}, " in words(maker)
        for part in line["parts"]:
            assert part["amount"] in words(maker)


def test_the_price_at_more_is_that_of_a_quote_for_so_many(client):
    """The demo shop asks less from 5, 20 and 50 on; of a pair each strap counts."""
    line = {"ref": "A", "design": "bell_garter", "quantity": 3}
    told = words(client.post(PATH, json={"lines": [line]}, headers=PDF))
    for quantity in (5, 20, 50):
        (more,) = client.post(PATH, json={"lines": [line | {"quantity": quantity}]}).json["lines"]
        assert f"from {quantity}: {more['unit_price']} each" in told
    told = words(client.post(PATH, json={"lines": [line | {"pair": True}]}, headers=PDF))
    assert "3 pairs × " in told
    for quantity in (10, 25):
        pair = client.post(PATH, json={"lines": [line | {"quantity": quantity, "pair": True}]}).json["lines"]
        price = sum(Decimal(each["unit_price"]) for each in pair)
        assert f"from {quantity} pairs: {price} each" in told


def test_quantities_that_are_asked_for_stand_in_place_of_the_shops(client):
    asked = request(1) | {"what_if": [30, 2, 7]}
    quote = client.post(PATH, json=asked).json
    told = words(client.post(PATH, json=asked, headers=PDF))
    prices = {each["quantity"]: each["lines"][0]["unit_price"] for each in quote["what_if"]}
    assert " ".join(f"from {n}: {prices[n]} each" for n in (2, 7, 30)) in told
    assert "from 5:" not in told


@pytest.mark.parametrize("paper", ["a4", "letter"])
@pytest.mark.parametrize(("count", "pages"), [(1, 1), (5, 2), (24, 8)])
def test_pages_hold_every_line_inside_their_margins(client, paper, count, pages):
    """Measured by another reader of PDF: no letter within 15 mm of an edge, no page but the last half empty."""
    document = printed(client.post(f"{PATH}?paper={paper}", json=request(count), headers=PDF))
    assert abs(len(document) - pages) <= 1
    width, height = (side / 25.4 * 72 for side in PAPERS[paper])
    edge = 15 / 25.4 * 72
    seen = ""
    for number, page in enumerate(document, 1):
        assert page.get_size() == pytest.approx((width, height), abs=0.01)
        text = page.get_textpage()
        boxes = [text.get_charbox(n) for n in range(text.count_chars())]
        boxes = [box for box in boxes if box[2] > box[0]]
        assert min(box[0] for box in boxes) >= edge
        assert max(box[2] for box in boxes) <= width - edge
        assert min(box[1] for box in boxes) >= edge
        assert max(box[3] for box in boxes) <= height - edge
        body = [box for box in boxes if box[1] > edge + 40]
        assert number == len(document) or min(box[1] for box in body) < height / 2
        seen += text.get_text_range()
        assert f"page {number} of {len(document)}" in seen
    told = " ".join(seen.split())
    assert all(f"A{n + 1} {demo_shop().designs[DESIGNS[n % 6]].title}" in told for n in range(count))


def test_readings_are_in_the_units_that_are_asked_for(client):
    assert "356 mm" not in words(client.post(PATH, json=request(1), headers=PDF))
    told = words(client.post(f"{PATH}?units=mm", json=request(1), headers=PDF))
    assert "25.4 mm wide" in told
    assert " in wide" not in told


def test_the_same_offer_has_the_same_bytes(client):
    one, other = (client.post(f"{PATH}?copy=maker", json=request(3), headers=PDF).data for _ in range(2))
    assert one == other


def test_an_offer_of_a_table_of_orders(client):
    answer = client.post(PATH, data="ref,design\nA1,goat_collar\n", headers=PDF | {"Content-Type": "text/csv"})
    assert "A1 Goat collar with a bell" in words(answer)


def test_json_has_no_use_for_what_an_offer_says(client):
    plain = client.post(PATH, json=request(2, offer=None))
    assert client.post(PATH, json=request(2)).data == plain.data


@pytest.mark.parametrize("query", ["copy=customer", "copy=maker", "units=mm", "paper=a4"])
def test_what_belongs_to_paper_is_refused_for_data(client, query):
    answer = client.post(f"{PATH}?{query}", json=request(1))
    assert answer.status_code == 422
    assert [each["parameter"] for each in answer.json["errors"]] == [query.partition("=")[0]]


@pytest.mark.parametrize(
    ("said", "pointer"),
    [
        ({"number": "x" * 41}, "/offer/number"),
        ({"date": 20261130}, "/offer/date"),
        ({"for": ["x"] * 7}, "/offer/for"),
        ({"for": "x" * 81}, "/offer/for"),
        ({"fro": "x"}, "/offer/fro"),
    ],
)
def test_what_it_says_of_itself_is_bounded(client, said, pointer):
    answer = client.post(PATH, json=request(1, offer=said), headers=PDF)
    assert answer.status_code == 422
    assert [each["pointer"] for each in answer.json["errors"]] == [pointer]


@pytest.mark.parametrize(
    "text", ["<script>alert(1)</script>", "{number} %s (\\) \\n", "אבג \u202eabc\u0007", "🐐" * 20]
)
def test_any_text_is_printed_as_text(client, text):
    """What the font lacks is shown as such; nothing of it is read as anything else."""
    said = {"number": text, "date": text, "for": [text, text]}
    told = words(client.post(PATH, json=request(1, offer=said), headers=PDF))
    assert told.count("<script>alert(1)</script>") == (5 if "script" in text else 0)  # in the foot as well
    assert "A1 Dancer's bell garter" in told


def test_the_makers_copy_needs_a_key_once_there_are_keys():
    keys = Keys((Key(hashlib.sha256(KEY.encode()).digest()),))
    caller = create_app(Settings(keys_file=keys)).test_client()
    answer = caller.post(f"{PATH}?copy=maker", json=request(1), headers=PDF)
    assert (answer.status_code, answer.json["code"]) == (401, "key_needed")
    told = words(caller.post(PATH, json=request(1), headers=PDF))
    assert not any(text in told for text in COSTS)
    shown = caller.post(f"{PATH}?copy=maker", json=request(1), headers=PDF | {"Authorization": f"Bearer {KEY}"})
    assert "Not for the customer" in words(shown)


def test_more_pages_than_are_made_are_refused_with_the_limit():
    caller = create_app(replace(Settings(), work_order_pages_max=2)).test_client()
    answer = caller.post(PATH, json=request(20), headers=PDF)
    assert (answer.status_code, answer.json["code"]) == (422, "too_many_pages")


def test_a_shop_that_says_nothing_offers_all_the_same():
    shop = replace(demo_shop(), offer=OfferWords(), mark=None)
    told = words(
        create_app(Settings(), shop).test_client().post(PATH, json={"lines": request(1)["lines"]}, headers=PDF)
    )
    assert "Terms" not in told
    assert "Total, EUR" in told


def test_a_strap_of_no_design_is_called_by_what_it_is(client):
    told = words(client.post(PATH, json={"lines": [{"ref": "B", "spec": GARTER, "pair": True}]}, headers=PDF))
    assert "B One-piece strap, left and right" in told
