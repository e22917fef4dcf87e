"""Linings from outside: what is refused and mended by pointers into the caller's document, and what is cut."""

import pytest


@pytest.mark.parametrize(
    ("outer", "inner", "purpose", "change"),
    [
        ("harness_8_9", "lining_2_3", "carry", {"/lining/purpose": "cover"}),
        ("lining_2_3", "latigo_6_7", "cover", {"/lining/purpose": "carry"}),
    ],
)
def test_a_lining_of_the_wrong_way_is_mended_by_the_other_way(client, outer, inner, purpose, change):
    document = {
        "construction": "open", "size": {"body_length": "20 in"}, "leather": outer,
        "lining": {"leather": inner, "purpose": purpose}, "ornaments": {"item": "spot_10", "count": 3},
    }  # fmt: skip
    refused = client.post("/v1/patterns", json=document).json
    remedies = [{each["pointer"]: each["value"] for each in remedy["changes"]} for remedy in refused["remedies"]]
    assert change in remedies
    assert all("/lining" not in remedy or remedy["/lining"] is None for remedy in remedies)
    mended = document | {"lining": document["lining"] | {"purpose": change["/lining/purpose"]}}
    assert client.post("/v1/patterns", json=mended).status_code == 200


def test_an_unknown_leather_is_told_where_it_stands(client):
    document = {"construction": "open", "size": {"body_length": "20 in"}}
    for lining, pointer in (("calf", "/lining"), ({"leather": "calf", "purpose": "cover"}, "/lining/leather")):
        (error,) = client.post("/v1/patterns", json=document | {"lining": lining}).json["errors"]
        assert (error["code"], error["pointer"]) == ("unknown_leather", pointer)


def test_a_cut_plan_cuts_it_an_eighth_over_all_round(client):
    """2 by 20 in are cut 2 1/4 by 20 1/4 in (by hand)."""
    spec = {"construction": "open", "size": {"body_length": "20 in"}, "body": {"width": "2 in"}, "lining": "lining_2_3"}
    stock = [
        {"id": name, "leather": name, "length": "48 in", "width": "20 in", "count": 1}
        for name in ("lining_2_3", "harness_8_9")
    ]
    plan = client.post("/v1/cut-plans", json={"orders": [{"ref": "A", "spec": spec, "quantity": 1}], "stock": stock})
    assert plan.status_code == 200, plan.json
    cut = {
        (sheet["leather"], strip["width"], piece["length"])
        for sheet in plan.json["sheets"]
        for strip in sheet["strips"]
        for piece in strip["pieces"]
    }
    assert cut == {("harness_8_9", "2 in", "20 in"), ("lining_2_3", "2 1/4 in", "20 1/4 in")}


@pytest.mark.parametrize("purpose", ["cover", "carry"])
def test_drawing_and_pages_say_how_it_is_cut_and_what_it_is_for(client, purpose):
    spec = {"construction": "open", "size": {"body_length": "20 in"}}
    spec |= {"lining": {"leather": "lining_2_3", "purpose": purpose}}
    sheet = client.post("/v1/patterns", json=spec, headers={"Accept": "image/svg+xml"}).text
    assert "cut 1/8 in over all round, trim once glued" in sheet
    told = {"cover": "covers the backs, glued on once all is set", "carry": "glued on first, and set through"}
    assert [way for way, words in told.items() if words in sheet] == [purpose]
