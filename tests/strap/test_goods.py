"""The goods of the demo shop: buckles of every size, rollers, rings of every shape, snap hooks, end punches."""

from dataclasses import replace
from math import pi

import pytest
from shapely.geometry import box

from service.drawing.finished.made_up import bounds, made_up
from service.drawing.finished.ring import ring_items
from service.drawing.model import ArcTo, LineTo, MoveTo, Path
from service.schemas.spec import read_spec
from service.shop.goods import RingShape
from service.shop_file import demo_shop
from service.strap.ends.shapes import buckle_for
from service.strap.errors import Refusal
from service.strap.model.hardware import Stack
from service.strap.plane.lengths import INCH, MM, reading
from service.strap.remedies.remedies import find_remedies
from service.strap.rules.worn import passes_through
from service.strap.solve import solve
from tests.schemas.test_shop_file import mistakes
from tests.walker.bench import Bench
from tests.workshop.test_walker import answer_for

SHOP = demo_shop()
WIDTHS = ["1/2", "5/8", "3/4", "7/8", "1", "1 1/4", "1 1/2", "1 3/4", "2"]
BRASS, NICKEL = "#c9a552", "#cfcabd"


def hanging(ring, width):
    return {
        "construction": "open",
        "size": {"body_length": "20 in"},
        "body": {"width": width},
        "ends": {"head": {"kind": "ring", "ring": ring}, "foot": {"kind": "plain", "shape": "square"}},
    }


@pytest.mark.parametrize("finish", [BRASS, NICKEL])
@pytest.mark.parametrize("place", ["heel", "centre"])
def test_buckles_are_sold_for_straps_of_half_an_inch_to_two(place, finish):
    """A buckle is named by the strap that it takes, and a little wider inside, 1/32 in here (common practice)."""
    sold = [
        b
        for b in SHOP.buckles.values()
        if (b.bar_place, b.colour) == (place, finish) and not b.roller and not b.prongs_apart
    ]
    widths = sorted(reading(b.inside_width - INCH // 32, "in") for b in sold)
    assert widths == sorted(f"{width} in" for width in WIDTHS)


@pytest.mark.parametrize("width", WIDTHS)
def test_a_strap_of_each_of_these_widths_has_a_buckle_and_is_made(width):
    """Nothing is said of the buckle; a row of holes 1 in apart wants a belt's length."""
    strap = {"construction": "one_piece", "size": {"girth": "34 in"}, "body": {"width": f"{width} in"}}
    answer = answer_for(read_spec(strap, "in"), SHOP)
    Bench(answer).make()
    (buckle,) = (line["item"] for line in answer["hardware"] if line["for"] == "buckle")
    assert SHOP.buckles[buckle].colour == BRASS, "the shop's usual metal"
    assert f"for {width} in" in SHOP.buckles[buckle].title


def test_what_was_taken_where_nothing_is_said_is_still_taken():
    """The first of the file that fits: what came later takes no place of what stood there."""
    usual = {"3/4": "heel_bar_20", "1": "heel_bar_25", "1 1/2": "heel_bar_38"}
    found = {width: buckle_for(read_spec(hanging("ring_38", width), "in").body.width or 0, SHOP) for width in usual}
    assert found == usual


def test_a_roller_counts_in_the_fold_by_its_outer_diameter():
    """The half turn of the leather's middle is longer by pi/2 for each millimetre of diameter (handbooks, K = 1/2)."""
    plain = replace(SHOP.buckles["roller_25"], roller=None)
    shop = replace(SHOP, buckles=SHOP.buckles | {"roller_25": plain})
    strap = {"construction": "one_piece", "size": {"girth": "16 in"}, "units": "mm", "billet": {"buckle": "roller_25"}}
    spec = read_spec(strap, "mm")
    rolled, bare = solve(spec, SHOP).finished, solve(spec, shop).finished
    thicker = ((SHOP.buckles["roller_25"].roller or 0) - plain.bar_thickness) / MM
    assert (rolled.from_fold - rolled.from_bar - bare.from_fold + bare.from_bar) / MM == pytest.approx(thicker / 2)
    reach = {key: next(c for c in solve(spec, each).checks if c.rule == "fold_reach").value
             for key, each in (("rolled", SHOP), ("bare", shop))}  # fmt: skip
    assert (reach["bare"] - reach["rolled"]) / MM == pytest.approx(pi / 4 * thicker, abs=0.15)


@pytest.mark.parametrize(
    ("ring", "width", "beyond"),
    [
        # from the rail's axis to the outer edge, by hand: 12 + 4 + 2; a dee's bow (26.194 + 4) / 2 + 2; a hook as told
        ("rectangle_25", "1 in", 18.0),
        ("dee_25", "1 in", 17.097),
        ("hook_25", "1 in", 74.0),
        ("hook_13", "1/2 in", 48.0),
    ],
)
def test_each_ring_hangs_beyond_the_fold_and_is_drawn_as_far(ring, width, beyond):
    """What hangs beyond the fold counts in the length over all, and is seen in the finished look."""
    pattern = solve(read_spec(hanging(ring, width), "in"), SHOP)
    Bench(answer_for(read_spec(hanging(ring, width), "in"), SHOP)).make()
    finished = pattern.finished
    assert (finished.from_frame - finished.from_bar) / MM == pytest.approx(beyond, abs=0.001)
    seen = bounds(made_up(pattern, SHOP))
    assert (seen.right - seen.left) * MM == pytest.approx(finished.over_all, abs=0.01 * MM)
    item = SHOP.rings[ring]
    drawn = extent(ring_items(item, -1))
    assert -drawn[0] == pytest.approx(beyond, abs=0.4), "its outer edge, shading apart"
    assert drawn[3] - drawn[1] == pytest.approx((item.inside_width + 2 * item.thickness) / MM, abs=1.0)


def extent(items):
    """The box round the rails that are drawn: their middle lines with half their pens' widths."""
    left = top = right = bottom = 0.0
    for item in items:
        assert isinstance(item, Path)
        half = item.pen.width / 2
        for segment in item.segments:
            if isinstance(segment, MoveTo | LineTo | ArcTo):
                reach = segment.radius if isinstance(segment, ArcTo) else 0.0
                left, right = min(left, segment.x - half), max(right, segment.x + half)
                top, bottom = min(top, segment.y - half), max(bottom, segment.y + half)
                if reach and segment.x == 0.0:  # the bow of a dee, half a circle about the rail
                    left = min(left, -reach - half)
    return left, top, right, bottom


def test_every_shape_of_ring_is_sold():
    assert {ring.shape for ring in SHOP.rings.values()} == set(RingShape.__args__)


@pytest.mark.parametrize(("thick", "through"), [(2.9, True), (3.1, False)])
def test_a_tip_goes_through_a_rectangle_that_holds_both_plies(thick, through):
    """shapely: the two plies, 1 in wide, inside 26.19 by 6 mm."""
    ring = replace(SHOP.rings["rectangle_25"], inside_length=6 * MM)
    plies = Stack(thin=0, thick=round(thick * MM))
    inside = box(0, 0, ring.inside_width, ring.inside_length)
    assert inside.covers(box(0, 0, INCH, 2 * plies.thick)) is passes_through(ring, INCH, plies) is through


def test_nothing_goes_through_the_eye_of_a_hook():
    assert not passes_through(SHOP.rings["hook_25"], INCH // 2, Stack(thin=0, thick=MM))


def test_a_hook_too_narrow_is_mended_by_a_hook():
    """Hooks stand for hooks: whoever wants to hook in is not served with a ring."""
    spec = read_spec(hanging("hook_13", "3/4 in"), "in")
    with pytest.raises(Refusal) as refused:
        solve(spec, SHOP)
    assert {fault.code for fault in refused.value.faults} == {"ring_narrow"}
    remedies = find_remedies(spec, SHOP, refused.value.faults)
    rings = {change.value for each in remedies for change in each.changes if change.path[-1] == "ring"}
    assert rings == {"hook_20", "hook_25"}


@pytest.mark.parametrize(
    ("old", "new", "key"),
    [
        ('inside_length = "12 mm"\n', "", "rings.rectangle_25.inside_length"),
        ('inside_length = "12 mm"', 'length = "12 mm"', "rings.rectangle_25.length"),
        ('length = "74 mm"\n', "", "rings.hook_25.length"),
        ('length = "74 mm"', 'length = "20 mm"', "rings.hook_25.inside_width"),
        ('roller = "6 mm"', 'roller = "3 mm"', "buckles.roller_25.bar_thickness"),
        ('roller = "6 mm"', 'roller = "60 mm"', "buckles.roller_25.roller"),
    ],
)
def test_a_length_that_a_shape_has_or_lacks_is_told(tmp_path, old, new, key):
    assert key in mistakes(tmp_path, (old, new))


def test_end_punches_reach_to_an_inch_and_a_half():
    """One punches exactly its width; a strap of that width is shaped by it, and one of another by the knife."""
    widest = SHOP.end_punches["straight_38"]
    assert max(each.width for each in SHOP.end_punches.values()) == widest.width == 3 * INCH // 2
    foot = {"kind": "plain", "shape": widest.shape}
    tools = {}
    for width in ("1 1/2 in", "1 3/4 in"):
        spec = hanging("ring_50", width)
        answer = answer_for(read_spec(spec | {"ends": spec["ends"] | {"foot": foot}}, "in"), SHOP)
        tools[width] = next(step for step in answer["steps"] if step["op"] == "shape")["tool"]
    assert tools["1 1/2 in"] == "straight_38"
    assert tools["1 3/4 in"] != "straight_38"
