"""What holds each end: rivets, screws or stitches, said end by end; a seam never runs across the strap."""

from dataclasses import replace

import pytest

from openapi.example_requests import examples
from service.schemas.spec import read_spec
from service.shop_file import demo_shop
from service.strap.plane.lengths import INCH, MM
from service.strap.solve import solve
from tests.support.straps import assert_told_and_mended
from tests.walker.bench import Bench
from tests.workshop.test_walker import answer_for

SHOP = demo_shop()
RIVET = SHOP.fasteners["double_cap_medium"]
SCREW = replace(RIVET, id="screw_7", barrel=7 * MM, post_length=7 * MM, grip_min=6 * MM, grip_max=8 * MM)
RIVETED = replace(SHOP, fasteners={name: each for name, each in SHOP.fasteners.items() if not each.is_screw})
SCREWED = replace(SHOP, fasteners=RIVETED.fasteners | {SCREW.id: SCREW})


def spec_of(head, foot, **more):
    strap = {"construction": "two_ends", "size": {"body_length": "30"}, "ends": {"head": head, "foot": foot}}
    return read_spec(strap | more, "in")


def buckle(**more):
    return {"kind": "buckle", **more}


def billet(**more):
    return {"kind": "billet", "width": "1", "end": {"kind": "tip"}, **more}


def purposes(pattern):
    holes = {each.purpose for piece in pattern.pieces for each in piece.features}
    return holes | {line.purpose for piece in pattern.pieces for line in piece.stitch_lines}


@pytest.mark.parametrize("hold", ["rivets", "stitches"])
@pytest.mark.parametrize("join", ["rivets", "stitches"])
def test_each_end_is_held_as_it_says(hold, join):
    pattern = solve(spec_of(buckle(hold=hold), billet(join=join), body={"width": "1"}), SHOP)
    folds, joints = {"rivets": "fold_rivet", "stitches": "fold_stitch"}, {"rivets": "joint", "stitches": "joint_stitch"}
    found = purposes(pattern)
    assert found & set(folds.values()) == {folds[hold]}
    assert found & set(joints.values()) == {joints[join]}
    Bench(answer_for(pattern.spec, SHOP)).make()


def test_one_end_may_be_sewn_and_the_other_riveted():
    pattern = solve(spec_of(buckle(hold="stitches"), {"kind": "ring"}, body={"width": "1"}), SHOP)
    body = pattern.pieces[0]
    assert all(x < body.length / 2 for line in body.stitch_lines for x, _ in line.points)
    assert all(each.x > body.length / 2 for each in body.features if each.purpose == "fold_rivet")


@pytest.mark.parametrize("name", [name for name, each in examples().items() if "stitching" in each])
def test_no_seam_runs_across_a_strap_but_round_its_end(name):
    """A saddlery's rule (oaksidesaddlery.uk): never a line of stitches straight across a strap, it tears there."""
    pattern = solve(read_spec(examples()[name], "in"), SHOP)
    for piece in pattern.pieces:
        for line in piece.stitch_lines:
            if line.purpose != "edge_stitch":
                assert len({y for _, y in line.points}) == 1


def test_a_sewn_billet_lies_on_leather_along_all_of_its_seam():
    """The body is shaped under it: its seam begins where the body is an inset wider than where it runs."""
    pattern = solve(spec_of(buckle(), billet(join="stitches"), body={"width": "1"}), SHOP)
    body, tongue = pattern.pieces[0], pattern.piece("tongue_billet")
    assert tongue.lap == 2.5 * INCH
    shape, depth = body.outline.foot
    assert (shape, depth) == ("english_point", INCH / 2)
    along = [x for line in tongue.stitch_lines for x, _ in line.points]
    assert max(along) < tongue.lap - 0.2 * depth
    assert min(along) > 0


def test_screws_are_taken_by_the_stack_and_screwed():
    answer = answer_for(spec_of(buckle(hold="screws"), billet(join="screws"), body={"width": "1"}), SCREWED)
    Bench(answer).make()
    screws = {each["for"] for each in answer["hardware"] if each["item"] == "screw_7"}
    assert screws == {"joint", "fold_rivet"}
    done = [step for step in answer["steps"] if step["op"] == "rivet" and "keeper" not in step["pieces"]]
    assert [(step["tool"], step["do"].split()[0]) for step in done] == [("screwdriver", "Screw")] * 2


@pytest.mark.parametrize(
    ("ends", "more", "shop", "code", "path"),
    [
        ((buckle(hold="screws"), billet()), {}, RIVETED, "unknown_fastener", ("ends", "head", "hold")),
        ((buckle(), billet(join="stitches")), {"joint": {"count": 1, "end_distance": "1/2"}}, SHOP,
         "stitched_joint_short", ("joint", "end_distance")),
        ((buckle(hold="stitches"), billet()), {"joint": {"count": 1, "end_distance": "1/4"}}, SHOP,
         "stitched_fold_short", ("joint", "end_distance")),
        ((buckle(hold="screws"), billet()), {"leather": "lining_2_3"}, SCREWED, "fastener_long", ("joint", "fastener")),
    ],
)  # fmt: skip
def test_what_cannot_hold_is_told_and_mended(ends, more, shop, code, path):
    assert_told_and_mended(spec_of(*ends, body={"width": "1"}, **more), code, path, shop)


def test_a_billet_adds_what_it_was_asked_to():
    """A restored harness strap has a narrower billet stitched on, which adds 12 in (classicbells.com, its projects)."""
    pattern = solve(spec_of(buckle(), billet(join="stitches", adds="12"), body={"width": "1"}), SHOP)
    tongue = pattern.piece("tongue_billet")
    assert tongue.length - tongue.lap == 12 * INCH
    riveted = solve(spec_of(buckle(), billet(adds="12"), body={"width": "1"}), SHOP)
    holes = [each.x for each in riveted.piece("tongue_billet").features if each.purpose == "joint"]
    assert riveted.piece("tongue_billet").length - max(holes) == 12 * INCH + SHOP.defaults.joint_end_distance
    assert_told_and_mended(
        spec_of(buckle(), billet(adds="6"), body={"width": "1"}), "billet_short", ("ends", "foot", "adds"), SHOP
    )
