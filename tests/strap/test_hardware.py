"""Punches and fasteners, against trade tables and sellers' rules."""

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from service.shop_file import demo_shop
from service.strap.model.hardware import (
    Stack,
    fitting_fasteners,
    holds,
    hole_for,
    keeper_share,
    keeper_stack,
    round_punch,
    slot_for,
)
from service.strap.plane.lengths import INCH, MM, SIXTY_FOURTH, millimetres, parse_length

SHOP = demo_shop()


@pytest.mark.parametrize(("ounces", "published"), [((7, 8), (2.8, 3.2)), ((8, 9), (3.2, 3.6))])
def test_an_ounce_is_a_sixty_fourth_of_an_inch(ounces, published):
    """1 oz = 1/64 in; 7-8 oz is 2.8-3.2 mm, 8-9 oz 3.2-3.6 mm (several trade tables; thickness by ISO 2589)."""
    assert [round(millimetres(weight * SIXTY_FOURTH), 1) for weight in ounces] == list(published)


def test_the_demo_leather_is_eight_to_nine_ounces():
    leather = SHOP.leathers["harness_8_9"]
    assert (leather.thin, leather.thick) == (8 * SIXTY_FOURTH, 9 * SIXTY_FOURTH)
    assert round(millimetres(leather.thickness), 1) == 3.4


def test_drive_punches_carry_the_numbers_of_the_trade():
    """No. 0 is 5/64 in (Leather Crafts); 1 to 9 from memory: 3/32, 7/64, 1/8, 9/64, 5/32, 3/16, 13/64, 7/32, 1/4."""
    sizes = ["5/64", "3/32", "7/64", "1/8", "9/64", "5/32", "3/16", "13/64", "7/32", "1/4"]
    found = [punch.diameter for punch in SHOP.round_punches.values()]
    assert found == [parse_length(f"{size} in", "in") for size in sizes]


@pytest.mark.parametrize("leather", [name for name in SHOP.leathers if name != "lining_2_3"])
def test_a_fitting_post_is_a_sixteenth_to_an_eighth_longer_than_the_stack(leather):
    """Hardware sellers: the post stands 1/16 to 1/8 in out of the stack before it is set."""
    stack = Stack(thin=2 * SHOP.leathers[leather].thin, thick=2 * SHOP.leathers[leather].thick)
    default = SHOP.fasteners[SHOP.defaults.joint_fastener]
    fitting = fitting_fasteners(stack, SHOP, default)
    rivets = [fastener for fastener in fitting if fastener.barrel is None]
    assert rivets
    assert tuple(rivets) == fitting[: len(rivets)], "a screw post is likest to no rivet"
    for fastener in rivets:
        for thickness in (stack.thin, stack.thick):
            assert INCH // 16 <= fastener.post_length - thickness <= INCH // 8


@given(st.integers(0, 40), st.integers(0, 40), st.sampled_from(list(SHOP.fasteners)))
def test_a_fastener_holds_a_stack_over_its_whole_range_or_not_at_all(thin, more, name):
    fastener = SHOP.fasteners[name]
    stack = Stack(thin=thin * MM // 4, thick=(thin + more) * MM // 4)
    thicknesses = [stack.thin + (stack.thick - stack.thin) * step // 8 for step in range(9)]
    by_hand = all(fastener.grip_min <= thickness <= fastener.grip_max for thickness in thicknesses)
    assert holds(fastener, stack) == by_hand


@pytest.mark.parametrize(("leather", "share"), [("harness_8_9", "0.5"), ("latigo_6_7", "0.7"), ("bridle_10_11", "0.5")])
def test_a_keeper_is_skived_no_thinner_than_its_rivet_holds(leather, share):
    """To about half (common practice). Two plies of 6 oz, 2.381 mm, need 2/3 to be the 3.175 mm of the least grip."""
    found = keeper_share(SHOP.leathers[leather], SHOP)
    assert str(found) == share
    assert any(holds(each, keeper_stack(SHOP.leathers[leather], found)) for each in SHOP.fasteners.values())


def test_a_keeper_that_no_rivet_holds_is_skived_as_usual():
    assert str(keeper_share(SHOP.leathers["latigo_6_7"], replace(SHOP, fasteners={}))) == "0.5"


@given(st.integers(1, 8000))
def test_the_smallest_punch_that_passes_is_taken_and_none_that_is_too_loose(micrometres):
    passes = micrometres * 1000
    ease, slack = MM // 10, MM
    punch = round_punch(passes, ease, slack, SHOP.round_punches.values())
    passing = sorted(p.diameter for p in SHOP.round_punches.values() if p.diameter >= passes + ease)
    if punch is None:
        assert not passing or passing[0] > passes + slack
    else:
        assert punch.diameter == passing[0] <= passes + slack


def test_a_hole_without_a_punch_says_so():
    cut = hole_for(20 * MM, 0, SHOP)
    assert (cut.tool, cut.length) == (None, 20 * MM)


def test_a_slot_takes_the_shops_slot_punch_or_two_holes_and_two_cuts():
    assert slot_for(INCH * 5 // 8, 2 * MM, MM, SHOP).tool == "slot_16"
    cut = slot_for(40 * MM, 3 * MM, MM, SHOP)
    assert (cut.method, cut.tool, cut.length) == ("holes_and_cuts", "punch_3", 40 * MM)


def test_a_slot_punch_may_be_longer_by_the_slack_and_no_more():
    """A slot that is longer than what passes through lets it wander (common practice)."""
    punch = max(SHOP.slot_punches.values(), key=lambda each: each.length)
    passes = punch.width - SHOP.rules.hole_ease
    assert slot_for(punch.length, passes, 0, SHOP).tool == punch.id
    assert slot_for(punch.length - MM, passes, MM, SHOP).tool == punch.id
    assert slot_for(punch.length - MM, passes, MM - 1, SHOP).tool != punch.id
    assert slot_for(punch.length, passes + 1, 0, SHOP).tool != punch.id
