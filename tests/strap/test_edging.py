"""Edgings: strips of another leather that stand out along the edges; by hand, by shapely, by the bench walker."""

from dataclasses import replace
from decimal import Decimal

import pytest
import shapely

from service.drawing.cutting.cutter import cutter_drawing
from service.drawing.parts.edging import edging_strips
from service.drawing.working.sheet import working_sheet
from service.forms.svg import svg
from service.schemas.spec import SpecError, read_spec, spec_document
from service.shop_file import demo_shop
from service.strap.errors import Refusal
from service.strap.model.likeness import pattern_digest
from service.strap.model.spec_changes import apply
from service.strap.plane.edges import area, perimeter
from service.strap.plane.lengths import INCH, MM
from service.strap.plane.outline import path_data, uncut
from service.strap.remedies.remedies import find_remedies
from service.strap.solve import solve
from service.workshop.materials import Order, materials_of
from service.workshop.quote import QuoteLine, quote_of
from service.workshop.steps import steps
from tests.support.shapes import polygon
from tests.walker.bench import Bench
from tests.workshop.test_walker import answer_for

SHOP = demo_shop()
BELT = {
    "construction": "one_piece",
    "size": {"body_length": "60 in"},
    "body": {"width": "1 1/2 in"},
    "ornaments": {"item": "bell_25", "count": 16},
    "edging": {"leather": "latigo_6_7"},
}
PANEL = BELT | {
    "construction": "open",
    "size": {"body_length": "30 in"},
    "body": {"width": "2 in"},
    "ornaments": {"item": "bell_25", "count": 8},
    "ends": {name: {"kind": "plain", "shape": "square"} for name in ("head", "foot")},
}
LINED = PANEL | {"lining": "lining_2_3"}
CARRIED = PANEL | {"lining": {"leather": "lining_2_3", "purpose": "carry"}}


def edged(document, edging=(), **more):
    """A strap with its edging said otherwise."""
    return read_spec(document | {"edging": document["edging"] | dict(edging)} | more, "in")


def made(document, edging=(), **more):
    return solve(edged(document, edging, **more), SHOP)


def without_edging(document):
    return solve(read_spec({name: each for name, each in document.items() if name != "edging"}, "in"), SHOP)


def strips(pattern):
    """Both strips where they lie, as shapely has them, and the body; millimetres."""
    body = pattern.pieces[0]
    rings = edging_strips(body.outline, body.edging)
    found = [shapely.Polygon([(each.x, each.y) for each in ring[:-1]]) for ring in rings]
    return found, polygon(uncut(body.outline), steps=40)


def test_by_hand():
    """30 in of edge, two strips of 1/4 in beyond and 1/4 in inside it (twice the inset of 1/8 in); 40 points of 3/4 in,
    1/8 in deep, along one edge: 30 x 1/2 less 40 triangles of 3/4 x 1/8 / 2 in²."""
    pattern = made(PANEL)
    edging = pattern.piece("edging")
    assert (edging.count, edging.length, edging.width) == (2, 30 * INCH, INCH // 2)
    assert (edging.outline.cut.shape, edging.outline.cut.count) == ("pinked", 40)
    assert area(edging.outline) / INCH**2 == pytest.approx(30 / 2 - 40 * 3 / 4 / 8 / 2, abs=1e-6)
    assert perimeter(edging.outline) / INCH == pytest.approx(1 + 30 + 80 * (9 / 64 + 1 / 64) ** 0.5, abs=1e-6)
    assert path_data(edging.outline).count("L") == 83
    found = {(line.points[0], line.points[-1]) for line in pattern.pieces[0].stitch_lines}
    y, first, last = 7 * INCH // 8, INCH // 8 + 1, 30 * INCH - INCH // 8 - 1
    assert found == {((first, -y), (last, -y)), ((last, y), (first, y))}


@pytest.mark.parametrize(
    "body",
    [
        {"width": "2 in"},
        {"width": "2 in", "taper": {"to": "1 1/2 in"}},
        {"width": "2 in", "taper": {"head": {"to": "1 in", "over": "8 in", "line": "eased"}}},
        {"width": "2 in", "edge": {"shape": "scalloped"}},
    ],
)
@pytest.mark.parametrize("shape", ["straight", "pinked"])
def test_it_follows_the_edge_and_stands_out_by_its_reach(body, shape):
    """By shapely: no place of it lies farther from the body than its reach; its stitches alone go through it."""
    pattern = made(PANEL, {"shape": shape}, body=body)
    both, outline = strips(pattern)
    strap = pattern.pieces[0]
    grown = outline.buffer(strap.edging.reach / MM + 0.05, join_style="mitre")
    inner = outline.buffer(-(strap.edging.hold / MM) - 0.3, join_style="mitre")
    straight = shapely.box(0, -200, strap.length / MM, 200)
    for strip in both:
        assert strip.is_valid
        assert grown.contains(strip.intersection(straight))
        assert not inner.intersects(strip)
        far = max(outline.distance(shapely.Point(place)) for place in strip.exterior.coords)
        assert far >= strap.edging.reach / MM - 0.1
    for line in strap.stitch_lines:
        sewn = shapely.LineString([(x / MM, y / MM) for x, y in line.points])
        assert any(strip.buffer(0.05).contains(sewn) for strip in both)
    for each in strap.features:
        cut = shapely.Point(each.x / MM, each.y / MM).buffer((each.long or 1) / MM / 2)
        assert not any(strip.intersects(cut) for strip in both)


def test_folds_holes_and_tips_are_without_it():
    """Of a belt the fold with its tail, and the size holes with the tip and the way to the first of them."""
    body = made(BELT).pieces[0]
    places = {purpose: [each.x for each in body.features if each.purpose == purpose] for purpose in ("fold_rivet",
              "prong_slot", "size_hole")}  # fmt: skip
    at = body.edging
    assert max(places["fold_rivet"] + places["prong_slot"]) < at.start
    assert at.end + SHOP.rules.first_size_hole <= min(places["size_hole"]) + INCH // 16


def test_where_nothing_is_said_it_is_pinked_and_lies_between_two_plies_or_behind_one():
    assert made(PANEL).spec.edging.lies == "behind"
    lined = made(LINED)
    assert (lined.spec.edging.lies, lined.spec.edging.shape) == ("between", "pinked")
    assert lined.piece("lining").is_cut_to_size
    assert lined.piece("lining").over == 0
    behind = made(LINED, {"lies": "behind"})
    assert behind.piece("lining").over > 0
    assert len({pattern_digest(each) for each in (lined, behind, made(PANEL))}) == 3


@pytest.mark.parametrize("document", [BELT, PANEL, LINED, CARRIED])
@pytest.mark.parametrize(
    "edging", [{}, {"shape": "straight"}, {"shape": "scalloped", "lies": "behind"}, {"iron": "pinking_10"}]
)
def test_the_bench_makes_it_in_every_order(document, edging):
    spec = edged(document, edging)
    Bench(answer_for(spec)).make()
    pattern = solve(spec, SHOP)
    again = solve(read_spec(spec_document(pattern.spec, "in"), "in"), SHOP)
    assert (again.spec, again.pieces) == (pattern.spec, pattern.pieces)


def test_a_lining_that_covers_comes_over_it_once_all_is_set_and_then_both_are_sewn():
    told = [
        (step.op, step.plies) for step in steps(made(LINED), SHOP) if step.op in ("set", "glue", "pierce", "stitch")
    ]
    assert told == [
        ("set", ("strap",)),
        ("glue", ("strap", "edging")),
        ("glue", ("strap", "edging", "lining")),
        ("pierce", ("strap", "edging", "lining")),
        ("stitch", ("strap", "edging", "lining")),
    ]


def test_a_long_one_is_lapped_of_as_few_strips_as_its_leather_yields():
    """84 in of edging from strips of 78 in: two for each edge, alike, over a lap of twelve times its thickness."""
    pattern = made(PANEL, size={"body_length": "84 in"})
    edging = pattern.piece("edging")
    assert len(edging.splices) == 1
    assert edging.splices[0].end - edging.splices[0].start >= 12 * edging.thickness
    assert max(strip.cut_length for strip in edging.strips) <= 78 * INCH
    assert {step.op for step in steps(pattern, SHOP) if step.pieces == ("edging",)} >= {"skive", "glue", "pink"}
    Bench(answer_for(edged(PANEL, size={"body_length": "84 in"}))).make()


def test_it_is_counted_cut_planned_and_charged():
    pattern, without = made(PANEL), without_edging(PANEL)
    order = Order(pattern=pattern, quantity=3)
    use = next(each for each in materials_of([order], SHOP).pieces if each.name == "edging")
    assert (use.leather, use.count, use.length, use.width) == ("latigo_6_7", 6, 30 * INCH, INCH // 2)
    assert pattern.finished.weight_mg > without.finished.weight_mg
    assert "latigo_6_7" in {each.leather for each in materials_of([order], SHOP).strips}
    sewn, bare = (sum(h.length * h.count for h in each.hardware if h.item == "thread") for each in (pattern, without))
    assert sewn > bare == 0
    dear, cheap = (quote_of([QuoteLine(ref="", pattern=each, quantity=3)], SHOP) for each in (pattern, without))
    assert dear.net > cheap.net
    assert "latigo_6_7" in {part.item for line in dear.lines for part in line.parts}


def test_its_reach_is_drawn_on_the_sheet_and_it_is_cut_twice():
    pattern = made(PANEL)
    drawn = svg(working_sheet(pattern, SHOP, piece=None, units="in"))
    text = drawn.decode() if isinstance(drawn, bytes) else str(drawn)
    assert 'id="strap.edging.1"' in text
    assert 'id="strap.edging.2"' in text
    cut = next(layer for layer in cutter_drawing(pattern, SHOP, piece="edging", units="in").layers if layer.id == "cut")
    assert len(cut.items) == 2


def test_keepers_between_go_round_it_too():
    """As much longer as it stands out, twice above and below, and twice as it is thick: 4 x 1/4 in and 2 x 2.58 mm."""
    more = {"keepers_between": {"width": "3/8 in"}}
    kept, bare = (
        made(PANEL, **more),
        solve(read_spec({k: v for k, v in (PANEL | more).items() if k != "edging"}, "in"), SHOP),
    )
    longer = kept.piece("keeper_between").length - bare.piece("keeper_between").length
    assert abs(longer - INCH - 2 * kept.piece("edging").thickness) <= INCH // 16


@pytest.mark.parametrize(
    ("document", "edging", "more", "found"),
    [
        (PANEL, {"reach": "1/2 in"}, {}, ("edging.reach", "edging_reaches_far")),
        (PANEL, {"reach": "1/16 in"}, {}, ("edging.reach", "edging_hidden")),
        (PANEL, {"repeat": "1/8 in", "depth": "1/32 in"}, {}, ("edging.repeat", "edge_too_fine")),
        (PANEL, {"repeat": "1/2 in", "depth": "1/4 in"}, {}, ("edging.depth", "edge_too_deep")),
        (PANEL, {"leather": "suede"}, {}, ("edging.leather", "unknown_leather")),
        (PANEL, {"iron": "pinking"}, {}, ("edging.iron", "unknown_edge_iron")),
        (PANEL, {"lies": "between"}, {}, ("edging.lies", "without_meaning")),
        (PANEL, {}, {"stitching": {"edges": False}}, ("edging", "without_meaning")),
        (PANEL, {}, {"border": {"item": "spot_6"}}, ("edging", "edging_cut")),
        (PANEL, {}, {"ornaments": {"item": "spot_10", "count": 8, "rows": {"count": 2, "distance": "1 1/4 in"}}},
         ("edging", "edging_cut")),
        (PANEL, {}, {"body": {"width": "2 in", "taper": {"to": "1 in", "over": "2 in"}}},
         ("body.taper.over", "taper_steep")),
        (BELT, {"repeat": "20 in"}, {"size": {"body_length": "24 in"}, "ornaments": {"item": "bell_25", "count": 2}},
         ("edging", "edging_without_room")),
        (PANEL, {"iron": "scallop_25"},
         {"size": {"body_length": "3 1/2 in"}, "ornaments": {"item": "bell_25", "count": 1}},
         ("edging.iron", "edge_off_iron")),
    ],
)  # fmt: skip
def test_one_that_cannot_be_is_told_at_its_field_and_mended(document, edging, more, found):
    spec = edged(document, edging, **more)
    with pytest.raises(Refusal) as refused:
        solve(spec, SHOP)
    assert found in {(".".join(fault.path), fault.code) for fault in refused.value.faults}
    remedies = find_remedies(spec, SHOP, refused.value.faults)
    assert remedies
    for remedy in remedies:
        solve(apply(spec, remedy.changes), SHOP)


def test_one_without_a_leather_or_with_a_repeat_of_nothing_cannot_be_read():
    for edging, place in (
        ({"leather": None}, "edging.leather"),
        ({"shape": "straight", "depth": "1/8"}, "edging.depth"),
    ):
        with pytest.raises(SpecError) as refused:
            edged(PANEL, edging)
        assert {".".join(fault.path) for fault in refused.value.faults} == {place}


@pytest.mark.parametrize(
    ("rules", "code"),
    [({"edging_reach": Decimal("0.5")}, "edging_reaches_far"), ({"own": {"edging_clear": INCH}}, "edging_cut")],
)
def test_how_far_and_how_clear_are_the_shop_s(rules, code):
    shop = replace(SHOP, rules=replace(SHOP.rules, **rules))
    with pytest.raises(Refusal) as refused:
        solve(edged(PANEL), shop)
    assert code in {fault.code for fault in refused.value.faults}
