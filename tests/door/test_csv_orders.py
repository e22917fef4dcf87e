"""Orders as CSV over HTTP: the same answers as the same orders in JSON, and every faulty row by row and column."""

import csv
import io
from dataclasses import replace

import pytest

from openapi.example_requests import examples, tables
from service.app import create_app
from service.schemas.codes import code_of
from service.schemas.quote import MOST_LINES
from service.schemas.spec import read_spec
from service.settings import Settings
from service.shop_file import demo_shop
from tests.contract.test_remedies import applied

TABLE = {"Content-Type": "text/csv"}
PATHS = {"/v1/quotes": "lines", "/v1/work-orders": "lines", "/v1/cut-plans": "orders"}
OURS = tables()["our_columns"]
SAME = [
    {"ref": "A1", "design": "bell_garter", "quantity": 3, "pair": True, "choices": {"length": "15 in", "bells": 6}},
    {"ref": "A2", "design": "goat_collar", "choices": {"length": "20 in", "leather": "harness_8_9"}},
    {"ref": "A3", "design": "herding_dog_collar", "quantity": 2, "choices": {"length": "17.5 in", "spots": 8}},
]


def send(client, text, path="/v1/quotes", **more):
    return client.post(path, data=text if isinstance(text, bytes) else text.encode(), headers=TABLE | more)


def faults(answer):
    assert answer.status_code == 422
    return [(each.get("row"), each.get("column"), each["code"]) for each in answer.json["errors"]]


@pytest.mark.parametrize("path", PATHS)
def test_a_table_is_answered_as_the_same_orders_in_json(client, path):
    """Bytes of both are one but for what a cut plan's search takes, which ends here long before its time."""
    assert send(client, OURS, path).data == client.post(path, json={PATHS[path]: SAME}).data


@pytest.mark.parametrize("path", PATHS)
def test_semicolons_and_a_byte_order_mark_change_nothing(client, path):
    rows = list(csv.reader(io.StringIO(OURS)))
    out = io.StringIO()
    csv.writer(out, delimiter=";").writerows([*rows, [""] * len(rows[0])])
    assert send(client, "\ufeff" + out.getvalue(), path).data == send(client, OURS, path).data


@pytest.mark.parametrize("path", PATHS)
def test_a_storefronts_file_goes_in_unchanged(client, path):
    """Its balm is no strap, its two rows of one order are told apart, its colours are our leathers."""
    garter = {"length": "14 1/2 in", "bells": 5, "leather": "latigo_6_7"}
    collar = {"length": "22 in", "bells": 3, "leather": "harness_8_9"}
    hanging = {"length": "30 in", "bells": 7, "leather": "bridle_10_11"}
    meant = [
        {"ref": "1043", "design": "bell_garter", "quantity": 2, "pair": True, "choices": garter},
        {"ref": "1043/2", "design": "goat_collar", "quantity": 1, "choices": collar},
        {"ref": "1044", "design": "door_strap", "quantity": 1, "choices": hanging},
    ]
    answer = send(client, tables()["web_shop"], f"{path}?columns=web_shop")
    assert answer.data == client.post(path, json={PATHS[path]: meant}).data


def test_every_faulty_row_is_told_at_once_those_that_cannot_be_made_too(client):
    text = (
        "ref,design,quantity,length,bells\n"
        "A1,bell_garter,x,15.1 in,6\n"
        "A2,goat_collr,1,,\n"
        "\n"
        "A4,bell_garter,1\n"
        "A5,bell_garter,1,11 in,10\n"
        "A5,door_strap,,30 in,3\n"
        "A7,herding_dog_collar,0,,3\n"
    )
    assert faults(send(client, text)) == [
        (2, "quantity", "wrong_type"),
        (2, "length", "not_offered"),
        (3, "design", "unknown_design"),
        (5, None, "wrong_cells"),
        (6, "bells", "ornaments_crowded"),
        (7, "ref", "given_twice"),
        (8, "quantity", "out_of_range"),
    ]


def test_a_pointer_leads_to_the_cell_in_the_table_as_json(client):
    answer = send(client, "ref,design,length\n\nA1,bell_garter,15 in\nA2,bell_garter,99 in\n")
    (error,) = answer.json["errors"]
    assert (error["pointer"], error["row"], error["column"]) == ("/lines/1/length", 4, "length")
    assert answer.json["detail"].startswith("row 4, length: ")
    (error,) = send(client, "ref,design,length\nA1,bell_garter,99 in\n", "/v1/cut-plans").json["errors"]
    assert error["pointer"] == "/orders/0/length"


@pytest.mark.parametrize(
    ("header", "told"),
    [
        ("ref,desing,quantity", [(1, "desing", "unknown_field"), (1, "design", "missing")]),
        ("ref,design,bels", [(1, "bels", "unknown_field")]),
        ("design,quantity", [(1, "ref", "missing")]),
        ("ref,quantity", [(1, "design", "missing")]),
        ("ref,design,ref", [(1, "ref", "given_twice")]),
        ("ref,design,Ref", [(1, "Ref", "unknown_field")]),
    ],
)
def test_a_wrong_header_is_told_by_its_columns_with_the_nearest_name(client, header, told):
    answer = send(client, f"{header}\nA1,bell_garter,1\n")
    assert faults(answer) == told
    if "bels" in header:
        assert "did you mean 'bells'" in answer.json["errors"][0]["detail"]
        assert answer.json["errors"][0]["pointer"] == "/header/2"


@pytest.mark.parametrize("ref", ["=1+1", "+1", "-1", "@x", "  =cmd|' /C calc'!A0"])
def test_a_ref_that_a_spreadsheet_would_reckon_is_refused(client, ref):
    assert faults(send(client, f'ref,design\n"{ref}",goat_collar\n')) == [(2, "ref", "wrong_type")]


def test_a_choice_of_another_design_is_left_empty_or_refused(client):
    good = "ref,design,bells,spots\nA1,bell_garter,5,\nA2,herding_dog_collar,,7\n"
    assert send(client, good).status_code == 200
    assert faults(send(client, good.replace("5,", "5,7"))) == [(2, "spots", "not_offered")]


def test_codes_seals_pairs_and_sizes_have_columns(client):
    pattern = client.get("/v1/designs/bell_garter/pattern.json").json
    text = (
        f"ref,code,design,sizes,pair\nA1,{pattern['code']},,,true\nA2,{pattern['sealed']},,,\nA3,,bell_garter,S | M,\n"
    )
    lines = send(client, text).json["lines"]
    assert [(line["ref"], line.get("strap")) for line in lines] == [
        ("A1", "left"), ("A1", "right"), ("A2", None), ("A3", "S"), ("A3", "M"),
    ]  # fmt: skip
    assert faults(send(client, text.replace("S | M", "S | XXXL"))) == [(4, "sizes", "unknown_size_label")]


def test_a_seal_that_is_another_strap_today_is_told_by_its_row(client):
    sealed = client.get("/v1/designs/bell_garter/pattern.json").json["sealed"]
    shop = demo_shop()
    thicker = replace(shop.leathers["harness_8_9"], id="latigo_6_7")
    moved = replace(shop, leathers={**shop.leathers, "latigo_6_7": thicker})
    answer = send(create_app(Settings(), moved).test_client(), f"ref,code\nA1,{sealed}\n")
    assert answer.status_code == 409
    (changed,) = answer.json["changed"]
    assert (changed["pointer"], changed["row"], changed["column"]) == ("/lines/0/code", 2, "code")


def as_table(document):
    """The table that an answer's pointers lead into, written again."""
    columns = list(dict.fromkeys(name for line in document["lines"] for name in line))
    out = io.StringIO()
    csv.DictWriter(out, columns).writeheader()
    csv.DictWriter(out, columns, restval="").writerows(document["lines"])
    return out.getvalue()


CROWDED = {"ref": "A1", "design": "bell_garter", "length": "11 in", "bells": "10"}
BY_SIZE = {"ref": "A2", "code": code_of(read_spec(examples()["garter_by_size"], "in"), "in"), "sizes": "S|XXXL"}
EXPORTED = {"Order": "7", "Product": "Bell garter for dancers", "Length": "11 in", "Bells": "10", "Colour": "Black"}


@pytest.mark.parametrize(
    ("query", "lines"),
    [
        ("", [CROWDED]),
        ("", [{"ref": "A0", "design": "goat_collar"}, CROWDED | {"leather": "bridle_10_11", "bell": "bell_30"}]),
        ("", [BY_SIZE]),
        ("?columns=web_shop", [EXPORTED]),
    ],
)
def test_every_remedy_is_accepted_when_its_cells_are_changed(client, query, lines):
    document = {"lines": lines}
    answer = send(client, as_table(document), f"/v1/quotes{query}")
    assert (answer.status_code, answer.json["code"]) == (422, "orders_refused")
    assert answer.json["remedies"]
    for remedy in answer.json["remedies"]:
        assert all(change["row"] == int(change["pointer"].split("/")[2]) + 2 for change in remedy["changes"])
        mended = applied(document, remedy["changes"])
        assert send(client, as_table(mended), f"/v1/quotes{query}").status_code == 200


def test_an_exporters_column_that_nobody_reads_is_refused_by_name(client):
    text = tables()["web_shop"].replace("E-mail", "Engraving")
    assert faults(send(client, text, "/v1/quotes?columns=web_shop")) == [(1, "Engraving", "unknown_field")]


@pytest.mark.parametrize(
    ("query", "headers", "code"),
    [
        ("?columns=web_shp", TABLE, "unknown_value"),
        ("?columns=web_shop", {"Content-Type": "application/json"}, "without_meaning"),
    ],
)
def test_columns_are_those_of_an_export_and_of_a_table(client, query, headers, code):
    answer = client.post(f"/v1/quotes{query}", data=b"{}", headers=headers)
    assert answer.status_code == 422
    assert [(each["parameter"], each["code"]) for each in answer.json["errors"]] == [("columns", code)]


@pytest.mark.parametrize(
    ("declared", "status"),
    [
        ("text/csv", 200),
        ("Text/CSV; Charset=UTF-8", 200),
        ("text/csv; header=present", 200),
        ("text/csv; header=absent", 415),
        ("text/csv; charset=latin-1", 415),
        ("text/tab-separated-values", 415),
        ("", 415),
    ],
)
def test_the_media_type_of_a_table(client, declared, status):
    answer = client.post("/v1/quotes", data=OURS.encode(), headers={"Content-Type": declared})
    assert answer.status_code == status
    if status == 415:
        assert answer.headers["Accept"] == "application/json, text/csv"
        assert "application/json or text/csv" in answer.json["detail"]


def test_only_orders_come_as_tables(client):
    answer = client.post("/v1/patterns", data=OURS.encode(), headers=TABLE)
    assert (answer.status_code, answer.headers["Accept"]) == (415, "application/json")
    assert send(client, OURS, Accept="text/csv").status_code == 406


def test_as_many_rows_as_lines_and_no_more(client):
    text = "ref,design\n" + "".join(f"A{n},goat_collar\n" for n in range(MOST_LINES))
    assert send(client, text).status_code == 200
    assert faults(send(client, f"{text}B,goat_collar\n")) == [(None, None, "out_of_range")]


def test_the_spreadsheets_of_two_programs_are_one(client):
    """A cell that holds the separator, a quote or a line break is quoted, as RFC 4180 has it."""
    text = 'ref,design,length\n"A, 1\nand ""B""",goat_collar,"20 in"\n'
    assert send(client, text).json["lines"][0]["ref"] == 'A, 1\nand "B"'
