"""Closures that break away: goods like any other, recommended round an animal's neck, never where a load is borne.

Gear on an animal that is left alone should break away (horse-care texts).
"""

from dataclasses import replace

import pytest

from service.schemas.shop_document import shop_document
from service.schemas.spec import read_spec
from service.shop_file import demo_shop
from service.strap.errors import Refusal
from service.strap.model.spec_changes import apply
from service.strap.remedies.remedies import find_remedies
from service.strap.solve import solve
from service.workshop.cautions import cautions
from tests.support.straps import assert_told_and_mended

SHOP = demo_shop()
BREAKS = {"kind": "snap", "snap": "break_away_20"}


def snapped(*, stud=None, cap=None, **more):
    head, foot = ({"kind": "snap", "half": half} for half in ("stud", "cap"))
    ends = {"head": head | (stud or {}), "foot": foot | (cap or {})}
    return {"construction": "two_ends", "worn_by": "animal", "size": {"girth": "14 in"}, "ends": ends} | more


def told(document, shop=SHOP):
    return cautions(solve(read_spec(document, "in"), shop), shop)


BUCKLED = {"construction": "one_piece", "worn_by": "animal", "size": {"girth": "16 in"}}
BELLS = {"ornaments": {"item": "bell_25", "count": 3}}


@pytest.mark.parametrize("document", [BUCKLED | BELLS, snapped()], ids=["buckled", "snapped"])
def test_one_is_recommended_round_the_neck_of_an_animal_and_judgement_left_to_others(document):
    (sentence,) = (each for each in told(document) if "recommended" in each)
    assert SHOP.snaps["break_away_20"].title in sentence
    assert "to judge" in sentence


@pytest.mark.parametrize(
    "document",
    [
        BUCKLED | {"worn_by": "person"} | BELLS,
        BUCKLED | {"worn_by": "object"} | BELLS,
        BUCKLED | {"billet": {"ring": "ring_38"}},  # its ring takes a lead
        BUCKLED | {"size": {"body_length": "60 in"}} | BELLS,  # a strap of a harness, made for no neck
        BUCKLED,  # undecorated, and folded round a buckle: it may be tied by that
        {"construction": "open", "worn_by": "animal", "size": {"body_length": "20 in"}},  # closed round nothing
    ],
    ids=["person", "object", "lead ring", "harness", "plain", "open"],
)
def test_none_is_recommended_where_no_neck_is_or_a_load_may_be_borne(document):
    assert not any("breaks away" in each for each in told(document))


def test_a_shop_without_any_recommends_none():
    goods = {name: snap for name, snap in SHOP.snaps.items() if not snap.breaks_away}
    assert not any("recommended" in each for each in told(BUCKLED | BELLS, replace(SHOP, snaps=goods)))


def test_a_collar_that_breaks_away_says_how_it_is_used():
    sentences = told(snapped(stud=BREAKS, cap=BREAKS))
    assert any("breaks away: try before each use" in each and "lead, tie or lift nothing" in each for each in sentences)
    assert not any("recommended" in each for each in sentences)


def test_none_is_taken_where_none_is_named_even_if_it_is_the_first():
    first = dict(sorted(SHOP.snaps.items(), key=lambda entry: not entry[1].breaks_away))
    shop = replace(SHOP, snaps=first)
    pattern = solve(read_spec(snapped(), "in"), shop)
    assert next(iter(first.values())).breaks_away
    assert pattern.spec.two.head.snap == "line_20"


@pytest.mark.parametrize("other", [{"kind": "ring"}, {"kind": "loop", "rod": "1/2 in"}, {"kind": "buckle"}], ids=str)
def test_one_under_load_is_refused_with_the_reason(other):
    document = snapped(stud=BREAKS) | {"size": {"body_length": "20 in"}}
    document["ends"]["foot"] = other
    spec = read_spec(document, "in")
    with pytest.raises(Refusal) as refusal:
        solve(spec, SHOP)
    (fault,) = (each for each in refusal.value.faults if each.path == ("ends", "head", "snap"))
    assert "breaks away" in fault.detail
    assert_told_and_mended(spec, "without_meaning", ("ends", "head", "snap"), SHOP)


@pytest.mark.parametrize(("snap", "leather"), [("line_20", "bridle_10_11"), ("break_away_20", "bridle_10_11")])
def test_no_remedy_gives_one_for_one_that_holds_nor_the_other_way_round(snap, leather):
    """A thick strap asks for another snap."""
    document = snapped(stud={"snap": snap}, cap={"snap": snap}, leather=leather, lining="latigo_6_7")
    spec = read_spec(document, "in")
    with pytest.raises(Refusal) as refusal:
        solve(spec, SHOP)
    for remedy in find_remedies(spec, SHOP, refusal.value.faults):
        mended = solve(apply(spec, remedy.changes), SHOP)
        assert SHOP.snaps[mended.spec.two.head.snap].breaks_away is SHOP.snaps[snap].breaks_away


def test_the_shop_says_which_of_its_snaps_break_away():
    entries = {each["id"]: each for each in shop_document(SHOP, "in")["snaps"]}
    assert {name for name, each in entries.items() if each["breaks_away"]} == {"break_away_20"}
