"""Materials against independent geometry, published densities and sums by hand."""

import json
from collections import Counter
from dataclasses import replace
from decimal import Decimal
from math import pi
from pathlib import Path

import pytest
from svgelements import Path as SvgPath

from service.schemas.goods import END_SHAPES
from service.schemas.spec import read_spec
from service.strap.model.spec import Body, Ends, Size, Spec, StrapEnd
from service.strap.model.spec_set import Row
from service.strap.plane.edges import perimeter
from service.strap.plane.lengths import INCH, MM
from service.strap.plane.outline import path_data
from service.strap.solve import solve
from service.workshop.materials import Order, edge_length, materials_of, metres, square_metres
from tests.support.shapes import polygon

EXAMPLES = Path(__file__).parents[2] / "openapi" / "examples"
MADE = ("shortest_three_piece", "shortest_open", "dancers_bell_garter", "parade_harness_strap", "lined_bag_strap")


def pattern_of(name, shop):
    spec = read_spec(json.loads((EXAMPLES / f"{name}.json").read_text()), shop.defaults.units)
    return solve(spec, shop)


def plain_strap(shop, length, width, shape="square"):
    end = StrapEnd(kind="plain", shape=shape)
    spec = Spec(
        construction="open",
        size=Size(body_length=length),
        leather="harness_8_9",
        body=Body(width=width),
        ends=Ends(head=end, foot=end),
    )
    return solve(spec, shop)


@pytest.mark.parametrize("name", MADE)
def test_areas_are_those_that_shapely_finds_in_the_drawn_outlines(name, shop):
    pattern = pattern_of(name, shop)
    found = materials_of([Order(pattern=pattern)], shop)
    areas = {use.name: use.area * use.count for use in found.pieces}
    for piece in pattern.pieces:
        assert areas[piece.name] / 1e12 == pytest.approx(polygon(piece.outline).area, rel=2e-3)


@pytest.mark.parametrize("shape", END_SHAPES)
def test_edges_are_as_long_as_svgelements_measures_them(shape, shop):
    pattern = plain_strap(shop, 20 * INCH, 2 * INCH, shape)
    drawn = SvgPath(path_data(pattern.pieces[0].outline)).length(error=1e-4)
    assert perimeter(pattern.pieces[0].outline) / MM == pytest.approx(drawn, rel=1e-4)
    assert edge_length(pattern) == perimeter(pattern.pieces[0].outline)


def test_a_plain_strip_by_hand(shop):
    """1 m × 40 mm with square ends: 0.04 m2, 2.08 m of edge; 8.5 oz are 3.373 mm, at 1.0 g/cm3 134.9 g."""
    pattern = plain_strap(shop, 1000 * MM, 40 * MM)
    found = materials_of([Order(pattern=pattern, quantity=3)], shop)
    (leather,) = found.leathers
    assert square_metres(leather.area) == square_metres(leather.blank) == Decimal("0.12")
    assert leather.gross == pytest.approx(0.12e18 / (1 - float(shop.pricing.waste)))
    assert metres(edge_length(pattern)) == Decimal("2.08")
    assert found.weight_mg / 3 == pytest.approx(1000 * 40 * 8.5 / 64 * 25.4 * 1.0, rel=1e-3)
    (strip,) = found.strips
    assert (strip.width, strip.length, strip.pieces) == (40 * MM, 3000 * MM, 3)


def test_ornaments_add_their_own_mass(shop):
    """Five bells of 28 g on a strip: the leather that their slots lose is not taken off."""
    bare = plain_strap(shop, 600 * MM, 40 * MM)
    spec = bare.spec
    decorated = solve(
        Spec(
            construction="open",
            size=spec.size,
            leather=spec.leather,
            body=spec.body,
            ends=spec.ends,
            ornaments=Row(item="bell_30", count=5),
        ),
        shop,
    )
    assert decorated.finished.weight_mg - bare.finished.weight_mg == 5 * 28_000


@pytest.mark.parametrize("ring", ["ring_25", "ring_38"])
def test_rings_weigh_what_their_metal_weighs(ring, shop):
    """A torus of steel (7.85 g/cm3) to cast brass (8.7), densities after simetric.co.uk; volume 2·π²·R·r²."""
    item = shop.rings[ring]
    wire = item.thickness / MM / 2
    volume = 2 * pi**2 * (item.inside_width / MM / 2 + wire) * wire**2 / 1000
    assert 7.85 * volume * 0.98 <= item.mass_mg / 1000 <= 8.7 * volume * 1.02


@pytest.mark.parametrize("family", ["bell", "spot", "concho"])
def test_no_ornament_weighs_more_than_a_solid_ball_or_disc_of_brass(family, shop):
    """The upper bound by cast brass, 8.7 g/cm3 (simetric.co.uk): bells are hollow, the others sheet."""
    for item in shop.ornaments.values():
        if item.family == family:
            across, high = item.diameter / MM, item.height / MM
            volume = pi / 6 * across**2 * high if family == "bell" else pi / 4 * across**2 * high
            assert 0 < item.mass_mg / 1000 < 8.7 * volume / 1000


@pytest.mark.parametrize("name", MADE)
def test_a_list_of_orders_takes_what_each_takes(name, shop):
    other = pattern_of("shortest_one_piece", shop)
    pattern = pattern_of(name, shop)
    apart = [materials_of([Order(pattern=pattern, quantity=3)], shop), materials_of([Order(pattern=other)], shop)]
    together = materials_of([Order(pattern=pattern, quantity=3), Order(pattern=other)], shop)
    assert together.weight_mg == sum(each.weight_mg for each in apart)
    assert together.straps == 4
    for member, key in (("items", "item"), ("lengths", "item")):
        counts = Counter()
        for each in apart:
            for use in getattr(each, member):
                counts[getattr(use, key)] += use.count
        assert {getattr(use, key): use.count for use in getattr(together, member)} == counts
    assert sum(use.area for use in together.leathers) == sum(use.area for each in apart for use in each.leathers)
    assert sum(use.length for use in together.strips) == sum(use.length for each in apart for use in each.strips)


@pytest.mark.parametrize("name", MADE)
def test_hardware_is_all_there(name, shop):
    pattern = pattern_of(name, shop)
    found = materials_of([Order(pattern=pattern, quantity=2)], shop)
    wanted = Counter()
    for line in pattern.hardware:
        wanted[line.item] += 2 * line.count
    assert Counter({use.item: use.count for use in (*found.items, *found.lengths)}) == wanted
    assert {use.kind for use in found.items} <= {"fastener", "buckle", "ring", "ornament"}


def test_strips_are_set_once_for_each_width_widest_first(shop):
    found = materials_of([Order(pattern=pattern_of("parade_harness_strap", shop))], shop)
    widths = [strip.width for strip in found.strips]
    assert widths == sorted(set(widths), reverse=True)
    assert sum(strip.pieces for strip in found.strips) == sum(use.count for use in found.pieces)


def test_consumables_are_counted_by_strap_edge_and_area(shop):
    pattern = plain_strap(shop, 1000 * MM, 40 * MM)
    found = materials_of([Order(pattern=pattern, quantity=5)], shop)
    amounts = {use.consumable.id: use.amount for use in found.consumables}
    assert amounts["swing_tag"] == 5
    assert amounts["edge_dressing"] == Decimal("1.5") * Decimal("2.08") * 5
    assert amounts["leather_balm"] == Decimal(40) * Decimal("0.2")


def test_a_consumable_by_the_rivet_is_counted_by_fasteners(shop):
    tag = shop.pricing.consumables["swing_tag"]
    by_rivet = replace(shop.pricing, consumables={"washer": replace(tag, id="washer", per="rivet", amount=Decimal(2))})
    found = materials_of([Order(pattern=pattern_of(MADE[0], shop), quantity=3)], replace(shop, pricing=by_rivet))
    rivets = sum(use.count for use in found.items if use.kind == "fastener")
    (washers,) = found.consumables
    assert rivets > 0
    assert washers.amount == 2 * rivets
