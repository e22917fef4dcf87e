"""Straps that narrow to their ends: outlines by shapely, figures by hand, and what follows the edge."""

from dataclasses import replace
from itertools import pairwise
from math import atan, cos, hypot

import pytest
import shapely
from hypothesis import given
from hypothesis import strategies as st

from service.schemas.spec import SpecError, read_spec, spec_document
from service.shop_file import demo_shop
from service.strap.errors import Refusal
from service.strap.model.spec_changes import apply
from service.strap.plane.edges import area, edge_distance, perimeter
from service.strap.plane.geometry import disc, slot
from service.strap.plane.lengths import INCH, MM
from service.strap.plane.outline import strap_outline
from service.strap.plane.parallel import inner_half, inner_height, inner_room
from service.strap.remedies.remedies import find_remedies
from service.strap.solve import solve
from tests.strap.test_random_straps import judge
from tests.strap.test_two_ends import two_ended
from tests.support.shapes import polygon
from tests.support.tapered import narrowing_outlines, tapered_pair
from tests.support.two_ended import PAIRS

SHOP = demo_shop()
BUCKLE, TIP = {"kind": "buckle"}, {"kind": "tip"}
PARADE = {
    "size": {"body_length": "60"},
    "body": {"width": "2", "taper": {"to": "1", "over": "10"}},
    "ornaments": {"item": "bell_25", "count": 9},
}
"""A parade strap that narrows to the buckle and the tip of a harness strap."""


def parade(**more):
    return two_ended(BUCKLE, TIP, **PARADE | more)


def body_of(pattern):
    return pattern.pieces[0]


@given(narrowing_outlines(), st.floats(0, 1), st.floats(-1, 1))
def test_a_distance_to_the_edge_is_that_of_shapely(outline, along, across):
    x, y = round(along * outline.length), round(across * outline.width / 2)
    edge, point = polygon(outline, steps=400, scale=MM), shapely.Point(x, y)
    apart = edge.exterior.distance(point)
    found = edge_distance(outline, disc(x, y, 0))
    assert found == pytest.approx(apart if edge.contains(point) else -apart, abs=0.03 * MM)


@given(narrowing_outlines(), st.floats(0, 1), st.sampled_from([0, 30, 90, 135]))
def test_a_slot_keeps_from_the_edge_what_shapely_measures(outline, along, angle):
    cut = slot(round(along * outline.length), 0, 14 * MM, 3 * MM, angle)
    edge = polygon(outline, steps=400, scale=MM)
    line = shapely.LineString([(cut.x1, cut.y1), (cut.x2, cut.y2)])
    if edge.contains(line):
        apart = edge.exterior.distance(line) - cut.radius
        assert edge_distance(outline, cut) == pytest.approx(apart, abs=0.03 * MM)


@given(narrowing_outlines())
def test_area_and_perimeter_are_those_of_shapely(outline):
    found = polygon(outline, steps=400, scale=MM)
    assert found.is_valid
    assert area(outline) == pytest.approx(found.area, rel=2e-4)
    assert perimeter(outline) == pytest.approx(found.length, rel=2e-4)


@given(narrowing_outlines(), st.sampled_from([2, 5]))
def test_a_parallel_keeps_its_distance(outline, inset):
    """Never nearer than its inset, and farther by no more than a mitre of the steepest taper leaves."""
    if min(inner_room(outline, inset * MM)) <= 0:
        return
    places = inner_half(outline, inset * MM)
    edge = polygon(outline, steps=400, scale=MM)
    steepest = atan(1.5 / 2)
    assert edge.contains(shapely.LineString(places[1:-1])) or len(places) < 4
    for one, other in pairwise(places):
        middle = shapely.Point((one[0] + other[0]) / 2, (one[1] + other[1]) / 2)
        apart = edge.exterior.distance(middle)
        assert inset * MM - 0.03 * MM <= apart <= inset * MM / cos(steepest / 2) + 0.03 * MM


@given(narrowing_outlines())
def test_a_mirrored_taper_mirrors(outline):
    """Head and foot exchanged is the outline turned about its middle."""
    near, far = outline.narrowings
    turned = strap_outline(outline.length, outline.width, outline.foot, outline.head, (far, near))
    mirrored = shapely.affinity.scale(polygon(turned), -1, 1, origin=(outline.length / MM / 2, 0))
    assert polygon(outline).symmetric_difference(mirrored).area < 1e-3 * polygon(outline).length
    assert area(turned) == pytest.approx(area(outline), rel=1e-9)


def test_a_taper_begins_behind_what_its_end_takes():
    """As far as the turned-back end lands on the strap, and the shop's 2 in before the first size hole."""
    body = body_of(solve(parade(), SHOP))
    near, far = body.outline.tapers
    rivets = sorted(each.x for each in body.features if each.purpose == "fold_rivet")
    tail = rivets[0]
    assert near.narrow == rivets[-1] + tail
    assert near.full - near.narrow == far.narrow - far.full == 10 * INCH
    assert far.narrow == min(each.x for each in body.features if each.purpose == "size_hole") - 2 * INCH
    assert (near.width, far.width) == body.outline.end_widths == (INCH, INCH)


WEDGE = {"construction": "open", "size": {"body_length": "20"}, "ornaments": {"item": "bell_25", "count": 0}}
SQUARE = {"kind": "plain", "shape": "square"}


def wedge(**taper):
    """20 in, square, 2 in wide at its foot and narrowing to 1 in at its head over 4 in."""
    body = {"width": "2", "taper": {"head": {"to": "1", "over": "4", **taper}}}
    spec = read_spec(WEDGE | {"body": body, "ends": {"head": SQUARE, "foot": SQUARE}}, "in")
    return body_of(solve(spec, SHOP)).outline


@pytest.mark.parametrize("line", ["straight", "eased"])
def test_the_area_of_a_taper_by_hand(line):
    """20 · 2 less two triangles of 4 · 1/2 · 1/2; an eased edge swings to both sides of the straight one alike."""
    assert area(wedge(line=line)) / INCH**2 == pytest.approx(40 - 2 * 4 * 0.5 / 2, abs=1e-6)


def test_the_edge_of_a_taper_by_hand():
    """Two ends, two straight edges of 16 in, and two of √(4² + 1/2²): Pythagoras."""
    assert perimeter(wedge()) / INCH == pytest.approx(1 + 2 + 2 * 16 + 2 * hypot(4, 0.5), abs=1e-6)


@pytest.mark.parametrize(("share", "gained"), [(0, 0), (1 / 4, 5 / 32), (1 / 2, 1 / 2), (3 / 4, 27 / 32), (1, 1)])
def test_an_eased_edge_by_hand(share, gained):
    """3t² - 2t³: a smooth step, level where it begins and ends."""
    half = inner_height(wedge(line="eased"), 0, share * 4 * INCH) / INCH
    assert half == pytest.approx(0.5 + 0.5 * gained, abs=1e-4)


def test_spots_along_a_taper_stand_as_far_inside_its_edge_as_elsewhere():
    """Perpendicular to the edge, by shapely; and level with the ornaments."""
    wide = {"width": "3", "taper": {"to": "1 1/2", "over": "16"}}
    pattern = solve(parade(body=wide, border={"item": "spot_6", "inset": "3/8"}), SHOP)
    body = body_of(pattern)
    edge = polygon(body.outline, steps=400).exterior
    spots = [each for each in body.features if each.purpose == "border"]
    insets = {round(edge.distance(shapely.Point(each.x / MM, each.y / MM)), 3) for each in spots}
    assert insets == {9.525}
    assert len({each.y for each in spots}) > 10
    assert {each.row_y for each in spots} == {-9 * INCH // 8, 9 * INCH // 8}
    bells = {each.x for each in body.features if each.purpose == "ornament"}
    assert len(bells & {each.x for each in spots}) > 5


def test_rows_along_the_edges_end_where_ornaments_leave_them_no_room():
    """Beside a bell of 25 mm a spot of 6 mm stands 12.5 + 3 + 1.5 mm from the middle: 17 mm, and 9.5 mm of inset."""
    wide = {"width": "2 1/2", "taper": {"to": "1", "over": "10"}}
    body = body_of(solve(parade(body=wide, border={"item": "spot_6", "inset": "3/8"}), SHOP))
    heights = [abs(each.y) for each in body.features if each.purpose == "border"]
    assert min(heights) >= 17 * MM
    assert max(heights) == 5 * INCH // 4 - 3 * INCH // 8


@pytest.mark.parametrize(("taper", "buckle"), [(None, "heel_bar_38"), ({"to": "1"}, "heel_bar_25")])
def test_the_buckle_is_the_one_that_its_end_takes(taper, buckle):
    pattern = solve(parade(body={"width": "1 1/2", **({"taper": taper} if taper else {})}), SHOP)
    assert pattern.ends.head.buckle == buckle
    assert pattern.hardware[0].item == buckle


def test_a_taper_that_is_not_told_its_length_is_eight_times_as_long_as_it_narrows():
    """The shop's rule: 1 in over 8 in."""
    near, far = body_of(solve(parade(body={"width": "2", "taper": {"to": "1"}}), SHOP)).outline.tapers
    assert near.full - near.narrow == far.narrow - far.full == 8 * INCH


def test_a_neck_strap_that_was_made():
    """50 in from buckle to buckle, 1 1/2 in wide, 1 1/4 in at both ends, 17 bells, numbers 4-4-4-6-6-6-8-8-9 mirrored.

    classicbells.com, custom projects. How long it narrows is not told: 8 times what it does, by our shop's rule. The
    shop owns bells by number (1 in for number 0, 1/8 in more each: the same pages) and a buckle for 1 1/4 in.
    """
    inch, bell = INCH, SHOP.ornaments["bell_30"]
    bells = {f"no_{n}": replace(bell, id=f"no_{n}", diameter=inch + n * inch // 8) for n in (4, 6, 8, 9)}
    buckle = replace(SHOP.buckles["heel_bar_25"], id="heel_bar_32", inside_width=32 * MM)
    shop = replace(SHOP, ornaments={**SHOP.ornaments, **bells}, buckles={"heel_bar_32": buckle})
    half = ["no_4", "no_4", "no_4", "no_6", "no_6", "no_6", "no_8", "no_8", "no_9"]
    end = BUCKLE | {"buckle": "heel_bar_32", "keeper": "none"}
    strap = {
        "size": {"bar_to_bar": "50"},
        "body": {"width": "1 1/2", "taper": {"to": "1 1/4"}},
        "ornaments": {"items": half, "arrange": "sequence", "mirrored": True, "count": 17},
    }
    pattern = solve(two_ended(end, end, **strap), shop)
    body = body_of(pattern)
    assert pattern.finished.from_bar == 50 * INCH
    assert [each.width for each in body.outline.tapers] == [5 * INCH // 4] * 2
    assert [each.item for each in body.features if each.purpose == "ornament"] == [*half, *half[-2::-1]]


def test_a_billet_narrows_from_the_body_to_its_tip_and_is_longer_by_that():
    """1 1/2 in at the joint, 1 in at the holes, over 3 in behind the body's end."""
    plain = {"kind": "billet", "width": "1", "end": TIP}
    tapered = {"kind": "billet", "width": "1 1/2", "taper": {"to": "1", "over": "3"}, "end": TIP}
    head = {"kind": "billet", "width": "1", "end": BUCKLE}
    more = {"size": {"body_length": "40"}, "body": {"width": "2"}}
    one, other = (solve(two_ended(head, foot, **more), SHOP).piece("tongue_billet") for foot in (plain, tapered))
    assert other.length == one.length + 3 * INCH
    (taper,) = other.outline.tapers
    joint = max(each.x for each in other.features if each.purpose == "joint")
    assert (taper.n, taper.width, other.width) == (2, INCH, 3 * INCH // 2)
    assert taper.full == joint + 3 * INCH // 4
    assert taper.narrow == taper.full + 3 * INCH


@pytest.mark.parametrize("line", ["straight", "eased"])
def test_what_is_filled_in_gives_the_same_strap_again(line):
    pattern = solve(
        parade(body={"width": "2", "taper": {"head": {"to": "1 1/2"}, "foot": {"to": "1", "line": line}}}), SHOP
    )
    again = solve(read_spec(spec_document(pattern.spec, "in"), "in"), SHOP)
    assert (again.spec, again.pieces, again.finished) == (pattern.spec, pattern.pieces, pattern.finished)


def test_ends_of_two_widths_are_each_as_they_were_asked():
    taper = {"head": {"to": "1 1/2"}, "foot": {"to": "1", "over": "12", "line": "eased"}}
    near, far = body_of(solve(parade(body={"width": "2", "taper": taper}), SHOP)).outline.tapers
    assert (near.width, near.eased, near.full - near.narrow) == (3 * INCH // 2, False, 4 * INCH)
    assert (far.width, far.eased, far.narrow - far.full) == (INCH, True, 12 * INCH)


@pytest.mark.parametrize(
    ("body", "place", "code", "limit"),
    [
        ({"width": "2", "taper": {"to": "2 1/2"}}, "body.taper.to", "taper_not_narrower", 2 * INCH),
        ({"width": "2", "taper": {"to": "2"}}, "body.taper.to", "taper_not_narrower", 2 * INCH),
        ({"width": "2", "taper": {"to": "1", "over": "3/4"}}, "body.taper.over", "taper_steep", INCH),
        ({"width": "2", "taper": {"to": "1 1/4", "over": "26"}}, "body.taper.over", "tapers_meet", 60 * INCH),
        (
            {"width": "2", "taper": {"foot": {"to": "1 1/4", "over": "50"}}},
            "body.taper.foot.over",
            "taper_too_long",
            60 * INCH,
        ),
        ({"width": "2", "taper": {"to": "1/4"}}, "body.taper.to", "body_beyond_limits", SHOP.limits.width_min),
        ({"width": "2", "taper": {"head": {"to": "3/8"}}}, "body.taper.head.to", "cut_near_edge", 3 * MM),
        ({"width": "2", "taper": {"head": {"to": "1"}}}, "body.width", "tongue_wide", 0),
    ],
)
def test_a_taper_that_cannot_be_cut_is_told_at_its_field_and_mended(body, place, code, limit):
    spec = parade(body=body)
    with pytest.raises(Refusal) as refused:
        solve(spec, SHOP)
    found = {(".".join(fault.path), fault.code): fault.limit for fault in refused.value.faults}
    assert found[place, code] == limit
    remedies = find_remedies(spec, SHOP, refused.value.faults)
    assert remedies
    for remedy in remedies:
        solve(apply(spec, remedy.changes), SHOP)


@pytest.mark.parametrize(
    ("taper", "place"),
    [
        ({}, "body.taper"),
        ({"over": "3"}, "body.taper"),
        ({"to": "1", "head": {"to": "1"}}, "body.taper"),
        ({"head": {"to": "1"}, "over": "3"}, "body.taper.over"),
        ({"head": {"over": "3"}}, "body.taper.head.to"),
        ({"to": "1", "line": "wavy"}, "body.taper.line"),
        ({"to": "1", "ower": "3"}, "body.taper.ower"),
        ("1 in", "body.taper"),
    ],
)
def test_a_taper_that_says_no_taper_is_told_at_its_field(taper, place):
    with pytest.raises(SpecError) as refused:
        parade(body={"width": "2", "taper": taper})
    assert {".".join(fault.path) for fault in refused.value.faults} >= {place}


@pytest.mark.parametrize("head", sorted({head for head, _ in PAIRS}))
def test_odd_pairs_that_narrow_are_sound_and_every_remedy_is_accepted(head):
    """By shapely: nothing is nearer to the real edge than the rules say; what is refused is mended."""
    made = told = 0
    for pair in PAIRS[::3]:
        if pair[0] == head:
            spec = read_spec(tapered_pair(*pair, 7), "in")
            try:
                judge(solve(spec, SHOP))
                made += 1
            except Refusal as refusal:
                for remedy in find_remedies(spec, SHOP, refusal.faults):
                    judge(solve(apply(spec, remedy.changes), SHOP))
                    told += 1
    assert made + told > 0
