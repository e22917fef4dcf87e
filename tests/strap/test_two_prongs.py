"""Buckles with two prongs: a slot for each in the fold, and two holes side by side at each size (common practice)."""

import pytest

from service.schemas.spec import read_spec
from service.shop_file import demo_shop
from service.strap.solve import solve
from tests.strap.test_random_straps import judge
from tests.support.wearer import assert_worn_as_told
from tests.walker.bench import Bench
from tests.workshop.test_walker import answer_for

SHOP = demo_shop()
BELT = {"construction": "one_piece", "size": {"girth": "34"}, "body": {"width": "1 1/2"}}
ONE, TWO = "heel_bar_38", "two_prong_38"
APART = SHOP.buckles[TWO].prongs_apart


def belt(buckle, **more):
    return read_spec(BELT | {"billet": {"buckle": buckle}} | more, "in")


def holes(pattern, purpose):
    return [(each.x, each.y) for piece in pattern.pieces for each in piece.features if each.purpose == purpose]


def test_a_slot_and_a_row_of_holes_lie_under_each_prong():
    one, two = solve(belt(ONE), SHOP), solve(belt(TWO), SHOP)
    for purpose in ("prong_slot", "size_hole"):
        places = sorted((x, y) for x, _ in holes(one, purpose) for y in (-APART // 2, APART // 2))
        assert sorted(holes(two, purpose)) == places
    assert [each.fits for each in one.finished.holes] == [each.fits for each in two.finished.holes]


@pytest.mark.parametrize("joined", [False, True])
def test_it_is_sound_made_and_worn(joined):
    """By shapely, by its steps alone, and closed at every size."""
    spec = belt(TWO, ornaments={"item": "spot_10", "count": 7})
    if joined:
        ends = {"head": {"kind": "buckle", "buckle": TWO}, "foot": {"kind": "buckle", "buckle": TWO}}
        strap = {"construction": "two_ends", "size": {"bar_to_bar": "36"}, "ends": ends, "body": BELT["body"]}
        spec = read_spec(strap | {"joining_strap": {"adds": {"from": "5", "to": "9"}}}, "in")
    judge(solve(spec, SHOP))
    answer = answer_for(spec, SHOP)
    Bench(answer).make()
    assert_worn_as_told(answer, SHOP)


def test_holes_are_numbered_as_the_sizes_are():
    """The second prong's holes go on from the first's: hole n of a size is n, and n more than there are sizes."""
    pattern = solve(belt(TWO), SHOP)
    found = {each.id: each.x for each in pattern.pieces[0].features if each.purpose == "size_hole"}
    sizes = len(pattern.finished.holes)
    assert len(found) == 2 * sizes
    for n in range(1, sizes + 1):
        assert found[f"strap.size_hole.{n}"] == found[f"strap.size_hole.{n + sizes}"]
