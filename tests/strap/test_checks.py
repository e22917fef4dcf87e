"""Every rule can fail: one strap for each, and the field and code that its maker is told."""

from dataclasses import replace

import pytest

from service.strap.errors import Refusal
from service.strap.filling.resolve import resolve
from service.strap.making.layout import lay_out
from service.strap.model.spec import Billet, Body, End, Ends, Joint, Size, SizeHoles, Spec, StrapEnd
from service.strap.model.spec_set import Between, Border, Row
from service.strap.plane.lengths import INCH, MM, parse_length
from service.strap.remedies.remedies import find_remedies
from service.strap.rules.checks import measure_rules, tightest
from service.strap.solve import solve
from tests.support.straps import assert_told_and_mended


def inches(text: str) -> int:
    return parse_length(f"{text} in", "in")


HARNESS = Spec(
    construction="three_piece",
    size=Size(body_length=24 * INCH),
    body=Body(width=inches("2 1/2")),
    ornaments=Row(item="bell_30", count=6),
    between=Between(item="spot_10"),
    border=Border(item="spot_6"),
)
GARTER = Spec(construction="one_piece", size=Size(girth=16 * INCH), ornaments=Row(item="bell_25", count=3))
HANGING = Spec(
    construction="open",
    size=Size(finished_length=24 * INCH),
    ends=Ends(head=StrapEnd(kind="ring"), foot=StrapEnd(kind="hole")),
    ornaments=Row(item="bell_30", count=6),
)
TIPPED = Spec(
    construction="two_ends",
    size=Size(body_length=30 * INCH),
    ends=Ends(head=StrapEnd(kind="tip"), foot=StrapEnd(kind="tip")),
)

WRONG = [
    # spec, code, path
    (replace(HARNESS, ornaments=Row(item="bell_30", count=20), between=None, border=None),
     "ornaments_crowded", ("ornaments", "count")),
    (replace(HARNESS, between=Between(item="spot_10", per_gap=4)), "between_crowded", ("between", "item")),
    (replace(HARNESS, border=Border(item="spot_6", inset=inches("7/8"))), "border_crowded", ("border", "inset")),
    (replace(HARNESS, border=Border(item="spot_10", step=inches("1/4"))), "border_crowded", ("border", "step")),
    (replace(HARNESS, border=Border(item="spot_10", inset=inches("1/8"))), "border_off_edge", ("border", "inset")),
    (replace(GARTER, ornaments=Row(item="concho_25", count=3)), "ornament_off_edge", ("ornaments", "item")),
    (replace(GARTER, body=Body(width=inches("3/4")), ornaments=Row(item="bell_38", count=2)),
     "cut_near_edge", ("ornaments", "item")),
    (replace(HARNESS, joint=Joint(end_distance=inches("1/8"))), "end_distance_short", ("joint", "end_distance")),
    (replace(HARNESS, joint=Joint(spacing=inches("3/16"))), "cuts_too_close", ("joint", "spacing")),
    # caps of 9 mm, 6.35 mm apart
    (replace(HARNESS, joint=Joint(spacing=inches("1/4"))), "caps_too_close", ("joint", "spacing")),
    (replace(GARTER, billet=Billet(size_holes=SizeHoles(spacing=inches("1/4")))),
     "cuts_too_close", ("billet", "size_holes", "spacing")),
    (replace(HARNESS, billet=Billet(width=inches("1 1/8"), buckle="heel_bar_25")),
     "buckle_narrow", ("billet", "buckle")),
    (replace(HARNESS, billet=Billet(width=inches("3/4"), buckle="heel_bar_25")), "buckle_wide", ("billet", "buckle")),
    (replace(HARNESS, joint=Joint(fastener="double_cap_small")), "fastener_short", ("joint", "fastener")),
    (replace(HARNESS, joint=Joint(fastener="double_cap_large")), "fastener_long", ("joint", "fastener")),
    (replace(HARNESS, leather="bridle_10_11"), "prongs_short", ("border", "item")),
    (replace(HARNESS, size=Size(body_length=4 * INCH)), "size_too_short", ("size", "body_length")),
    (replace(HARNESS, leather="bridle_10_11", size=Size(body_length=80 * INCH), border=None),
     "strip_too_long", ("size", "body_length")),
    (replace(HARNESS, body=Body(width=inches("2 1/2"), end=End(shape="english_point", depth=14 * INCH))),
     "ends_too_deep", ("body", "end", "depth")),
    (replace(HANGING, ends=Ends(head=StrapEnd(kind="plain", shape="english_point", depth=25 * INCH))),
     "size_too_short", ("size", "finished_length")),
    (replace(GARTER, billet=Billet(tip=End(shape="english_point", depth=30 * INCH))),
     "ends_too_deep", ("billet", "tip", "depth")),
    # 2 1/2 widths of tip; half a hole and 3 mm of full width before it leave no room for a point as deep as the tip
    (replace(GARTER, billet=Billet(tip=End(shape="english_point", depth=inches("2 1/2")))),
     "tip_too_deep", ("billet", "tip", "depth")),
    (replace(GARTER, billet=Billet(tip=End(shape="english_point", depth=inches("1 5/8")), tip_length=inches("1 3/4"))),
     "tip_too_deep", ("billet", "tip_length")),
    (replace(TIPPED, ends=replace(TIPPED.ends, head=StrapEnd(kind="tip", shape="english_point", depth=inches("3")))),
     "tip_too_deep", ("ends", "head", "depth")),
    (replace(TIPPED, ends=replace(TIPPED.ends, head=StrapEnd(kind="tip", tip_length=inches("5/8")))),
     "tip_too_deep", ("ends", "head", "tip_length")),
    (replace(TIPPED, ends=replace(TIPPED.ends, foot=StrapEnd(kind="tip", shape="straight_point", depth=inches("3")))),
     "tip_too_deep", ("ends", "foot", "depth")),
    (replace(GARTER, billet=Billet(ring="ring_25"), joint=Joint(count=1)), "ring_room_short", ("joint", "spacing")),
    (replace(HARNESS, ornaments=Row(items=("spot_6", "bell_38"), arrange="sequence", mirrored=True, count=40,
                                    spacing="even"), between=None, border=None),
     "ornaments_crowded", ("ornaments", "count")),
    (replace(HARNESS, ornaments=Row(items=("spot_6", "bell_38"), arrange="alternating", count=40, spacing="even"),
             between=None, border=None), "ornaments_crowded", ("ornaments", "count")),
    (replace(HANGING, body=Body(width=inches("1 1/2"))), "ring_narrow", ("ends", "head", "ring")),
    (replace(HANGING, ends=Ends(foot=StrapEnd(kind="hole", hole=8 * MM))), "no_punch", ("ends", "foot", "hole")),
    (replace(HARNESS, body=Body(width=7 * INCH)), "body_beyond_limits", ("body", "width")),
    (replace(HARNESS, size=Size(body_length=90 * INCH)), "size_beyond_limits", ("size", "body_length")),
    (replace(HARNESS, billet=Billet(size_holes=SizeHoles(count=4))),
     "size_holes_even", ("billet", "size_holes", "count")),
    (replace(HARNESS, ornaments=Row(item="bell_30", count=201)), "count_beyond_limits", ("ornaments", "count")),
    (replace(HARNESS, border=Border(item="spot_6", step=MM // 10)), "too_many_features", ("border", "step")),
    (replace(HARNESS, billet=Billet(size_holes=SizeHoles(count=999_999))),
     "too_many_features", ("billet", "size_holes", "count")),
    (replace(HARNESS, joint=Joint(count=1_000_000, spacing=1)), "too_many_features", ("joint", "count")),
    (replace(HARNESS, ornaments=Row(item="bell_30", count=6, spacing=MM // 10)),
     "too_many_features", ("ornaments", "spacing", "pitch")),
    (replace(GARTER, ornaments=Row(item="bell_25", count=5000)), "too_many_features", ("ornaments", "count")),
    (replace(GARTER, ornaments=Row(item="spot_6", count=200, spacing="even"), border=(Border(item="spot_6"),) * 8),
     "too_many_features", ("border", "0", "step")),
    (replace(GARTER, ornaments=Row(item="spot_6", count=60), between=Between(item="spot_6", per_gap=60)),
     "too_many_features", ("between", "per_gap")),
    (replace(HARNESS, body=Body(width=inches("3/4"))), "cut_near_edge", ("ornaments", "item")),
    (replace(HARNESS, body=Body(width=inches("1")), billet=Billet(width=inches("1 1/8"))),
     "billet_wider_than_body", ("billet", "width")),
    (replace(HARNESS, body=Body(end=End(shape="round", depth=INCH // 4))), "depth_fixed", ("body", "end", "depth")),
    (replace(HARNESS, billet=Billet(tip=End(shape="round", depth=INCH // 8))),
     "depth_fixed", ("billet", "tip", "depth")),
    (replace(GARTER, size=Size(finished_length=200 * INCH)), "size_beyond_limits", ("size", "finished_length")),
    (replace(GARTER, size=Size(girth=200 * INCH)), "size_beyond_limits", ("size", "girth")),
    (replace(HARNESS, billet=Billet(width=10 * INCH)), "billet_beyond_limits", ("billet", "width")),
    (replace(HARNESS, billet=Billet(size_holes=SizeHoles(count=101))),
     "count_beyond_limits", ("billet", "size_holes", "count")),
    (replace(HARNESS, ends=Ends(head=StrapEnd(kind="ring"))), "without_meaning", ("ends",)),
    (replace(GARTER, billet=Billet(prong_slot=10 * MM)), "prong_slot_short", ("billet", "prong_slot")),
    (replace(GARTER, billet=Billet(prong_slot=20 * INCH)), "size_too_short", ("size", "girth")),
    (replace(GARTER, billet=Billet(size_holes=SizeHoles(diameter=5 * MM))),
     "no_punch", ("billet", "size_holes", "diameter")),
    (replace(GARTER, billet=Billet(size_holes=SizeHoles(diameter=inches("1/8")))),
     "size_hole_narrow", ("billet", "size_holes", "diameter")),
    (replace(GARTER, billet=Billet(keeper_width=inches("1/4"))), "cut_near_edge", ("billet", "keeper_width")),
    (replace(GARTER, billet=Billet(keeper_width=7 * INCH)), "billet_beyond_limits", ("billet", "keeper_width")),
    (replace(GARTER, billet=Billet(buckle="centre_bar_25", keeper_width=inches("1/2"))),
     "without_meaning", ("billet", "keeper_width")),
    (replace(GARTER, billet=Billet(width=INCH)), "without_meaning", ("billet", "width")),
    (replace(HANGING, billet=Billet(keeper=True)), "without_meaning", ("billet",)),
    (replace(GARTER, ornaments=None, between=Between(item="spot_6")), "without_meaning", ("between",)),
    (replace(HARNESS, leather="harness_8"), "unknown_leather", ("leather",)),
    (replace(GARTER, size=Size(table="garters", label="M")), "unknown_size_table", ("size", "table")),
    (replace(GARTER, size=Size(table="garter", label="XXL")), "unknown_size_label", ("size", "label")),
    (replace(HARNESS, ornaments=Row(item="bell_31", count=6)), "unknown_ornament", ("ornaments", "item")),
    (replace(HARNESS, billet=Billet(buckle="heel_bar")), "unknown_buckle", ("billet", "buckle")),
    (replace(HARNESS, joint=Joint(fastener="cap")), "unknown_fastener", ("joint", "fastener")),
    (replace(HANGING, ends=Ends(head=StrapEnd(kind="ring", ring="ring"))), "unknown_ring", ("ends", "head", "ring")),
    (replace(HANGING, ends=Ends(foot=StrapEnd(kind="ring", ring="ring"))), "unknown_ring", ("ends", "foot", "ring")),
    (replace(HARNESS, ornaments=Row(item="bell_30", count=6, centrepiece="concho")),
     "unknown_ornament", ("ornaments", "centrepiece")),
    (replace(HARNESS, ornaments=Row(items=("bell_30", "bell"), arrange="alternating", count=5)),
     "unknown_ornament", ("ornaments", "items", "1")),
]  # fmt: skip


@pytest.mark.parametrize(("spec", "code", "path"), WRONG, ids=[f"{case[1]}-{'.'.join(case[2])}" for case in WRONG])
def test_each_wrong_spec_is_told_to_its_field_and_has_a_remedy(spec, code, path, shop):
    assert_told_and_mended(spec, code, path, shop)


def test_all_faults_come_at_once(shop):
    spec = replace(
        HARNESS,
        body=Body(width=7 * INCH),
        billet=Billet(size_holes=SizeHoles(count=4)),
        joint=Joint(fastener="double_cap_small"),
        ornaments=Row(item="bell_38", count=30),
    )
    with pytest.raises(Refusal) as refusal:
        solve(spec, shop)
    codes = {fault.code for fault in refusal.value.faults}
    assert {"body_beyond_limits", "size_holes_even", "fastener_short", "ornaments_crowded"} <= codes


@pytest.mark.parametrize("spec", [HARNESS, GARTER, HANGING], ids=["harness", "garter", "hanging"])
def test_a_good_strap_passes(spec, shop):
    pattern = solve(spec, shop)
    assert all(check.passed for check in pattern.checks)
    assert len({check.rule for check in pattern.checks}) == len(pattern.checks)


def test_an_open_strap_is_measured_over_its_ends_and_may_say_so(shop):
    """What lies over all of a strap that is not buckled is its finished length (common practice)."""
    said = replace(HANGING, size=replace(HANGING.size, measured_from="fold"))
    assert solve(said, shop).pieces == solve(HANGING, shop).pieces
    assert_told_and_mended(
        replace(HANGING, size=replace(HANGING.size, measured_from="bar")),
        "without_meaning", ("size", "measured_from"), shop,
    )  # fmt: skip


def moved(pattern, feature_id, **changes):
    """The pattern with one feature changed, as if it had been laid out wrong."""
    pieces = tuple(
        replace(piece, features=tuple(replace(f, **changes) if f.id == feature_id else f for f in piece.features))
        for piece in pattern.pieces
    )
    return replace(pattern, pieces=pieces)


TAMPERED = [
    ("end_distance", "body.joint.1", {"x": 5 * MM}),
    ("edge_web", "tongue_billet.size_hole.1", {"y": 9 * MM}),
    ("edge_web", "body.ornament.1", {"length": 60 * MM}),
    ("cut_web", "tongue_billet.size_hole.2", {"x": inches("3 3/4") + 6 * MM}),
    ("cap_clear", "body.joint.1", {"x": inches("1 3/4") - 9 * MM}),
    ("cut_web", "buckle_billet.prong_slot.1", {"length": 72 * MM}),
    ("ornament_clear", "body.between.1", {"x": 5 * INCH}),
    ("ornament_clear", "body.border.7", {"y": -18 * MM}),
    ("ornament_edge", "body.border.1", {"y": -30 * MM}),
    ("ornament_edge", "body.border.1", {"x": inches("1/2")}),
    ("hardware_clear", "body.between.1", {"x": inches("2 5/8")}),
    ("joint_alignment", "body.joint.2", {"x": inches("1 3/4") + 1000}),
    ("joint_alignment", "tongue_billet.joint.1", {"y": 2000}),
    ("joint_alignment", "buckle_billet.fold_rivet.2", {"x": inches("1 1/4") - 1000}),
    ("first_size_hole", "tongue_billet.size_hole.1", {"x": inches("2 3/4")}),
    ("tongue_reach", "tongue_billet.size_hole.5", {"x": inches("9 1/4")}),
    ("tip_depth", "tongue_billet.size_hole.5", {"x": inches("9 3/4")}),
    ("keeper_room", "buckle_billet.fold_rivet.1", {"x": inches("3 1/2")}),
    ("fold_reach", "buckle_billet.fold_rivet.1", {"x": inches("3")}),
]


@pytest.mark.parametrize(("rule", "feature", "changes"), TAMPERED, ids=lambda value: str(value)[:40])
def test_the_checks_find_what_a_wrong_layout_would_do(rule, feature, changes, shop):
    job = resolve(HARNESS, shop)
    pattern = lay_out(job)

    def failed(candidate):
        return {check.rule for check in tightest(measure_rules(candidate, job)) if not check.passed}

    assert failed(pattern) == set()
    assert rule in failed(moved(pattern, feature, **changes))


RULES = [
    ("prong_clinch_max", {"clinch_max": MM}),
    ("cap_clear", {"cap_clear": 20 * MM}),
    ("shank_reach", {"lace_thickness": 7 * MM}),
    ("tail_gap", {"tail_gap": 40 * MM}),
    ("buckle_slack", {"buckle_slack": MM // 2}),
    ("tip_depth", {"own": {"tip_web": 60 * MM}}),
    ("punch_fit", {"hole_slack": MM // 20}),
    ("punch_size", {"size_hole_over_prong": 4 * MM}),
]


@pytest.mark.parametrize(("rule", "changes"), RULES, ids=[rule for rule, _ in RULES])
def test_a_stricter_shop_refuses_what_this_one_makes(rule, changes, shop):
    strict = replace(shop, rules=replace(shop.rules, **changes))
    job = resolve(HARNESS, strict)
    checks = tightest(measure_rules(lay_out(job), job))
    assert rule in {check.rule for check in checks if not check.passed}
    with pytest.raises(Refusal):
        solve(HARNESS, strict)


@pytest.mark.parametrize(("grip_min", "grip_max", "rule"), [(4, 6, "post_grip_min"), (2, 3, "post_grip_max")])
def test_a_screw_post_must_span_the_leather_over_its_whole_range(grip_min, grip_max, rule, shop):
    concho = shop.ornaments["concho_25"]
    post = replace(concho.fixing, grip_min=grip_min * MM, grip_max=grip_max * MM)
    other = replace(shop, ornaments={**shop.ornaments, "concho_25": replace(concho, fixing=post)})
    spec = replace(HARNESS, ornaments=Row(item="concho_25", count=4), between=None)
    with pytest.raises(Refusal) as refusal:
        solve(spec, other)
    assert refusal.value.faults[0].path == ("ornaments", "item")
    assert refusal.value.faults[0].code == ("post_long" if rule == "post_grip_min" else "post_short")


def test_slot_size_holes_and_keeper_are_as_they_are_asked_for(shop):
    """Worked by hand: 2 x 1 1/2 in of slot and 1/2 in for the keeper are 3 1/2 in between the mated holes; the keeper
    and 1.5 mm of clearance need less. The prong of 3.5 mm goes through 1/4 in."""
    asked = Billet(prong_slot=inches("1 1/2"), keeper_width=inches("5/8"), size_holes=SizeHoles(diameter=INCH // 4))
    pattern = solve(replace(GARTER, billet=asked), shop)
    strap, keeper = (next(p for p in pattern.pieces if p.name == name) for name in ("strap", "keeper"))
    slot = next(f for f in strap.features if f.purpose == "prong_slot")
    assert (slot.length, slot.tool, slot.method) == (inches("1 1/2"), "punch_5", "holes_and_cuts")
    front, tail = (next(f.x for f in strap.features if f.id == f"strap.fold_rivet.{n}") for n in (1, 3))
    assert front - tail == inches("3 1/2")
    holes = {(f.diameter, f.tool) for f in strap.features if f.purpose == "size_hole"}
    assert holes == {(INCH // 4, "punch_9")}
    assert keeper.width == inches("5/8")
    rules = {check.rule: check for check in pattern.checks}
    assert rules["size_hole_prong"].value == INCH // 4 - shop.buckles["heel_bar_25"].prong_width
    assert rules["keeper_room"].limit == inches("5/8") + shop.rules.hardware_clear


def test_a_wider_keeper_moves_the_fold_where_it_needs_the_room(shop):
    """A keeper of 1 1/2 in beside the frame: more than the usual 1/2 in, so that the rivet moves away from the bar."""
    wide = solve(replace(GARTER, billet=Billet(keeper_width=inches("1 1/2"))), shop)
    usual = solve(GARTER, shop)

    def room(pattern):
        return next(check.value for check in pattern.checks if check.rule == "keeper_room")

    assert room(wide) >= inches("1 1/2") + shop.rules.hardware_clear > room(usual)


def test_the_prong_slot_reaches_half_round_the_bar(shop):
    """Bend allowance, Machinery's Handbook 26: pi x (2 + 3.373 / 2) mm = 11.6 mm round a bar of 4 mm in 8-9 oz."""
    slot = next(
        c for c in solve(replace(GARTER, billet=Billet(prong_slot=INCH)), shop).checks if c.rule == "prong_slot_length"
    )
    assert (slot.value, round(slot.limit / MM, 1)) == (INCH, 11.6)


def test_a_slot_without_its_punch_becomes_two_holes_and_two_cuts(shop):
    bare = replace(shop, slot_punches={})
    pattern = solve(HARNESS, bare)
    slots = [f for piece in pattern.pieces for f in piece.features if f.kind == "slot"]
    assert slots
    assert all(slot.method == "holes_and_cuts" and slot.tool in shop.round_punches for slot in slots)
    assert all(shop.round_punches[slot.tool].diameter == slot.width for slot in slots)


def test_the_largest_count_and_the_shortest_length_of_the_remedies_are_the_bounds(shop):
    """One bell more, or an eighth of an inch less, is refused again."""
    spec = replace(HARNESS, ornaments=Row(item="bell_38", count=16, spacing="even"), between=None, border=None)
    with pytest.raises(Refusal) as refusal:
        solve(spec, shop)
    changes = {
        change.path: change.value
        for remedy in find_remedies(spec, shop, refusal.value.faults)
        if len(remedy.changes) == 1
        for change in reversed(remedy.changes)
    }
    counts = [
        count for count in range(1, 16) if fits(replace(spec, ornaments=replace(spec.ornaments, count=count)), shop)
    ]
    assert max(counts) in {
        change.value
        for remedy in find_remedies(spec, shop, refusal.value.faults)
        for change in remedy.changes
        if change.path == ("ornaments", "count")
    }
    length = changes["size", "body_length"]
    assert fits(replace(spec, size=Size(body_length=length)), shop)
    assert not fits(replace(spec, size=Size(body_length=length - INCH // 8)), shop)


def fits(spec, shop) -> bool:
    try:
        solve(spec, shop)
    except Refusal:
        return False
    return True
