"""Straps longer than their leather's strips: where they are lapped, what of, and which never are.

The lap of twelve times the leather's thickness and the quarter of an inch beside it are from memory; that a line of
stitches never runs straight across a strap is a saddlery's rule (tests/SOURCES.md).
"""

from dataclasses import replace

import pytest
import shapely

from service.drawing.cutting.cutter import cutter_drawing
from service.schemas.spec import read_spec, spec_document
from service.strap.errors import Refusal
from service.strap.model.likeness import pattern_digest
from service.strap.model.pattern import BETWEEN_KEEPERS
from service.strap.model.spec_changes import apply
from service.strap.plane.lengths import INCH, MM
from service.strap.remedies.remedies import find_remedies
from service.strap.solve import solve
from service.workshop.cautions import cautions
from service.workshop.materials import Order, materials_of
from tests.strap.test_random_straps import TOUCH, cover_of, cut_of, outline_of
from tests.support.long_straps import LONG_SHOP, long_strap
from tests.support.straps import assert_told_and_mended

BELLS = {
    "construction": "one_piece",
    "size": {"body_length": "107 in"},
    "worn_by": "animal",
    "body": {"width": "1 1/2 in", "splices": "allowed"},
    "billet": {"buckle": "heel_bar_38"},
    "ornaments": {"item": "bell_38", "count": 23},
}
PLAIN = {name: value for name, value in BELLS.items() if name != "ornaments"}


def read(document, **more):
    """The spec of a document with some members set otherwise; `None` leaves one out."""
    whole = {name: value for name, value in (document | more).items() if value is not None}
    return read_spec(whole, "in")


def with_splices(splices, document=BELLS):
    return read(document, body=document["body"] | {"splices": splices})


def laps_of(spec, shop=LONG_SHOP):
    return solve(spec, shop).pieces[0].splices


def judge_laps(pattern, shop):
    """By shapely: nothing is cut in a lap, its stitches run along the strap inside it, and strips fit their leather."""
    for piece in pattern.pieces:
        outline = outline_of(piece)
        for lap in piece.splices:
            strip = shapely.box(lap.start / MM, -piece.width / MM, lap.end / MM, piece.width / MM)
            clear = shop.rules.splice_clear / MM - TOUCH
            for feature in piece.features:
                if feature.action == "punch":
                    assert strip.distance(cut_of(feature)) >= clear
                if feature.footprint and shop.ornaments.get(feature.item, None) is None:
                    assert strip.distance(cover_of(feature)) >= clear
            lines = [line for line in piece.stitch_lines if line.purpose == "splice_stitch"]
            mine = [line for line in lines if lap.start <= line.points[0][0] < lap.end]
            assert len(mine) == len(lines) / len(piece.splices)
            assert len(mine) >= 2 or piece.name == "edging"  # which is sewn as it is laid on
            for line in mine:
                (x1, y1), (x2, y2) = line.points
                assert (y1, x1 < x2) == (y2, True)
                seam = shapely.LineString([(x1 / MM, y1 / MM), (x2 / MM, y2 / MM)])
                assert strip.contains(seam)
                assert outline.exterior.distance(seam) >= shop.rules.stitch_edge / MM - TOUCH
        longest = max(strip.cut_length for strip in piece.strips)
        assert longest <= piece.leather.strip_length
        laps = sum(lap.end - lap.start for lap in piece.splices)
        assert sum(strip.end - strip.start for strip in piece.strips) == piece.length + laps


def places(pattern):
    return [each.x for each in pattern.pieces[0].features if each.purpose == "keeper_place"]


def judge_loops(pattern, shop):
    """By shapely: a band over the whole width at each mark keeps clear of all that is cut or set on the strap."""
    body, keeper = pattern.pieces[0], pattern.piece("keeper_between")
    marks = places(pattern)
    assert len(marks) == sum(each.count for each in pattern.pieces if each.name in BETWEEN_KEEPERS)
    others = [cover_of(each) for each in body.features if each.footprint]
    others += [cut_of(each) for each in body.features if each.action == "punch"]
    for x in marks:
        half = keeper.width / 2 / MM
        band = shapely.box(x / MM - half, -body.width / 2 / MM, x / MM + half, body.width / 2 / MM)
        assert min(band.distance(other) for other in others) >= shop.rules.hardware_clear / MM - TOUCH


def test_worked_by_hand():
    """107 in of leather of 84 in: two strips. 8-9 oz is 3.373 mm thick, twelve times that 40.5 mm, on a ruler 1 5/8
    in. Half way a lap begins at (107 - 1 5/8) / 2 = 52 11/16 in; the nearest place clear of the bells' slots and rims
    lies within half a pitch of it, and the 22 gaps of 23 bells share less than 99 in."""
    (lap,) = laps_of(read(BELLS))
    assert lap.end - lap.start == 26 * INCH // 16
    assert abs(lap.start - (52 * INCH + 11 * INCH // 16)) < 2.25 * INCH
    pieces = solve(read(BELLS), LONG_SHOP).pieces
    assert [strip.cut_length for strip in pieces[0].strips] == [lap.end, 107 * INCH - lap.start]


def test_it_is_made_of_the_fewest_strips_that_reach():
    """n strips of 84 in reach over 84 n - 1 5/8 (n - 1) in: 84, 166 3/8 and 248 3/4."""
    open_strap = {
        "construction": "open",
        "body": {"width": "1 in", "splices": "allowed"},
        "worn_by": "object",
    }
    for length, strips in (("84 in", 1), ("84 1/16 in", 2), ("166 3/8 in", 2), ("166 7/16 in", 3), ("180 in", 3)):
        pattern = solve(read(open_strap, size={"body_length": length}), LONG_SHOP)
        assert len(pattern.pieces[0].strips) == strips
        shares = [strip.end - strip.start for strip in pattern.pieces[0].strips]
        assert max(shares) - min(shares) <= INCH // 8


def test_a_count_is_kept_and_laps_are_sewn_as_often_as_asked():
    body = solve(with_splices({"count": 2, "stitch_lines": 3}), LONG_SHOP).pieces[0]
    assert (len(body.splices), len(body.strips)) == (2, 3)
    assert sum(line.purpose == "splice_stitch" for line in body.stitch_lines) == 6


def test_nothing_is_spliced_unless_the_spec_or_the_shop_says_so():
    for splices in (None, "none"):
        with pytest.raises(Refusal) as refusal:
            solve(with_splices(splices), LONG_SHOP)
        assert [fault.code for fault in refusal.value.faults] == ["strip_too_long"]
        remedies = find_remedies(with_splices(splices), LONG_SHOP, refusal.value.faults)
        offered = [change.value for each in remedies for change in each.changes if change.path == ("body", "splices")]
        assert offered == ([] if splices else ["allowed"])
    allows = replace(LONG_SHOP, defaults=replace(LONG_SHOP.defaults, splices="allowed"))
    assert len(laps_of(with_splices(None), allows)) == 1
    remedies = find_remedies(with_splices("none"), allows, refusal.value.faults)
    assert any(change.path == ("body", "splices") for remedy in remedies for change in remedy.changes)


def test_a_strap_that_is_short_enough_is_the_same_whether_or_not_it_may_be_spliced():
    short = read(BELLS, size={"body_length": "80 in"}, ornaments={"item": "bell_38", "count": 9})
    plain = replace(short, body=replace(short.body, splices=None))
    assert solve(short, LONG_SHOP).pieces == solve(plain, LONG_SHOP).pieces
    assert pattern_digest(solve(short, LONG_SHOP)) == pattern_digest(solve(plain, LONG_SHOP))


def test_other_laps_make_another_strap():
    one, two = (solve(with_splices({"count": count}), LONG_SHOP) for count in (1, 2))
    assert pattern_digest(one) != pattern_digest(two)


LOADED = {
    "plain, buckled, an animal's": PLAIN,
    "plain, buckled, nobody knows whose": PLAIN | {"worn_by": None},
    "a collar ring": BELLS | {"billet": {"buckle": "heel_bar_38", "ring": "ring_38"}},
    "a ring at its end": BELLS
    | {
        "construction": "open",
        "billet": None,
        "ends": {"head": {"kind": "ring", "ring": "ring_38"}},
    },
}


@pytest.mark.parametrize("document", LOADED.values(), ids=list(LOADED))
def test_a_strap_that_may_bear_a_load_is_never_spliced_nor_offered_it(document):
    """Somebody may be led, tied or lifted by it: such straps are left to those who are licensed."""
    allows = replace(LONG_SHOP, defaults=replace(LONG_SHOP.defaults, splices="allowed"))
    for splices, shop in (("allowed", LONG_SHOP), ({}, LONG_SHOP), (None, allows), ({"count": 2}, LONG_SHOP)):
        spec = with_splices(splices, document)
        with pytest.raises(Refusal) as refusal:
            solve(spec, shop)
        found = {fault.code: fault.path for fault in refusal.value.faults}
        assert found["strip_too_long"] == ("size", "body_length")
        counted = isinstance(splices, dict) and "count" in splices
        assert found.get("splice_under_load") == (("body", "splices") if counted else None)
        for remedy in find_remedies(spec, shop, refusal.value.faults):
            assert not solve(apply(spec, remedy.changes), shop).pieces[0].splices


@pytest.mark.parametrize("worn_by", ["person", "object"])
def test_what_bears_no_load_is_spliced_and_cautioned(worn_by):
    pattern = solve(read(BELLS, worn_by=worn_by), LONG_SHOP)
    assert pattern.pieces[0].splices
    assert any("splice" in text and "licensed" in text for text in cautions(pattern, LONG_SHOP))


WRONG = [
    ({"size": {"body_length": "178 in"}}, {"count": 1}, "strip_too_long", ("body", "splices", "count")),
    ({}, {"count": 12}, "strips_short", ("body", "splices", "count")),
    ({"border": {"item": "spot_6", "inset": "1/8 in"}, "ornaments": None}, "allowed",
     "splice_crowded", ("body", "splices")),
    ({"between": {"item": "spot_10", "per_gap": 2}}, {"count": 1}, "splice_crowded", ("body", "splices")),
    ({"stitching": {"inset": "1/2 in"}}, {"stitch_lines": 4},
     "splice_lines_close", ("body", "splices", "stitch_lines")),
]  # fmt: skip


@pytest.mark.parametrize(("more", "splices", "code", "path"), WRONG, ids=[case[2] for case in WRONG])
def test_what_is_wrong_with_splices_is_told_to_its_field_and_mended(more, splices, code, path):
    document = {name: value for name, value in (BELLS | more).items() if value is not None}
    assert_told_and_mended(with_splices(splices, document), code, path, LONG_SHOP)


def test_a_lining_is_lapped_where_its_body_is_not():
    """Of lining calf 80 in long two strips, its laps clear of those of the body."""
    spec = read(
        BELLS,
        body={"width": "2 1/2 in", "splices": "allowed"},
        construction="three_piece",
        lining="lining_2_3",
        billet={"width": "1 1/2 in", "buckle": "heel_bar_38"},
    )
    pattern = solve(spec, LONG_SHOP)
    body, lining = pattern.piece("body"), pattern.piece("lining")
    assert lining.purpose == "cover"
    assert lining.rise > 0
    assert len(lining.splices) == 1
    gap = max(lining.splices[0].start - body.splices[0].end, body.splices[0].start - lining.splices[0].end)
    assert gap >= LONG_SHOP.rules.splice_clear
    assert sum(strip.cut_length for strip in lining.strips) >= lining.cut_length
    judge_laps(pattern, LONG_SHOP)


def test_each_strip_is_a_piece_of_the_materials_and_of_the_cutters_file():
    pattern = solve(with_splices({"count": 2}), LONG_SHOP)
    strips = pattern.pieces[0].strips
    uses = {use.name: use for use in materials_of([Order(pattern=pattern)], LONG_SHOP).pieces}
    assert [uses[strip.name].length for strip in strips] == [strip.cut_length for strip in strips]
    drawing = cutter_drawing(pattern, LONG_SHOP, piece=None, units="in")
    cut = next(layer for layer in drawing.layers if layer.id == "cut")
    names = [group.name for group in cut.items]
    assert names == [*(strip.name for strip in strips), "keeper"]


def test_what_is_said_of_splices_is_written_back_as_it_was_read():
    for splices in ("allowed", "none", {}, {"count": 2}, {"count": 2, "stitch_lines": 3}):
        spec = with_splices(splices)
        assert spec_document(spec, "in")["body"]["splices"] == splices
        assert read_spec(spec_document(spec, "in"), "in") == spec


def test_random_long_straps_are_sound_and_their_remedies_accepted():
    seen = {"spliced": 0, "refused": 0, "remedied": 0}
    for seed in range(60):
        spec = read_spec(long_strap(seed), "in")
        try:
            pattern = solve(spec, LONG_SHOP)
        except Refusal as refusal:
            seen["refused"] += 1
            remedies = find_remedies(spec, LONG_SHOP, refusal.faults)
            seen["remedied"] += bool(remedies)
            for remedy in remedies:
                mended = solve(apply(spec, remedy.changes), LONG_SHOP)
                judge_laps(mended, LONG_SHOP)
                judge_loops(mended, LONG_SHOP)
            continue
        judge_laps(pattern, LONG_SHOP)
        judge_loops(pattern, LONG_SHOP)
        seen["spliced"] += any(piece.splices for piece in pattern.pieces)
    assert seen["spliced"] > 10
    assert seen["remedied"] >= 0.9 * seen["refused"]
