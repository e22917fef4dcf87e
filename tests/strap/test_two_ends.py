"""A strap is a body between two ends: every pair of kinds, by shapely, by a mirror, by a fold, by the short forms."""

from dataclasses import replace
from math import pi, sqrt

import pytest

from openapi.example_requests import examples
from service.schemas.spec import SpecError, read_spec
from service.shop_file import demo_shop
from service.strap.errors import Refusal
from service.strap.model.spec_changes import apply
from service.strap.plane.lengths import MM
from service.strap.remedies.remedies import find_remedies
from service.strap.solve import solve
from tests.strap.test_random_straps import judge
from tests.support.two_ended import ENDS, PAIRS, odd_pair, pair_of

SHOP = demo_shop()
ODD = range(1, 4)
BUCKLE, TIP, RING = {"kind": "buckle"}, {"kind": "tip"}, {"kind": "ring"}


def spec_of(document):
    return read_spec(document, "in")


def two_ended(head, foot, **more):
    return spec_of({"construction": "two_ends", "ends": {"head": head, "foot": foot}, **more})


@pytest.mark.parametrize("head", ENDS)
def test_every_pair_can_be_made_and_is_sound(head):
    """By shapely: nothing collides or leaves its outline, in the plainest strap of a pair and in odd ones."""
    made = 0
    for first, foot in PAIRS:
        if first == head:
            judge(solve(spec_of(pair_of(head, foot)), SHOP))
            for seed in ODD:
                try:
                    judge(solve(spec_of(odd_pair(head, foot, seed)), SHOP))
                    made += 1
                except Refusal:
                    continue
    assert made > 8


@pytest.mark.parametrize("head", ENDS)
def test_every_remedy_of_a_pair_is_accepted(head):
    told = 0
    for first, foot in PAIRS:
        if first == head:
            told += sum(_remedies_hold(spec_of(odd_pair(head, foot, seed))) for seed in ODD)
    assert told > 5


def _remedies_hold(spec):
    try:
        solve(spec, SHOP)
    except Refusal as refusal:
        remedies = find_remedies(spec, SHOP, refusal.faults)
        for remedy in remedies:
            solve(apply(spec, remedy.changes), SHOP)
        return len(remedies)
    return 0


@pytest.mark.parametrize(
    "name", ["herding_dog_collar", "stitched_collar", "dancers_bell_garter", "parade_harness_strap", "trouser_belt"]
)
def test_a_short_form_is_said_by_its_ends_as_well(name):
    """The same leather with the same holes, whichever way it is asked for."""
    short = examples()[name]
    billet = short.get("billet", {})
    head = BUCKLE | {each: billet[each] for each in ("buckle", "prong_slot", "keeper_width", "ring") if each in billet}
    if "keeper" in billet:
        head["keeper"] = "loose" if billet["keeper"] else "none"
    foot = TIP | billet.get("tip", {}) | {each: billet[each] for each in ("size_holes", "tip_length") if each in billet}
    if short["construction"] == "three_piece":
        riveted = {
            "kind": "billet",
            **billet.get("tip", {}),
            **({"width": billet["width"]} if "width" in billet else {}),
        }
        head, foot = riveted | {"end": head}, riveted | {"end": foot}
    rest = {name: each for name, each in short.items() if name not in ("construction", "billet")}
    one, other = solve(spec_of(short), SHOP), solve(two_ended(head, foot, **rest), SHOP)
    assert one.pieces == other.pieces
    assert one.placements == other.placements
    assert (one.finished, one.hardware, one.worn) == (other.finished, other.hardware, other.worn)


@pytest.mark.parametrize("name", ["door_hanging", "graduated_door_hanging", "lined_bag_strap"])
def test_an_open_strap_is_one_of_two_ends(name):
    short = examples()[name]
    one, other = solve(spec_of(short), SHOP), solve(spec_of(short | {"construction": "two_ends"}), SHOP)
    assert (one.pieces, one.placements, one.finished) == (other.pieces, other.placements, other.finished)


@pytest.mark.parametrize("end", [BUCKLE, {"kind": "ring"}, {"kind": "billet", "end": BUCKLE}, TIP])
def test_two_like_ends_are_mirror_images(end):
    """Geometry: what lies x from the one end lies x from the other."""
    pattern = solve(two_ended(end, end, size={"body_length": "30"}, ornaments={"item": "bell_25", "count": 5}), SHOP)
    body = pattern.pieces[0]
    places = sorted((each.purpose, each.x, each.diameter, each.length) for each in body.features)
    mirrored = sorted((each.purpose, body.length - each.x, each.diameter, each.length) for each in body.features)
    assert places == mirrored
    laid = {(ply.layer, min(ends), max(ends)) for ply in pattern.placements for ends in [_span(ply)]}
    middle = body.length + 2 * next(
        ply.offset for ply in pattern.placements if ply.piece == body.name and ply.direction == 1
    )
    assert laid == {(layer, middle - high, middle - low) for layer, low, high in laid}


def _span(ply):
    return [ply.offset + ply.direction * x for x in (ply.from_x, ply.to_x)]


def test_from_bar_to_bar_is_what_two_folds_leave():
    """The strip is as long as from bar to bar, and each end takes what lies past its bar: the sums of one fold.

    arc = pi (r + K t), Machinery's Handbook 26; a straight part of l = (flat - arc) / 2 reaches u = sqrt(l² - r²) from
    the bar's axis (Pythagoras). In leather 8-9 oz (mean 3.4 mm, not skived), K = 1/2 by the shop's rule.
    """
    document = {"size": {"bar_to_bar": "24"}, "body": {"width": "1"}}
    pattern = solve(two_ended(BUCKLE | {"keeper": "none"}, BUCKLE | {"keeper": "none"}, **document), SHOP)
    strip = pattern.pieces[0]
    rivets = sorted(each.x / MM for each in strip.features if each.purpose == "fold_rivet")
    (tail, _, near, _), half = rivets[:4], SHOP.buckles["heel_bar_25"].bar_thickness / MM / 2
    innermost = rivets[1]
    thickness = SHOP.leathers["harness_8_9"].thickness / MM * float(SHOP.rules.fold_skive)
    arc = pi * (half + float(SHOP.rules.neutral_fraction) * thickness)
    reach = sqrt(((near - innermost - arc) / 2) ** 2 - half**2)
    assert tail < innermost < near
    assert strip.length / MM - 2 * (near - reach) == pytest.approx(24 * 25.4, abs=0.001)
    assert pattern.finished.from_bar == 24 * 25_400_000


LONG, ROUND = {"body_length": "30"}, {"girth": "20"}


@pytest.mark.parametrize(
    ("head", "foot", "more", "place", "reason"),
    [
        (TIP, BUCKLE, {"size": LONG}, "ends.foot", "told from its buckle"),
        (BUCKLE, {"kind": "ring"}, {"size": ROUND}, "size.girth", "nothing closes"),
        (BUCKLE, TIP, {"size": {"bar_to_bar": "20"}}, "size.bar_to_bar", "no buckle at either"),
        (BUCKLE, TIP, {"size": ROUND, "billet": {"width": "1"}}, "billet", "said in ends"),
        (BUCKLE, BUCKLE | {"ring": "ring_38"}, {"size": LONG}, "ends.foot.ring", "at the head"),
        (
            BUCKLE | {"keeper": "none", "keeper_width": "1/2"},
            TIP,
            {"size": LONG},
            "ends.head.keeper_width",
            "no keeper",
        ),
        (BUCKLE, TIP, {"size": ROUND, "body": {"end": {"shape": "round"}}}, "body.end", "shaped by"),
    ],
)
def test_what_makes_no_sense_is_refused_with_the_reason(head, foot, more, place, reason):
    with pytest.raises(Refusal) as refused:
        solve(two_ended(head, foot, **more), SHOP)
    told = {".".join(fault.path): fault.detail for fault in refused.value.faults}
    assert reason in told[place]


@pytest.mark.parametrize(
    ("head", "foot"),
    [
        (TIP, {"kind": "ring"}),
        (TIP, TIP),
        ({"kind": "plain"}, {"kind": "billet", "end": TIP}),
        ({"kind": "ring"}, BUCKLE),
    ],
)
def test_what_is_not_buckled_is_measured_to_its_ends(head, foot):
    """Common practice: no hole is where a strap ends that nothing is buckled by."""
    pattern = solve(two_ended(head, foot, size={"overall_length": "30"}), SHOP)
    assert pattern.finished.measured_from == "ends"
    assert pattern.finished.over_all == 30 * 25_400_000
    hangs = [end.outermost.kind in ("ring", "buckle") for end in (pattern.ends.head, pattern.ends.foot)]
    laid = [end for ply in pattern.placements for end in _span(ply)]
    if not any(hangs):
        assert max(laid) - min(laid) == pattern.finished.length == pattern.finished.over_all
    assert pattern.finished.length == pattern.finished.from_fold


def test_a_size_is_never_left_out():
    """Of a strap without two buckles that is measured from bar to bar there is no other length to take instead."""
    for construction in ("open", "two_ends"):
        spec = spec_of({"construction": construction, "size": {"bar_to_bar": "20"}})
        with pytest.raises(Refusal) as refused:
            solve(spec, SHOP)
        assert find_remedies(spec, SHOP, refused.value.faults) == ()


@pytest.mark.parametrize(
    ("end", "place"),
    [
        ({"kind": "ring", "buckle": "heel_bar_25"}, "ends.head.buckle"),
        ({"kind": "billet"}, "ends.head.end"),
        ({"kind": "billet", "end": {"kind": "billet", "end": TIP}}, "ends.head.end.kind"),
        ({"kind": "tip", "hole": "1/4"}, "ends.head.hole"),
    ],
)
def test_what_belongs_to_another_kind_of_end_cannot_be_read(end, place):
    with pytest.raises(SpecError) as refused:
        two_ended(end, TIP, size={"body_length": "30"})
    assert place in {".".join(fault.path) for fault in refused.value.faults}


BILLET_TIP = {"kind": "billet", "end": TIP}
WRONG_TIPS = {
    "spacing": ({"size_holes": {"spacing": "1/4"}}, "cuts_too_close", ("size_holes", "spacing")),
    "punch": ({"size_holes": {"diameter": "1/16"}}, "no_punch", ("size_holes", "diameter")),
    "prong": ({"size_holes": {"diameter": "1/16"}}, "size_hole_narrow", ("size_holes", "diameter")),
    "short": ({"tip_length": "1/4"}, "tip_too_deep", ("tip_length",)),
    "depth": ({"shape": "straight_point", "depth": "14"}, "tip_too_deep", ("depth",)),
}


@pytest.mark.parametrize("wrong", WRONG_TIPS)
@pytest.mark.parametrize(("at", "other"), [("head", "foot"), ("foot", "head")])
@pytest.mark.parametrize("ends", [(TIP, TIP), (TIP, BILLET_TIP), (BILLET_TIP, TIP), (BILLET_TIP, BILLET_TIP)])
def test_what_is_wrong_with_one_of_two_tips_is_told_and_mended_there(ends, at, other, wrong):
    """Nothing is told of the other tip, and no remedy changes it."""
    members, code, field = WRONG_TIPS[wrong]
    said = dict(zip(("head", "foot"), ends, strict=True))
    is_billet = "end" in said[at]
    said[at] = said[at] | {"end": TIP | members} if is_billet else said[at] | members
    spec = two_ended(said["head"], said["foot"], size={"body_length": "30"})
    place = ("ends", at, "end") if is_billet else ("ends", at)
    with pytest.raises(Refusal) as refused:
        solve(spec, SHOP)
    assert (code, (*place, *field)) in [(fault.code, fault.path) for fault in refused.value.faults]
    assert all(fault.path[:2] != ("ends", other) for fault in refused.value.faults)
    remedies = find_remedies(spec, SHOP, refused.value.faults)
    assert remedies
    for remedy in remedies:
        solve(apply(spec, remedy.changes), SHOP)
        assert all(change.path[:2] != ("ends", other) for change in remedy.changes)


def test_each_of_two_tips_is_punched_as_it_asks():
    """Both rows of one strip are measured, each by the prong of the buckle that its width takes."""
    pattern = solve(two_ended(TIP | {"size_holes": {"diameter": "3/16"}}, TIP, size={"body_length": "30"}), SHOP)
    told = [check.at for check in pattern.checks if check.rule in {"size_hole_prong", "punch_fit"}]
    assert any("size_hole.1" in place for at in told for place in at)
    assert any("size_hole.6" in place for at in told for place in at)


@pytest.mark.parametrize(
    ("members", "field"),
    [({"tip_length": "90"}, ("tip_length",)), ({"size_holes": {"spacing": "22"}}, ("size_holes", "spacing"))],
)
@pytest.mark.parametrize("at", ["head", "foot"])
def test_a_billet_that_is_too_long_is_told_at_what_makes_it_long(at, members, field):
    """The shop's leather yields strips of 84 in."""
    said = {"head": RING, "foot": RING, at: {"kind": "billet", "end": TIP | members}}
    spec = two_ended(said["head"], said["foot"], size={"body_length": "30"})
    with pytest.raises(Refusal) as refused:
        solve(spec, SHOP)
    assert [(each.code, each.path) for each in refused.value.faults] == [
        ("strip_too_long", ("ends", at, "end", *field))
    ]
    assert _remedies_hold(spec)


def test_a_billet_that_is_too_wide_is_told_at_its_own_width():
    """Of a leather that is usable over 1 in alone; the body is told as well, since a billet is no wider than it."""
    leather = replace(SHOP.leathers[SHOP.defaults.leather], usable_width=25_400_000)
    shop = replace(SHOP, leathers={**SHOP.leathers, leather.id: leather})
    spec = two_ended(
        {"kind": "billet", "width": "3/4", "end": RING},
        {"kind": "billet", "width": "1 1/4", "end": RING},
        size={"body_length": "30"},
        body={"width": "1 1/2"},
    )
    with pytest.raises(Refusal) as refused:
        solve(spec, shop)
    told = [fault.path for fault in refused.value.faults if fault.code == "strip_too_wide"]
    assert told == [("body", "width"), ("ends", "foot", "width")]


@pytest.mark.parametrize("at", ["head", "foot"])
def test_a_billet_wider_than_any_ring_is_made_as_narrow_as_one(at):
    said = {"head": {"kind": "plain"}, "foot": {"kind": "plain"}, at: {"kind": "billet", "width": "2", "end": RING}}
    spec = two_ended(said["head"], said["foot"], size={"body_length": "30"}, body={"width": "2"})
    with pytest.raises(Refusal) as refused:
        solve(spec, SHOP)
    assert [fault.code for fault in refused.value.faults] == ["ring_narrow"]
    remedies = find_remedies(spec, SHOP, refused.value.faults)
    assert any(change.path == ("ends", at, "width") for remedy in remedies for change in remedy.changes)


@pytest.mark.parametrize(
    ("end", "called"),
    [
        (BUCKLE, {"head_keeper", "foot_keeper"}),
        (
            {"kind": "billet", "end": BUCKLE},
            {"head_buckle_billet", "foot_buckle_billet", "head_keeper", "foot_keeper"},
        ),
        ({"kind": "billet", "end": TIP}, {"head_tongue_billet", "foot_tongue_billet"}),
        ({"kind": "billet", "end": RING}, {"head_billet", "foot_billet"}),
    ],
)
def test_pieces_that_are_alike_at_both_ends_are_called_by_their_ends(end, called):
    pattern = solve(two_ended(end, end, size={"body_length": "30"}), SHOP)
    assert {piece.name for piece in pattern.pieces} == called | {pattern.pieces[0].name}


@pytest.mark.parametrize("buckle", [{}, {"buckle": "heel_bar_25"}])
@pytest.mark.parametrize("tongue", ["1 1/4", "1 1/2"])
def test_a_tongue_too_wide_for_its_buckle_is_made_narrower_or_the_buckles_billet_wider(tongue, buckle):
    """Geometry: what goes through a buckle is no wider than it is inside, whichever of the two gives way."""
    head = {"kind": "billet", "width": "1", "end": {**BUCKLE, **buckle}}
    foot = {"kind": "billet", "width": tongue, "end": TIP}
    spec = two_ended(head, foot, size={"body_length": "30"}, body={"width": "1 1/2"})
    with pytest.raises(Refusal) as refused:
        solve(spec, SHOP)
    assert [fault.code for fault in refused.value.faults] == ["tongue_wide"]
    remedies = find_remedies(spec, SHOP, refused.value.faults)
    assert [remedy.changes[0].path for remedy in remedies] == [("ends", "foot", "width"), ("ends", "head", "width")]
    for remedy in remedies:
        widths = {piece.name: piece.width for piece in solve(apply(spec, remedy.changes), SHOP).pieces}
        assert widths["tongue_billet"] == widths["buckle_billet"] == remedy.changes[0].value
