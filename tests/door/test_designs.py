"""Designs over HTTP: what may be chosen, what can be made, its pattern, and the ways out of a refusal."""

import random
from itertools import islice, product
from urllib.parse import parse_qsl, urlencode, urlsplit

import pytest

from service.schemas.choosing import query_text
from service.shop_file import demo_shop
from tests.contract.test_document import assert_valid

DESIGNS = demo_shop().designs
FORMS = {"json": "application/json", "svg": "image/svg+xml", "png": "image/png"}


def texts(design, chosen):
    return {choice.name: query_text(choice, chosen[choice.name], "in") for choice in design.choices}


def sample(design, size):
    """Choices at random, the same in every run."""
    dice = random.Random(design.name)
    for _ in range(size):
        yield texts(design, {choice.name: dice.choice(list(choice.offer)) for choice in design.choices})


def counts_in(ranges, step):
    return {count for low, high in ranges for count in range(low, high + 1, step)}


def test_the_list_names_every_design_with_a_picture_that_is_there(client):
    answer = client.get("/v1/designs")
    assert_valid("Designs", answer.json)
    assert [each["name"] for each in answer.json["designs"]] == list(DESIGNS)
    for each in answer.json["designs"]:
        assert client.get(each["href"]).json["title"] == each["title"]
        assert client.get(each["picture"]).mimetype == "image/svg+xml"


@pytest.mark.parametrize("name", DESIGNS)
def test_a_design_tells_its_choices_and_a_spec_that_can_be_made(client, name):
    found = client.get(f"/v1/designs/{name}").json
    assert_valid("Design", found)
    assert client.post("/v1/patterns", json=found["spec"]).status_code == 200
    for choice in found["choices"]:
        for value in choice.get("values", ()):
            assert isinstance(value["title"], str)
        assert ("values" in choice) == (choice["kind"] == "value")


COUNTED = [name for name, design in DESIGNS.items() if design.count]
ALL_MADE = {"staggered_garter", "watch_strap_buckle_half", "watch_strap_tip_half"}
"""Designs of which whatever is offered can be made."""


@pytest.mark.parametrize("name", COUNTED)
def test_each_offered_pair_is_accepted_and_each_withheld_one_refused(client, name):
    """A sample of the whole grid; `tests/strap/test_makeable.py` holds every pair of it against the solver."""
    design = DESIGNS[name]
    answer = client.get(f"/v1/designs/{name}/choices")
    assert_valid("Choices", answer.json)
    found = answer.json
    lengths = [query_text(design.length, length, "in") for length in design.length.offer]
    assert [line["value"] for line in found["makeable"]] == lengths
    pairs = list(product(found["makeable"], design.count.offer))
    for line, count in random.Random(name).sample(pairs, min(60, len(pairs))):
        query = {found["along"]: line["value"], found["count"]: count}
        status = client.get(f"/v1/designs/{name}/pattern.json?{urlencode(query)}").status_code
        assert status == (200 if count in counts_in(line["counts"], found["count_step"]) else 422), query


@pytest.mark.parametrize("name", COUNTED)
def test_other_choices_narrow_the_answer_to_just_what_they_leave(client, name):
    design = DESIGNS[name]
    whole = client.get(f"/v1/designs/{name}/choices").json
    length = whole["makeable"][len(whole["makeable"]) // 2]
    narrow = client.get(f"/v1/designs/{name}/choices?{urlencode({whole['along']: length['value']})}").json
    assert narrow["makeable"] == [length]
    assert narrow["given"][whole["along"]] == length["value"]
    count = design.count.offer.default
    one = client.get(f"/v1/designs/{name}/choices?{urlencode({whole['count']: count})}").json
    for line, short in zip(whole["makeable"], one["makeable"], strict=True):
        here = count in counts_in(line["counts"], whole["count_step"])
        assert short["counts"] == ([[count, count]] if here else [])


@pytest.mark.parametrize("name", DESIGNS)
def test_offered_values_are_those_with_which_something_can_be_made(client, name):
    design = DESIGNS[name]
    found = client.get(f"/v1/designs/{name}/choices").json
    for choice in design.others:
        for value in choice.offer:
            text = query_text(choice, value, "in")
            lines = client.get(f"/v1/designs/{name}/choices?{urlencode({choice.name: text})}").json["makeable"]
            assert (text in map(str, found["offered"][choice.name])) == any(line["counts"] for line in lines), text


def test_a_spot_that_a_leather_is_too_thick_for_is_withheld(client):
    """A prong of 5.6 mm stands out 1.23 mm behind 11 oz (11/64 in) and 2.03 behind 9; a clinch takes 1.5 (by hand)."""
    offered = client.get("/v1/designs/herding_dog_collar/choices?leather=bridle_10_11").json["offered"]
    assert offered["spot"] == ["spot_10"]
    usual = client.get("/v1/designs/herding_dog_collar/choices?leather=harness_8_9").json["offered"]
    assert usual["spot"] == ["spot_10", "spot_6"]


def test_choices_are_cacheable_by_tag_whatever_the_order_of_the_query(client):
    first = client.get("/v1/designs/bell_garter/choices?leather=harness_8_9&bell=bell_30")
    second = client.get("/v1/designs/bell_garter/choices?bell=bell_30&leather=harness_8_9")
    assert first.data == second.data
    assert first.headers["ETag"] == second.headers["ETag"]
    assert first.headers["Content-Location"] == second.headers["Content-Location"]
    assert "max-age=" in first.headers["Cache-Control"]
    tag = {"If-None-Match": first.headers["ETag"]}
    path = "/v1/designs/bell_garter/choices"
    assert client.get(f"{path}?bell=bell_30&leather=harness_8_9", headers=tag).status_code == 304
    assert client.get(f"{path}?bell=bell_25", headers=tag).status_code == 200


@pytest.mark.parametrize("name", DESIGNS)
@pytest.mark.parametrize("form", FORMS)
def test_a_design_has_every_form_by_suffix_and_by_accept(client, name, form):
    more = "?view=finished&width_px=200" if form == "png" else ""
    by_suffix = client.get(f"/v1/designs/{name}/pattern.{form}{more}", headers={"Accept": "text/plain"})
    by_accept = client.get(f"/v1/designs/{name}/pattern{more}", headers={"Accept": FORMS[form]})
    assert by_suffix.mimetype == by_accept.mimetype == FORMS[form]
    assert by_suffix.data == by_accept.data
    assert by_suffix.headers["ETag"] == by_accept.headers["ETag"]


@pytest.mark.parametrize("name", DESIGNS)
def test_the_code_gives_the_same_pattern(client, name):
    found = client.get(f"/v1/designs/{name}/pattern.json")
    assert_valid("Pattern", found.json)
    by_code = client.get(f"/v1/patterns/{found.json['code']}")
    assert by_code.data == found.data
    assert by_code.headers["ETag"] == found.headers["ETag"]
    assert found.headers["Content-Location"].startswith(f"/v1/patterns/{found.json['code']}")


def test_any_order_and_any_way_of_saying_it_is_one_picture_with_one_canonical_address(client):
    asked = [
        "length=15in&bells=6&view=finished",
        "view=finished&bells=6&length=15+in",
        "bells=06&length=381mm&view=finished",
        "leather=latigo_6_7&length=15&view=finished&bells=6",
    ]
    answers = [client.get(f"/v1/designs/bell_garter/pattern.svg?{query}") for query in asked]
    assert len({answer.data for answer in answers}) == 1
    assert len({answer.headers["ETag"] for answer in answers}) == 1
    (link,) = {answer.headers["Link"] for answer in answers}
    url = link.removeprefix("<").removesuffix('>; rel="canonical"')
    named = parse_qsl(urlsplit(url).query)
    choices = [choice.name for choice in DESIGNS["bell_garter"].choices]
    assert [name for name, _ in named] == [*choices, "view"]
    again = client.get(url)
    assert again.data == answers[0].data
    assert again.headers["Link"] == link


def test_a_picture_seen_before_is_not_made_again_in_another_order(client):
    client.get("/v1/designs/goat_collar/pattern.svg?length=20in&bells=3&view=finished")
    again = client.get("/v1/designs/goat_collar/pattern.svg?view=finished&bells=3&length=508mm")
    assert "cache;desc=hit" in again.headers["Server-Timing"]


@pytest.mark.parametrize(
    ("query", "faults"),
    [
        ("bels=6", {"bels": "unknown_parameter"}),
        ("bells=6&bells=6", {"bells": "given_twice"}),
        ("bells=6&length=99in&leather=cardboard", {"length": "invalid", "leather": "invalid"}),
        ("bells=", {"bells": "invalid"}),
        ("dpi=100", {"dpi": "without_meaning"}),
        ("view=sideways&bells=six", {"view": "invalid", "bells": "invalid"}),
    ],
)
def test_what_cannot_be_read_is_refused_by_name(client, query, faults):
    answer = client.get(f"/v1/designs/bell_garter/pattern.svg?{query}")
    assert answer.status_code == 422
    assert_valid("Problem", answer.json)
    assert {each["parameter"]: each["code"] for each in answer.json["errors"]} == faults


def test_a_design_that_is_not_there_is_404_with_the_nearest_name(client):
    for path in ("", "/choices", "/pattern", "/pattern.svg"):
        answer = client.get(f"/v1/designs/bell_gartr{path}")
        assert (answer.status_code, answer.json["code"]) == (404, "unknown_design")
        assert "bell_garter" in answer.json["detail"]


@pytest.mark.parametrize("name", DESIGNS)
def test_every_way_out_of_a_refusal_leads_to_something_that_can_be_made(client, name):
    """Applied in both ways that it is told: as query texts to the choices, and as values to the spec."""
    refused = 0
    for chosen in islice(sample(DESIGNS[name], 400), 400):
        answer = client.get(f"/v1/designs/{name}/pattern.json?{urlencode(chosen)}")
        if answer.status_code == 200:
            continue
        refused += 1
        assert answer.json["code"] == "choice_refused"
        assert_valid("Problem", answer.json)
        assert answer.json["remedies"], chosen
        for remedy in answer.json["remedies"]:
            mended = chosen | {change["parameter"]: change["text"] for change in remedy["changes"]}
            again = client.get(f"/v1/designs/{name}/pattern.json?{urlencode(mended)}")
            assert again.status_code == 200, (chosen, remedy)
        if refused == 8:
            break
    assert (refused == 0) == (name in ALL_MADE)


def test_a_refusal_names_the_choice_and_the_nearest_way_out_first(client):
    problem = client.get("/v1/designs/bell_garter/pattern.json?length=14in&bells=10").json
    assert problem["errors"][0]["parameter"] == "bells"
    assert problem["errors"][0]["pointer"] == "/ornaments/count"
    first, second = problem["remedies"][:2]
    assert [change["parameter"] for change in first["changes"]] == ["bells"]
    assert first["detail"] == "Bells: 8 instead of 10."
    assert [change["parameter"] for change in second["changes"]] == ["length"]
    whole = client.get("/v1/designs/bell_garter/choices").json["makeable"]
    at_14 = next(line for line in whole if line["value"] == "14in")
    assert max(counts_in(at_14["counts"], 1)) == first["changes"][0]["value"] == 8
    holds = next(line["value"] for line in whole if 10 in counts_in(line["counts"], 1))
    assert second["changes"][0]["text"] == holds


def test_where_no_single_choice_helps_the_nearest_pair_or_another_value_does(client):
    """Spots of 6 mm are too short for the thickest leather whatever the length: another spot or leather helps."""
    problem = client.get("/v1/designs/herding_dog_collar/pattern.json?spot=spot_6&leather=bridle_10_11").json
    ways = [{change["parameter"] for change in remedy["changes"]} for remedy in problem["remedies"]]
    assert {"spot"} in ways
    assert {"leather"} in ways


def test_readings_of_a_refusal_are_in_the_designs_units(client):
    problem = client.get("/v1/designs/bell_garter/pattern.json?bells=10").json
    assert problem["errors"][0]["limit"].endswith(" in")


def test_a_pattern_can_be_asked_for_in_other_units_and_views(client):
    answer = client.get("/v1/designs/door_strap/pattern.json?units=mm")
    assert answer.json["finished"]["length"].endswith("mm")
    assert (
        client.get("/v1/designs/door_strap/pattern.svg?view=finished").data
        != client.get("/v1/designs/door_strap/pattern.svg").data
    )


def test_a_picture_may_be_framed_by_a_page_that_is_isolated(client):
    """HTML standard, 7.1.4: a document in such a page says `require-corp` itself."""
    headers = client.get("/v1/designs/door_strap/pattern.svg").headers
    assert headers["Cross-Origin-Embedder-Policy"] == "require-corp"
    assert headers["Cross-Origin-Resource-Policy"] == "cross-origin"
