"""What a lining is for: which way is taken, what its backs reach through, and what is told and mended."""

from dataclasses import replace

import pytest

from openapi.example_requests import examples
from service.schemas.codes import code_of, document_of
from service.schemas.pattern import made_document
from service.schemas.seals import read_seal, seal_of
from service.schemas.spec import SpecError, canonical_json, read_spec, spec_document
from service.shop_file import demo_shop
from service.strap.errors import Refusal
from service.strap.model.likeness import pattern_digest
from service.strap.model.spec import Body, Ends, Lining, Size, Spec, StrapEnd
from service.strap.model.spec_set import Between, Border, Row
from service.strap.plane.lengths import INCH, SIXTY_FOURTH
from service.strap.solve import solve
from service.workshop.materials import Order, materials_of
from tests.support.straps import assert_told_and_mended

SHOP = demo_shop()
STRIP = Spec(construction="open", size=Size(body_length=20 * INCH), body=Body(width=2 * INCH), lining="lining_2_3")
BELLS, SPOTS, CONCHOS = (Row(item=item, count=3) for item in ("bell_25", "spot_10", "concho_25"))


def lined(leather, purpose):
    return Lining(leather=leather, purpose=purpose)


def purpose_of(spec, shop=SHOP):
    return solve(spec, shop).piece("lining").purpose


def checks_of(spec):
    return {check.rule: check for check in solve(spec, SHOP).checks}


def test_the_two_ply_bell_strap_is_made():
    """A shank of 9.5 mm behind 9 oz, 9/64 in = 3.572 mm, stands out 5.928 mm; a lace takes 2.5 mm (by hand)."""
    spec = read_spec(examples()["lined_bell_strap"], "in")
    pattern = solve(spec, SHOP)
    assert pattern.piece("lining").purpose == "cover"
    reach = next(check for check in pattern.checks if check.rule == "shank_reach")
    assert reach.value == SHOP.ornaments["bell_38"].fixing.height - 9 * SIXTY_FOURTH == 5_928_125


@pytest.mark.parametrize(
    ("decoration", "purpose"),
    [
        ({}, "carry"),
        ({"ornaments": BELLS}, "cover"),
        ({"ornaments": SPOTS}, "cover"),
        ({"ornaments": CONCHOS}, "carry"),
        ({"ornaments": CONCHOS, "between": Between(item="spot_6")}, "cover"),
        ({"ornaments": CONCHOS, "border": Border(item="spot_6", inset=INCH * 5 // 16)}, "cover"),
    ],
)
def test_a_lining_of_which_nothing_is_said_covers_prongs_and_shanks(decoration, purpose):
    """What has a back that would lie on the wearer is covered; a screw is reached from behind (common practice)."""
    assert purpose_of(replace(STRIP, **decoration)) == purpose


def test_what_holds_in_both_plies_and_not_in_the_outer_one_is_set_through_both():
    """A prong of 6.2 mm stands out 5.406 mm behind 2 oz (0.794 mm), and a clinch folds 4.5 mm; behind 2 and 6 oz
    (3.175 mm) it stands out 3.025 mm (by hand).
    """
    spec = replace(STRIP, leather="lining_2_3", lining="latigo_6_7", ornaments=SPOTS)
    assert purpose_of(spec) == "carry"
    with pytest.raises(Refusal, match="stand out"):
        solve(replace(spec, lining=lined("latigo_6_7", "cover")), SHOP)


@pytest.mark.parametrize(
    ("item", "rule", "value"),
    [
        ("spot_10", "prong_clinch_min", 6_200_000 - 7 * SIXTY_FOURTH),
        ("bell_25", "shank_reach", 8_000_000 - 7 * SIXTY_FOURTH),
        ("concho_25", "post_grip_max", 9 * SIXTY_FOURTH),
    ],
)
def test_reach_counts_the_outer_leather_where_the_lining_covers_and_both_where_it_carries(item, rule, value):
    """6-7 and 8-9 oz at their thickest are 7/64 and 9/64 in; 2-3 oz are 3/64 in more."""
    leather = "harness_8_9" if item == "concho_25" else "latigo_6_7"
    spec = replace(STRIP, leather=leather, ornaments=Row(item=item, count=2))
    covered, carried = (checks_of(replace(spec, lining=lined("lining_2_3", way))) for way in ("cover", "carry"))
    assert covered[rule].value == value
    assert abs(carried[rule].value - value) == 3 * SIXTY_FOURTH


def test_spots_on_lined_harness_leather_need_not_clinch_behind_the_lining():
    spec = Spec(construction="three_piece", size=Size(body_length=24 * INCH), lining="lining_2_3", ornaments=SPOTS)
    assert purpose_of(spec) == "cover"
    carried = replace(spec, lining=lined("lining_2_3", "carry"))
    assert_told_and_mended(carried, "prongs_short", ("ornaments", "item"), SHOP)


# ---------------------------------------------------------------- over the backs


def test_a_lining_is_cut_longer_by_what_it_rises_over_the_backs():
    """Behind 8 oz, 3.175 mm, a shank of 9.5 stands up 6.325; half of 3 1/2 in is 44.45 (by hand, by Pythagoras).

    √(44.45² + 6.325²) - 44.45 = 0.448 mm, up and down over each of 15: 13.43 mm, or 9/16 in to the next sixteenth.
    """
    lining = solve(read_spec(examples()["lined_bell_strap"], "in"), SHOP).piece("lining")
    assert lining.rise == INCH * 9 // 16
    assert lining.cut_length == 60 * INCH + INCH * 9 // 16 + 2 * INCH // 8
    assert lining.cut_width == INCH * 11 // 4


@pytest.mark.parametrize("row", [SPOTS, Row(item="bell_25", count=1)], ids=["prongs", "one back"])
def test_a_lining_over_clinched_prongs_or_one_back_alone_is_no_longer(row):
    """A clinched prong lies flat (common practice); from one back alone it slopes to the ends of the strap."""
    assert solve(replace(STRIP, ornaments=row), SHOP).piece("lining").rise == 0


def test_a_lining_needs_room_to_come_down_beside_a_back():
    """Behind 6 oz a shank of 8 mm stands up 5.62 mm; the lining takes twice that, 11.24. A slot of 5/8 in in 1 1/4 in
    leaves 5/16 in, 7.94 mm, in 1 1/2 in 7/16 in, 11.11, and in 1 5/8 in 1/2 in (by hand).
    """
    latigo = replace(STRIP, leather="latigo_6_7", ornaments=BELLS)
    for width, left in ((5, INCH * 5 // 16), (6, INCH * 7 // 16)):
        narrow = replace(latigo, body=Body(width=INCH * width // 4))
        with pytest.raises(Refusal) as refusal:
            solve(narrow, SHOP)
        assert [(fault.code, fault.found) for fault in refusal.value.faults] == [("lining_steep", left)]
        assert_told_and_mended(narrow, "lining_steep", ("ornaments", "item"), SHOP)
    assert checks_of(replace(latigo, body=Body(width=INCH * 13 // 8)))["lining_run"].value == INCH // 2
    carried = replace(latigo, body=Body(width=INCH * 5 // 4), lining=lined("lining_2_3", "carry"))
    assert "lining_run" not in checks_of(carried)


# ---------------------------------------------------------------- reading and writing

DOCUMENT = {"units": "in", "construction": "open", "size": {"body_length": "10 in"}}


def test_an_object_that_says_no_more_than_an_id_is_the_id():
    bare, named = (read_spec(DOCUMENT | {"lining": each}, "in") for each in ("lining_2_3", {"leather": "Lining_2_3 "}))
    assert bare == named
    assert canonical_json(bare, "in") == canonical_json(named, "in")


@pytest.mark.parametrize("purpose", ["cover", "carry"])
def test_a_lining_that_says_its_purpose_is_read_back_as_it_was_written(purpose):
    spec = read_spec(DOCUMENT | {"lining": {"leather": "lining_2_3", "purpose": purpose}}, "in")
    assert spec.lining == lined("lining_2_3", purpose)
    assert read_spec(spec_document(spec, "in"), "in") == spec
    assert read_spec(document_of(code_of(spec, "in")), "in") == spec


@pytest.mark.parametrize(
    ("lining", "path", "code"),
    [
        ({}, ("lining", "leather"), "missing"),
        ({"purpose": "cover"}, ("lining", "leather"), "missing"),
        ({"leather": "lining_2_3", "purpose": "hide"}, ("lining", "purpose"), "unknown_value"),
        ({"leather": "lining_2_3", "way": "cover"}, ("lining", "way"), "unknown_field"),
        ({"leather": 7}, ("lining", "leather"), "wrong_type"),
        (["lining_2_3"], ("lining",), "wrong_type"),
        (True, ("lining",), "wrong_type"),
    ],
)
def test_what_is_no_lining_is_refused_by_its_place(lining, path, code):
    with pytest.raises(SpecError) as error:
        read_spec(DOCUMENT | {"lining": lining}, "in")
    assert [(fault.path, fault.code) for fault in error.value.faults] == [(path, code)]


def test_the_answer_keeps_a_bare_id_and_says_on_the_lining_what_it_is_for():
    """Version 1 answered a text there; what it is for stands on the piece."""
    pattern = solve(read_spec(examples()["lined_bag_strap"], "in"), SHOP)
    answer = made_document(pattern, (), (), "in")
    assert answer["spec"]["lining"] == "lining_2_3"
    told = {piece["name"]: (piece.get("purpose"), piece.get("over")) for piece in answer["pieces"]}
    assert told == {"strap": (None, None), "lining": ("cover", "1/8 in")}


# ---------------------------------------------------------------- seals


def test_a_seal_says_what_the_lining_is_for():
    pattern = solve(replace(STRIP, ornaments=BELLS), SHOP)
    seal = read_seal(document_of(seal_of(pattern)), "in")
    assert seal.spec.lining == lined("lining_2_3", "cover")
    assert pattern_digest(solve(seal.spec, SHOP)) == seal.digest


def test_one_sealed_before_linings_covered_stays_the_strap_that_it_was():
    """Its spec has a bare id, and what was set went through both plies."""
    carried = solve(replace(STRIP, lining=lined("lining_2_3", "carry"), leather="latigo_6_7", ornaments=SPOTS), SHOP)
    document = document_of(seal_of(carried))
    document["spec"]["lining"] = "lining_2_3"
    seal = read_seal(document, "in")
    assert pattern_digest(solve(seal.spec, SHOP)) == seal.digest
    covered = solve(replace(carried.spec, lining=lined("lining_2_3", "cover")), SHOP)
    assert pattern_digest(covered) != seal.digest


# ---------------------------------------------------------------- cut over, and trimmed


def test_a_lining_is_cut_an_eighth_over_all_round():
    """20 by 2 in are cut 20 1/4 by 2 1/4 in: 45 9/16 sq in (by hand); what is trimmed off weighs nothing."""
    pattern = solve(STRIP, SHOP)
    lining = pattern.piece("lining")
    assert (lining.cut_length, lining.cut_width) == (20 * INCH + INCH // 4, 2 * INCH + INCH // 4)
    materials = materials_of([Order(pattern=pattern)], SHOP)
    use = next(each for each in materials.leathers if each.leather == "lining_2_3")
    assert use.blank == 729 * INCH**2 // 16
    assert {(each.width, each.length) for each in materials.strips} == {
        (2 * INCH, 20 * INCH), (lining.cut_width, lining.cut_length),
    }  # fmt: skip


@pytest.mark.parametrize(("length", "over"), [("79 3/4", INCH // 8), ("79 7/8", INCH // 16), ("80", 0)])
def test_it_is_cut_no_larger_than_its_leather_yields(length, over):
    """Strips of 80 in (the shop file): a strap that was accepted is accepted."""
    ends = Ends(head=StrapEnd(kind="plain"), foot=StrapEnd(kind="plain"))
    document = DOCUMENT | {"size": {"body_length": f"{length} in"}, "lining": "lining_2_3"}
    pattern = solve(replace(read_spec(document, "in"), ends=ends), SHOP)
    assert pattern.piece("lining").over == over
