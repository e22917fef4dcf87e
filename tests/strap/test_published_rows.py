"""Straps of harness bells that restorers have remade and published, by the numbers of their bells.

Bell count and order, width and length are the published ones. What else these straps have (tapers, splices, joining
straps) is not said here: where it is left out the test says so.
"""

from itertools import pairwise

import pytest

from service.schemas.spec import read_spec
from service.strap.errors import Refusal
from service.strap.plane.lengths import INCH
from service.strap.remedies.remedies import find_remedies
from service.strap.solve import solve
from tests.support.numbered import NUMBERED, RIVETED, SIZES
from tests.walker.bench import Bench
from tests.workshop.test_walker import answer_for

HEAVY = (1, 2, 2, 3, 3, 3, 4, 4, 4, 5, 5, 6, 6, 7, 8, 9, 10, 11, 12, 14)
BODY = (3, 3, 6, 7, 8, 9, 10, 11, 11, 12, 16, 18)
NECK = (4, 4, 4, 6, 6, 6, 8, 8, 9)
BUCKLE = {"kind": "buckle", "buckle": "heel_bar_38"}


def ordered(numbers, fixed=""):
    """A row as it is ordered: the numbers up to the largest, 'and the same back'."""
    return {"items": [f"no_{number}{fixed}" for number in numbers], "mirrored": True}


STRAPS = {
    # a body strap for a heavy horse: 39 bells, 1 1/2 in wide, about 8 1/2 ft from buckle to buckle
    "heavy horse": (
        {"construction": "two_ends", "size": {"bar_to_bar": "102 in"}, "body": {"width": "1 1/2 in"},
         "ends": {"head": BUCKLE, "foot": BUCKLE}, "ornaments": ordered(HEAVY)},
        HEAVY, 39,
    ),
    # riveted bells: 23, 1 3/4 in wide, almost 9 ft over all; its tapers are left out, and its billets are riveted on
    "riveted": (
        {"construction": "two_ends", "size": {"overall_length": "107 in"}, "body": {"width": "1 3/4 in"},
         "ends": {"head": {"kind": "billet", "width": "1 1/2 in", "end": BUCKLE},
                  "foot": {"kind": "billet", "width": "1 1/2 in", "end": {"kind": "tip"}}},
         "ornaments": ordered(BODY, RIVETED)},
        BODY, 23,
    ),
    # a neck strap: 17 bells, 50 in from buckle to buckle, 1 1/2 in wide in the middle; its tapers are left out
    "neck": (
        {"construction": "two_ends", "size": {"bar_to_bar": "50 in"}, "body": {"width": "1 1/2 in"},
         "ends": {"head": BUCKLE, "foot": BUCKLE}, "ornaments": ordered(NECK)},
        NECK, 17,
    ),
}  # fmt: skip
each_strap = pytest.mark.parametrize(("spec", "numbers", "count"), STRAPS.values(), ids=STRAPS)


@each_strap
def test_bells_come_out_as_many_and_in_the_order_published(spec, numbers, count):
    body = solve(read_spec(spec, "in"), NUMBERED).pieces[0]
    bells = sorted((f for f in body.features if f.purpose == "ornament"), key=lambda f: f.x)
    assert [int(f.item.removeprefix("no_").removesuffix(RIVETED)) for f in bells] == [*numbers, *numbers[-2::-1]]
    assert len(bells) == count


@each_strap
def test_its_gaps_are_equal_and_it_is_as_long_as_published(spec, numbers, count):
    """Equal clear gaps (carpenters' tables), on a ruler alike to half of 1/16 in at each of two rims."""
    pattern = solve(read_spec(spec, "in"), NUMBERED)
    bells = sorted((f for f in pattern.pieces[0].features if f.purpose == "ornament"), key=lambda f: f.x)
    assert [f.footprint for f in bells] == [SIZES[number] for number in (*numbers, *numbers[-2::-1])]
    gaps = [b.x - b.footprint // 2 - a.x - a.footprint // 2 for a, b in pairwise(bells)]
    assert len(gaps) == count - 1
    assert max(gaps) - min(gaps) <= INCH // 16
    ((kind, length),) = spec["size"].items()
    found = pattern.finished.over_all if kind == "overall_length" else pattern.finished.from_bar
    assert abs(found - int(length.split()[0]) * INCH) <= INCH // 16


@each_strap
def test_it_is_made_from_its_answer_alone(spec, numbers, count):
    answer = answer_for(read_spec(spec, "in"), NUMBERED)
    Bench(answer).make()
    set_on = [step for step in answer["steps"] if step["op"] == "set"]
    assert sum(step["uses"][0]["count"] for step in set_on) == count
    assert len(set_on) == len(set(numbers))
    riveted = [each for each in answer["hardware"] if each["for"] == "ornament" and "cap" in each["item"]]
    assert sum(each["count"] for each in riveted) == (count if spec is STRAPS["riveted"][0] else 0)
    assert any(step["op"] == "lace" for step in answer["steps"]) is not bool(riveted)


def test_a_number_that_no_founder_casts_is_told_by_its_place():
    """Above 12 there are 14, 16 and 18 in this shop, and no 13."""
    spec = STRAPS["heavy horse"][0] | {"ornaments": ordered((*HEAVY[:18], 13))}
    read = read_spec(spec, "in")
    with pytest.raises(Refusal) as refused:
        solve(read, NUMBERED)
    assert [(f.code, f.path) for f in refused.value.faults] == [("unknown_ornament", ("ornaments", "items", "18"))]
    assert find_remedies(read, NUMBERED, refused.value.faults)


def test_more_than_a_hundred_bells_are_more_than_this_shop_sets():
    spec = {"construction": "open", "size": {"body_length": "180 in"}, "ornaments": ordered([0] * 51)}
    read = read_spec(spec, "in")
    with pytest.raises(Refusal) as refused:
        solve(read, NUMBERED)
    assert {(f.code, f.path) for f in refused.value.faults} == {("count_beyond_limits", ("ornaments", "count"))}
    assert find_remedies(read, NUMBERED, refused.value.faults)
