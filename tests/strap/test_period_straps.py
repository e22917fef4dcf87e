"""Straps of the kinds that harness makers have made, said whole: shaft, rump, back, neck and body straps of many bells.

None is a published one: they stand for what a restorer might send in. By common practice a body strap has 25 to 60
bells of one size or graduated, buckles or billets at its ends, and is spliced where it is longer than a hide.
"""

from itertools import pairwise

import pytest

from service.schemas.spec import read_spec
from service.strap.plane.lengths import INCH
from service.strap.solve import solve
from tests.strap.test_published_straps import SHOP, buckle, ordered, sewn_billet
from tests.strap.test_splices import judge_loops
from tests.walker.bench import Bench
from tests.workshop.test_walker import answer_for

WIDE = buckle("heel_bar_38")


def two(head, foot, size, **more):
    return {"construction": "two_ends", "worn_by": "animal", "size": size, "ends": {"head": head, "foot": foot}, **more}


STRAPS = {
    "shaft plate, lined, riveted": (
        {"construction": "open", "worn_by": "animal", "size": {"body_length": "14"}, "body": {"width": "1 1/2"},
         "lining": "lining_2_3", "ornaments": ordered((4, 6, 8), "_riveted")},
        5,
    ),
    "rump, edged and tapered": (
        two(WIDE, WIDE, {"body_length": "44"}, lining="lining_2_3", edging={"leather": "latigo_6_7"},
            body={"width": "2 1/2", "edge": {"shape": "scalloped"}, "taper": {"to": "1 1/2"}},
            ornaments=ordered((3, 4, 5, 6))),
        7,
    ),
    "back, from hook to ring": (
        two({"kind": "ring", "ring": "hook_25"}, {"kind": "ring", "ring": "ring_32"}, {"body_length": "66"},
            body={"width": "1"}, ornaments={"item": "no_1_riveted", "count": 30}),
        30,
    ),
    "body of 60, spliced and joined": (
        two(buckle("heel_1_1_4", hold="stitches"), buckle("heel_1_1_4", hold="stitches"), {"bar_to_bar": "112"},
            body={"width": "1 1/4", "splices": "allowed"}, joining_strap={"adds": {"from": "6", "to": "12"}},
            ornaments={"item": "no_0", "count": 60}),
        60,
    ),
    "body of 52, two plies, spliced": (
        two(buckle("heel_2"), buckle("heel_2"), {"bar_to_bar": "112"}, body={"width": "2", "splices": "allowed"},
            lining="lining_2_3", ornaments={"item": "no_1", "count": 52}),
        52,
    ),
    "body of 51, keepers, lining strap, spliced": (
        two(buckle("heel_1_1_4"), buckle("heel_1_1_4"), {"bar_to_bar": "118"},
            body={"width": "1 1/4", "splices": "allowed"}, lining={"leather": "latigo_6_7", "held_by": "keepers"},
            keepers_between={"width": "3/8"}, joining_strap={"adds": {"from": "5", "to": "9"}},
            ornaments={"item": "no_1", "count": 51}),
        51,
    ),
    "body of mixed sizes between two sewn billets": (
        two({"kind": "billet", "width": "1 1/4", "join": "stitches", "end": buckle("heel_1_1_4")},
            sewn_billet("1 1/4"), {"body_length": "84"},
            body={"width": "2", "taper": {"to": "1 1/4", "over": "8"}, "splices": {"count": 1, "stitch_lines": 3}},
            ornaments=ordered((2, 2, 3, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12))),
        25,
    ),
    "neck of two sizes, scalloped edging": (
        {"construction": "one_piece", "worn_by": "animal", "size": {"finished_length": "54"},
         "body": {"width": "1 1/2"},
         "billet": {"buckle": "heel_bar_38"}, "ornaments": {"items": ["no_6", "no_2"], "count": 21},
         "edging": {"leather": "latigo_6_7", "shape": "scalloped"}},
        21,
    ),
    "graduated, spliced, tapered": (
        two(WIDE, {"kind": "tip"}, {"overall_length": "100"},
            body={"width": "1 3/4", "splices": "allowed", "taper": {"to": "1 1/2"}},
            ornaments={"items": ["no_1", "no_3", "no_5", "no_7", "no_9"], "arrange": "graduated", "count": 37}),
        37,
    ),
    "edging between, keepers over it": (
        two(buckle("heel_2"), buckle("heel_2"), {"bar_to_bar": "60"}, body={"width": "2"}, lining="lining_2_3",
            edging={"leather": "bridle_10_11"}, keepers_between={"every": 2}, ornaments={"item": "no_2", "count": 21}),
        21,
    ),
}  # fmt: skip


@pytest.mark.parametrize("name", STRAPS)
def test_it_is_made_whole_from_its_answer_alone(name):
    document, count = STRAPS[name]
    spec = read_spec(document, "in")
    pattern = solve(spec, SHOP)
    bells = sorted(each.x for each in pattern.pieces[0].features if each.purpose == "ornament")
    assert len(bells) == count
    assert all(one < other for one, other in pairwise(bells))
    judge_loops(pattern, SHOP)
    Bench(answer_for(spec, SHOP)).make()


@pytest.mark.parametrize("name", [name for name in STRAPS if "spliced" in name])
def test_a_lap_in_a_close_row_lies_between_bells_and_is_no_shorter_than_the_shop_sews(name):
    body = solve(read_spec(STRAPS[name][0], "in"), SHOP).pieces[0]
    assert body.splices
    cuts = [(each.x, each.across // 2) for each in body.features if each.action == "punch"]
    for lap in body.splices:
        assert 7 * body.thickness <= lap.end - lap.start <= 12 * body.thickness + INCH // 16
        apart = min(max(lap.start - x, x - lap.end) - half for x, half in cuts)
        assert apart >= SHOP.rules.splice_clear - 1
