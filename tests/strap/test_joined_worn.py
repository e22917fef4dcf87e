"""A strap that another joins at two buckles, as it is worn: what both tips lie on, by hand and by the wearer."""

import random
from dataclasses import replace
from math import pi

import pytest

from service.schemas.pattern import made_document
from service.schemas.spec import read_spec
from service.shop_file import demo_shop
from service.strap.errors import Refusal
from service.strap.filling.resolve import resolve
from service.strap.making.layout import lay_out
from service.strap.model.likeness import figures_of, pattern_digest
from service.strap.model.spec_changes import apply
from service.strap.plane.lengths import INCH, MM
from service.strap.remedies.remedies import find_remedies
from service.strap.rules.checks import measure_rules
from service.strap.rules.worn import worn
from service.strap.solve import solve
from service.workshop.cautions import cautions
from tests.support.straps import assert_told_and_mended
from tests.support.wearer import BY, assert_worn_as_told, touched_at_each_hole

SHOP = demo_shop()
BUCKLE = {"kind": "buckle"}
NECK = {
    "construction": "two_ends",
    "size": {"bar_to_bar": "44"},
    "body": {"width": "1 1/2"},
    "ends": {"head": BUCKLE, "foot": BUCKLE},
    "joining_strap": {"adds": {"from": "4", "to": "14"}},
    "keepers_between": {"width": "3/8"},
    "lining": {"leather": "latigo_6_7", "held_by": "keepers"},
    "ornaments": {"item": "bell_30", "count": 15},
    "worn_by": "animal",
}
GOAT = {
    "construction": "two_ends",
    "size": {"bar_to_bar": "40"},
    "body": {"width": "1"},
    "ends": {"head": BUCKLE, "foot": BUCKLE},
    "joining_strap": {"adds": {"from": "4", "to": "24"}},
    "ornaments": {"item": "bell_25", "count": 15},
}


def spec_of(spec, **changes):
    return read_spec(spec | changes, "in")


def answer_of(pattern):
    return made_document(pattern, (), (), "in")


def refused(spec):
    try:
        solve(spec, SHOP)
    except Refusal as refusal:
        return refusal.faults
    return ()


# ---------------------------------------------------------------- by hand


def test_a_tip_that_lies_on_a_bell_at_the_innermost_holes_is_told():
    """By hand: the tip is 2.5 widths, 3 3/4 in, and the row 5 in: at its innermost hole 8 3/4 in lie past the bar.

    The bar lies 4.092 in from the strap's end and the first bell's middle at 12.938 in, so its near rim, 15 mm before,
    8.255 in past the bar: the tip lies 0.495 in over it. At the next hole it has drawn back by 1 in.
    """
    pattern = solve(spec_of(NECK), SHOP)
    tightest, *others = pattern.worn
    first = {each.at: each for each in tightest.covers}["strap.ornament.1"]
    assert first.by / INCH == pytest.approx(0.495, abs=0.001)
    assert {each.at for each in tightest.covers} == {"strap.ornament.1", "strap.ornament.15"}
    assert {each.severity for each in tightest.covers} == {"warning"}
    assert not tightest.lies_down
    assert [each.covers for each in others] == [()] * 5
    assert (
        "Not to be worn at hole 1 of the joining strap, counted from its middle: a tip lies up to ≈ 1/2 in over the "
        "shank bell, 30 mm there, and cannot lie down."
    ) in cautions(pattern, SHOP)


def test_a_long_range_leaves_holes_that_nobody_wears_it_at():
    """By hand: 11 holes 1 in apart and 2 1/2 in of tip reach 12 1/2 to 2 1/2 in past either bar.

    A bell's near rim lies 8 1/2 to 9 1/2 in past its bar, so that the four innermost holes lay the tip on it.
    """
    pattern = solve(spec_of(GOAT), SHOP)
    assert [hole.hole for hole in pattern.worn if not hole.lies_down] == [1, 2, 3, 4]
    bar = pattern.finished.head_at.bar
    front = next(ply for ply in pattern.placements if ply.direction == 1)
    first = next(f for f in pattern.pieces[0].features if f.purpose == "ornament")
    rim = front.offset + first.x - first.footprint // 2 - bar
    assert 8.5 * INCH < rim < 9.5 * INCH
    assert any("holes 1 to 4 of the joining strap" in each for each in cautions(pattern, SHOP))
    assert [hole.hole for hole in pattern.worn_at] == [5, 6, 7, 8, 9, 10, 11]


def test_each_hole_says_how_long_it_is_all_round_and_what_fits():
    """All round is bar to bar and what is added; inside it is less by pi t of strap and lining (geometry)."""
    told = answer_of(solve(spec_of(NECK), SHOP))["finished"]["joined"]
    assert [hole["length"] for hole in told["holes"]] == [f"{each} in" for each in (48, 50, 52, 54, 56, 58)]
    thick = (8.5 + 6.5) * 25.4 / 64
    for hole in told["holes"]:
        assert hole["fits_mm"] == pytest.approx(hole["length_mm"] - pi * thick, abs=0.01)
    assert told["tightest"] == {name: told["holes"][0][name] for name in told["tightest"]}
    assert told["loosest"] == {name: told["holes"][-1][name] for name in told["loosest"]}


def test_what_is_flat_enough_is_told_as_such():
    pattern = solve(spec_of(GOAT, ornaments={"item": "spot_10", "count": 30}), SHOP)
    assert all(hole.lies_down for hole in pattern.worn)
    (told,) = [each for each in cautions(pattern, SHOP) if "flat enough" in each]
    assert told.startswith("Buckled at holes 1 to ")


def test_a_collar_ring_lets_the_joining_strap_through_or_is_a_fault():
    """1 in and two plies of 9 oz (7.1 mm) are 26.4 mm from corner to corner: not through 26.2 mm, but through 33 mm."""
    ends = {"head": BUCKLE | {"ring": "ring_25"}, "foot": BUCKLE}
    bells = {"item": "bell_25", "count": 5}
    assert_told_and_mended(spec_of(GOAT, ends=ends, ornaments=bells), "tip_on_ornament", ("ends", "head", "ring"), SHOP)
    ends = {"head": BUCKLE | {"ring": "ring_32"}, "foot": BUCKLE}
    pattern = solve(spec_of(GOAT, ends=ends, ornaments=bells), SHOP)
    assert {hole.covers[0].at for hole in pattern.worn} == {"lead_ring"}
    assert "Pass the joining strap's tip through the collar ring when buckling." in cautions(pattern, SHOP)
    assert_worn_as_told(answer_of(pattern), SHOP)


def test_a_seal_knows_a_joined_strap_by_what_it_is_made_of_alone():
    """What it adds follows from its pieces: its digest is what it was before each of its holes was told."""
    pattern = solve(spec_of(NECK), SHOP)
    bare = replace(pattern, finished=replace(pattern.finished, joined=None), worn=())
    assert pattern_digest(pattern) == pattern_digest(bare)
    assert ("finished", "first_hole") not in figures_of(pattern)


# ---------------------------------------------------------------- cures


@pytest.mark.parametrize(
    ("changes", "path"),
    [
        ({"ornaments": {"item": "bell_25", "count": 24}}, ("ornaments", "count")),
        ({"joining_strap": {"length": "29", "size_holes": {"count": 11}},
          "ornaments": {"item": "bell_25", "count": 24}}, ("ornaments", "count")),
        ({"ornaments": {"item": "bell_25", "count": 8, "spacing": {"pitch": "4"}}}, ("ornaments", "count")),
        ({"size": {"girth": "44"}, "ornaments": {"item": "bell_25", "count": 16}}, ("ornaments", "count")),
        ({"body": {"width": "1 1/2"}, "ornaments": {"item": "spot_6", "count": 20}, "between": {"item": "concho_25"}},
         ("between", "item")),
    ],
)  # fmt: skip
def test_what_cannot_be_worn_at_the_middle_hole_is_refused_and_mended(changes, path):
    assert_told_and_mended(spec_of(GOAT, **changes), "tip_on_ornament", path, SHOP)


def test_the_cures_are_those_of_the_bench():
    """Fewer bells, or a range that ends sooner or begins later: each alone, and as little as will do."""
    spec = spec_of(GOAT, ornaments={"item": "bell_25", "count": 24})
    found = find_remedies(spec, SHOP, refused(spec))
    alone = {each.changes[0].path: each.changes[0].value for each in found if len(each.changes) == 1}
    assert alone[("ornaments", "count")] == 22
    most, least = (alone[("joining_strap", "adds", name)] for name in ("to", "from"))
    assert 18 * INCH < most < 24 * INCH
    assert 4 * INCH < least < 10 * INCH
    punched = spec_of(GOAT, ornaments={"item": "bell_25", "count": 24},
                      joining_strap={"length": "29", "size_holes": {"count": 11}})  # fmt: skip
    fewer = [
        change.value
        for each in find_remedies(punched, SHOP, refused(punched))
        for change in each.changes
        if change.path == ("joining_strap", "size_holes", "count")
    ]
    assert fewer
    assert max(fewer) < 11


def test_round_a_girth_less_is_added_before_another_girth_is_offered():
    """The wearer does not grow: a body that is longer by what the joining strap adds less closes round the same."""
    spec = spec_of(GOAT, size={"girth": "44"}, ornaments={"item": "bell_25", "count": 16})
    found = find_remedies(spec, SHOP, refused(spec))
    assert found
    assert not any(change.path[0] == "size" for each in found[:2] for change in each.changes)


# ---------------------------------------------------------------- by girth


@pytest.mark.parametrize("ease", ["0", "1"])
def test_round_a_girth_it_fits_at_its_middle_holes(ease):
    """By hand: the girth, the ease and pi t all round (6.5 oz is 2.58 mm), of which the middle holes add 8 in."""
    joining = {"adds": {"from": "4", "to": "12"}}
    size = {"girth": "40", "ease": ease}
    spec = spec_of(
        GOAT, leather="latigo_6_7", size=size, joining_strap=joining, ornaments={"item": "bell_25", "count": 9}
    )
    pattern = solve(spec, SHOP)
    flat = (40 + int(ease)) * 25.4 + pi * 6.5 * 25.4 / 64
    half_graduation = 25.4 / 32
    assert pattern.finished.from_bar / MM == pytest.approx(flat - 8 * 25.4, abs=half_graduation)
    assert pattern.pieces[0].length % (INCH // 16) == 0
    holes = pattern.finished.joined.holes
    assert len(holes) == 5
    assert pattern.finished.nominal_hole == 3
    assert [hole.fits / INCH for hole in holes] == pytest.approx([36, 38, 40, 42, 44], abs=1 / 32)
    again = solve(read_spec(answer_of(pattern)["spec"], "in"), SHOP)
    assert again.pieces == pattern.pieces


def test_of_an_even_number_of_holes_the_tighter_of_the_middle_two_fits_the_girth():
    spec = spec_of(NECK, size={"girth": "50"})
    fits = [hole.fits / INCH for hole in solve(spec, SHOP).finished.joined.holes]
    assert fits == pytest.approx([46, 48, 50, 52, 54, 56], abs=1 / 32)


def test_a_size_of_a_table_is_a_girth_with_the_table_s_ease():
    """A dog's collar L with 1 in of ease, two fingers (common practice), on two billets as on one strip."""
    size, few = {"table": "dog_collar", "label": "L"}, {"item": "spot_10", "count": 2}
    girth = SHOP.size_tables["dog_collar"].sizes["L"]
    billet = {"kind": "billet", "width": "3/4", "end": BUCKLE}
    for ends in ({"head": BUCKLE, "foot": BUCKLE}, {"head": billet, "foot": billet}):
        joining = {"adds": {"from": "4", "to": "8"}}
        pattern = solve(spec_of(GOAT, size=size, ends=ends, joining_strap=joining, ornaments=few), SHOP)
        middle = pattern.finished.joined.holes[pattern.finished.nominal_hole - 1]
        assert middle.fits / MM == pytest.approx(girth / MM, abs=25.4 / 32)


@pytest.mark.parametrize("size", [{"girth": "30"}, {"table": "dog_collar", "label": "XL"}])
def test_two_buckles_alone_close_round_nothing_and_a_strap_between_them_mends_it(size):
    spec = spec_of({name: part for name, part in GOAT.items() if name != "joining_strap"}, size=size,
                   ornaments={"item": "bell_25", "count": 1})  # fmt: skip
    (fault,) = refused(spec)
    assert fault.path[0] == "size"
    assert "that takes a joining_strap between its two buckles" in fault.detail
    assert_told_and_mended(spec, "without_meaning", fault.path, SHOP)
    first = find_remedies(spec, SHOP, refused(spec))[0]
    assert {change.path for change in first.changes[:2]} == {("joining_strap", "adds", name) for name in ("from", "to")}


# ---------------------------------------------------------------- the wearer

_BILLET = {"kind": "billet", "width": "1 in", "end": BUCKLE}
_ENDS = (
    BUCKLE,
    BUCKLE | {"hold": "stitches"},
    BUCKLE | {"buckle": "heel_bar_25", "keeper": ["fixed", "loose"]},
    _BILLET,
    _BILLET | {"width": "3/4 in", "join": "stitches", "adds": "12"},
)
_JOINING = (
    {"adds": {"from": "4", "to": "14"}},
    {"adds": {"from": "5", "to": "5"}},
    {"adds": {"from": "4", "to": "24"}},
    {"length": "24", "size_holes": {"count": 4, "spacing": "3/4"}, "tip": {"shape": "round"}},
    {"width": "3/4", "adds": {"from": "90 mm", "to": "300 mm"}, "tip": {"shape": "straight_point"}},
)
_ROWS = (
    {"item": "bell_25", "count": 12},
    {"item": "bell_25", "count": 20, "spacing": "even"},
    {"item": "concho_25", "count": 7, "centrepiece": "concho_38"},
    {"item": "bell_25", "count": 7, "spacing": {"pitch": "5"}},
    {"items": ["bell_25", "spot_10"], "arrange": "alternating", "count": 17},
)
_BESIDE = (
    {},
    {"between": {"item": "spot_6"}},
    {"body": {"width": "2", "taper": {"to": "1"}}},
    {"leather": "latigo_6_7"},
    {"border": {"item": "spot_6"}, "body": {"width": "1 1/2"}},
    {"lining": "lining_2_3"},
)


def joined_strap(seed):
    """An odd strap of two buckles and what joins them, refused ones too."""
    chance = random.Random(f"joined {seed}")
    ends = {"head": chance.choice(_ENDS), "foot": chance.choice(_ENDS)}
    size = {"bar_to_bar": f"{chance.randrange(20 * 8, 60 * 8) / 8} in"}
    made = {"construction": "two_ends", "size": size, "body": {"width": "1"}, "ends": ends}
    return made | {"joining_strap": chance.choice(_JOINING), "ornaments": chance.choice(_ROWS)} | chance.choice(_BESIDE)


@pytest.mark.parametrize("spec", [NECK, GOAT], ids=["neck", "goat"])
def test_the_wearer_finds_what_is_told_by_hand(spec):
    answer = answer_of(solve(spec_of(spec), SHOP))
    assert_worn_as_told(answer, SHOP)
    by = {touch.at: touch.by for touch in touched_at_each_hole(answer, SHOP)[0]}
    if spec is NECK:
        assert by["strap.ornament.1"] / 25.4 == pytest.approx(0.495, abs=BY / 25.4 + 0.001)


def test_the_wearer_finds_what_is_told_of_any_joined_strap():
    """Laid out, whether it is refused or not: both tips fall where they fall, and a fault is what `tip_clear` tells."""
    laid, touching = 0, 0
    for seed in range(160):
        try:
            job = resolve(read_spec(joined_strap(seed), "in"), SHOP)
            pattern = lay_out(job)
        except Refusal:
            continue
        told = worn(pattern, job)
        assert_worn_as_told(answer_of(replace(pattern, worn=told)), SHOP)
        faults = {cover.at for hole in told for cover in hole.covers if cover.severity == "fault"}
        failed = [m.check for m in measure_rules(pattern, job) if m.check.rule == "tip_clear" and not m.check.passed]
        assert bool(faults) == bool(failed)
        laid, touching = laid + 1, touching + any(hole.covers for hole in told)
    assert laid > 100
    assert touching > 50


def test_every_remedy_for_a_joined_strap_is_one_that_can_be_worn():
    mended = 0
    for seed in range(24):
        spec = read_spec(joined_strap(seed), "in")
        if refused(spec):
            for remedy in find_remedies(spec, SHOP, refused(spec))[:2]:
                assert_worn_as_told(answer_of(solve(apply(spec, remedy.changes), SHOP)), SHOP)
                mended += 1
    assert mended > 5
