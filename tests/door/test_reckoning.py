"""Quotes and cut plans over HTTP: answers as documented, problems at their place, drawings that open."""

import io
import json
from dataclasses import replace
from decimal import Decimal
from xml.etree import ElementTree as ET

import jsonschema_rs
import pypdfium2
import pytest
from PIL import Image

from openapi.build import DOCUMENT
from openapi.example_requests import REQUEST_SUMMARIES, requests
from service.app import create_app
from service.schemas.spec import SPEC_SCHEMA
from service.settings import Settings
from tests.support.door import GARTER, REFUSED

DOCUMENTED = json.loads(DOCUMENT.read_text(encoding="utf-8"))
PATHS = {"QuoteRequest": "/v1/quotes", "CutPlanRequest": "/v1/cut-plans", "WorkOrderRequest": "/v1/work-orders"}
ANSWERS = {"QuoteRequest": "Quote", "CutPlanRequest": "CutPlan", "WorkOrderRequest": "WorkOrder"}
EXAMPLES = [(asked, name) for asked in REQUEST_SUMMARIES for name in requests(asked)]
ORDER = {"orders": [{"ref": "A1", "spec": GARTER, "quantity": 4}]}
PIECE = {"name": "p", "leather": "harness_8_9", "width": "1 in", "length": "10 in"}


def assert_valid(name, value):
    schema = {"$ref": f"#/components/schemas/{name}", "components": DOCUMENTED["components"]}
    errors = jsonschema_rs.Draft202012Validator(schema).iter_errors(value)
    assert not [f"{list(error.instance_path)}: {error.message}" for error in errors]


@pytest.mark.parametrize(("asked", "name"), EXAMPLES)
def test_every_example_is_answered_as_the_document_says(asked, name, client):
    example = requests(asked)[name]
    assert_valid(asked, example)
    answer = client.post(PATHS[asked], json=example)
    assert answer.status_code == 200, answer.json
    assert_valid(ANSWERS[asked], answer.json)
    assert answer.headers["Cache-Control"] == "no-store"


def test_a_quote_of_the_examples_adds_up(client):
    answer = client.post("/v1/quotes", json=requests("QuoteRequest")["two_straps"]).json
    for line in answer["lines"]:
        assert sum(Decimal(part["amount"]) for part in line["parts"]) == Decimal(line["total"])
    assert Decimal(answer["net"]) + Decimal(answer["tax"]) == Decimal(answer["total"])
    assert answer["currency"] == "EUR"


def test_a_patterns_materials_are_those_of_its_quote(client):
    materials = client.post("/v1/patterns", json=GARTER).json["materials"]
    assert_valid("Materials", materials)
    (line,) = client.post("/v1/quotes", json={"lines": [{"ref": "A1", "spec": GARTER}]}).json["lines"]
    counted = {part["item"]: Decimal(part["quantity"]) for part in line["parts"] if part["unit"] == "piece"}
    for item in materials["items"]:
        assert counted[item["item"]] == item["count"]
    (leather,) = materials["leather"]
    charged = sum(Decimal(part["quantity"]) for part in line["parts"] if part["kind"] == "leather")
    assert float(charged) == pytest.approx(leather["gross_mm2"] / 1e6, abs=1e-4)


def test_the_plan_as_svg(client):
    answer = client.post("/v1/cut-plans", json=ORDER, headers={"Accept": "image/svg+xml"})
    assert answer.status_code == 200
    assert answer.mimetype == "image/svg+xml"
    assert answer.headers["Content-Security-Policy"].endswith("sandbox")
    root = ET.fromstring(answer.data)
    assert root.tag.endswith("svg")
    description = next(each.text for each in root if each.tag.endswith("desc"))
    assert "4 pieces in" in description


def test_the_plan_as_png_at_the_asked_width(client):
    answer = client.post("/v1/cut-plans?width_px=700", json=ORDER, headers={"Accept": "image/png"})
    picture = Image.open(io.BytesIO(answer.data))
    assert picture.width == 700
    assert len(picture.getcolors(100_000)) > 3


def test_the_plan_as_pdf_names_every_piece_and_every_step(client):
    plan = client.post("/v1/cut-plans", json=ORDER).json
    answer = client.post("/v1/cut-plans?paper=a4", json=ORDER, headers={"Accept": "application/pdf"})
    pages = pypdfium2.PdfDocument(answer.data)
    told = " ".join(" ".join(page.get_textpage().get_text_bounded().split()) for page in pages)
    for copy in (1, 2, 3, 4):
        assert f"A1/{copy} strap" in told
    for step in plan["steps"]:
        assert f"{step['n']} " in told
    assert {tuple(round(side) for side in page.get_size()) for page in pages} == {(842, 595)}  # A4, ISO 216


def test_a_drawn_plan_is_the_same_every_time(client):
    for form in ("image/svg+xml", "image/png", "application/pdf"):
        first, second = (client.post("/v1/cut-plans", json=ORDER, headers={"Accept": form}) for _ in range(2))
        assert first.data == second.data
        assert first.headers["ETag"] == second.headers["ETag"]


def test_refused_orders_are_told_with_remedies_that_work_when_sent(client):
    document = {"lines": [{"ref": "A1", "spec": GARTER}, {"ref": "A2", "spec": REFUSED}]}
    answer = client.post("/v1/quotes", json=document)
    assert (answer.status_code, answer.json["code"]) == (422, "orders_refused")
    assert_valid("Problem", answer.json)
    assert all(error["pointer"].startswith("/lines/1/spec") for error in answer.json["errors"])
    assert answer.json["remedies"]
    for remedy in answer.json["remedies"]:
        mended = json.loads(json.dumps(document))
        for change in remedy["changes"]:
            *path, last = change["pointer"].split("/")[1:]
            here = mended
            for name in path:
                here = here[int(name)] if isinstance(here, list) else here[name]
            here[last] = change["value"]
        assert client.post("/v1/quotes", json=mended).status_code == 200


def test_no_remedy_is_told_of_orders_that_have_more_pieces_than_one_plan_cuts(client):
    """Whatever mends the crowded row, 1,445 of each are 5,780 pieces: the first is spliced of two strips."""
    spliced = {
        "construction": "one_piece",
        "worn_by": "animal",
        "size": {"body_length": "82 in"},
        "leather": "bridle_10_11",
        "body": {"width": "1 1/2 in", "splices": {"stitch_lines": 3}},
        "billet": {"buckle": "heel_bar_38"},
        "ornaments": {"item": "bell_38", "count": 17},
    }
    crowded = {
        "construction": "open",
        "size": {"body_length": "500 mm"},
        "ornaments": {"item": "spot_10", "count": 4, "spacing": {"pitch": "2.5 mm"}},
    }
    lines = [{"ref": "A0", "quantity": 5, "spec": spliced}, {"ref": "A1", "quantity": 20, "spec": crowded}]
    document = {"lines": lines, "leather_by": "cut_plan"}
    assert client.post("/v1/quotes", json=document).json["remedies"]
    assert client.post("/v1/quotes", json=document | {"what_if": [1445]}).json["remedies"] == []


def test_lines_that_say_one_spec_are_read_once(client, monkeypatch):
    """Two hundred lines of one strap with many members took a third of a second to read."""
    read = []
    make = SPEC_SCHEMA.makes
    monkeypatch.setattr(SPEC_SCHEMA, "makes", lambda **said: read.append(1) or make(**said))
    lines = [{"ref": f"A{n}", "spec": spec} for n in range(100) for spec in (GARTER, GARTER | {"worn_by": "object"})]
    lines = [line | {"ref": f"{n}"} for n, line in enumerate(lines)]
    assert client.post("/v1/quotes", json={"lines": lines}).status_code == 200
    assert len(read) == 2


def test_what_is_wrong_with_one_spec_is_told_of_each_line_that_says_it(client):
    lines = [{"ref": f"A{n}", "spec": GARTER | {"body": {"width": " "}}} for n in range(3)]
    answer = client.post("/v1/quotes", json={"lines": lines})
    assert [error["pointer"] for error in answer.json["errors"]] == [f"/lines/{n}/spec/body/width" for n in range(3)]


@pytest.mark.parametrize("path", PATHS.values())
def test_unreadable_orders_are_told_all_at_once(path, client):
    answer = client.post(path, json={"moon": 1})
    assert (answer.status_code, answer.json["code"]) == (422, "orders_unreadable")
    assert {error["code"] for error in answer.json["errors"]} == {"unknown_field", "missing"}
    assert_valid("Problem", answer.json)


@pytest.mark.parametrize("path", PATHS.values())
@pytest.mark.parametrize("body", [b"", b"[", b"[" * 5000, b'{"lines": NaN}', b'{"a":1,"a":2}', b"\xff"])
def test_what_is_no_json_is_400(path, body, client):
    answer = client.post(path, data=body, content_type="application/json")
    assert (answer.status_code, answer.json["code"]) == (400, "not_json")


@pytest.mark.parametrize("path", PATHS.values())
def test_a_quote_or_plan_is_not_got(path, client):
    answer = client.get(path)
    assert answer.status_code == 405
    assert "POST" in answer.headers["Allow"]


def test_a_long_body_has_a_limit_of_its_own():
    settings = Settings(orders_body_max=2000, body_max=1024)
    caller = create_app(settings).test_client()
    piece = {"orders": [{"ref": "A1", "pieces": [PIECE] * 20}]}
    assert 1024 < len(json.dumps(piece)) < 2000
    assert caller.post("/v1/cut-plans", json=piece).status_code == 200
    longer = {"orders": [{"ref": "A1", "pieces": [PIECE] * 40}]}
    assert caller.post("/v1/cut-plans", json=longer).status_code == 413


def test_a_plan_of_very_many_hides_is_no_picture_and_says_so(client):
    order = {"orders": [{"ref": "A1", "quantity": 3000, "pieces": [PIECE | {"length": "60 in"}]}], "time_limit_s": 1}
    answer = client.post("/v1/cut-plans", json=order, headers={"Accept": "image/png"})
    assert (answer.status_code, answer.json["code"]) == (422, "picture_too_large")


def test_a_shop_without_prices_makes_plans_but_no_quotes(shop):
    caller = create_app(Settings(), replace(shop, pricing=None)).test_client()
    assert caller.post("/v1/cut-plans", json=ORDER).status_code == 200
    answer = caller.post("/v1/quotes", json={"lines": [{"ref": "A1", "spec": GARTER}]})
    assert (answer.status_code, answer.json["code"]) == (422, "no_price")
