"""Keepers between ornaments, and linings that they hold: where they stand, how long they are, what is refused.

Straps of a restorer of harness bells (custom-project pages of classicbells.com, in our own words) are made to their
published figures: bell strap and lining strap held together by keepers between the bells.
"""

from dataclasses import replace
from itertools import pairwise

import pytest

from service.drawing.cutting.cutter import cutter_drawing
from service.schemas.spec import read_spec, spec_document
from service.shop_file import demo_shop
from service.strap.errors import Refusal
from service.strap.model.likeness import pattern_digest
from service.strap.model.spec_changes import apply
from service.strap.plane.lengths import INCH
from service.strap.remedies.remedies import find_remedies
from service.strap.solve import solve
from service.workshop.cautions import cautions
from service.workshop.materials import Order, materials_of
from tests.strap.test_splices import judge_loops, places
from tests.support.long_straps import LONG_SHOP
from tests.support.straps import assert_told_and_mended
from tests.walker.bench import Bench
from tests.workshop.test_walker import answer_for

SHOP = demo_shop()
NECK = {
    "construction": "two_ends",
    "size": {"body_length": "48 in"},
    "worn_by": "animal",
    "lining": {"leather": "latigo_6_7", "held_by": "keepers"},
    "ends": {"head": {"kind": "buckle"}, "foot": {"kind": "buckle"}},
    "ornaments": {"item": "bell_25", "count": 18},
    "keepers_between": {"width": "3/8 in"},
}


def read(document, **more):
    """The spec of a document with some members set otherwise; `None` leaves one out."""
    whole = {name: value for name, value in (document | more).items() if value is not None}
    return read_spec(whole, "in")


def with_bells(sizes):
    """A shop that owns bells of these diameters in eighths of an inch, on shanks as the demo shop's."""
    bell = SHOP.ornaments["bell_25"]
    bells = {f"no_{n}": replace(bell, id=f"no_{n}", diameter=INCH * n // 8) for n in sizes}
    return replace(LONG_SHOP, ornaments={**SHOP.ornaments, **bells})


def test_each_stands_in_the_middle_of_its_gap_and_is_as_long_as_it_goes_round():
    """18 bells have 17 gaps. By hand: 2 x (25.4 + 3.373 + 2.580) mm round strap and lining, four corners of
    pi / 2 x 0.843 mm, a lap of 12.7 mm and 1 mm of ease are 81.7 mm, on a ruler of sixteenths 3 1/4 in."""
    pattern = solve(read(NECK), SHOP)
    bells = [each.x for each in pattern.pieces[0].features if each.purpose == "ornament"]
    middles = [(left + right) / 2 for left, right in pairwise(bells)]
    assert all(abs(x - middle) <= INCH // 32 for x, middle in zip(places(pattern), middles, strict=True))
    keeper = pattern.piece("keeper_between")
    assert (keeper.count, keeper.length, keeper.width) == (17, 13 * INCH // 4, 3 * INCH // 8)
    judge_loops(pattern, SHOP)


def test_in_every_so_many_gaps_or_in_those_that_are_said():
    for asked, numbers in (
        ({"every": 2}, range(1, 18, 2)),
        ({"every": 5}, (1, 6, 11, 16)),
        ({"gaps": [[1, 12, 2], [13, 17, 1]]}, (1, 3, 5, 7, 9, 11, 13, 14, 15, 16, 17)),
        ({"gaps": [[4, 4, 1], [4, 6, 2]]}, (4, 6)),
    ):
        kept = solve(read(NECK, keepers_between=asked | {"width": "3/8 in"}), SHOP)
        everywhere = places(solve(read(NECK), SHOP))
        assert places(kept) == [everywhere[n - 1] for n in numbers]
        assert kept.piece("keeper_between").count == len(list(numbers))


def test_the_neck_strap_that_was_made():
    """48 in by 7/8 in, 25 bells of 1 1/4 in, 2 in apart nominally: 24 gaps of 2 in would be the whole body. A keeper in
    each gap, and one that holds strap and lining strap together (published)."""
    shop = with_bells([10])
    spec = read(
        NECK,
        body={"width": "7/8 in"},
        ornaments={"item": "no_10", "count": 25},
        ends={"head": {"kind": "buckle", "buckle": "heel_bar_25"}, "foot": {"kind": "plain"}},
        size={"body_length": "58 in"},
    )
    spec = read_spec(spec_document(spec, "in") | {"ends": {"head": {"kind": "plain"}, "foot": {"kind": "plain"}}}, "in")
    pattern = solve(spec, shop)
    assert len([each for each in pattern.pieces[0].features if each.purpose == "ornament"]) == 25
    assert pattern.piece("keeper_between").count == 24
    assert pattern.piece("lining").is_loose
    judge_loops(pattern, shop)
    Bench(answer_for(spec, shop)).make()


def test_the_neck_strap_of_several_sizes_that_was_made():
    """17 bells, numbers 4-4-4-6-6-6-8-8-9 mirrored (number n is 1 + n / 8 in), 1 1/2 in wide, keepers between each pair
    (published): 16 keepers."""
    numbers = (4, 4, 4, 6, 6, 6, 8, 8, 9)
    shop = with_bells([8 + n for n in numbers])
    spec = read(
        NECK, size={"body_length": "62 in"}, body={"width": "1 1/2 in"},
        ends={"head": {"kind": "buckle", "buckle": "heel_bar_38"}, "foot": {"kind": "buckle", "buckle": "heel_bar_38"}},
        ornaments={"items": [f"no_{8 + n}" for n in numbers], "arrange": "sequence", "mirrored": True, "count": 17},
        lining={"leather": "latigo_6_7", "held_by": "keepers"},
    )  # fmt: skip
    pattern = solve(spec, shop)
    sizes = [each.footprint * 8 // INCH for each in pattern.pieces[0].features if each.purpose == "ornament"]
    assert sizes == [8 + n for n in (*numbers, *numbers[-2::-1])]
    assert pattern.piece("keeper_between").count == 16
    judge_loops(pattern, shop)


def test_they_are_counted_in_all_that_is_laid_out_and_cut():
    """17 keepers of 3 1/4 in are 55 1/4 in of strip, and take a rivet each, beside those of both buckles' keepers."""
    pattern = solve(read(NECK), SHOP)
    materials = materials_of([Order(pattern=pattern, quantity=2)], SHOP)
    use = next(each for each in materials.pieces if each.name == "keeper_between")
    assert (use.count, use.length) == (34, 13 * INCH // 4)
    strip = next(each for each in materials.strips if each.width == 3 * INCH // 8)
    assert (strip.length, strip.pieces) == (2 * 221 * INCH // 4, 34)
    drawing = cutter_drawing(pattern, SHOP, piece="keeper_between", units="in")
    assert [len(layer.items) for layer in drawing.layers if layer.id in ("punch", "cut")] == [17, 17]
    rivets = next(line.count for line in pattern.hardware if line.purpose == "keeper_rivet")
    assert rivets == 17 + 2


def test_a_strap_without_them_is_the_same_strap_and_others_are_not():
    kept, other = solve(read(NECK), SHOP), solve(read(NECK, keepers_between={"width": "3/8 in", "every": 2}), SHOP)
    assert pattern_digest(kept) != pattern_digest(other)
    wide = {
        "body": {"width": "2 1/2 in"},
        "construction": "three_piece",
        "ends": None,
        "size": {"body_length": "40 in"},
    }
    wide["ornaments"] = {"item": "bell_25", "count": 12}
    loose, sewn = (solve(read(NECK, **wide, lining=each), SHOP) for each in (NECK["lining"], "latigo_6_7"))
    assert pattern_digest(loose) != pattern_digest(sewn)


def test_a_lining_that_keepers_hold_is_neither_glued_nor_sewn():
    lining = solve(read(NECK), SHOP).piece("lining")
    assert (lining.purpose, lining.is_loose, lining.over) == ("cover", True, 0)
    answer = answer_for(read(NECK))
    assert not any("lining" in step["pieces"] and step["op"] in ("glue", "trim", "stitch") for step in answer["steps"])
    assert next(piece for piece in answer["pieces"] if piece["name"] == "lining")["held_by"] == "keepers"
    Bench(answer).make()


def test_keepers_go_round_straps_without_a_lining_and_with_one_that_is_sewn():
    for lining in (None, "lining_2_3", {"leather": "lining_2_3", "purpose": "carry"}):
        spec = read(
            NECK, construction="one_piece", ends=None, lining=lining, body={"width": "1 1/2 in"},
            billet={"buckle": "heel_bar_38"}, ornaments={"item": "spot_10", "count": 9}, leather="latigo_6_7",
        )  # fmt: skip
        Bench(answer_for(spec)).make()
        judge_loops(solve(spec, SHOP), SHOP)


WRONG = [
    ({"ornaments": {"item": "bell_25", "count": 18, "spacing": {"pitch": "1 3/16 in"}}},
     "keepers_crowded", ("keepers_between",)),
    ({"between": {"item": "spot_10"}}, "keepers_crowded", ("keepers_between",)),
    ({"between": {"item": "spot_10"}, "ornaments": {"item": "bell_25", "count": 5}, "lining": None},
     "keepers_crowded", ("keepers_between",)),
    ({"border": {"item": "spot_6", "inset": "1/8 in", "step": "1/2 in"}}, "keepers_crowded", ("keepers_between",)),
    ({"keepers_between": {"gaps": [[1, 18, 1]]}}, "without_meaning", ("keepers_between", "gaps")),
    ({"keepers_between": {"gaps": [[9, 4, 1]]}}, "without_meaning", ("keepers_between", "gaps")),
    ({"keepers_between": {"width": "30 in"}}, "keepers_between_beyond_limits", ("keepers_between", "width")),
    ({"keepers_between": None}, "without_meaning", ("lining", "held_by")),
    ({"lining": {"leather": "latigo_6_7", "purpose": "carry", "held_by": "keepers"}},
     "without_meaning", ("lining", "held_by")),
    ({"stitching": {"edges": True}}, "without_meaning", ("stitching", "edges")),
    ({"ornaments": {"item": "bell_25", "count": 1}, "lining": None}, "without_meaning", ("keepers_between",)),
    ({"keepers_between": {"width": "1/4 in"}}, "cut_near_edge", ("keepers_between", "width")),
]  # fmt: skip


@pytest.mark.parametrize(("more", "code", "path"), WRONG, ids=[f"{case[1]}-{'.'.join(case[2])}" for case in WRONG])
def test_what_is_wrong_is_told_to_its_field_and_mended(more, code, path):
    assert_told_and_mended(read(NECK, **more), code, path, SHOP)


def test_every_remedy_of_a_crowded_row_keeps_the_keepers_clear():
    crowded = read(NECK, ornaments={"item": "bell_25", "count": 30})
    with pytest.raises(Refusal) as refusal:
        solve(crowded, SHOP)
    remedies = find_remedies(crowded, SHOP, refusal.value.faults)
    assert remedies
    for remedy in remedies:
        judge_loops(solve(apply(crowded, remedy.changes), SHOP), SHOP)


def test_what_is_said_of_them_is_written_back_as_it_was_read():
    for asked in ({}, {"every": 3}, {"gaps": [[1, 4, 1], [6, 8, 2]]}, {"width": "3/8 in"}):
        spec = read(NECK, keepers_between=asked)
        assert read_spec(spec_document(spec, "in"), "in") == spec
    assert spec_document(read(NECK), "in")["lining"] == NECK["lining"]


def test_edges_sewn_beside_bells_want_room_for_a_machine_or_needles():
    """A restorer's strap of 2 in with bells of 1 1/4 in leaves 3/8 in a side for the machine's housing (published)."""

    def told(width):
        spec = read_spec(
            {
                "construction": "three_piece", "size": {"body_length": "40 in"}, "body": {"width": width},
                "lining": "harness_8_9", "ornaments": {"item": "bell_25", "count": 6},
            },
            "in",
        )  # fmt: skip
        return [text for text in cautions(solve(spec, SHOP), SHOP) if "machine" in text]

    assert told("1 3/4 in") == []
    assert len(told("1 5/8 in")) == 1
