"""A strap with two buckles, and the strap that joins them: what it adds, what fits, and what its tips lie on."""

from itertools import pairwise
from math import pi

import pytest

from service.schemas.spec import SpecError, read_spec, spec_document
from service.shop_file import demo_shop
from service.strap.plane.lengths import INCH, MM
from service.strap.solve import solve
from tests.support.straps import assert_told_and_mended
from tests.walker.bench import Bench
from tests.workshop.test_walker import answer_for

SHOP = demo_shop()
BUCKLE = {"kind": "buckle"}
STRAP = {
    "construction": "two_ends",
    "size": {"bar_to_bar": "36"},
    "body": {"width": "1"},
    "ends": {"head": BUCKLE, "foot": BUCKLE},
    "joining_strap": {"adds": {"from": "4", "to": "8"}},
    "ornaments": {"item": "bell_25", "count": 9},
}


def spec_of(**changes):
    return read_spec(STRAP | changes, "in")


def joined_by(**joining):
    return spec_of(joining_strap=joining)


def holes_of(pattern):
    piece = pattern.piece("joining_strap")
    return [each.x for each in piece.features], piece.length


def test_it_adds_what_was_asked_for_from_its_innermost_holes_to_its_outermost():
    """By its holes alone: the bars lie on two of them. The girth inside is the flat length less pi t (geometry)."""
    pattern = solve(spec_of(), SHOP)
    holes, length = holes_of(pattern)
    assert len(holes) % 2 == 0
    inner = holes[len(holes) // 2] - holes[len(holes) // 2 - 1]
    assert (inner, holes[-1] - holes[0]) == (4 * INCH, 8 * INCH)
    assert [length - x for x in reversed(holes)] == holes
    joined = pattern.finished.joined
    assert (joined.least, joined.most) == (40 * INCH, 44 * INCH)
    thick = SHOP.leathers["harness_8_9"].thickness
    assert joined.holes[0].fits == pytest.approx(40 * INCH - pi * thick, abs=1)
    assert joined.holes[-1].fits - joined.holes[0].fits == 4 * INCH


def test_by_its_length_it_adds_what_its_tips_leave():
    """Common practice, a saddlery's rule: a tip of 2.5 widths beyond the last hole."""
    pattern = solve(joined_by(length="16", size_holes={"count": 3, "spacing": "1"}), SHOP)
    holes, length = holes_of(pattern)
    assert length == 16 * INCH
    assert holes[0] == round(2.5 * INCH)
    assert [b - a for a, b in pairwise(holes)] == [
        INCH,
        INCH,
        16 * INCH - 5 * INCH - 4 * INCH,
        INCH,
        INCH,
    ]
    assert pattern.finished.joined.most == 36 * INCH + 11 * INCH


def test_it_is_made_from_its_steps_alone_and_said_again_as_answered():
    answer = answer_for(spec_of(), SHOP)
    Bench(answer).make()
    assert answer["finished"]["joined"]["loosest"]["length"] == "44 in"
    again = solve(read_spec(answer["spec"], "in"), SHOP)
    assert again.pieces == solve(spec_of(), SHOP).pieces
    assert spec_document(again.spec, "in")["joining_strap"]["adds"] == {"from": "4 in", "to": "8 in"}


def test_bells_stand_past_the_tips_of_both_its_ends():
    """At the middle holes nothing raised lies under either tip: they reach as far in from each bar."""
    pattern = solve(spec_of(), SHOP)
    holes, _ = holes_of(pattern)
    row = holes[: len(holes) // 2]
    reach = sorted(row, reverse=True)[(len(row) - 1) // 2]
    front = next(ply for ply in pattern.placements if ply.direction == 1)
    bells = [front.offset + each.x for each in pattern.pieces[0].features if each.purpose == "ornament"]
    radius = SHOP.ornaments["bell_25"].diameter // 2
    bars = pattern.finished.head_at.bar, pattern.finished.foot_at.bar
    assert min(bells) - radius >= bars[0] + reach
    assert max(bells) + radius <= bars[1] - reach


@pytest.mark.parametrize(
    ("changes", "code", "path"),
    [
        ({"joining_strap": {"adds": {"from": "1", "to": "3"}}}, "joining_short", ("joining_strap", "adds")),
        ({"joining_strap": {"length": "10"}}, "joining_short", ("joining_strap", "length")),
        ({"joining_strap": {"width": "1 1/4", "length": "20"}}, "joining_wide", ("joining_strap", "width")),
        ({"ends": {"head": BUCKLE, "foot": {"kind": "ring"}}, "size": {"body_length": "36"}},
         "without_meaning", ("joining_strap",)),
        ({"joining_strap": {"adds": {"from": "4", "to": "8"}, "size_holes": {"count": 5, "spacing": "1"}}},
         "without_meaning", ("joining_strap", "size_holes", "spacing")),
        ({"joining_strap": {"length": "20", "size_holes": {"count": 3, "spacing": "1/4"}}},
         "cuts_too_close", ("joining_strap", "size_holes", "spacing")),
        ({"joining_strap": {"length": "20", "size_holes": {"diameter": "1/8"}}},
         "size_hole_narrow", ("joining_strap", "size_holes", "diameter")),
        ({"ornaments": {"item": "bell_25", "count": 28}}, "tip_on_ornament", ("ornaments", "count")),
    ],
)  # fmt: skip
def test_what_is_wrong_is_told_where_it_is_said_and_mended(changes, code, path):
    assert_told_and_mended(spec_of(**changes), code, path, SHOP)


@pytest.mark.parametrize(
    ("joining", "place"),
    [
        ({}, "joining_strap"),
        ({"adds": {"from": "4", "to": "8"}, "length": "20"}, "joining_strap"),
        ({"adds": {"from": "8", "to": "4"}}, "joining_strap.adds.from"),
        ({"adds": {"from": "4"}}, "joining_strap.adds.to"),
    ],
)
def test_it_is_said_one_way(joining, place):
    with pytest.raises(SpecError) as wrong:
        joined_by(**joining)
    assert {".".join(fault.path) for fault in wrong.value.faults} == {place}


def test_a_shop_with_narrower_buckles_takes_a_narrower_one():
    """What goes through both buckles: the narrower of two billets."""
    billets = {
        "head": {"kind": "billet", "width": "1", "end": BUCKLE},
        "foot": {"kind": "billet", "width": "3/4", "end": BUCKLE | {"buckle": "heel_bar_20"}},
    }
    pattern = solve(spec_of(ends=billets, body={"width": "1 1/2"}), SHOP)
    assert pattern.piece("joining_strap").width == pytest.approx(0.75 * INCH, abs=MM // 100)
