"""Straps whose long edges are scalloped or pinked: by shapely, by hand, and by what follows the roots."""

from math import asin, hypot

import pytest
import shapely
from hypothesis import assume, given
from hypothesis import strategies as st

from service.schemas.spec import SpecError, read_spec, spec_document
from service.shop_file import demo_shop
from service.strap.errors import Refusal
from service.strap.filling.resolve import resolve
from service.strap.making.layout import lay_out
from service.strap.model.spec_changes import apply
from service.strap.plane.edges import area, edge_distance, perimeter
from service.strap.plane.geometry import disc
from service.strap.plane.lengths import INCH, MM
from service.strap.plane.outline import uncut
from service.strap.plane.parallel import inner_half, inner_room
from service.strap.plane.profile import base_edge, cut_edge
from service.strap.plane.teeth import length_along
from service.strap.remedies.remedies import find_remedies
from service.strap.solve import solve
from tests.strap.test_random_straps import judge
from tests.support.shapes import polygon
from tests.support.tapered import cut_outlines, edged_pair
from tests.support.two_ended import PAIRS
from tests.walker.bench import Bench
from tests.workshop.test_walker import answer_for

SHOP = demo_shop()
SQUARE = {"kind": "plain", "shape": "square"}


def strip(edge, *, length="30", width="2", **more):
    """A square strip without anything on it."""
    body = {"width": width, "edge": edge}
    ends = {"head": SQUARE, "foot": SQUARE}
    document = {"construction": "open", "size": {"body_length": length}, "body": body, "ends": ends}
    return read_spec(document | more, "in")


def test_what_else_is_wrong_is_told_without_the_roots_of_an_edge_that_is_refused():
    """A thousand roots took twice the time that a whole request is given."""
    fine, bearable = ({"shape": "scalloped", "repeat": repeat, "depth": "1/64"} for repeat in ("1/16", "1/4"))
    for refused in (strip(fine, length="60"), strip(bearable, length="900")):
        assert lay_out(resolve(refused, SHOP)).pieces[0].outline.cut is None
    assert lay_out(resolve(strip(bearable, length="60"), SHOP)).pieces[0].outline.cut


def outline_of(edge, **more):
    return solve(strip(edge, **more), SHOP).pieces[0].outline


@given(cut_outlines())
def test_area_and_perimeter_are_those_of_shapely(outline):
    found = polygon(outline, steps=40, scale=MM)
    assume(length_along(base_edge(outline)) > outline.cut.count * MM)
    assert found.is_valid
    assert area(outline) == pytest.approx(found.area, rel=1e-3)
    assert perimeter(outline) == pytest.approx(found.length, rel=2e-3)


@given(cut_outlines(), st.floats(0, 1), st.floats(-1, 1))
def test_a_distance_is_never_more_than_that_to_the_real_edge(outline, along, across):
    """It is told to the line of the roots, so that the real one is a crest more at most."""
    x, y = round(along * outline.length), round(across * outline.width / 2)
    edge, point = polygon(outline, steps=40, scale=MM), shapely.Point(x, y)
    apart = edge.exterior.distance(point) * (1 if edge.contains(point) else -1)
    found = edge_distance(outline, disc(x, y, 0))
    assert found <= apart + 0.05 * MM
    if apart > outline.cut.depth:
        assert found >= apart - outline.cut.depth - 0.05 * MM


@given(cut_outlines(), st.sampled_from([2, 5]))
def test_a_line_of_stitches_keeps_its_inset_from_every_root(outline, inset):
    deep = inset * MM + outline.root_depth
    if min(inner_room(uncut(outline), deep)) > 0:
        line = shapely.LineString(inner_half(uncut(outline), deep))
        assert polygon(outline, steps=40, scale=MM).exterior.distance(line) >= inset * MM - 0.05 * MM


@pytest.mark.parametrize(("repeat", "count"), [("3/4", 40), ("1", 30), ("7/8", 34), ("11/16", 44)])
def test_repeats_are_whole_and_as_near_as_may_be(repeat, count):
    """30 in of edge: 30 / (7/8) = 34.3 repeats, of which 34 are made, each 30/34 in."""
    outline = outline_of({"shape": "pinked", "repeat": repeat})
    assert cut_edge(outline).count == count
    assert cut_edge(outline).repeat == pytest.approx(30 * INCH / count, abs=1)


def test_points_by_hand():
    """3/4 in and 1/8 in: crests on the edge at every 3/4 in, roots half way between, an eighth inside."""
    outline = outline_of({"shape": "pinked", "repeat": "3/4", "depth": "1/8"})
    ends = [segment.end for segment in outline.segments[:80]]
    assert ends[1::2] == [(n * 3 * INCH // 4, -INCH) for n in range(1, 41)]
    assert ends[0::2] == [((2 * n + 1) * 3 * INCH // 8, -7 * INCH // 8) for n in range(40)]
    side = hypot(3 / 8, 1 / 8)
    assert perimeter(outline) / INCH == pytest.approx(2 * 2 + 160 * side, abs=1e-6)
    assert area(outline) / INCH**2 == pytest.approx(30 * 2 - 2 * 40 * 3 / 4 / 8 / 2, abs=1e-6)


def test_scallops_by_hand():
    """Segments of a circle of chord 3/4 in and height 1/8 in: R = (c² + h²) / 2h, c half the chord (geometry)."""
    outline = outline_of({"shape": "scalloped", "repeat": "3/4", "depth": "1/8"})
    half, height = 3 / 8, 1 / 8
    radius = (half**2 + height**2) / (2 * height)
    angle = 2 * asin(half / radius)
    segment = radius**2 / 2 * angle - half * (radius - height)
    assert perimeter(outline) / INCH == pytest.approx(2 * 2 + 80 * radius * angle, rel=1e-3)
    assert area(outline) / INCH**2 == pytest.approx(30 * (2 - 2 * height) + 80 * segment, rel=1e-4)


def test_border_and_stitches_are_measured_from_the_roots():
    """1/8 in of depth: spots 3/8 in and stitches 1/8 in inside the roots lie 1/2 and 1/4 in inside the crests."""
    spec = strip({"shape": "scalloped"}, width="3", border={"item": "spot_6", "inset": "3/8"}, stitching={})
    body = solve(spec, SHOP).pieces[0]
    assert {abs(each.y) for each in body.features if each.purpose == "border"} == {INCH}
    assert {abs(y) for line in body.stitch_lines for _, y in line.points} == {5 * INCH // 4, 0}


def test_straight_edges_are_no_edges():
    plain = solve(strip({"shape": "straight"}), SHOP)
    assert plain.pieces[0].outline.cut is None
    assert plain.pieces == solve(strip(None), SHOP).pieces


def test_what_is_filled_in_gives_the_same_strap_again():
    pattern = solve(strip({"shape": "scalloped"}, length="30 in", width="2 in", units="mm"), SHOP)
    assert pattern.spec.body.cut.iron is None
    assert (pattern.spec.body.cut.repeat, pattern.spec.body.cut.depth) == (
        3 * INCH // 4,
        INCH // 8,
    )  # of the first iron
    again = solve(read_spec(spec_document(pattern.spec, "mm"), "mm"), SHOP)
    assert (again.spec, again.pieces) == (pattern.spec, pattern.pieces)


@pytest.mark.parametrize(
    ("edge", "more", "place", "code"),
    [
        ({"shape": "pinked", "repeat": "1/16", "depth": "1/64"}, {}, "body.edge.repeat", "edge_too_fine"),
        ({"shape": "pinked", "repeat": "0.00001 mm"}, {}, "body.edge.repeat", "edge_too_fine"),
        ({"shape": "scalloped", "repeat": "1/2", "depth": "1/4"}, {}, "body.edge.depth", "edge_too_deep"),
        ({"shape": "scalloped", "depth": "1/4"}, {"width": "3/4"}, "body.edge.depth", "edge_too_deep"),
        ({"shape": "scalloped", "repeat": "31"}, {}, "body.edge.repeat", "edge_without_room"),
    ],
)
def test_an_edge_that_cannot_be_cut_is_told_at_its_field_and_mended(edge, more, place, code):
    spec = strip(edge, **more)
    with pytest.raises(Refusal) as refused:
        solve(spec, SHOP)
    assert (place, code) in {(".".join(fault.path), fault.code) for fault in refused.value.faults}
    remedies = find_remedies(spec, SHOP, refused.value.faults)
    assert remedies
    for remedy in remedies:
        solve(apply(spec, remedy.changes), SHOP)


@pytest.mark.parametrize(
    ("edge", "place"),
    [
        ({"repeat": "1"}, "body.edge.shape"),
        ({"shape": "wavy"}, "body.edge.shape"),
        ({"shape": "straight", "depth": "1/8"}, "body.edge.depth"),
        ("pinked", "body.edge"),
    ],
)
def test_an_edge_that_cannot_be_read_is_told_at_its_field(edge, place):
    with pytest.raises(SpecError) as refused:
        strip(edge)
    assert {".".join(fault.path) for fault in refused.value.faults} == {place}


@pytest.mark.parametrize("head", sorted({head for head, _ in PAIRS}))
def test_odd_pairs_with_cut_edges_are_sound_made_and_mended(head):
    """By shapely and the bench walker."""
    made = told = 0
    for pair in PAIRS[::5]:
        if pair[0] == head:
            spec = read_spec(edged_pair(*pair, 3), "in")
            try:
                judge(solve(spec, SHOP))
                Bench(answer_for(spec)).make()
                made += 1
            except Refusal as refusal:
                for remedy in find_remedies(spec, SHOP, refusal.faults):
                    solve(apply(spec, remedy.changes), SHOP)
                    told += 1
    assert made + told > 0
