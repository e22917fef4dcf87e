"""Sealed codes: the same strap whatever the shop changes, or word of what would be another; never one in silence."""

import json
from base64 import urlsafe_b64encode
from dataclasses import replace

import pytest

from service.app import create_app
from service.schemas.codes import document_of
from service.settings import Settings
from service.strap.plane.lengths import INCH
from tests.contract.test_document import assert_valid
from tests.support.door import GARTER, GOOD, HANGING, HARNESS, REFUSED

FORMS = {
    "json": "application/json", "svg": "image/svg+xml", "png": "image/png", "pdf": "application/pdf",
}  # fmt: skip
SHORT = {"construction": "one_piece", "size": {"girth": "16 in"}, "ornaments": {"item": "bell_25", "count": 5}}
"""A spec that leaves most to the shop."""


def caller_of(shop, **changes):
    """A caller of the shop as it is later: with other goods or rules, and a shop file that says so."""
    later = replace(shop, designs={}, digest="f" * 64, **changes)
    return create_app(Settings(), later).test_client()


def written(document):
    return urlsafe_b64encode(json.dumps(document).encode()).rstrip(b"=").decode()


def sealed(client, spec):
    return client.post("/v1/patterns", json=spec).json["sealed"]


@pytest.fixture
def with_other_defaults(shop):
    """The shop after two of its defaults were changed: the leather, and how many size holes there are."""
    defaults = replace(shop.defaults, leather="bridle_10_11", size_holes=3)
    return caller_of(shop, defaults=defaults)


@pytest.fixture
def with_longer_slots(shop):
    """The shop after it makes prong slots a quarter of an inch longer: a rule, that no spec says."""
    return caller_of(
        shop, rules=replace(shop.rules, prong_slot_over_width=shop.rules.prong_slot_over_width + INCH // 4)
    )


@pytest.fixture
def without_harness_leather(shop):
    return caller_of(shop, leathers={name: each for name, each in shop.leathers.items() if name != "harness_8_9"})


@pytest.mark.parametrize("name", GOOD)
def test_a_seal_gives_the_same_pattern(client, name):
    """Its spec says in full what the shop settled: the length behind a size's label, and what a lining is for."""
    made = client.post("/v1/patterns", json=GOOD[name]).json
    again = client.get(f"/v1/patterns/{made['sealed']}")
    assert_valid("Pattern", again.json)
    assert {member for member in made if made[member] != again.json[member]} <= {"code", "spec"}
    assert again.json["sealed"] == made["sealed"]
    in_full = {"size": 0, "lining": 0}
    assert made["spec"] | in_full == again.json["spec"] | in_full


@pytest.mark.parametrize("form", FORMS)
def test_a_seal_has_every_form_by_suffix_and_by_accept(client, form):
    made = client.post("/v1/patterns", json=GARTER).json
    by_suffix = client.get(f"/v1/patterns/{made['sealed']}.{form}")
    by_accept = client.get(f"/v1/patterns/{made['sealed']}", headers={"Accept": FORMS[form]})
    assert by_suffix.mimetype == by_accept.mimetype == FORMS[form]
    assert by_suffix.data == by_accept.data
    if form != "json":
        assert by_suffix.data == client.get(f"/v1/patterns/{made['code']}.{form}").data
    finished = {} if form == "json" else {"view": "finished"}
    assert client.get(f"/v1/patterns/{made['sealed']}.{form}", query_string=finished).status_code == 200


def test_the_address_of_a_sealed_answer_stays_sealed_and_can_be_kept(client):
    seal = sealed(client, GARTER)
    got = client.get(f"/v1/patterns/{seal}.svg?units=mm")
    assert got.headers["Content-Location"] == f"/v1/patterns/{seal}.svg?units=mm"
    assert got.headers["Cache-Control"].startswith("public")
    assert (
        client.get(f"/v1/patterns/{seal}.svg?units=mm", headers={"If-None-Match": got.headers["ETag"]}).status_code
        == 304
    )
    assert client.head(f"/v1/patterns/{seal}.svg?units=mm").headers["ETag"] == got.headers["ETag"]


def test_a_code_follows_the_shops_defaults_and_a_seal_does_not(client, with_other_defaults):
    before = client.post("/v1/patterns", json=SHORT).json
    by_code = with_other_defaults.get(f"/v1/patterns/{before['code']}").json
    by_seal = with_other_defaults.get(f"/v1/patterns/{before['sealed']}").json
    assert by_code["pieces"] != before["pieces"]
    for same in ("pieces", "hardware", "finished", "spec"):
        assert by_seal[same] == before[same]
    assert by_seal["shop"]["digest"] != before["shop"]["digest"]


def test_a_rule_that_moves_a_hole_is_told_with_what_moved(client, with_longer_slots):
    """By hand: a slot is the strap's inch and a quarter more, 1 1/4 in; with another quarter it is 1 1/2 in."""
    seal = sealed(client, SHORT)
    refused = with_longer_slots.get(f"/v1/patterns/{seal}.svg")
    assert (refused.status_code, refused.json["code"]) == (409, "shop_changed")
    assert_valid("Problem", refused.json)
    assert refused.headers["Cache-Control"] == "no-store"
    (changed,) = refused.json["changed"]
    assert "pointer" not in changed
    assert changed["errors"] == []
    slot = next(each for each in changed["moved"] if each["figure"] == "pieces.strap.prong_slot.size")
    assert (slot["from"], slot["from_mm"], slot["to"], slot["to_mm"]) == ("1 1/4 in", 31.75, "1 1/2 in", 38.1)
    assert changed["moved"][0]["detail"] in refused.json["detail"]
    today = with_longer_slots.get(changed["today"])
    assert today.status_code == 200
    assert today.json["code"] == changed["code"]
    assert today.json["sealed"] != seal
    assert with_longer_slots.get(f"/v1/patterns/{today.json['sealed']}").status_code == 200


def test_hardware_that_is_other_now_is_told(client, shop):
    """The keeper is riveted by a rivet of the shop's own choice, which no spec names."""
    rivets = dict(shop.fasteners)
    rivets["keeper_rivet"] = replace(rivets.pop("double_cap_small"), id="keeper_rivet")
    later = caller_of(shop, fasteners=rivets, defaults=replace(shop.defaults, keeper_fastener="keeper_rivet"))
    moved = later.get(f"/v1/patterns/{sealed(client, HARNESS)}").json["changed"][0]["moved"]
    assert [each for each in moved if each["figure"].startswith("hardware")] == [
        {"figure": "hardware.double_cap_small.count", "from": 1,
         "detail": "double cap small, how many: 1 as it was sealed, none today."},
        {"figure": "hardware.keeper_rivet.count", "to": 1,
         "detail": "keeper rivet, how many: none as it was sealed, 1 today."},
    ]  # fmt: skip


def test_a_leather_that_is_gone_is_named(client, without_harness_leather):
    seal = sealed(client, HARNESS)
    refused = without_harness_leather.get(f"/v1/patterns/{seal}")
    assert (refused.status_code, refused.json["code"]) == (409, "shop_changed")
    assert_valid("Problem", refused.json)
    (changed,) = refused.json["changed"]
    assert [(each["pointer"], each["code"]) for each in changed["errors"]] == [("/leather", "unknown_leather")]
    assert "harness_8_9" in refused.json["detail"]
    why = without_harness_leather.get(changed["today"])
    assert (why.status_code, why.json["code"]) == (422, "cannot_be_made")
    assert why.json["remedies"]


def test_what_only_costs_or_looks_otherwise_is_the_same_strap(client, shop):
    dearer = {
        name: replace(each, price_per_m2=each.price_per_m2 * 2, title="x") for name, each in shop.leathers.items()
    }
    later = caller_of(shop, leathers=dearer, pricing=None, name="Another name")
    for spec in (HARNESS, GARTER, HANGING):
        assert later.get(f"/v1/patterns/{sealed(client, spec)}").status_code == 200


def test_a_seal_that_was_tampered_with_is_no_other_strap(client):
    """What is changed in a seal's spec no longer has the sealed digest."""
    seal = sealed(client, SHORT)
    document = document_of(seal)
    document["spec"]["ornaments"]["count"] = 4
    refused = client.post("/v1/patterns", json={"sealed": written(document)})
    assert (refused.status_code, refused.json["code"]) == (409, "shop_changed")
    assert "hardware.bell_25.count" in {each["figure"] for each in refused.json["changed"][0]["moved"]}


def test_a_difference_that_no_figure_tells_is_refused_all_the_same(client):
    document = document_of(sealed(client, SHORT)) | {"pattern": "A" * 22}
    refused = client.get(f"/v1/patterns/{written(document)}")
    assert refused.status_code == 409
    assert refused.json["changed"][0]["moved"] == []
    assert "not the one that was sealed" in refused.json["detail"]


@pytest.mark.parametrize("document", [{"sealed": 1}, {"sealed": "x", "construction": "open"}, {"sealed": {}}])
def test_a_seal_that_is_none_is_no_code(client, document):
    answer = client.get(f"/v1/patterns/{written(document)}.svg")
    assert (answer.status_code, answer.json["code"]) == (404, "unknown_code")


def test_a_seal_may_be_sent_as_a_body(client, with_longer_slots):
    """For one that is too long for a URL."""
    seal = sealed(client, GARTER)
    posted = client.post("/v1/patterns", json={"sealed": seal})
    assert posted.data == client.get(f"/v1/patterns/{seal}").data
    assert posted.headers["Content-Location"] == f"/v1/patterns/{seal}"
    assert with_longer_slots.post("/v1/patterns", json={"sealed": seal}).status_code == 409
    wrong = client.post("/v1/patterns", json={"sealed": "x"})
    assert (wrong.status_code, wrong.json["errors"][0]["pointer"]) == (422, "/sealed")


def test_a_seal_that_is_too_long_for_a_url_has_no_address_but_works(shop):
    caller = create_app(Settings(url_max=700), shop).test_client()
    made = caller.post("/v1/patterns", json=GARTER).json
    assert len(made["sealed"]) > 700 > len(made["code"])
    assert caller.get(f"/v1/patterns/{made['sealed']}").status_code == 414
    again = caller.post("/v1/patterns", json={"sealed": made["sealed"]})
    assert again.status_code == 200
    assert "Content-Location" not in again.headers
    assert again.json["pieces"] == made["pieces"]
    quote = caller.post("/v1/quotes", json={"lines": [{"ref": "A1", "code": made["sealed"]}]})
    assert quote.json["lines"][0]["sealed"] == made["sealed"]


def test_what_would_be_made_today_has_no_address_where_that_is_too_long(shop):
    caller = create_app(Settings(url_max=300), shop).test_client()
    document = document_of(caller.post("/v1/patterns", json=GARTER).json["sealed"]) | {"pattern": "A" * 22}
    refused = caller.post("/v1/patterns", json={"sealed": written(document)})
    assert_valid("Problem", refused.json)
    (changed,) = refused.json["changed"]
    assert changed["today"] is None
    lines = [{"ref": "A1", "code": changed["code"]}]
    assert caller.post("/v1/quotes", json={"lines": lines}).status_code == 200


def test_designs_prices_and_quotes_give_the_same_seal(client):
    design = "/v1/designs/bell_garter"
    pattern = client.get(f"{design}/pattern.json?bells=4").json["sealed"]
    assert client.get(f"{design}/price?bells=4").json["sealed"] == pattern
    lines = [{"ref": "A1", "design": "bell_garter", "choices": {"bells": 4}}, {"ref": "A2", "code": pattern}]
    quote = client.post("/v1/quotes", json={"lines": lines}).json
    assert [line["sealed"] for line in quote["lines"]] == [pattern] * 2
    assert client.get(f"/v1/patterns/{pattern}").json["shop"] == quote["shop"]


PATHS = {"/v1/quotes": "lines", "/v1/cut-plans": "orders"}


@pytest.mark.parametrize("path", PATHS)
def test_orders_by_seal_are_told_by_line_what_is_other_now(path, client, with_longer_slots):
    orders = [
        {"ref": "A1", "spec": HANGING},
        {"ref": "A2", "code": sealed(client, SHORT)},
        {"ref": "A3", "code": sealed(client, HANGING)},
        {"ref": "A4", "code": sealed(client, GARTER)},
    ]
    assert client.post(path, json={PATHS[path]: orders}).status_code == 200
    refused = with_longer_slots.post(path, json={PATHS[path]: orders})
    assert (refused.status_code, refused.json["code"]) == (409, "shop_changed")
    assert_valid("Problem", refused.json)
    places = [each["pointer"] for each in refused.json["changed"]]
    assert places == [f"/{PATHS[path]}/1/code", f"/{PATHS[path]}/3/code"]
    assert all(each["moved"] for each in refused.json["changed"])
    assert "1 more" in refused.json["detail"]
    for place, changed in zip((1, 3), refused.json["changed"], strict=True):
        orders[place]["code"] = changed["code"]
    assert with_longer_slots.post(path, json={PATHS[path]: orders}).status_code == 200


@pytest.mark.parametrize("path", PATHS)
def test_an_order_by_seal_of_a_leather_that_is_gone_is_409_and_no_422(path, client, without_harness_leather):
    orders = [{"ref": "A1", "code": sealed(client, HARNESS)}, {"ref": "A2", "spec": REFUSED}]
    refused = without_harness_leather.post(path, json={PATHS[path]: orders})
    assert (refused.status_code, refused.json["code"]) == (409, "shop_changed")
    (changed,) = refused.json["changed"]
    assert changed["pointer"] == f"/{PATHS[path]}/0/code"
    assert changed["errors"][0]["code"] == "unknown_leather"


@pytest.mark.parametrize("path", PATHS)
def test_an_order_by_a_spoiled_seal_is_told_at_its_code(path, client):
    orders = [{"ref": "A1", "code": written({"sealed": 1})}]
    refused = client.post(path, json={PATHS[path]: orders})
    assert (refused.status_code, refused.json["code"]) == (422, "orders_unreadable")
    assert [(each["pointer"], each["code"]) for each in refused.json["errors"]] == [
        (f"/{PATHS[path]}/0/code", "unknown_code")
    ]
