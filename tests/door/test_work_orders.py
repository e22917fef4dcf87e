"""Work orders over HTTP: as JSON and PDF, by key, bounded by lines, straps, pieces and pages, each named."""

from dataclasses import replace

import pypdfium2
import pytest

from openapi.example_requests import requests
from service.app import create_app
from service.door.routes import routes
from service.settings import Settings
from tests.support.door import GARTER

PATH = "/v1/work-orders"
A_DAY = requests("WorkOrderRequest")["a_day"]
PDF = {"Accept": "application/pdf"}


def lines(count, **more):
    return {
        "lines": [{"ref": f"A{n}", "spec": GARTER | {"size": {"girth": f"{15 + n / 16} in"}}} for n in range(count)]
    } | more


def caller_of(app):
    return app.test_client()


@pytest.mark.parametrize("paper", ["a4", "a3", "letter", "tabloid"])
def test_a_work_order_is_printed_on_each_paper(client, paper):
    answer = client.post(f"{PATH}?paper={paper}", json=A_DAY, headers=PDF)
    assert (answer.status_code, answer.content_type) == (200, "application/pdf")
    printed = pypdfium2.PdfDocument(answer.data)
    text = printed[0].get_textpage().get_text_range()
    assert all(line["ref"] in text for line in A_DAY["lines"])
    assert answer.headers["Cache-Control"] == "no-store"


def test_the_same_order_is_printed_in_the_same_bytes(client):
    one, other = (client.post(PATH, json=A_DAY, headers=PDF).data for _ in range(2))
    assert one == other


def test_readings_are_in_the_units_that_are_asked_for(client):
    answer = client.post(f"{PATH}?units=mm", json=A_DAY).json
    assert all(each["width"].endswith("mm") for each in answer["materials"]["strips"])
    assert all(piece["length"].endswith("mm") for strap in answer["straps"] for piece in strap["pattern"]["pieces"])


def test_each_straps_code_and_seal_give_it_again(client):
    for strap in client.post(PATH, json=A_DAY).json["straps"]:
        again = client.get(f"/v1/patterns/{strap['pattern']['code']}")
        assert again.status_code == 200
        assert again.json["pieces"] == strap["pattern"]["pieces"]
        for share in strap["of"]:
            sealed = client.get(f"/v1/patterns/{share['sealed']}")
            assert sealed.json["pieces"] == strap["pattern"]["pieces"]


def test_it_takes_its_turn_among_large_answers_and_needs_a_key():
    (route,) = [each for each in routes(Settings()) if each.path == PATH]
    assert (route.turn, route.key, route.caching) == ("large", "needed", "never")
    assert route.body_max == Settings().orders_body_max


def test_two_hundred_lines_are_answered(client):
    answer = client.post(PATH, json=lines(200))
    assert answer.status_code == 200
    assert answer.json["quantity"] == 200


def test_a_line_more_is_refused(client):
    answer = client.post(PATH, json=lines(201))
    assert answer.status_code == 422
    (error,) = answer.json["errors"]
    assert (error["pointer"], error["code"]) == ("/lines", "out_of_range")
    assert "200" in error["detail"]


@pytest.mark.parametrize("most", [3, 8])
def test_more_pages_than_are_made_are_refused_with_the_limit(most):
    caller = create_app(replace(Settings(), work_order_pages_max=most)).test_client()
    answer = caller.post(PATH, json=lines(12), headers=PDF)
    assert answer.status_code == 422
    assert answer.json["code"] == "too_many_pages"
    assert str(most) in answer.json["detail"]
    assert caller.post(PATH, json=lines(12)).status_code == 200


@pytest.mark.parametrize(
    ("line", "code"),
    [
        ({"ref": "A", "spec": GARTER, "quantity": 5001}, "too_many_pieces"),
        ({"ref": "A", "spec": GARTER, "ornaments": {}}, "unknown_field"),
        ({"ref": "A", "pieces": []}, "unknown_field"),
        ({"ref": "A", "design": "no_such"}, "unknown_design"),
        ({"ref": "A", "spec": GARTER | {"ornaments": {"item": "bell_25", "count": 60}}}, "ornaments_crowded"),
    ],
)
def test_what_cannot_be_made_is_told_as_in_a_quote(client, line, code):
    answer = client.post(PATH, json={"lines": [line]})
    assert answer.status_code == 422
    assert code in {error["code"] for error in answer.json["errors"]}


def test_a_drawing_of_it_is_not_offered(client):
    assert client.post(PATH, json=A_DAY, headers={"Accept": "image/png"}).status_code == 406
    assert client.post(f"{PATH}?dpi=100", json=A_DAY).status_code == 422
