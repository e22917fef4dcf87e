"""The strap as it is worn: what the tip covers at each hole, worked by hand and by an independent wearer."""

import json
import random
from dataclasses import replace
from itertools import pairwise
from math import pi, sqrt
from pathlib import Path

import pytest
from hypothesis import given, reject

from openapi.example_requests import EXAMPLES
from service.desk.selling import spec_of
from service.drawing.printed.order import ordered
from service.schemas.pattern import made_document
from service.schemas.spec import read_spec
from service.shop_file import demo_shop
from service.strap.errors import Refusal
from service.strap.filling.resolve import resolve
from service.strap.making.layout import lay_out
from service.strap.model.hardware import Stack
from service.strap.model.spec import Billet, Body, Ends, Size, SizeHoles, Spec, StrapEnd
from service.strap.model.spec_changes import apply, sized
from service.strap.model.spec_set import Between, Border, Row, Rows
from service.strap.plane.geometry import draw_back
from service.strap.plane.lengths import INCH, MM, parse_length
from service.strap.remedies.remedies import find_remedies
from service.strap.rules.checks import measure_rules
from service.strap.rules.worn import passes_through, worn
from service.strap.solve import solve
from service.workshop.cautions import cautions
from tests.support.straps import assert_told_and_mended, specs
from tests.support.wearer import BY, assert_worn_as_told, touched_at_each_hole

SHOP = demo_shop()


def inches(text):
    return parse_length(f"{text} in", "in")


def answer_of(pattern):
    return made_document(pattern, (), (), "in")


def refused(spec, shop=SHOP):
    try:
        solve(spec, shop)
    except Refusal as refusal:
        return refusal.faults
    return ()


# ---------------------------------------------------------------- by hand

GARTER_M = Spec(
    construction="one_piece",
    size=Size(table="garter", label="M"),
    leather="latigo_6_7",
    billet=Billet(buckle="centre_bar_25"),
    ornaments=Row(items=("bell_25", "spot_10"), count=5),
)

EXACT = Row(item="spot_10", count=0, spacing="even")
"""Nothing on the strap, and nothing of it moved to a graduation."""


def usual_run(spec):
    """The pattern as it would be if no row gave way to the tip: its bells may lie under it."""
    job = resolve(spec, replace(SHOP, rules=replace(SHOP.rules, flat_under_tip=100 * MM)))
    return lay_out(job)


def test_a_bell_that_lies_under_the_tip_gives_way_to_it():
    """A garter M as it was once laid out: tip at 195.3 mm, a bell of 25 mm at 7 1/8 in, so up to 193.5 mm.

    The strip's middle hole, 2 holes and 2 1/2 in before its tip, lies 14 in and pi times 2.58 mm from the bar.
    """
    once, strip = usual_run(GARTER_M), usual_run(GARTER_M).piece("strap")
    holes = [f.x for f in strip.features if f.purpose == "size_hole"]
    bar = holes[2] - once.finished.from_bar
    first = next(f for f in strip.features if f.purpose == "ornament")
    assert (bar + strip.length - holes[2]) / MM == pytest.approx(195.3, abs=0.05)
    assert ((first.x - first.footprint // 2) / MM, (first.x + first.footprint // 2) / MM) == pytest.approx(
        (168.475, 193.475), abs=0.001
    )
    now = solve(GARTER_M, SHOP)
    first = next(f for f in now.piece("strap").features if f.purpose == "ornament")
    assert first.x - first.footprint // 2 >= bar + strip.length - holes[2]
    assert [each.covers for each in now.worn[2:]] == [(), (), ()]


def test_a_row_that_can_be_worn_stays_where_it_was():
    spec = replace(GARTER_M, size=Size(girth=20 * INCH), ornaments=Row(item="bell_25", count=4))
    assert lay_out(resolve(spec, SHOP)).pieces == usual_run(spec).pieces
    flat = replace(GARTER_M, ornaments=Row(item="spot_10", count=5))
    assert lay_out(resolve(flat, SHOP)).pieces == usual_run(flat).pieces


def test_the_legs_that_fit_a_garter_for_a_leg_of_fourteen_inches():
    """Five holes 3/4 in apart: 1 1/2 in either way, whatever the leather's thickness adds to the flat length."""
    holes = SizeHoles(count=5, spacing=inches("3/4"))
    garter = replace(
        GARTER_M, size=Size(girth=14 * INCH), billet=replace(GARTER_M.billet, size_holes=holes), ornaments=EXACT
    )
    told = answer_of(solve(garter, SHOP))["finished"]["holes"]
    assert [hole["fits"] for hole in told] == ["12 1/2 in", "13 1/4 in", "14 in", "14 3/4 in", "15 1/2 in"]
    thick = 6.5 * 25.4 / 64
    assert told[0]["length_mm"] == pytest.approx(12.5 * 25.4 + pi * thick, abs=0.001)


def test_what_fits_is_less_by_the_lining_s_thickness_and_by_the_ease():
    size = Size(girth=16 * INCH, ease=INCH)
    spec = Spec(construction="one_piece", size=size, lining="lining_2_3", ornaments=EXACT)
    pattern = solve(spec, SHOP)
    assert [hole.fits for hole in pattern.finished.holes] == [n * INCH for n in (14, 15, 16, 17, 18)]
    flat = pattern.finished.from_bar / MM
    assert flat == pytest.approx(17 * 25.4 + pi * (8.5 + 2.5) * 25.4 / 64, abs=0.001)


def test_a_length_fits_by_the_shop_s_ease_and_never_less_than_nothing():
    spec = Spec(construction="one_piece", size=Size(finished_length=18 * INCH, measured_from="bar"))
    thick = 8.5 * 25.4 / 64
    middle = solve(spec, SHOP).finished.holes[2]
    assert middle.fits / MM == pytest.approx(18 * 25.4 - pi * thick, abs=0.001)
    easy = replace(SHOP, rules=replace(SHOP.rules, ease=INCH))
    assert middle.fits - solve(spec, easy).finished.holes[2].fits == INCH
    loose = Spec(construction="one_piece", size=Size(girth=3 * INCH, ease=20 * INCH), billet=Billet(
        size_holes=SizeHoles(count=9)), ornaments=EXACT)  # fmt: skip
    assert [hole.fits for hole in solve(loose, SHOP).finished.holes[:3]] == [0, 0, INCH]


def test_a_table_s_ease_is_added_to_its_girths():
    """Two fingers between collar and neck: about 1 in (common practice). A garter sits close."""
    collar = Spec(construction="one_piece", size=Size(table="dog_collar", label="M"), ornaments=EXACT)
    neck = solve(collar, SHOP)
    assert neck.finished.holes[2].fits == 420 * MM
    assert neck.spec.size.ease == INCH
    tight = solve(replace(collar, size=replace(collar.size, ease=0)), SHOP)
    assert neck.finished.from_bar - tight.finished.from_bar == INCH
    assert solve(GARTER_M, SHOP).spec.size.ease == 0


ROUND = ("round", 12 * MM)
SQUARE = ("square", 0)
POINT = ("straight_point", 12 * MM)


@pytest.mark.parametrize(
    ("form", "centre", "radius", "expected"),
    [
        (SQUARE, (5, 0), 10, 15),
        (SQUARE, (-10, 0), 10, 0),
        (SQUARE, (-12, 0), 10, -2),
        (SQUARE, (0, 18), 10, 8),  # 6 beyond the corner: sqrt(100 - 36)
        (ROUND, (4, 0), 10, 14),
        (ROUND, (0, 15), 10, sqrt(22**2 - 15**2) - 12),  # two circles touch at 12 + 10
        (POINT, (3, 0), 10, 13),
        (POINT, (0, 12), 6 * sqrt(2), 0),  # the wall x = y, at the distance 12 / sqrt(2)
        (SQUARE, (50, 23), 10, float("-inf")),  # beside the strap
    ],
)
def test_how_far_a_tip_has_to_draw_back(form, centre, radius, expected):
    """Worked by hand for a strap 24 mm wide."""
    found = draw_back(form, 12 * MM, (centre[0] * MM, centre[1] * MM), radius * MM) / MM
    assert found == pytest.approx(expected, abs=0.01)
    assert draw_back(form, 12 * MM, (centre[0] * MM, -centre[1] * MM), radius * MM) / MM == found


# ---------------------------------------------------------------- what is refused, and its cures

BELLS = replace(GARTER_M, ornaments=Row(item="bell_25", count=5))
BROAD = Spec(
    construction="one_piece",
    size=Size(girth=16 * INCH),
    body=Body(width=inches("1 1/2")),
    ornaments=Row(item="spot_6", count=4),
)
UNWEARABLE = {
    "bells": (BELLS, ("ornaments", "count")),
    "bells at a pitch": (replace(BELLS, size=Size(girth=16 * INCH),
                                 ornaments=Row(item="bell_25", count=5, spacing=inches("1 3/4"))),
                         ("ornaments", "count")),
    "conchos between": (replace(BROAD, between=Between(item="concho_25")), ("between", "item")),
    "bells between, and spots": (replace(BROAD, size=Size(girth=14 * INCH),
                                         between=(Between(item="spot_6"), Between(item="bell_25"))),
                                 ("between", "1", "item")),
    "a narrow ring": (Spec(construction="one_piece", size=Size(girth=16 * INCH), billet=Billet(ring="ring_25")),
                      ("billet", "ring")),
}  # fmt: skip


@pytest.mark.parametrize("name", UNWEARABLE)
def test_what_cannot_be_worn_is_refused_and_mended(name):
    spec, path = UNWEARABLE[name]
    assert_told_and_mended(spec, "tip_on_ornament", path, SHOP)


def test_the_cures_are_those_of_the_bench():
    """Fewer bells, a shorter tip, fewer holes: each as little as will do."""
    remedies = find_remedies(BELLS, SHOP, refused(BELLS))
    alone = {each.changes[0].path: each.changes[0].value for each in reversed(remedies) if len(each.changes) == 1}
    assert alone[("ornaments", "count")] == 4
    assert alone[("billet", "size_holes", "count")] == 3
    tip = alone[("billet", "tip_length")]
    assert not refused(replace(BELLS, billet=replace(BELLS.billet, tip_length=tip)))
    assert refused(replace(BELLS, billet=replace(BELLS.billet, tip_length=tip + INCH // 8)))


def test_the_sentence_tells_by_how_much():
    fault = next(fault for fault in refused(BELLS) if fault.code == "tip_on_ornament")
    job = resolve(BELLS, SHOP)
    touched = touched_at_each_hole(answer_of(lay_out(job)), SHOP)[2]
    assert -fault.found / MM == pytest.approx(max(each.by for each in touched), abs=BY)
    assert fault.detail == (
        "Buckled at the middle hole, the tip comes to lie ≈ 15/16 in over an ornament, and cannot lie down there."
    )


@pytest.mark.parametrize(("height", "made"), [(2, False), (23, False), (24, True), (30, True)])
def test_how_high_a_thing_may_stand_under_the_tip_is_a_rule_of_the_shop(height, made):
    shop = replace(SHOP, rules=replace(SHOP.rules, flat_under_tip=height * MM))
    assert (not refused(BELLS, shop)) == made


def test_a_tip_of_a_said_length():
    spec = replace(BELLS, billet=replace(BELLS.billet, tip_length=2 * INCH))
    strip = solve(spec, SHOP).piece("strap")
    assert strip.length - max(f.x for f in strip.features if f.purpose == "size_hole") == 2 * INCH
    keeper = Billet(buckle="heel_bar_25", tip_length=INCH)
    short = Spec(construction="one_piece", size=Size(girth=16 * INCH), billet=keeper)
    assert_told_and_mended(short, "tip_short", ("billet", "tip_length"), SHOP)
    long = replace(short, billet=replace(keeper, tip_length=80 * INCH))
    assert_told_and_mended(long, "strip_too_long", ("size", "girth"), SHOP)


def test_a_tip_of_a_said_length_is_told_at_the_bench():
    pattern = solve(replace(BELLS, billet=replace(BELLS.billet, tip_length=2 * INCH)), SHOP)
    assert dict(ordered(pattern, SHOP, "in"))["tip"] == "English point, 5/8 in deep; 2 in from the last hole"


@pytest.mark.parametrize(("shape", "through"), [("round", 20.36), ("dee", 23.82)])
def test_a_dee_is_lower_than_a_round_ring_of_its_width(shape, through):
    """3/4 in and two plies of 9 oz are 19.05 mm by 7.144. By hand: they lie in a circle of √(19.05² + 7.144²) = 20.35.

    On the straight side of a half circle their upper corners lie √(9.525² + 7.144²) = 11.906 from its middle: 23.81.
    """
    plies = Stack(thin=0, thick=round(7.144 * MM / 2))
    for inside, passes in ((through, True), (through - 0.02, False)):
        ring = replace(SHOP.rings["ring_25"], shape=shape, inside_width=round(inside * MM))
        assert passes_through(ring, INCH * 3 // 4, plies) == passes


def test_a_lead_ring_that_lets_the_tip_through_is_told():
    """3/4 in and two plies of 9 oz, 19.05 mm by 7.14, lie in a circle of 20.4 mm: a ring of 26.2 lets them through."""
    collar = Spec(
        construction="one_piece",
        size=Size(girth=18 * INCH),
        body=Body(width=inches("3/4")),
        billet=Billet(buckle="heel_bar_20", ring="ring_25"),
    )
    pattern = solve(collar, SHOP)
    assert [[each.at for each in hole.covers] for hole in pattern.worn] == [["lead_ring"]] * 5
    assert "Pass the tip through the collar ring when buckling." in cautions(pattern, SHOP)


def test_the_sheet_tells_what_the_tip_lies_on():
    told = cautions(solve(GARTER_M, SHOP), SHOP)
    by, what = "≈ 1 11/16 in", "shank bell, 25 mm"
    assert told[1] == (
        f"Not to be worn at holes 1 and 2: the tip lies up to {by} over the {what} there, and cannot lie down."
    )
    assert not any("flat enough" in each for each in told)
    flat = cautions(solve(replace(GARTER_M, ornaments=Row(item="spot_10", count=5)), SHOP), SHOP)
    assert flat[1] == "Buckled at holes 1 to 3 the tip lies on the domed spot, 10 mm, which is flat enough."


# ---------------------------------------------------------------- the wearer


def assert_can_be_worn(pattern):
    assert_worn_as_told(answer_of(pattern), SHOP)
    middle = pattern.worn[len(pattern.worn) // 2 :][:1]
    assert all(cover.severity == "warning" for hole in middle for cover in hole.covers)


@pytest.mark.parametrize("example", sorted(EXAMPLES.glob("*.json")), ids=lambda path: Path(path).stem)
def test_every_example_can_be_worn(example):
    spec = read_spec(json.loads(example.read_text(encoding="utf-8")), "in")
    if example.stem.startswith("refused"):
        assert refused(spec)
    else:
        assert_can_be_worn(solve(spec, SHOP))


@pytest.mark.parametrize("design", SHOP.designs.values(), ids=lambda design: design.name)
def test_every_design_can_be_worn_over_its_range(design):
    """As it is sold, and sixty ways of choosing it: whatever is made can be worn."""
    chance, made = random.Random(f"worn {design.name}"), 1
    assert_can_be_worn(solve(spec_of(design, design.defaults(), SHOP), SHOP))
    for _ in range(60):
        chosen = {choice.name: chance.choice(tuple(choice.offer)) for choice in design.choices}
        spec = spec_of(design, chosen, SHOP)
        if not refused(spec):
            assert_can_be_worn(solve(spec, SHOP))
            made += 1
    assert made > 15


@pytest.mark.parametrize("construction", ["three_piece", "one_piece", "open"])
def test_the_wearer_finds_what_is_told_of_any_strap(construction):
    """Random straps of each construction, refused ones too: they are laid out, and the tip falls where it falls."""

    @given(specs(construction))
    def worn_as_told(spec):
        try:
            job = resolve(spec, SHOP)
            pattern = lay_out(job)
        except Refusal:
            reject()
        told = worn(pattern, job)
        assert_worn_as_told(answer_of(replace(pattern, worn=told)), SHOP)
        faults = {cover.at for hole in told for cover in hole.covers if cover.severity == "fault"}
        failed = [m.check for m in measure_rules(pattern, job) if m.check.rule == "tip_clear" and not m.check.passed]
        assert bool(faults) == bool(failed)
        assert {at for check in failed for at in check.at} <= faults

    worn_as_told()


def test_only_what_the_tip_reaches_is_looked_at(monkeypatch):
    """Five times as many bells on a strap three times as long: no more of them are held against the tip."""
    asked = []

    def counted(*args):
        asked.append(args)
        return draw_back(*args)

    monkeypatch.setattr("service.strap.rules.worn.draw_back", counted)
    counts = []
    for length, bells in ((24, 5), (80, 25)):
        asked.clear()
        pattern = solve(sized(replace(BELLS, leather="harness_8_9", size=Size(body_length=INCH)), length * INCH, bells),
                        SHOP)  # fmt: skip
        assert len([f for f in pattern.piece("strap").features if f.purpose == "ornament"]) == bells
        counts.append(len(asked))
    assert 0 < counts[1] <= counts[0]


def test_several_rows_and_borders_keep_off_the_tip():
    """Bells in two rows, and a border of conchos along a strap as wide as its tip: each begins past the tip."""
    rows = replace(BROAD, size=Size(girth=30 * INCH), ornaments=Row(
        item="concho_25", count=4, rows=Rows(count=1)))  # fmt: skip
    edged = replace(BROAD, size=Size(girth=30 * INCH), body=Body(width=inches("1 1/2")), ornaments=None,
                    border=Border(item="bell_25", inset=inches("1/2"), step=2 * INCH))  # fmt: skip
    for spec in (rows, edged):
        job = resolve(spec, SHOP)
        pattern = lay_out(job)
        assert not any(cover.severity == "fault" for hole in worn(pattern, job) for cover in hole.covers)
    assert [f.purpose for f in pattern.piece("strap").features].count("border") > 4
    xs = sorted({f.x for f in pattern.piece("strap").features if f.purpose == "border"})
    assert {right - left for left, right in pairwise(xs)} == {2 * INCH}


def test_an_open_strap_has_no_tip():
    hanging = Spec(
        construction="open",
        size=Size(finished_length=24 * INCH),
        ends=Ends(head=StrapEnd(kind="ring"), foot=StrapEnd(kind="hole")),
        ornaments=Row(item="bell_30", count=6),
    )
    assert solve(hanging, SHOP).worn == ()


def test_every_remedy_for_a_strap_in_a_worn_range_is_accepted():
    """From the shortest leg on, whatever is offered for five bells is a strap that can be worn."""
    for eighths in range(11 * 8, 16 * 8, 7):
        spec = sized(replace(BELLS, size=Size(girth=INCH)), eighths * INCH // 8, 5)
        for remedy in find_remedies(spec, SHOP, refused(spec)) if refused(spec) else ():
            assert_can_be_worn(solve(apply(spec, remedy.changes), SHOP))
