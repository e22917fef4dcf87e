"""A three-piece strap worked by hand, figure by figure (common practice)."""

from dataclasses import replace
from itertools import pairwise

import pytest

from service.strap.model.spec import Body, Size, Spec
from service.strap.model.spec_set import Between, Border, Row
from service.strap.plane.lengths import INCH, parse_length
from service.strap.solve import solve


def inches(text: str) -> int:
    return parse_length(f"{text} in", "in")


SPEC = Spec(
    construction="three_piece",
    size=Size(body_length=24 * INCH),
    body=Body(width=inches("2 1/2")),
    ornaments=Row(item="bell_30", count=6),
    between=Between(item="spot_10"),
    border=Border(item="spot_6"),
)


@pytest.fixture(scope="module")
def pattern(shop):
    return solve(SPEC, shop)


def places(pattern, piece, purpose):
    return sorted({f.x for f in pattern.piece(piece).features if f.purpose == purpose})


def test_joint_holes_stand_at_three_quarters_and_one_and_three_quarters_from_each_end(pattern):
    assert places(pattern, "body", "joint") == [inches(x) for x in ("3/4", "1 3/4", "22 1/4", "23 1/4")]


def test_bells_spots_between_and_border(pattern):
    bells = ["4 1/2", "7 1/2", "10 1/2", "13 1/2", "16 1/2", "19 1/2"]
    assert places(pattern, "body", "ornament") == [inches(x) for x in bells]
    assert places(pattern, "body", "between") == [n * INCH for n in (6, 9, 12, 15, 18)]
    border = places(pattern, "body", "border")
    assert {b - a for a, b in pairwise(border)} == {INCH}
    assert set(places(pattern, "body", "ornament")) <= set(border)
    assert {abs(f.y) for f in pattern.piece("body").features if f.purpose == "border"} == {INCH}


def test_a_wide_bodys_point_is_as_deep_as_half_its_width(pattern):
    assert pattern.piece("body").outline.head == ("english_point", inches("1 1/4"))


def test_holes_are_an_eighth_and_size_holes_three_sixteenths(pattern):
    rivets = {f.diameter for p in pattern.pieces for f in p.features if f.purpose in ("joint", "fold_rivet")}
    assert rivets == {inches("1/8")}
    holes = {f.diameter for f in pattern.piece("tongue_billet").features if f.purpose == "size_hole"}
    assert holes == {inches("3/16")}


def test_the_tongue_billet(pattern):
    assert places(pattern, "tongue_billet", "joint") == [inches("3/4"), inches("1 3/4")]
    assert places(pattern, "tongue_billet", "size_hole") == [inches(f"{n} 3/4") for n in range(3, 8)]


def test_the_buckle_billet_measured_from_its_riveted_end(pattern):
    """With a loose keeper the fold rivets stand 3 in apart; the turned-back tail just meets the body's end."""
    billet = pattern.piece("buckle_billet")

    def from_joint_end(purpose):
        return sorted(billet.length - x for x in places(pattern, "buckle_billet", purpose))

    assert from_joint_end("joint") == [inches("3/4"), inches("1 3/4")]
    assert from_joint_end("fold_rivet") == [inches("3 3/4"), inches("6 3/4")]
    assert from_joint_end("prong_slot") == from_joint_end("fold_line") == [inches("5 1/4")]
    slot = next(f for f in billet.features if f.purpose == "prong_slot")
    assert (slot.length, slot.angle) == (inches("1 1/4"), 0)
    assert billet.length == 8 * INCH
    assert next(check for check in pattern.checks if check.rule == "tail_gap").value == 0


def test_without_a_keeper_the_fold_rivets_stand_twice_the_slot_apart(shop):
    bare = solve(replace(SPEC, billet=replace(SPEC.billet, keeper=False)), shop)
    first, second = places(bare, "buckle_billet", "fold_rivet")
    assert second - first == inches("2 1/2")
    assert bare.piece("keeper") is None


def test_bell_slots_are_five_eighths_to_three_quarters_long(pattern):
    lengths = {f.length for f in pattern.piece("body").features if f.purpose == "ornament"}
    assert all(inches("5/8") <= length <= inches("3/4") for length in lengths)


def test_two_plies_take_the_medium_cap_rivet_and_the_skived_keeper_the_small_one(pattern):
    rivets = {line.purpose: line.item for line in pattern.hardware}
    assert rivets["joint"] == rivets["fold_rivet"] == "double_cap_medium"
    assert rivets["keeper_rivet"] == "double_cap_small"


def test_the_lace_runs_from_first_to_last_bell_with_a_knot_at_each_end_and_waste(pattern):
    """15 in between the outer bells, two knots of 6 in and a tenth for the taper: 29.7 in (by hand)."""
    lace = next(line for line in pattern.hardware if line.item == "lace")
    assert lace.length == round(29.7 * INCH)
