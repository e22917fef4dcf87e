"""A strap before and after a rule, a size or a good is turned, held against both patterns asked for by themselves."""

import re
from dataclasses import replace

import pytest

from service.app import create_app
from service.door.options import MOST_VARIED
from service.schemas.rules import RulesSchema
from service.settings import Settings
from tests.support.door import GOOD

GARTER = {"construction": "one_piece", "size": {"girth": "14 in"}, "ornaments": {"item": "bell_25", "count": 3}}
HARNESS = {
    "construction": "three_piece",
    "size": {"body_length": "24 in"},
    "body": {"width": "2 1/2 in"},
    "ornaments": {"item": "bell_30", "count": 6},
    "border": {"item": "spot_6"},
}
PARTS = ("finished", "pieces", "hardware", "materials")
NAMES = ("id", "name", "hole", "piece", "item", "leather")


def ask(client, document, *vary, accept="application/json", **more):
    query = [("vary", text) for text in vary] + list(more.items())
    return client.post("/v1/patterns", json=document, query_string=query, headers={"Accept": accept})


def varied(client, document, *vary, **more):
    answer = ask(client, document, *vary, **more)
    assert answer.status_code == 200, answer.json
    return answer.json["varied"]


def flat(part, path=()):
    """Every figure of a part of an answer by where it stands, things in lists by what they are called."""
    if isinstance(part, dict):
        for name, value in part.items():
            if name not in ("outline", "mates"):
                yield from flat(value, (*path, name))
    elif isinstance(part, list):
        seen = {}
        for n, each in enumerate(part):
            name = next((each[name] for name in NAMES if isinstance(each, dict) and name in each), n)
            seen[name] = seen.get(name, 0) + 1
            yield from flat(each, (*path, (name, seen[name])))
    else:
        yield path, part


def at(document, pointer):
    for name in pointer.split("/")[1:]:
        document = document[int(name)] if isinstance(document, list) else document.get(name)
    return document


def figures(answer):
    found = dict(pair for part in PARTS for pair in flat(answer[part], (part,)))
    return {key: value for key, value in found.items() if (*key[:-1], f"{key[-1]}_mm") not in found}


def assert_moved(told, before, after):
    """Every figure of both that differs is told, and no other; what is told is what stands there."""
    ones, others = figures(before), figures(after)
    differ = {key for key in ones.keys() & others.keys() if ones[key] != others[key]}
    shared = [each for each in told if each["before"] is not None and each["after"] is not None]
    assert len(shared) == len({each["at"] for each in shared}) == len(differ)
    for each in told:
        assert at(before, each["at"]) == (each["before_mm"] if "before_mm" in each else each["before"])
        if "before_mm" in each:
            assert at(before, each["at"].removesuffix("_mm")) == each["before"]
    assert sorted(map(str, (each.get("after_mm", each["after"]) for each in shared))) == sorted(
        str(others[key]) for key in differ
    )


TURNED_SPECS = [
    (GARTER, ("size.girth:16 in",), {**GARTER, "size": {"girth": "16 in"}}),
    (GARTER, ("size.finished_length:15 in",), {**GARTER, "size": {"finished_length": "15 in"}}),
    (GARTER, ("buckle:centre_bar_25",), {**GARTER, "billet": {"buckle": "centre_bar_25"}}),
    (GARTER, ("leather:latigo_6_7",), {**GARTER, "leather": "latigo_6_7"}),
    (HARNESS, ("ornaments.count:4", "body.width:3 in"),
     {**HARNESS, "ornaments": {"item": "bell_30", "count": 4}, "body": {"width": "3 in"}}),
    (HARNESS, ("ornament:bell_25",), {**HARNESS, "ornaments": {"item": "bell_25", "count": 6}}),
]  # fmt: skip


@pytest.mark.parametrize(("document", "vary", "turned"), TURNED_SPECS, ids=[str(case[1]) for case in TURNED_SPECS])
def test_a_size_or_a_good_turned_moves_what_both_patterns_differ_in(client, document, vary, turned):
    before, after = (client.post("/v1/patterns", json=each).json for each in (document, turned))
    answer = ask(client, document, *vary)
    told = answer.json["varied"]
    assert {key: value for key, value in answer.json.items() if key != "varied"} == before
    assert_moved(told["moved"], before, after)
    assert told["refused"] == []
    assert told["moved"] or told["checks"]

    def ids(pattern):
        return {f["id"] for piece in pattern["pieces"] for f in piece["features"]}

    assert {each["id"] for each in told["gone"] if each["what"] == "feature"} == ids(before) - ids(after)
    assert {each["id"] for each in told["new"] if each["what"] == "feature"} == ids(after) - ids(before)
    limits = [{check["rule"]: check for check in each["checks"]} for each in (before, after)]
    differ = {rule for rule in limits[0].keys() | limits[1].keys() if limits[0].get(rule) != limits[1].get(rule)}
    assert {each["rule"] for each in told["checks"]} == differ


RULES = [("neutral_fraction", "0.4"), ("tip_past_keeper", "1 in"), ("tip_web", "5 mm"), ("keeper_lap", "5/8 in")]


@pytest.mark.parametrize("units", ["in", "mm"])
@pytest.mark.parametrize(("name", "text"), RULES, ids=[name for name, _ in RULES])
def test_a_rule_turned_is_what_a_shop_with_that_rule_makes(client, shop, name, text, units):
    """Also where the shop says it otherwise for jobs in millimetres."""
    document, value = {**GARTER, "units": units}, RulesSchema().fields[name].deserialize(text)
    rules = shop.rules
    if name == "tip_web":
        other = replace(rules, own={**rules.own, name: value})
    else:
        other = replace(rules, mm={key: each for key, each in rules.mm.items() if key != name}, **{name: value})
    elsewhere = create_app(Settings(), replace(shop, rules=other, designs={})).test_client()
    before, after = (each.post("/v1/patterns", json=document).json for each in (client, elsewhere))
    told = varied(client, document, f"rules.{name}:{text}")
    assert_moved(told["moved"], before, after)
    assert told["turned"][0]["vary"] == f"rules.{name}:{text}"
    assert told["turned"][0]["before"] != told["turned"][0]["after"]
    limits = {check["rule"]: check["limit_mm"] for check in after["checks"]}
    assert all(each["after"] is None or each["after"]["limit_mm"] == limits[each["rule"]] for each in told["checks"])


def test_what_cannot_be_made_so_says_why_beside_the_strap_as_it_is(client):
    """The cut for a bell lies 3/16 in from the edge: 5 mm refuses it, as a shop with that rule would."""
    answer = ask(client, GARTER, "rules.edge_web:5mm")
    assert answer.status_code == 200
    assert answer.json["pieces"] == client.post("/v1/patterns", json=GARTER).json["pieces"]
    told = answer.json["varied"]
    assert {each["code"] for each in told["refused"]} == {"cut_near_edge"}
    assert told["moved"] == told["gone"] == told["new"] == []
    (check,) = told["checks"]
    assert (check["rule"], check["before"]["passed"], check["after"]["passed"]) == ("edge_web", True, False)
    assert check["after"]["limit_mm"] == 5
    assert varied(client, GARTER, "buckle:heel_bar_99")["refused"][0]["code"] == "unknown_buckle"


def test_a_strap_that_cannot_be_made_itself_is_refused_as_ever(client):
    wrong = {**GARTER, "ornaments": {"item": "bell_25", "count": 30}}
    plain, answer = client.post("/v1/patterns", json=wrong), ask(client, wrong, "size.girth:20 in")
    assert (answer.status_code, answer.json["errors"]) == (422, plain.json["errors"])


UNREAD = [
    ("rules.edgeweb:5mm", "unknown_rule", "did you mean 'edge_web'?"),
    ("rules.edge_web:5", "not_a_length", "a length with its unit"),
    ("rules.edge_web:-5 mm", None, "rules.edge_web"),
    ("rules.mm:5 mm", "unknown_rule", "'mm'"),
    ("rules.neutral_fraction:7", None, "rules.neutral_fraction"),
    ("rules.hole_ease:3 mm", "out_of_order", "hole_slack"),
    ("bucle:heel_bar_25", "unknown_field", "did you mean 'buckle'?"),
    ("ornaments.cuont:5", "unknown_field", "did you mean 'count'?"),
    ("ornaments.count:five", "wrong_type", "ornaments.count"),
    ("size.girth:long", "not_a_length", "size.girth"),
    ("leather.grain:fine", None, "leather"),
    ("ends.0.kind:ring", None, "ends"),
    ("rules.edge_web", "invalid", "a colon and a value"),
    (":", "invalid", "a colon and a value"),
    ("rules." + "a" * 300 + ":1", "invalid", "200"),
]


@pytest.mark.parametrize(("text", "code", "says"), UNREAD, ids=[each[0][:30] for each in UNREAD])
def test_what_cannot_be_read_is_refused_by_name(client, text, code, says):
    answer = ask(client, GARTER, text)
    assert (answer.status_code, answer.json["code"]) == (422, "query_unreadable")
    (error,) = answer.json["errors"]
    assert error["parameter"] == "vary"
    assert says in error["detail"]
    assert code is None or error["code"] == code


def test_no_more_than_a_few_things_are_turned_and_none_twice(client):
    several = ("rules.edge_web:3 mm", "rules.cut_web:3 mm", "size.girth:15 in", "ornaments.count:2")
    assert len(several) == MOST_VARIED
    assert len(varied(client, GARTER, *several)["turned"]) == MOST_VARIED
    assert ask(client, GARTER, *several, "leather:latigo_6_7").json["errors"][0]["code"] == "given_too_often"
    twice = ask(client, GARTER, "size.girth:15 in", "size.girth:16 in")
    assert twice.json["errors"][0]["code"] == "given_twice"


def test_nothing_stays_turned(client):
    """Neither the shop nor what is kept of the same strap changes, and no address stands for the answer."""
    plain, goods = client.post("/v1/patterns", json=GARTER), client.get("/v1/shop")
    first = ask(client, GARTER, "rules.neutral_fraction:0.4")
    assert "Content-Location" not in first.headers
    assert first.headers["ETag"] not in (plain.headers["ETag"], ask(client, GARTER, "size.girth:15 in").headers["ETag"])
    assert ask(client, GARTER, "rules.neutral_fraction:0.4").data == first.data
    again = client.post("/v1/patterns", json=GARTER)
    assert (again.data, again.headers["ETag"]) == (plain.data, plain.headers["ETag"])
    assert client.get(plain.headers["Content-Location"]).data == plain.data
    assert client.get("/v1/shop").data == goods.data
    refused = ask(client, GARTER, "rules.nothing:5 mm")
    assert refused.status_code == 422
    assert client.post("/v1/patterns", json=GARTER).status_code == 200


def test_only_what_is_posted_can_be_varied(client):
    code = client.post("/v1/patterns", json=GARTER).json["code"]
    answer = client.get(f"/v1/patterns/{code}?vary=size.girth:15in")
    assert (answer.status_code, answer.json["errors"][0]["code"]) == (422, "unknown_parameter")


def test_a_sealed_strap_is_varied_too(client):
    sealed = client.post("/v1/patterns", json=GARTER).json["sealed"]
    assert varied(client, {"sealed": sealed}, "size.girth:16 in")["moved"]


def test_prices_are_told_where_they_are_asked_for(client):
    told = varied(client, GARTER, "ornaments.count:2", price="true")["price"]
    line = {"ref": "a", "quantity": 1}
    quotes = [
        client.post("/v1/quotes", json={"lines": [{**line, "spec": each}]}).json["lines"][0]["unit_price"]
        for each in (GARTER, {**GARTER, "ornaments": {"item": "bell_25", "count": 2}})
    ]
    assert float(told["before"]) - float(told["after"]) == pytest.approx(
        (float(quotes[0]) - float(quotes[1])) * float(told["before"]) / float(quotes[0]), abs=0.02
    )
    assert varied(client, GARTER, "rules.edge_web:5mm", price="true")["price"]["after"] is None
    assert "price" not in varied(client, GARTER, "ornaments.count:2")
    assert client.post("/v1/patterns?price=true", json=GARTER).json["errors"][0]["code"] == "without_meaning"


def test_the_drawing_shows_both_told_apart_by_line_and_words(client):
    drawn = ask(client, GARTER, "size.girth:16 in", accept="image/svg+xml").text
    before = drawn[drawn.index('<g id="before"') :]
    ghost = re.search(r'<path d="(M[^"]+Z)"', before)[1]
    plain = client.post("/v1/patterns", json=GARTER, headers={"Accept": "image/svg+xml"}).text
    outline = re.search(r'<path id="strap.outline" d="([^"]+)"', plain)[1]
    assert ghost == outline  # to the micrometre, in the piece's own frame
    assert re.search(r'<path id="strap.outline" d="([^"]+)"', drawn)[1] != outline
    assert "stroke-dasharray" in before[: before.index("<path")] or "stroke-dasharray" in before[:300]
    for said in ("thin and dashed: before", "in full: after", "size.girth: 14 in before, 16 in after"):
        assert f'aria-label="{said}"' in drawn


def test_a_piece_that_there_is_no_more_is_drawn_and_said(client):
    drawn = ask(client, GARTER, "buckle:centre_bar_25", accept="image/svg+xml").text
    assert 'aria-label="Keeper: no more"' in drawn
    assert 'id="keeper.outline"' not in drawn


def test_a_drawing_of_what_cannot_be_made_says_why(client):
    drawn = ask(client, GARTER, "rules.edge_web:5mm", accept="image/svg+xml").text
    assert "It cannot be made so" in drawn
    assert '<g id="before"' not in drawn


@pytest.mark.parametrize(("media", "begins"), [("application/pdf", b"%PDF"), ("image/png", b"\x89PNG")])
def test_it_is_drawn_in_every_form_of_the_working_view(client, media, begins):
    assert ask(client, GARTER, "size.girth:16 in", accept=media).data.startswith(begins)


@pytest.mark.parametrize("query", ["view=finished", "piece=strap", "paper=a3", "kerf=0.1mm"])
def test_what_has_no_meaning_beside_it_is_refused(client, query):
    answer = client.post(
        f"/v1/patterns?vary=size.girth:15in&{query}", json=GARTER, headers={"Accept": "application/pdf"}
    )
    assert answer.status_code == 422
    assert {each["code"] for each in answer.json["errors"]} == {"without_meaning"}


def test_it_counts_as_two_requests(shop):
    asked = create_app(Settings(rate_per_minute=4), shop).test_client()
    statuses = [ask(asked, GARTER, "size.girth:15 in").status_code for _ in range(3)]
    assert statuses == [200, 200, 429]


@pytest.mark.parametrize("name", list(GOOD)[::6])
def test_examples_can_be_varied(client, name):
    told = varied(client, GOOD[name], "rules.graduation:1/8 in")
    assert told["turned"][0]["after"] in ("1/8 in", "≈ 3.2 mm")
