"""Paper by HTTP: PDF by Accept and by suffix, its options, and the cutter's drawing."""

import pypdfium2
import pytest

from service.app import create_app
from service.settings import Settings
from service.shop_file import DEMO
from tests.support.door import COLLAR, GARTER, GOOD, HARNESS

PAPERS = {"a4": (595.28, 841.89), "a3": (841.89, 1190.55), "letter": (612, 792), "tabloid": (792, 1224)}
"""Points: A4 and A3 of ISO 216, A and B of ANSI/ASME Y14.1, 72 points an inch."""


def ask(client, query="", spec=HARNESS, accept="application/pdf"):
    return client.post(f"/v1/patterns{query}", json=spec, headers={"Accept": accept})


def pages(answer):
    assert answer.status_code == 200, answer.json
    assert answer.content_type == "application/pdf"
    return [page.get_textpage().get_text_range() for page in pypdfium2.PdfDocument(answer.data)]


def faults(answer):
    assert answer.status_code == 422
    return [(fault["parameter"], fault["code"]) for fault in answer.json["errors"]]


@pytest.mark.parametrize("name", GOOD)
def test_every_example_is_printed(client, name):
    found = pages(ask(client, spec=GOOD[name]))
    assert all("Print at 100 %, no scaling" in text for text in found)
    assert "Bench sheet" in found[-1]


@pytest.mark.parametrize(("paper", "size"), PAPERS.items())
def test_the_paper_is_the_one_that_was_asked_for(client, paper, size):
    answer = ask(client, f"?paper={paper}")
    for page in pypdfium2.PdfDocument(answer.data):
        assert sorted(page.get_size()) == pytest.approx(sorted(size), abs=0.01)


def test_without_a_paper_it_is_a4(client):
    assert ask(client).data == ask(client, "?paper=a4").data


def test_its_own_url_gives_the_same_bytes(client):
    answer = ask(client, "?paper=letter&units=mm")
    location = answer.headers["Content-Location"]
    assert ".pdf?" in location
    again = client.get(location)
    assert again.data == answer.data
    assert again.headers["ETag"] == answer.headers["ETag"]
    assert client.get(location, headers={"If-None-Match": again.headers["ETag"]}).status_code == 304


def test_the_bench_sheet_can_be_left_out_or_come_alone(client):
    whole, without, alone = (pages(ask(client, query)) for query in ("", "?sheet=false", "?sheet=only"))
    assert len(whole) == len(without) + len(alone)
    assert not any("Bench sheet" in text for text in without)
    assert all("Bench sheet" in text for text in alone)


def test_one_piece_alone_comes_without_the_bench_sheet_unless_it_is_asked_for(client):
    assert len(pages(ask(client, "?piece=keeper"))) == 1
    assert len(pages(ask(client, "?piece=keeper&sheet=true"))) > 1


@pytest.mark.parametrize(
    ("accept", "query", "fault"),
    [
        ("application/pdf", "?paper=a5", ("paper", "invalid")),
        ("application/pdf", "?sheet=maybe", ("sheet", "invalid")),
        ("application/pdf", "?dpi=300", ("dpi", "without_meaning")),
        ("application/pdf", "?kerf=0.2%20mm", ("kerf", "without_meaning")),
        ("application/pdf", "?view=cutter&paper=a4", ("paper", "without_meaning")),
        ("application/pdf", "?view=finished&sheet=only", ("sheet", "without_meaning")),
        ("image/svg+xml", "?paper=a4", ("paper", "without_meaning")),
        ("image/svg+xml", "?kerf=0.2%20mm", ("kerf", "without_meaning")),
        ("image/svg+xml", "?view=cutter&kerf=0.2", ("kerf", "invalid")),
        ("image/svg+xml", "?view=cutter&kerf=5.5%20mm", ("kerf", "invalid")),
        ("image/svg+xml", "?view=cutter&kerf=-1%20mm", ("kerf", "invalid")),
        ("image/svg+xml", "?view=cutter&kerf=", ("kerf", "invalid")),
        ("image/svg+xml", "?view=cutter&background=ffffff", ("background", "without_meaning")),
        ("image/png", "?view=cutter", ("view", "without_meaning")),
        ("application/pdf", "?piece=strap", ("piece", "unknown_piece")),
    ],
)
def test_what_has_no_meaning_is_refused_by_name(client, accept, query, fault):
    assert faults(ask(client, query, accept=accept)) == [fault]


def test_the_cutters_drawing_has_its_layers_and_its_kerf(client):
    """A hole of 1/8 in is 3.175 mm: half of that, less half of the kerf, is the radius."""
    plain = ask(client, "?view=cutter", accept="image/svg+xml").text
    moved = ask(client, "?view=cutter&kerf=0.2%20mm", accept="image/svg+xml").text
    for layer in ("text", "fold", "mark", "punch", "cut"):
        assert f'<g id="{layer}"' in moved
    assert 'r="1.588"' in plain or 'r="1.587"' in plain
    assert 'r="1.488"' in moved or 'r="1.487"' in moved
    assert "<use" not in moved[moved.index('<g id="fold"') :]


def test_a_kerf_is_one_length_however_it_is_said(client):
    """1/127 in is 0.2 mm exactly."""
    said = ["0.2 mm", "0.02 cm", "1/127 in", ".2mm"]
    found = {
        client.post(
            "/v1/patterns",
            query_string={"view": "cutter", "kerf": each},
            json=GARTER,
            headers={"Accept": "image/svg+xml"},
        ).headers["Content-Location"]
        for each in said
    }
    assert len(found) == 1
    assert "kerf=0.2+mm" in found.pop()


@pytest.mark.parametrize("accept", ["application/pdf", "image/svg+xml"])
def test_a_kerf_as_wide_as_the_narrowest_hole_is_refused(client, accept):
    """The smallest punch that the harness strap needs is no. 2: 7/64 in, 2.778 mm."""
    assert ask(client, "?view=cutter&kerf=2.7%20mm", accept=accept).status_code == 200
    assert faults(ask(client, "?view=cutter&kerf=2.8%20mm", accept=accept)) == [("kerf", "kerf_too_wide")]


@pytest.fixture
def wide_client(tmp_path):
    """A caller of a shop that makes straps up to 14 in wide."""
    for picture in DEMO.parent.glob("*.svg"):
        (tmp_path / picture.name).write_bytes(picture.read_bytes())
    text = DEMO.read_text(encoding="utf-8").replace('width_max = "6 in"', 'width_max = "14 in"')
    (tmp_path / "shop.toml").write_text(text, encoding="utf-8")
    return create_app(Settings(shop_file=tmp_path / "shop.toml")).test_client()


def test_a_strap_wider_than_the_paper_is_refused_with_the_papers_that_are_larger(wide_client):
    spec = {"construction": "open", "size": {"body_length": "20 in"}, "body": {"width": "12 in"}}
    refused = ask(wide_client, "?paper=letter", spec=spec)
    assert faults(refused) == [("paper", "paper_too_small")]
    assert "a3 or tabloid" in refused.json["detail"]
    assert ask(wide_client, "?paper=tabloid", spec=spec).status_code == 200


@pytest.mark.parametrize("view", ["cutter", "finished"])
def test_other_views_are_one_page_at_true_size(client, view):
    answer = ask(client, f"?view={view}", spec=COLLAR)
    assert answer.status_code == 200
    assert len(pypdfium2.PdfDocument(answer.data)) == 1


def test_a_pdf_is_told_apart_in_the_list_of_forms(client):
    code = client.post("/v1/patterns", json=GARTER).json["code"]
    assert client.get(f"/v1/patterns/{code}.pdf").content_type == "application/pdf"
    refused = client.get(f"/v1/patterns/{code}.eps")
    assert refused.status_code == 404
    assert ".pdf" in refused.json["detail"]
