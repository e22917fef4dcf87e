"""Single figures of a strap, each reckoned by hand beside its test: fit, buckle end, tongue, weight, ruler.

The demo shop's harness leather of 8-9 oz is 8.5/64 in = 3.3734 mm thick; its heel-bar buckle for 1 in has a bar of
4 mm, so that its heel lies 2 mm from the bar's axis; the medium rivet's cap is 9 mm. The keeper is 12.7 mm wide.
"""

from dataclasses import replace
from decimal import Decimal

import pytest

from service.schemas.spec import read_spec
from service.strap.plane.lengths import INCH, MM
from service.strap.plane.spacing import Span, ruler_for, space
from service.strap.solve import solve

EXACT = {"ornaments": {"item": "spot_10", "count": 0, "spacing": "even"}}
"""Nothing is moved to a graduation."""


def made(document, shop):
    return solve(read_spec({"construction": "one_piece"} | document, "in"), shop)


def places(pattern, purpose):
    return sorted(each.x for each in pattern.pieces[0].features if each.purpose == purpose)


def check(pattern, rule):
    return next(each for each in pattern.checks if each.rule == rule)


@pytest.mark.parametrize(("ease", "flat"), [("0 in", 366.198), ("1 in", 391.598), ("30 mm", 396.198)])
def test_a_girth_gets_its_ease_and_pi_times_the_thickness(ease, flat, shop):
    """14 in round: 355.6 mm + ease + π × 3.3734 mm = 355.6 + ease + 10.598 (geometry)."""
    pattern = made({"size": {"girth": "14 in", "ease": ease}} | EXACT, shop)
    assert pattern.finished.from_bar / MM == pytest.approx(flat, abs=0.001)


@pytest.mark.parametrize(
    ("ease", "hole", "flat"), [("0 in", 286, 365.622), ("1 in", 302, 391.022), ("1/32 in", 287, 367.210)]
)
def test_on_a_ruler_a_girths_hole_goes_to_the_nearest_graduation(ease, hole, flat, shop):
    """Worked by hand.

    Rivets at 3/4 and 1 3/4 in, 3 in on the front ply's first at 4 3/4 in, less 32.247 mm: the bar lies 88.403 mm from
    the strip's end. The middle hole of a girth of 14 in belongs 366.198 mm past it, at 454.601 mm or 286.36 sixteenths
    of an inch: 286 are 454.025 mm. An inch of ease is 16 sixteenths; with 1/32 in it belongs at 286.86, so at 287.
    """
    pattern = made({"size": {"girth": "14 in", "ease": ease}}, shop)
    assert places(pattern, "size_hole")[2] == hole * INCH // 16
    assert pattern.finished.from_bar / MM == pytest.approx(flat, abs=0.001)


def test_a_girth_is_told_from_the_bar(shop):
    """The bar is where the loop closes (common practice): the length told is the flat length of the girth itself."""
    finished = made({"size": {"girth": "14 in"}}, shop).finished
    assert finished.measured_from == "bar"
    assert finished.length == finished.from_bar == finished.holes[2].length


@pytest.mark.parametrize("datum", ["fold", "bar", "frame"])
def test_a_finished_length_is_told_from_where_it_was_ordered(datum, shop):
    """Fold: 2 + 3.373 mm beyond the bar's axis. Frame: 33 - 2 = 31 mm beyond it, on the other side of the fold."""
    finished = made({"size": {"finished_length": "18 in", "measured_from": datum}}, shop).finished
    assert (finished.measured_from, finished.length) == (datum, 18 * INCH)
    assert (finished.from_fold - finished.from_bar) / MM == pytest.approx(5.373, abs=0.001)
    assert (finished.from_frame - finished.from_bar) / MM == pytest.approx(31, abs=0.001)


def test_a_keeper_has_room_between_the_frame_and_the_folds_rivet(shop):
    """Worked by hand.

    Flat between the mated holes 2 × 1 1/4 + 1/2 in = 76.2 mm; arc π × (2 + 0.5 × 3.3734) = 11.582 mm; each ply's
    straight part 32.309 mm, from the bar √(32.309² - 2²) = 32.247 mm; less half a cap and the heel 25.747 mm. The
    keeper needs its 12.7 mm and 1.5 mm beside it.
    """
    room = check(made({"size": {"body_length": "24 in"}}, shop), "keeper_room")
    assert room.value / MM == pytest.approx(25.747, abs=0.001)
    assert room.limit / MM == pytest.approx(14.2, abs=0.001)


def test_a_long_heel_moves_the_rivet_on_so_that_the_keeper_has_room(shop):
    """Worked by hand, for a centre bar of 3.5 mm in a frame of 44 mm.

    From the bar 22 + 12.7 + 1.5 + 4.5 = 40.7 mm; flat 2 × √(40.7² + 1.75²) + π × (1.75 + 1.6867) = 92.272 mm, and up
    to the next 1/16 in: 3 11/16 in. On a ruler up to the next 1/8 in, so that the fold half way has its graduation too.
    """
    strap = {"size": {"body_length": "24 in"}, "billet": {"buckle": "centre_bar_25", "keeper": True}}
    for each, flat in ((strap | EXACT, 59), (strap, 60)):
        rivets = places(made(each, shop), "fold_rivet")
        assert rivets[2] - rivets[1] == flat * INCH // 16


def test_the_tip_passes_the_keeper_even_where_the_shop_wants_a_short_one(shop):
    """The keeper's far side 32.247 - 4.5 = 27.747 mm from the bar, and 1/2 in of tip beyond it: 40.447 mm (by hand).

    On a ruler up to the next 1/16 in: 1 5/8 in.
    """
    short = replace(shop, rules=replace(shop.rules, tip_widths=Decimal(1)))
    strap = {"size": {"body_length": "24 in"}}
    for said, each, tip in ((strap, shop, 63.5), (strap | EXACT, short, 40.447), (strap, short, 41.275)):
        pattern = made(said, each)
        assert (pattern.pieces[0].length - places(pattern, "size_hole")[-1]) / MM == pytest.approx(tip, abs=0.001)
        reach = check(pattern, "tongue_reach")
        assert (reach.value / MM, reach.limit / MM) == pytest.approx((tip, 40.447), abs=0.001)


def test_a_skived_keeper_weighs_half(shop):
    """Worked by hand.

    Strip 508 × 25.4 × 3.3734 mm = 43.53 g at 1.0 g/cm³. Keeper 2 × (25.4 + 3 × 3.3734) + 4 × π/2 × 0.8434 + 12.7 + 1
    = 90.04 mm long, 12.7 mm wide, skived to 1.6867 mm: 1.93 g. Buckle 34 g, two rivets of 1.1 g and one of 0.6 g.
    On a ruler the keeper is cut 3 9/16 in = 90.49 mm long: 1.94 g.
    """
    strap = {"size": {"body_length": "20 in"}, "billet": {"tip": {"shape": "square"}}}
    for each, keeper in ((strap | EXACT, 1_929), (strap, 1_938)):
        weight = made(each, shop).finished.weight_mg
        assert weight == pytest.approx(43_528 + keeper + 34_000 + 2_200 + 600, abs=5)


@pytest.mark.parametrize(("tenths", "pitch"), [(120, 3), (126, 3), (127, 3.25), (114, 3), (113, 2.75)])
def test_a_pitch_on_the_ruler_leaves_end_gaps_within_a_tenth_of_it(tenths, pitch):
    """Three in a span, four gaps, worked by hand.

    12.6 in: 3 in leaves ends of 3.3 in, just a tenth more. 12.7 in: 3 in would leave 3.35 in, so 3 1/4 in and 3.1 in.
    11.4 in: 3 in leaves 2.7 in, just a tenth less. 11.3 in: 3 in would leave 2.65 in, so 2 3/4 in and 2.9 in.
    """
    span = Span(start=0, end=tenths * INCH // 10, pitch_min=INCH, end_min=INCH)
    places = space(span, 3, "ruler", ruler_for("in", INCH // 16, Decimal("0.1"))).places
    assert places[1] - places[0] == places[2] - places[1] == round(pitch * INCH)


@pytest.mark.parametrize(("ring", "beyond"), [("ring_38", 46.394), ("dee_38", 24.447)])
def test_a_ring_hangs_beyond_the_fold_by_its_whole_width_and_a_dee_by_its_bow(ring, beyond, shop):
    """From the rail's axis to the outer edge, by hand: 38.894 mm inside and rails of 5 mm.

    Round: 38.894 + 5 + 2.5 = 46.394; a dee's bow is half a circle about the rail: (38.894 + 5) / 2 + 2.5 = 24.447.
    """
    strap = {"construction": "open", "size": {"body_length": "30 in"}, "body": {"width": "1 1/2 in"}}
    ends = {"head": {"kind": "ring", "ring": ring}, "foot": {"kind": "plain"}}
    finished = solve(read_spec(strap | {"ends": ends}, "in"), shop).finished
    assert (finished.from_frame - finished.from_bar) / MM == pytest.approx(beyond, abs=0.001)
