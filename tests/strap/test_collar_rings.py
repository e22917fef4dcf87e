"""Collar rings in the fold beside a buckle: riveted or sewn in, beside a keeper, on the body or on a billet.

A keeper right at the ring keeps the tail from flipping over it (wheatkingsleather.com); a line of stitches is never
laid across a strap (a saddlery's rules, oaksidesaddlery.uk).
"""

from math import hypot

import pytest

from service.drawing.finished.made_up import made_up
from service.schemas.spec import read_spec
from service.shop_file import demo_shop
from service.strap.plane.lengths import MM
from service.strap.solve import solve
from tests.strap.test_random_straps import judge
from tests.support.straps import assert_told_and_mended
from tests.support.wearer import assert_worn_as_told
from tests.walker.bench import Bench
from tests.walker.hands import Botched
from tests.workshop.test_walker import answer_for

SHOP = demo_shop()
TIP = {"kind": "tip"}
SEWN = {"hold": "stitches"}


def collar(ring="dee_38", *, on_billet=False, **more):
    """A plain collar of 1 in; whatever is not of its buckle stands beside."""
    own = {name: more.pop(name) for name in ("hold", "keeper", "keeper_width") if name in more}
    ends = {"head": {"kind": "buckle", "ring": ring, **own}, "foot": TIP}
    if on_billet:
        ends = {name: {"kind": "billet", "end": end} for name, end in ends.items()}
        more = {"body": {"width": "1 1/2"}} | more
    return {"construction": "two_ends", "size": {"body_length": "26 in"}, "ends": ends, **more}


def made(document):
    return solve(read_spec(document, "in"), SHOP)


def seams(pattern):
    """From where to where each seam of the head's fold goes, the nearest to the fold first."""
    lines = (line for line in pattern.pieces[0].stitch_lines if line.purpose == "fold_stitch")
    return sorted({(min(x for x, _ in line.points), max(x for x, _ in line.points)) for line in lines})


@pytest.mark.parametrize("ring", ["ring_38", "dee_38", "rectangle_32", "dee_50"])
@pytest.mark.parametrize("keeper", ["loose", "fixed", ["loose", "fixed"], "none"], ids=str)
def test_a_ring_of_any_shape_lies_in_a_seam_that_holds_to_both_sides_of_it(ring, keeper):
    """Geometry: the rail, its clearance and what a stitch keeps clear to both sides fit into the gap; and the least
    length of a stitched fold lies before it and behind it."""
    pattern = made(collar(ring, keeper=keeper, **SEWN))
    judge(pattern)
    (first, second), rules = seams(pattern), SHOP.rules
    assert second[0] - first[1] >= SHOP.rings[ring].thickness + rules.hardware_clear + 2 * rules.stitch_clear
    assert min(high - low for low, high in (first, second)) >= rules.stitched_fold
    lines = [line for line in pattern.pieces[0].stitch_lines if line.purpose == "fold_stitch"]
    assert len(lines) == len({line.id for line in lines}) == 4
    assert all(len({y for _, y in line.points}) == 1 for line in lines)  # along the strap, never across it
    assert sum(line.count for line in pattern.hardware if line.item == "thread") == 4


@pytest.mark.parametrize("hold", ["rivets", "stitches", "screws"])
@pytest.mark.parametrize("keeper", ["loose", "fixed"])
@pytest.mark.parametrize("on_billet", [False, True])
def test_the_bench_makes_it_and_the_wearer_wears_it(hold, keeper, on_billet):
    """The ring is slipped on before the keeper is tucked in and the fold closed (common practice)."""
    document = collar(hold=hold, keeper=keeper, on_billet=on_billet)
    answer = answer_for(read_spec(document, "in"))
    Bench(answer).make()
    assert_worn_as_told(answer, SHOP)
    ops = [step["op"] for step in answer["steps"]]
    assert ops.index("slip") < ops.index("tuck" if keeper == "fixed" else "fold") <= ops.index("fold")


def test_a_fixed_keeper_stands_right_at_the_ring():
    """A keeper right at the ring keeps the tail from flipping over it (wheatkingsleather.com): its far edge is no
    farther from the ring's rail than a stitch and the rail's clearance take."""
    for document in (collar(keeper="fixed", **SEWN), collar(keeper="fixed", joint={"spacing": "11/16 in"})):
        pattern = made(document)
        strap = made_up(pattern, SHOP)
        (keeper,), ring = strap.keepers, strap.lead_ring
        beside = ring.x - ring.ring.thickness / MM / 2 - (keeper.x + keeper.width / 2)
        assert 0 <= beside <= (SHOP.rules.stitch_clear + SHOP.rules.hardware_clear) / MM + 1.6


def test_no_ring_passes_a_keeper_that_is_tucked_in():
    """The walker notices it."""
    answer = answer_for(read_spec(collar(keeper="fixed", **SEWN), "in"))
    steps = answer["steps"]
    (slip,) = (step for step in steps if step["op"] == "slip")
    steps.remove(slip)
    steps.insert(next(n for n, step in enumerate(steps) if step["op"] == "tuck") + 1, slip)
    with pytest.raises(Botched, match="cannot pass the keeper"):
        Bench(answer, heed_after=False).make()


def test_the_tip_passes_through_the_ring_that_is_wide_enough():
    """Geometry: two plies of 1 in by 3.4 mm lie in a circle of 1 17/32 in, and beside the straight side of a dee."""
    strap = hypot(25.4, 2 * 3.6), hypot(25.4, 4 * 3.6)
    assert max(strap) < 38.9
    for ring in ("ring_38", "dee_38"):
        worn = made(collar(ring, **SEWN)).worn
        assert {cover.lies for each in worn for cover in each.covers if cover.at == "lead_ring"} == {"through"}


def test_a_short_form_may_sew_its_ring_in():
    """Where the turned-back end is stitched the ring lies in its seam, whichever way the strap is asked for."""
    short = {
        "construction": "one_piece", "size": {"body_length": "26 in"}, "billet": {"ring": "dee_38"},
        "stitching": {"edges": False, "turn_back": True},
    }  # fmt: skip
    said = collar(stitching={"edges": False, "turn_back": True})
    assert made(short).pieces == made(said).pieces


WRONG = [
    (collar(keeper="fixed", keeper_width="1 in", joint={"spacing": "3/4 in"}), "ring_room_short", "joint.spacing"),
    (collar("ring_25", body={"width": "1 1/2"}, **SEWN), "ring_narrow", "ends.head.ring"),
    (collar() | {"ends": {"head": {"kind": "ring"}, "foot": {"kind": "buckle", "ring": "dee_38"}}},
     "without_meaning", "ends.foot.ring"),
]  # fmt: skip


@pytest.mark.parametrize(("document", "code", "path"), WRONG, ids=[case[1] for case in WRONG])
def test_what_has_no_room_is_told_to_its_field_and_has_a_remedy(document, code, path):
    assert_told_and_mended(read_spec(document, "in"), code, tuple(path.split(".")), SHOP)
