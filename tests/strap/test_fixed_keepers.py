"""Keepers at a buckle: loose, fixed in what is turned back, several; by hand, by the bench and by the wearer.

A fixed keeper is a loop whose two ends are riveted or stitched in the return of a buckle (common practice among harness
and belt makers); of several, loose ones lie beside the frame.
"""

from itertools import pairwise
from math import pi

import pytest

from service.drawing.finished.made_up import made_up
from service.drawing.finished.wording import description
from service.schemas.spec import SpecError, read_spec, spec_document
from service.shop_file import demo_shop
from service.strap.model.spec_changes import apply
from service.strap.plane.lengths import INCH, MM
from service.strap.remedies.remedies import find_remedies
from service.strap.solve import solve
from service.workshop.materials import Order, materials_of
from tests.strap.test_random_straps import judge
from tests.support.straps import assert_told_and_mended
from tests.support.wearer import assert_worn_as_told
from tests.walker.bench import Bench
from tests.workshop.test_walker import answer_for

SHOP = demo_shop()
TIP = {"kind": "tip"}
SEVERAL = ("fixed", ["fixed", "fixed"], ["loose", "fixed"], ["fixed", "fixed", "fixed"])


def kept(keeper, foot=TIP, *, size="30 in", **more):
    own = {name: more.pop(name) for name in ("hold", "keeper_width", "buckle") if name in more}
    head = {"kind": "buckle", "keeper": keeper} | own
    size = {"body_length": size}
    return {"construction": "two_ends", "size": size, "ends": {"head": head, "foot": foot}, **more}


def spec_of(document):
    return read_spec(document, "in")


def made(document):
    return solve(spec_of(document), SHOP)


def rivets(pattern, name="strap"):
    return [each for each in pattern.piece(name).features if each.purpose == "fold_rivet"]


def test_a_riveted_keeper_lies_over_a_rivet_that_goes_through_all_four_plies():
    """Worked by hand: two plies of 8-9 oz and two ends of the keeper, skived to half, are 9.6 to 10.8 mm thick, and the
    shop's rivet for 3/8 to 7/16 in (9.5 to 11.1 mm) holds that; the fold's other rivet stays that for two plies."""
    pattern = made(kept("fixed"))
    keeper = pattern.piece("fixed_keeper")
    near, far = sorted((each for each in rivets(pattern) if each.x > 3 * INCH), key=lambda each: each.x)
    assert {each.id for each in keeper.features} < set(near.mates)
    assert len(near.mates) == 3
    assert (near.item, far.item) == ("double_cap_large", "double_cap_medium")
    counts = {line.item: line.count for line in pattern.hardware if line.purpose == "fold_rivet"}
    assert counts == {"double_cap_large": 1, "double_cap_medium": 1}
    assert all(each.item is None and each.footprint == 0 for each in keeper.features)


def test_the_blank_of_a_fixed_keeper_goes_round_the_front_ply_and_the_tip():
    """Geometry: twice the width and the two plies in it, four corners of a quarter turn of 1.7 mm leather about its
    middle, the lap, and 1 mm of ease; up to a sixteenth. Sewn in, its ends meet: no lap, and no holes."""
    round_about = 2 * (25.4 + 2 * 3.373) + 4 * (pi / 2) * 0.5 * 1.687 + 1
    for hold, lap, holes in (("rivets", 12.7, 2), ("stitches", 0, 0)):
        keeper = made(kept("fixed", hold=hold)).piece("fixed_keeper")
        assert 0 <= keeper.length / MM - round_about - lap < 25.4 / 16 + 0.01
        assert len(keeper.features) == holes


@pytest.mark.parametrize("keeper", SEVERAL, ids=str)
@pytest.mark.parametrize("hold", ["rivets", "stitches", "screws"])
@pytest.mark.parametrize("on_billet", [False, True])
def test_whatever_keepers_there_are_the_bench_makes_and_the_wearer_wears(keeper, hold, on_billet):
    """Each fixed keeper takes a rivet of its own, on the body and on a billet; by shapely, walker and wearer."""
    document = kept(keeper, hold=hold, ornaments={"item": "bell_25", "count": 3})
    if on_billet:
        ends = {"head": document["ends"]["head"], "foot": TIP}
        document |= {"body": {"width": "1 1/2"}}
        document["ends"] = {name: {"kind": "billet", "end": end} for name, end in ends.items()}
    pattern = made(document)
    judge(pattern)
    answer = answer_for(spec_of(document))
    Bench(answer).make()
    assert_worn_as_told(answer, SHOP)
    assert pattern.piece("fixed_keeper").count == (keeper.count("fixed") if isinstance(keeper, list) else 1)


@pytest.mark.parametrize("hold", ["rivets", "stitches"])
def test_fixed_keepers_are_tucked_in_before_the_fold_is_closed(hold):
    """Common practice: what a fold will hold or trap lies there before it is closed, and is held after that."""
    steps = answer_for(spec_of(kept(["loose", "fixed"], hold=hold)))["steps"]
    (slip,), (tuck,), (fold,) = ([step for step in steps if step["op"] == op] for op in ("slip", "tuck", "fold"))
    assert slip["n"] < fold["n"]
    assert {slip["n"], tuck["n"]} <= set(fold["after"])
    held = next(step for step in steps if step["n"] > fold["n"] and step["op"] in ("rivet", "glue"))
    assert fold["n"] in held["after"]


def test_the_walker_notices_a_keeper_that_is_tucked_in_too_late():
    """Moved behind the fold, its ends find no open fold."""
    answer = answer_for(spec_of(kept("fixed")))
    steps = answer["steps"]
    (tuck,) = (step for step in steps if step["op"] == "tuck")
    steps.remove(tuck)
    steps.insert(next(n for n, step in enumerate(steps) if step["op"] == "fold") + 1, tuck)
    with pytest.raises(Exception, match="not on"):
        Bench(answer, heed_after=False).make()


def test_several_loose_keepers_lie_side_by_side_beside_the_frame():
    """Each takes its width and the shop's clearance; they are one piece, made twice, with a rivet for each."""
    one, two = (made(kept(keeper)) for keeper in ("loose", ["loose", "loose"]))
    assert two.piece("keeper").count == 2
    room = {check.rule: check for check in two.checks}["keeper_room"]
    assert room.limit == 2 * (SHOP.rules.keeper_width + SHOP.rules.hardware_clear)
    uses = [{use.name: use.count for use in materials_of((Order(pattern=each),), SHOP).pieces} for each in (one, two)]
    assert (uses[0]["keeper"], uses[1]["keeper"]) == (1, 2)
    assert sum(line.count for line in two.hardware if line.purpose == "keeper_rivet") == 2


@pytest.mark.parametrize("hold", ["rivets", "stitches"])
def test_the_tip_passes_the_nearest_fixed_keeper_at_the_loosest_hole(hold):
    """Common practice: beyond the last hole there is tip enough to pass the keeper."""
    checks = {check.rule: check for check in made(kept("fixed", hold=hold)).checks}
    bar_to_far_side = checks["tongue_reach"].limit - SHOP.rules.tip_past_keeper
    loose = {check.rule: check for check in made(kept("loose", hold=hold)).checks}
    assert bar_to_far_side > checks["fold_reach"].value
    assert checks["tongue_reach"].value >= checks["tongue_reach"].limit
    assert loose["tongue_reach"].limit < checks["tongue_reach"].limit


def test_sewn_in_a_keeper_lies_wholly_within_its_seam():
    """Geometry: from its near edge to its far one, on the front ply."""
    pattern = made(kept(["fixed", "fixed"], hold="stitches"))
    strap, width = pattern.pieces[0], SHOP.rules.keeper_width
    marks = sorted(each.x for each in strap.features if each.purpose == "fixed_keeper")
    seam = [x for line in strap.stitch_lines for x, _ in line.points]
    assert min(seam) <= marks[0] - width // 2
    assert marks[-1] + width // 2 <= max(seam)
    assert marks[1] - marks[0] == pattern.spec.joint.spacing


WRONG = [
    (kept(["fixed", "fixed"], joint={"spacing": "1/2 in"}), "fixed_keepers_crowded", "ends.head.keeper_width"),
    (kept("fixed", keeper_width="1 3/4 in"), "fixed_keepers_crowded", "ends.head.keeper_width"),
    (kept("fixed", keeper_width="1 3/4 in", joint={"count": 1}), "fixed_keeper_unheld", "ends.head.keeper_width"),
    (kept("fixed", hold="stitches", keeper_width="1 1/2 in", joint={"count": 1}),
     "fixed_keeper_unheld", "ends.head.keeper_width"),
    (kept("none", {"kind": "buckle", "keeper": ["fixed", "fixed"]}, joint={"spacing": "1/2 in"}),
     "fixed_keepers_crowded", "ends.foot.keeper_width"),
    (kept("fixed", leather="bridle_10_11", lining="latigo_6_7"), "fastener_short", "ends.head.keeper"),
    (kept(["fixed", "none"]), "without_meaning", "ends.head.keeper"),
    (kept("none", keeper_width="1/2 in"), "without_meaning", "ends.head.keeper_width"),
]  # fmt: skip


@pytest.mark.parametrize(("document", "code", "path"), WRONG, ids=[case[1] for case in WRONG])
def test_what_cannot_be_held_is_told_to_its_field_and_has_a_remedy(document, code, path):
    assert_told_and_mended(spec_of(document), code, tuple(path.split(".")), SHOP)


@pytest.mark.parametrize("keeper", ["tight", [], ["loose"] * 4, [None], 1])
def test_no_other_keepers_are_read(keeper):
    with pytest.raises(SpecError) as error:
        spec_of(kept(keeper))
    assert error.value.faults[0].path[:3] == ("ends", "head", "keeper")


@pytest.mark.parametrize("keeper", ["fixed", ["loose", "fixed"]])
def test_a_spec_with_keepers_is_written_as_it_is_read(keeper):
    spec = made(kept(keeper)).spec
    document = spec_document(spec, "in")
    assert document["ends"]["head"]["keeper"] == keeper
    assert read_spec(document, "in").ends.head.keepers == spec.ends.head.keepers


def test_the_finished_look_shows_each_keeper_once_and_no_rivet_beneath_one():
    pattern = made(kept(["loose", "fixed", "fixed"], joint={"count": 3}))
    strap = made_up(pattern, SHOP)
    places = sorted(each.x for each in strap.keepers)
    assert len(places) == 3
    width = SHOP.rules.keeper_width / MM
    assert all(b - a >= width for a, b in pairwise(places))
    assert [each.feature.item for each in strap.rivets] == ["double_cap_medium"]
    assert "a keeper and 2 fixed keepers of leather" in description(pattern, strap, SHOP, "in")


def test_remedies_of_a_keeper_at_the_foot_change_the_foot():
    """Each is accepted when it is sent."""
    spec = spec_of(kept("none", {"kind": "buckle", "keeper": ["fixed", "fixed"]}, joint={"spacing": "1/2 in"}))
    with pytest.raises(Exception) as refusal:  # noqa: PT011 -- whatever is raised has to have faults
        solve(spec, SHOP)
    remedies = find_remedies(spec, SHOP, refusal.value.faults)
    for remedy in remedies:
        solve(apply(spec, remedy.changes), SHOP)
    assert any(change.path[:2] == ("ends", "foot") for remedy in remedies for change in remedy.changes)
