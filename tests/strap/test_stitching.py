"""Linings and lines of stitches, against shapely, svgelements and figures worked by hand."""

import json
from dataclasses import replace
from itertools import pairwise
from math import pi

import pytest
import shapely
from hypothesis import given
from hypothesis import strategies as st
from svgelements import Path as SvgPath

from service.schemas.pattern import made_document
from service.schemas.spec import SpecError, canonical_json, read_spec
from service.shop_file import demo_shop
from service.strap.errors import Refusal
from service.strap.filling.resolve import resolve
from service.strap.fixings.stitches import hole_places
from service.strap.making.layout import lay_out
from service.strap.model.spec import Billet, Body, Ends, Joint, Lining, Size, Spec, Stitching, StrapEnd
from service.strap.model.spec_set import Border, Row
from service.strap.plane.lengths import INCH, MM, SIXTY_FOURTH, parse_length
from service.strap.plane.outline import chain_data, path_data, strap_outline
from service.strap.plane.parallel import inner_half
from service.strap.remedies.remedies import find_remedies
from service.strap.rules.checks import measure_rules, tightest
from service.strap.solve import solve
from tests.support.shapes import ring
from tests.support.straps import assert_told_and_mended, ends, sixteenths

SHOP = demo_shop()
SQUARE = StrapEnd(kind="plain", shape="square")
RING = StrapEnd(kind="ring")


def inches(text: str) -> int:
    return parse_length(f"{text} in", "in")


STRIP = Spec(
    construction="open",
    size=Size(body_length=10 * INCH),
    body=Body(width=2 * INCH),
    ends=Ends(head=SQUARE, foot=SQUARE),
    stitching=Stitching(inset=INCH // 4, per_inch=8),
)
HARNESS = Spec(construction="three_piece", size=Size(body_length=24 * INCH), lining="lining_2_3")
COLLAR = Spec(construction="one_piece", size=Size(girth=16 * INCH), stitching=Stitching())
EXACT = Row(item="spot_10", count=0, spacing="even")
"""Nothing on the strap, and nothing of it moved to a graduation."""
BAG = Spec(
    construction="open",
    size=Size(finished_length=30 * INCH),
    ends=Ends(head=RING, foot=RING),
    lining="lining_2_3",
    leather="latigo_6_7",
    stitching=Stitching(turn_back=True),
)


def lines_of(spec, purpose=None, shop=SHOP):
    pieces = solve(spec, shop).pieces
    return [line for piece in pieces for line in piece.stitch_lines if purpose in (None, line.purpose)]


def seam_of(line) -> shapely.LineString:
    places = [(x / MM, y / MM) for x, y in line.points]
    return shapely.LineString([*places, *(places[:1] if line.closed else [])])


@given(head=ends(), foot=ends(), width=sixteenths(3 / 4, 4), length=sixteenths(6, 30), inset=sixteenths(1 / 16, 3 / 4))
def test_the_line_is_the_outline_moved_inwards(head, foot, width, length, inset):
    """Against shapely's buffer of the outline as svgelements samples it."""
    forms = [(end.shape, end.depth if end.depth is not None else _usual(end.shape, width)) for end in (head, foot)]
    outline = strap_outline(length, width, *forms)
    half = inner_half(outline, inset)
    moved = ring(path_data(outline), 400).buffer(-inset / MM, join_style="mitre", mitre_limit=1000)
    if not half or moved.is_empty or moved.area < 1:
        assert moved.area < 1
        return
    ours = shapely.Polygon([(x / MM, y / MM) for x, y in (*half, *((x, -y) for x, y in reversed(half)))])
    assert ours.is_valid
    assert ours.exterior.hausdorff_distance(moved.exterior.simplify(0.0005)) < 0.05
    assert ours.length == pytest.approx(moved.length, rel=1e-3)


def _usual(shape: str, width: int) -> int:
    return {"square": 0, "clipped": width // 4}.get(shape, width // 2)


def test_a_rectangle_by_hand():
    """9 1/2 x 1 1/2 in at 8 to the inch: 76 + 12 + 76 + 12 stitches, as many holes, 22 in of seam."""
    (line,) = lines_of(STRIP)
    assert [run.stitches for run in line.runs] == [76, 12, 76, 12]
    assert (line.closed, line.holes, line.stitches, line.length) == (True, 176, 176, 22 * INCH)
    assert line.pitch == INCH // 8


def test_thread_by_hand():
    """Four times the seam is the rule of saddle stitching (common practice); thick leather takes more.

    Here each strand lies along 22 in and goes through 8 1/2 oz 176 times: 22 + 176 x 8.5/64 = 45.375 in.
    """
    spare = SHOP.rules.thread_spare
    (thread,) = (line for line in solve(STRIP, SHOP).hardware if line.item == "thread")
    assert (thread.count, thread.purpose) == (1, "edge_stitch")
    assert thread.length == pytest.approx(2 * (INCH * 45.375 + spare), abs=MM // 1000)
    coarse = replace(STRIP, leather="latigo_6_7", stitching=replace(STRIP.stitching, per_inch=5))
    (thread,) = (line for line in solve(coarse, SHOP).hardware if line.item == "thread")
    assert thread.length == 4 * 22 * INCH + 2 * spare
    single = replace(coarse, stitching=replace(coarse.stitching, strands=1))
    (thread,) = (line for line in solve(single, SHOP).hardware if line.item == "thread")
    assert thread.length == 2 * 22 * INCH + spare


@pytest.mark.parametrize("per_inch", range(5, 13))
def test_five_to_twelve_stitches_to_the_inch_are_made(per_inch):
    """Common practice."""
    for spec in (STRIP, HARNESS, COLLAR, BAG):
        stitching = replace(spec.stitching or Stitching(), per_inch=per_inch)
        for line in lines_of(replace(spec, stitching=stitching)):
            for run in line.runs:
                assert abs(run.length * per_inch - run.stitches * INCH) <= INCH / 2 + per_inch


@pytest.mark.parametrize("pitch", ["2 mm", "2.7 mm", "3 mm", "3.38 mm", "3.85 mm", "4 mm", "5 mm"])
def test_pricking_irons_by_their_pitch(pitch):
    """Irons as makers sell them (from memory): the whole number of stitches nearest to the iron's own."""
    wanted = parse_length(pitch, "mm")
    (line,) = lines_of(replace(STRIP, stitching=Stitching(inset=INCH // 4, pitch=wanted)))
    for run in line.runs:
        assert run.stitches == round(run.length / wanted)


LINED_COLLAR = replace(COLLAR, lining="lining_2_3")
SPECS = {"strip": STRIP, "harness": HARNESS, "collar": COLLAR, "bag": BAG, "lined collar": LINED_COLLAR}


@pytest.mark.parametrize("name", SPECS)
def test_holes_divide_each_run_evenly_and_close_exactly(name):
    """By shapely: places along the seam, in equal steps from corner to corner; both ends of an open line are holes."""
    for line in lines_of(SPECS[name]):
        seam = seam_of(line)
        holes = [(x / MM, y / MM) for x, y in hole_places(line)]
        assert len(holes) == len(set(holes)) == line.holes
        corners = {(x / MM, y / MM) for run in line.runs for x, y in (run.points[0], run.points[-1])}
        pricked = shapely.MultiPoint(holes)
        assert all(pricked.distance(shapely.Point(corner)) < 1e-6 for corner in corners)
        assert all(seam.distance(shapely.Point(hole)) < 1e-6 for hole in holes)
        if not line.closed:
            assert (holes[0], holes[-1]) == (seam.coords[0], seam.coords[-1])
        at = [seam.project(shapely.Point(hole)) for hole in holes] + ([seam.length] if line.closed else [])
        steps = iter(after - before for before, after in pairwise(at))
        for run in line.runs:
            of_run = [next(steps) for _ in range(run.stitches)]
            assert of_run == pytest.approx([run.length / MM / run.stitches] * run.stitches, abs=1e-4)


@pytest.mark.parametrize("name", SPECS)
def test_path_data_are_as_long_as_they_say(name):
    """By svgelements, to the 0.001 mm of the path data's own rounding."""
    pattern = solve(SPECS[name], SHOP)
    document = made_document(pattern, (), (), "mm")
    lines = [line for piece in document["pieces"] for line in piece.get("stitch_lines", ())]
    assert lines
    for line in lines:
        assert SvgPath(line["path"]).length() == pytest.approx(line["length_mm"], abs=0.05)
        assert line["holes"] == line["stitches"] + (not line["closed"])
        assert line["pitch_mm"] == pytest.approx(line["length_mm"] / line["stitches"], abs=0.001)
    assert chain_data([(0, 0), (MM, 0)], closed=False) == "M0 0 L1 0"


@given(width=sixteenths(1, 3), inset=sixteenths(1 / 8, 1 / 4), per_inch=st.integers(5, 12))
def test_a_round_end_has_the_holes_of_its_half_circle(width, inset, per_inch):
    """The line round an open strap with two round ends is two straights and a circle: 2 (l - w) + pi (w - 2 d)."""
    round_end = StrapEnd(kind="plain", shape="round")
    spec = replace(
        STRIP,
        body=Body(width=width),
        ends=Ends(head=round_end, foot=round_end),
        stitching=Stitching(inset=inset, per_inch=per_inch),
    )
    (line,) = lines_of(spec)
    expected = 2 * (10 * INCH - width) + pi * (width - 2 * inset)
    assert line.length == pytest.approx(expected, rel=2e-4)
    assert abs(line.stitches - expected * per_inch / INCH) <= 0.6
    assert len(line.runs) == 1


# ---------------------------------------------------------------- where lines run


def test_an_unlined_strap_is_stitched_from_behind_its_turned_back_end():
    pattern = solve(COLLAR, SHOP)
    (line,) = lines_of(COLLAR)
    strap = pattern.piece("strap")
    back, front = (next(ply for ply in pattern.placements if ply.direction == way) for way in (-1, 1))
    landing = back.offset - front.offset
    assert not line.closed
    assert {line.points[0][0], line.points[-1][0]} == {landing + line.inset}
    assert max(x for x, _ in line.points) == pytest.approx(strap.length - line.inset, abs=MM)


def test_a_lining_is_stitched_on_all_round_before_the_fold_is_riveted():
    for spec, name in ((HARNESS, "body"), (replace(COLLAR, lining="lining_2_3"), "strap")):
        pattern = solve(spec, SHOP)
        lined, lining = pattern.piece(name), pattern.piece("lining")
        assert (lining.outline, lining.features, lining.leather.id) == (lined.outline, (), "lining_2_3")
        (line,) = lined.stitch_lines
        assert line.closed
        assert min(x for x, _ in line.points) < 2 * line.inset


def test_a_stitched_fold_has_no_rivets_and_its_seam_lies_on_both_plies():
    for spec, count in ((BAG, 2), (replace(COLLAR, stitching=Stitching(turn_back=True)), 1)):
        pattern = solve(spec, SHOP)
        strap = pattern.piece("strap")
        assert not [f for f in strap.features if f.purpose == "fold_rivet"]
        seams = [line for line in strap.stitch_lines if line.purpose == "fold_stitch"]
        assert len(seams) == 2 * count
        outline = ring(path_data(strap.outline), 400)
        folds = [f.x for f in strap.features if f.kind == "fold"]
        for seam in seams:
            fold = min(folds, key=lambda x: abs(x - seam.points[0][0]))
            beneath = shapely.LineString([((2 * fold - x) / MM, y / MM) for x, y in seam.points])
            assert outline.exterior.distance(beneath) == pytest.approx(seam.inset / MM, abs=1e-3)
            assert outline.contains(beneath)


def test_the_tail_under_a_shaped_end_holds_its_seam():
    pointed = replace(BAG, ends=Ends(head=replace(RING, shape="straight_point"), foot=RING))
    strap = solve(pointed, SHOP).piece("strap")
    outline = ring(path_data(strap.outline), 400)
    seam = next(line for line in strap.stitch_lines if line.id == "strap.fold_stitch.1")
    fold = min(f.x for f in strap.features if f.kind == "fold")
    beneath = shapely.LineString([((2 * fold - x) / MM, y / MM) for x, y in seam.points])
    assert outline.contains(beneath)
    assert outline.exterior.distance(beneath) >= SHOP.rules.stitch_edge / MM


# ---------------------------------------------------------------- the lining in every stack


def test_stacks_of_a_lined_harness_strap_by_hand():
    """8-9 oz body and billets, 2-3 oz lining: 18 to 21/64 in at the joint, 16 to 18/64 in at the fold."""
    job = resolve(HARNESS, SHOP)
    assert job.fastener.grip_min <= 18 * SIXTY_FOURTH
    assert job.fastener.grip_max >= 21 * SIXTY_FOURTH
    assert job.fold_held.fastener.id == "double_cap_medium"
    items = {(line.item, line.purpose) for line in solve(HARNESS, SHOP).hardware}
    assert {(job.fastener.id, "joint"), ("double_cap_medium", "fold_rivet")} <= items


@pytest.mark.parametrize("leather", ["harness_8_9", "bridle_10_11", "latigo_6_7"])
@pytest.mark.parametrize("spec", [HARNESS, replace(COLLAR, lining="lining_2_3")], ids=["three_piece", "one_piece"])
def test_every_post_of_a_lined_strap_is_a_sixteenth_to_an_eighth_longer_than_its_stack(leather, spec):
    """Hardware sellers: the post stands 1/16 to 1/8 in out of the stack before it is set."""
    outer, lining = SHOP.leathers[leather], SHOP.leathers["lining_2_3"]
    spec = replace(spec, leather=leather, billet=Billet(keeper=False))
    three_piece = spec.construction == "three_piece"
    stacks = {"joint": [outer, lining, outer], "fold_rivet": [outer, outer] if three_piece else [outer, lining] * 2}
    posts = [line for line in solve(spec, SHOP).hardware if line.purpose in stacks]
    assert posts
    for post in posts:
        fastener = SHOP.fasteners[post.item]
        plies = stacks[post.purpose]
        for thickness in (sum(ply.thin for ply in plies), sum(ply.thick for ply in plies)):
            assert INCH // 16 <= fastener.post_length - thickness <= INCH // 8


def test_a_girth_takes_pi_times_the_whole_thickness():
    """8 1/2 and 2 1/2 oz are 11/64 in: the flat length is girth + pi x 11/64 in."""
    lined = solve(replace(COLLAR, lining="lining_2_3", ornaments=EXACT), SHOP)
    assert lined.finished.from_bar == pytest.approx(16 * INCH + pi * 11 * SIXTY_FOURTH, abs=MM // 100)


def test_bend_and_keeper_go_round_the_lining_too():
    """The fold's outer edge lies bar / 2 + t + l beyond the bar; a keeper's loop holds three plies of both."""
    collar = replace(COLLAR, ornaments=EXACT)
    plain, lined = (solve(replace(collar, lining=lining), SHOP) for lining in (None, "lining_2_3"))
    bar = SHOP.buckles["heel_bar_25"].bar_thickness
    assert lined.finished.from_fold - lined.finished.from_bar == pytest.approx(bar / 2 + 11 * SIXTY_FOURTH, abs=2)
    longer = lined.piece("keeper").length - plain.piece("keeper").length
    assert longer == pytest.approx(2 * 3 * 2.5 * SIXTY_FOURTH, abs=6)


def test_a_lining_weighs_what_its_area_and_thickness_say():
    plain = replace(STRIP, stitching=None)
    lined = replace(STRIP, lining="lining_2_3")
    more = solve(lined, SHOP).finished.weight_mg - solve(plain, SHOP).finished.weight_mg
    lining = SHOP.leathers["lining_2_3"]
    cm3 = 25.4 * 5.08 * (2.5 / 64 * 2.54)
    assert more == pytest.approx(cm3 * float(lining.density) * 1000, abs=1)


@pytest.mark.parametrize(
    ("item", "leather", "thickest"), [("spot_10", "latigo_6_7", 10), ("bell_25", "harness_8_9", 12)]
)
def test_what_is_set_goes_through_body_and_a_lining_that_carries_it(item, leather, thickest):
    """Prongs clinch and shanks stand out behind the lining: 7 + 3 oz and 9 + 3 oz at their thickest."""
    lining = Lining(leather="lining_2_3", purpose="carry")
    spec = replace(STRIP, lining=lining, leather=leather, ornaments=Row(item=item, count=2))
    checks = {check.rule: check for check in solve(spec, SHOP).checks}
    fixing = SHOP.ornaments[item].fixing
    reach = fixing.length if item == "spot_10" else fixing.height
    rule = "prong_clinch_min" if item == "spot_10" else "shank_reach"
    assert checks[rule].value == reach - thickest * SIXTY_FOURTH


# ---------------------------------------------------------------- what is refused, and told where

WIDE_BELLS = Row(item="bell_25", count=3)
WRONG = [
    (replace(STRIP, stitching=Stitching(inset=MM)), "stitches_near_edge", ("stitching", "inset")),
    (replace(STRIP, stitching=Stitching(inset=inches("31/32"))), "stitches_without_room", ("stitching", "inset")),
    (replace(STRIP, stitching=Stitching(inset=INCH)), "stitches_without_room", ("stitching", "inset")),
    (replace(COLLAR, ornaments=WIDE_BELLS, stitching=Stitching(inset=inches("3/16"))),
     "stitches_near_cut", ("stitching", "inset")),
    (replace(STRIP, border=Border(item="spot_6")), "stitches_crowded", ("stitching", "inset")),
    (replace(STRIP, border=Border(item="spot_6"), stitching=Stitching()), "stitches_crowded", ("stitching", "inset")),
    (replace(STRIP, ornaments=Row(item="concho_25", count=3), body=Body(width=inches("1 1/8"))),
     "stitches_crowded", ("stitching", "inset")),
    (replace(BAG, joint=Joint(count=1, end_distance=inches("3/8"))),
     "stitched_fold_short", ("joint", "end_distance")),
    (replace(STRIP, stitching=Stitching(per_inch=4)), "stitching_beyond_limits", ("stitching", "per_inch")),
    (replace(STRIP, stitching=Stitching(per_inch=13)), "stitching_beyond_limits", ("stitching", "per_inch")),
    (replace(STRIP, stitching=Stitching(pitch=6 * MM)), "stitching_beyond_limits", ("stitching", "pitch")),
    (replace(STRIP, stitching=Stitching(turn_back=True)), "without_meaning", ("stitching", "turn_back")),
    (replace(HARNESS, lining="lining"), "unknown_leather", ("lining",)),
    (replace(HARNESS, lining="bridle_10_11"), "fastener_short", ("joint", "fastener")),
    (replace(HARNESS, joint=Joint(fastener="double_cap_medium")), "fastener_short", ("joint", "fastener")),
    (replace(HARNESS, lining=Lining(leather="lining_2_3", purpose="carry"), ornaments=Row(item="spot_10", count=4)),
     "prongs_short", ("ornaments", "item")),
    (replace(HARNESS, size=Size(body_length=82 * INCH)), "strip_too_long", ("lining",)),
]  # fmt: skip


@pytest.mark.parametrize(("spec", "code", "path"), WRONG, ids=[f"{n}-{case[1]}" for n, case in enumerate(WRONG)])
def test_each_wrong_spec_is_told_to_its_field_and_has_a_remedy(spec, code, path):
    assert_told_and_mended(spec, code, path, SHOP)


def test_a_fold_that_no_fastener_holds_is_told_to_the_leather():
    short = {name: each for name, each in SHOP.fasteners.items() if not name.startswith("double_cap_medium")}
    shop = replace(SHOP, fasteners=short, defaults=replace(SHOP.defaults, joint_fastener="double_cap_lined"))
    bare = replace(shop, fasteners={name: each for name, each in short.items() if name != "double_cap_lined_thin"})
    with pytest.raises(Refusal) as refusal:
        solve(HARNESS, bare)
    assert ("fastener_long", ("leather",)) in {(fault.code, fault.path) for fault in refusal.value.faults}
    assert find_remedies(HARNESS, bare, refusal.value.faults)


def moved(pattern, dx: int, dy: int):
    """The pattern with every line of stitches elsewhere, as if it had been laid out wrong."""

    def at(line):
        runs = tuple(replace(run, points=tuple((x + dx, y + dy) for x, y in run.points)) for run in line.runs)
        return replace(line, runs=runs)

    pieces = tuple(replace(piece, stitch_lines=tuple(map(at, piece.stitch_lines))) for piece in pattern.pieces)
    return replace(pattern, pieces=pieces)


SEWN_FOLD = replace(COLLAR, stitching=Stitching(edges=False, turn_back=True))


@pytest.mark.parametrize(
    ("spec", "dx", "dy", "rule"),
    [
        (STRIP, 0, 5 * MM, "stitch_edge"),
        (BAG, 0, 2 * MM, "stitch_edge"),
        (BAG, inches("1/8"), 0, "stitch_edge"),
        (SEWN_FOLD, -inches("1 1/2"), inches("3/8"), "stitch_web"),
        (SEWN_FOLD, -inches("1 1/2"), 0, "fold_reach"),
    ],
)  # fmt: skip
def test_the_checks_find_lines_that_lie_wrong(spec, dx, dy, rule):
    job = resolve(spec, SHOP)
    pattern = lay_out(job)

    def failed(candidate):
        return {check.rule for check in tightest(measure_rules(candidate, job)) if not check.passed}

    assert failed(pattern) == set()
    assert rule in failed(moved(pattern, dx, dy))


def test_a_seam_under_an_ornament_is_found():
    job = resolve(replace(BAG, ornaments=Row(item="spot_10", count=5)), SHOP)
    pattern = lay_out(job)
    strap = pattern.piece("strap")
    first = min(f.x for f in strap.features if f.purpose == "ornament")
    (_, y), (end, _) = next(line for line in strap.stitch_lines if line.id.endswith("fold_stitch.1")).points
    for away, passes in ((7 * MM, True), (5 * MM + 900_000, False)):
        checks = tightest(measure_rules(moved(pattern, first - away - end, -y), job))
        assert passes == all(check.passed for check in checks if check.rule == "stitch_clear")


def test_a_missing_line_is_found():
    job = resolve(STRIP, SHOP)
    pattern = lay_out(job)
    bare = replace(pattern, pieces=tuple(replace(piece, stitch_lines=()) for piece in pattern.pieces))
    assert "stitch_room" in {check.rule for check in tightest(measure_rules(bare, job)) if not check.passed}


# ---------------------------------------------------------------- saying it


def test_nothing_of_this_has_to_be_said():
    pattern = solve(replace(STRIP, stitching=None), SHOP)
    assert not any(piece.stitch_lines for piece in pattern.pieces)
    assert not any(check.rule.startswith("stitch") for check in pattern.checks)
    assert "thread" not in {line.item for line in pattern.hardware}


def test_a_lining_alone_is_stitched_on_and_may_be_glued_only():
    plain = replace(HARNESS, stitching=Stitching(edges=False))
    assert [line.id for line in lines_of(HARNESS)] == ["body.edge_stitch.1"]
    assert lines_of(plain) == []
    assert solve(plain, SHOP).piece("lining")


DOCUMENT = {"construction": "open", "size": {"body_length": "10"}, "units": "in"}


def test_stitching_of_nothing_but_defaults_keeps_its_place_in_the_code():
    wanted, plain = (read_spec(DOCUMENT | more, "in") for more in ({"stitching": {}}, {}))
    assert read_spec(json.loads(canonical_json(wanted, "in")), "in") == wanted
    assert canonical_json(wanted, "in") != canonical_json(plain, "in")
    assert lines_of(wanted)


def test_counts_stay_counts_and_lengths_have_units_in_the_code():
    document = DOCUMENT | {"stitching": {"per_inch": 9, "strands": 1, "inset": "1/8"}}
    assert b'"stitching":{"inset":"1/8 in","per_inch":9,"strands":1}' in canonical_json(read_spec(document, "in"), "in")


@pytest.mark.parametrize(
    ("stitching", "code"),
    [
        ({"per_inch": 7, "pitch": "3 mm"}, "one_of"),
        ({"per_inch": 7.5}, "wrong_type"),
        ({"inset": "0"}, "out_of_range"),
        ({"turn_back": "yes"}, "wrong_type"),
        ({"stitches": 7}, "unknown_field"),
    ],
)
def test_what_cannot_be_read_is_refused(stitching, code):
    with pytest.raises(SpecError) as error:
        read_spec(DOCUMENT | {"stitching": stitching}, "in")
    assert {fault.path[0] for fault in error.value.faults} == {"stitching"}
    assert code in {fault.code for fault in error.value.faults}
