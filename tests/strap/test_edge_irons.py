"""Edges that are asked for by the shop's irons, limits of edges and tapers that the shop says, and who cuts what."""

import tomllib
from dataclasses import replace
from decimal import Decimal

import pytest

from service.schemas.shop_document import shop_document
from service.schemas.spec import read_spec, spec_document
from service.shop_file import demo_shop
from service.strap.errors import Refusal
from service.strap.model.spec_changes import apply
from service.strap.plane.lengths import INCH
from service.strap.plane.profile import cut_edge
from service.strap.remedies.remedies import find_remedies
from service.strap.solve import solve
from service.workshop.steps import steps
from tests.strap.test_cut_edges import strip
from tests.walker.bench import Bench
from tests.workshop.test_walker import answer_for

SHOP = demo_shop()


def refused(spec, shop=SHOP):
    with pytest.raises(Refusal) as found:
        solve(spec, shop)
    for remedy in find_remedies(spec, shop, found.value.faults):
        solve(apply(spec, remedy.changes), shop)
    return {(".".join(fault.path), fault.code) for fault in found.value.faults}, found.value.faults


def cutting(spec, shop=SHOP):
    pattern = solve(spec, shop)
    return next(step for step in steps(pattern, shop) if step.op in ("pink", "scallop"))


@pytest.mark.parametrize("name", SHOP.edge_irons)
def test_an_iron_gives_its_shape_repeat_and_depth_and_is_the_tool(name):
    iron = SHOP.edge_irons[name]
    pattern = solve(strip({"iron": name}), SHOP)
    cut = cut_edge(pattern.pieces[0].outline)
    assert (cut.shape, cut.depth) == (iron.shape, iron.depth)
    assert cut.repeat * cut.count == pytest.approx(30 * INCH, abs=cut.count)
    assert abs(cut.repeat - iron.repeat) <= iron.repeat / 20
    assert cutting(strip({"iron": name})).tool == name
    again = solve(read_spec(spec_document(pattern.spec, "in"), "in"), SHOP)
    assert (again.spec, again.pieces) == (pattern.spec, pattern.pieces)
    Bench(answer_for(strip({"iron": name}))).make()


def test_blows_are_counted_by_what_an_iron_cuts_at_one():
    """30 in of 1/4 in points are 120 an edge; an iron of four points takes 30 blows for each, 60 for both (by hand)."""
    step = cutting(strip({"iron": "pinking_6"}))
    assert (step.work.operation, step.work.amount, step.tool) == ("punch", 60, "pinking_6")
    assert "pinking iron of four points" in step.do


def test_what_no_iron_cuts_is_cut_along_a_template():
    step = cutting(strip({"shape": "pinked", "repeat": "7/8", "depth": "1/8"}))
    assert (step.work.operation, step.work.amount, step.tool) == ("cut_slot", 68, "knife")
    bare = replace(SHOP, edge_irons={})
    assert cutting(strip({"shape": "pinked"}), bare).tool == "knife"


def test_an_iron_that_is_said_by_its_shape_is_found():
    assert cutting(strip({"shape": "scalloped", "repeat": "1"})).tool == "scallop_25"
    pattern = solve(strip({"shape": "scalloped", "repeat": "1"}), SHOP)
    assert pattern.spec.body.cut.depth == SHOP.edge_irons["scallop_25"].depth


@pytest.mark.parametrize(
    ("edge", "more", "found"),
    [
        ({"iron": "scallop_17"}, {}, ("body.edge.iron", "unknown_edge_iron")),
        ({"iron": "scallop_19", "depth": "1/16"}, {}, ("body.edge.depth", "edge_unlike_iron")),
        ({"iron": "scallop_25"}, {"width": "3/4"}, ("body.edge.iron", "edge_too_deep")),
        ({"iron": "scallop_25"}, {"length": "3 1/2"}, ("body.edge.iron", "edge_off_iron")),
    ],
)
def test_an_iron_that_is_not_there_or_does_not_suit_is_told_and_mended(edge, more, found):
    told, _ = refused(strip(edge, **more))
    assert found in told


@pytest.mark.parametrize(
    ("rule", "value", "edge", "place"),
    [
        ("edge_repeat_least", INCH, {"shape": "pinked"}, ("body.edge.repeat", "edge_too_fine")),
        ("edge_depths", Decimal(7), {"shape": "pinked"}, ("body.edge.depth", "edge_too_deep")),
        ("edge_widths", Decimal(20), {"shape": "pinked"}, ("body.edge.depth", "edge_too_deep")),
        ("edge_stretch", Decimal("0.001"), {"iron": "scallop_25"}, ("body.edge.iron", "edge_off_iron")),
    ],
)
def test_the_limits_of_an_edge_are_the_shop_s(rule, value, edge, place):
    shop = replace(SHOP, rules=replace(SHOP.rules, **{rule: value}))
    spec = strip(edge, length="30 1/4")
    assert solve(spec, SHOP).pieces
    assert place in refused(spec, shop)[0]


def test_how_steep_a_taper_may_be_is_the_shop_s():
    shop = replace(SHOP, rules=replace(SHOP.rules, taper_least=Decimal(4)))
    body = {"width": "2", "taper": {"to": "1", "over": "3"}}
    spec = read_spec({"construction": "open", "size": {"body_length": "30"}, "body": body}, "in")
    assert solve(spec, SHOP).pieces
    places, faults = refused(spec, shop)
    assert places == {("body.taper.over", "taper_steep")}
    assert faults[0].limit == 4 * INCH


def test_each_of_these_limits_is_a_line_of_the_shop_file_with_a_source_and_told_to_callers(pytestconfig):
    text = (pytestconfig.rootpath / "service/shop/demo.toml").read_text(encoding="utf-8")
    rules = tomllib.loads(text)["rules"]
    told = shop_document(SHOP, "in")
    for name in ("taper_over", "taper_least", "edge_repeat_least", "edge_depths", "edge_widths", "edge_stretch"):
        before = text[: text.index(f"\n{name} = ")]
        assert "from memory" in before[before.rindex("\n\n") if "\n\n" in before else 0 :]
        assert name in rules
        assert any(key.removesuffix("_mm") == name for key in told["rules"])
    assert {each["id"] for each in told["edge_irons"]} == set(SHOP.edge_irons)
    assert next(each for each in told["edge_irons"] if each["id"] == "pinking_6")["count"] == 4
