"""A strap under `ruler` has its stations, starts and blanks on the shop's finest graduation.

The finest graduations are 1/16 in and 1 mm (common practice); what is expected is worked by hand.
"""

from dataclasses import replace
from itertools import pairwise
from math import pi

import pytest
from hypothesis import given
from hypothesis import strategies as st

from service.strap.errors import Refusal
from service.strap.making.decoration import border_places
from service.strap.model.spec import Billet, Body, Ends, Size, Spec, StrapEnd
from service.strap.model.spec_set import Between, Border, Row, Rows
from service.strap.plane.lengths import INCH, MM, parse_length, reading
from service.strap.plane.spacing import Span, graduated_parts, largest_count, ruler_for, space
from service.strap.remedies.remedies import find_remedies
from service.strap.solve import solve
from tests.support.ruled_straps import GRADUATION, LEAST, SHOP, tally

SIXTEENTH = INCH // 16
THICKNESS = SHOP.leathers["harness_8_9"].thickness
PLAIN = Ends(head=StrapEnd(kind="plain", shape="square"), foot=StrapEnd(kind="plain", shape="square"))


def inches(text: str) -> int:
    return parse_length(f"{text} in", "in")


def three_piece(length: int, **more) -> Spec:
    return Spec(construction="three_piece", size=Size(body_length=length), **more)


def places(pattern, purpose: str, piece: str | None = None) -> list[int]:
    named = [each for each in pattern.pieces if piece in (None, each.name)]
    return sorted({feature.x for each in named for feature in each.features if feature.purpose == purpose})


def clear_gaps(pattern) -> list[int]:
    row = sorted((f for piece in pattern.pieces for f in piece.features if f.purpose == "ornament"), key=lambda f: f.x)
    return [b.x - b.footprint // 2 - a.x - a.footprint // 2 for a, b in pairwise(row)]


# -------------------------------------------------------------------- rows


def test_a_graduated_row_has_clear_gaps_that_are_alike_to_a_graduation():
    """A door hanging of 34 in on a ring, seven bells from 25 to 38 mm: gaps of 61.4 beside 71.6 mm are seen."""
    hanging = Spec(
        construction="open",
        size=Size(body_length=34 * INCH),
        body=Body(width=inches("1 1/2")),
        ends=Ends(head=StrapEnd(kind="ring", ring="ring_38"), foot=StrapEnd(kind="plain", shape="english_point")),
        ornaments=Row(items=("bell_25", "bell_38"), arrange="graduated", count=7),
    )
    pattern = solve(hanging, SHOP)
    gaps = clear_gaps(pattern)
    assert len(gaps) == 6
    assert max(gaps) - min(gaps) <= SIXTEENTH
    assert [x % SIXTEENTH for x in places(pattern, "ornament")] == [0] * 7


def test_staggered_rows_start_at_the_obvious_place():
    """Anchors at 1 3/4 and 28 1/4, twelve spots: a pitch of 2 leaves 2 1/4 at both ends, and the second row between."""
    row = Row(item="spot_10", count=12, rows=Rows(count=3, across="staggered", distance=inches("3/4")))
    pattern = solve(three_piece(30 * INCH, body=Body(width=inches("3 1/2")), ornaments=row), SHOP)
    assert places(pattern, "ornament") == [n * INCH for n in range(4, 27)]


@pytest.mark.parametrize(
    ("length", "count", "step", "spots"),
    [
        ("26", 8, None, "1 1/4"),  # pitch 2 1/2: halves of it are on a ruler, thirds (≈ 53/64) are not
        ("30", 7, None, "13/16"),  # pitch 3 1/4: quarters; thirds are ≈ 1 5/64
        ("24", 6, None, "1"),  # pitch 3
        ("24", 6, "2", "1 1/2"),  # pitch 3: a half is as near as the whole, and the finer is taken
    ],
)
def test_a_border_steps_by_what_a_ruler_reads(length, count, step, spots):
    border = Border(item="spot_6", step=step and inches(step))
    bells = Row(item="bell_30", count=count)
    pattern = solve(three_piece(inches(length), body=Body(width=3 * INCH), ornaments=bells, border=border), SHOP)
    found = places(pattern, "border")
    assert {b - a for a, b in pairwise(found)} == {inches(spots)}
    assert set(places(pattern, "ornament")) <= set(found)


def test_a_border_that_no_graduation_divides_keeps_its_register_and_is_read_about():
    """50/16 in between neighbours: 25/16 and 10/16 are more than a quarter off 1 in, so a third is taken."""
    spots = border_places((0, inches("3 1/8")), 0, INCH, (0, inches("3 1/8")), SIXTEENTH)
    assert [reading(x, "in") for x in spots] == ["0 in", "≈ 1 3/64 in", "≈ 2 5/64 in", "3 1/8 in"]
    assert graduated_parts(inches("3 1/8"), INCH, SIXTEENTH) is None
    assert graduated_parts(inches("3 1/8"), inches("1 1/4"), SIXTEENTH) == 2  # just a quarter off


def test_a_row_is_spaced_so_that_its_border_can_be_read_too():
    """Fourteen spots between 1 3/4 and 34 1/4: 2 3/16 is the nearest pitch, but only 2 1/8 has a half on the ruler."""
    strap = three_piece(36 * INCH, body=Body(width=3 * INCH), ornaments=Row(item="spot_10", count=14))
    assert {b - a for a, b in pairwise(places(solve(strap, SHOP), "ornament"))} == {inches("2 3/16")}
    bordered = solve(replace(strap, border=Border(item="spot_6")), SHOP)
    assert {b - a for a, b in pairwise(places(bordered, "ornament"))} == {inches("2 1/8")}
    assert {b - a for a, b in pairwise(places(bordered, "border"))} == {inches("1 1/16")}


def test_what_stands_between_lies_on_the_ruler_and_near_the_middle():
    row = Row(item="bell_30", count=3)
    between = (Between(item="spot_6"), Between(item="spot_10"), Between(item="spot_6"))
    hanging = Spec(construction="open", size=Size(body_length=20 * INCH), ends=PLAIN, ornaments=row, between=between)
    pattern = solve(replace(hanging, body=Body(width=2 * INCH)), SHOP)
    assert not [x for x in places(pattern, "between") if x % SIXTEENTH]
    bells = places(pattern, "ornament")
    for left, right in pairwise(bells):
        first, middle, last = (x for x in places(pattern, "between") if left < x < right)
        assert middle - left == right - middle
        assert first - left == right - last


@given(
    st.integers(20, 2000),
    st.integers(0, 40),
    st.integers(1, 60),
    st.integers(1, 30),
    st.sampled_from(["in", "mm"]),
    st.integers(0, 9),
)
def test_end_gaps_differ_by_a_graduation_at_most_and_the_clearances_hold(span_mm, count, pitch_mm, end_mm, units, more):
    """Whatever the anchors: a row on the ruler is centred as nearly as the graduation allows."""
    finest = GRADUATION[units]
    start = more * MM // 3
    span = Span(start=start, end=start + span_mm * MM + more, pitch_min=pitch_mm * MM, end_min=end_mm * MM)
    row = space(span, count, "ruler", ruler_for(units, finest, SHOP.rules.ruler_tolerance)).places
    if not row or largest_count(span, "even") < count or any(x % finest for x in row):
        return
    head, foot = row[0] - span.start, span.end - row[-1]
    assert abs(head - foot) <= finest
    assert min(head, foot) >= span.end_min
    assert all(b - a >= span.pitch_min for a, b in pairwise(row))


# -------------------------------------------------------------------- lengths


@pytest.mark.parametrize("girth", ["14", "18", "33 7/8", "36", "37 1/2"])
@pytest.mark.parametrize("construction", ["one_piece", "three_piece"])
def test_a_girth_s_holes_and_blanks_lie_on_the_ruler_and_the_fit_moves_by_half_a_graduation(construction, girth):
    """The flat length round a girth is girth + π·t (geometry); the hole lies at most 1/32 in from it."""
    pattern = solve(Spec(construction=construction, size=Size(girth=inches(girth))), SHOP)
    flat = inches(girth) + pi * THICKNESS
    assert abs(pattern.finished.from_bar - flat) <= SIXTEENTH / 2 + 1
    for piece in pattern.pieces:
        assert piece.length % SIXTEENTH == 0
        assert not [feature.id for feature in piece.features if feature.x % SIXTEENTH]


def test_a_strip_of_a_given_length_keeps_it_and_its_tip_takes_what_is_left_over():
    asked = 700 * MM
    pattern = solve(Spec(construction="one_piece", size=Size(body_length=asked)), SHOP)
    strip = pattern.piece("strap")
    holes = places(pattern, "size_hole")
    assert strip.length == asked
    assert not [x for x in holes if x % SIXTEENTH]
    assert {b - a for a, b in pairwise(holes)} == {INCH}
    usual = inches("2 1/2")  # the tip is 2.5 strap widths (a saddlery's rule)
    assert usual <= asked - holes[-1] < usual + SIXTEENTH


@pytest.mark.parametrize("tip", ["2", "2 1/32", "3 5/64"])
@pytest.mark.parametrize("size", [Size(body_length=700 * MM), Size(girth=18 * INCH), Size(finished_length=18 * INCH)])
def test_a_tip_of_a_given_length_takes_nothing_up(size, tip):
    given = Billet(tip_length=inches(tip))
    pattern = solve(Spec(construction="one_piece", size=size, billet=given), SHOP)
    strip, last = pattern.piece("strap"), places(pattern, "size_hole")[-1]
    assert strip.length - last == inches(tip)
    assert size.body_length in (None, strip.length)
    assert size.girth is None or last % SIXTEENTH == 0
    assert size.finished_length in (None, pattern.finished.length)


def test_a_row_that_begins_past_the_tip_begins_on_the_ruler():
    """A bell of 25 mm would lie under the tip where the row's usual place is: it stands further on, on a graduation."""
    row = Row(items=("bell_25", "spot_10"), count=5)
    garter = Spec(
        construction="one_piece",
        size=Size(table="garter", label="M"),
        leather="latigo_6_7",
        billet=Billet(buckle="centre_bar_25"),
        ornaments=row,
    )
    pattern = solve(garter, SHOP)
    found = places(pattern, "ornament")
    assert not [x for x in found if x % SIXTEENTH]
    assert not pattern.worn[2].covers
    shop = replace(SHOP, rules=replace(SHOP.rules, flat_under_tip=100 * MM))
    assert found[0] > places(solve(garter, shop), "ornament")[0]


def test_a_border_that_is_too_dense_is_offered_a_step_that_a_ruler_shows():
    """Spots of 6 mm that keep 1.5 mm apart stand at least 5/16 in apart: of a pitch of 3 1/2 in an eighth, 7/16 in.

    A fourteenth, 1/4 in, is as near to 5/16 in as a ruler comes, and too near; an eleventh is none that it shows.
    """
    dense = three_piece(
        inches("31 1/2"),
        body=Body(width=3 * INCH),
        ornaments=Row(item="bell_30", count=7),
        border=Border(item="spot_6", step=INCH // 8),
    )
    with pytest.raises(Refusal) as refused:
        solve(dense, SHOP)
    offered = [change for each in find_remedies(dense, SHOP, refused.value.faults) for change in each.changes]
    assert [reading(each.value, "in") for each in offered if each.path == ("border", "step")] == ["7/16 in"]


@pytest.mark.parametrize("measured_from", ["fold", "bar", "frame"])
@pytest.mark.parametrize("construction", ["one_piece", "three_piece"])
def test_a_finished_length_never_moves_and_its_blanks_are_cut_by_the_ruler(construction, measured_from):
    size = Size(finished_length=36 * INCH, measured_from=measured_from)
    pattern = solve(Spec(construction=construction, size=size), SHOP)
    assert pattern.finished.length == 36 * INCH
    assert not [piece.name for piece in pattern.pieces if piece.length % SIXTEENTH]


def test_the_joint_covers_what_a_finished_length_leaves_over():
    """Only the body's holes under the tongue billet, which others must meet, are finer than the ruler."""
    pattern = solve(Spec(construction="three_piece", size=Size(finished_length=36 * INCH)), SHOP)
    finer = {feature.id for piece in pattern.pieces for feature in piece.features if feature.x % SIXTEENTH}
    assert finer == {"body.joint.3", "body.joint.4"}
    body, joint = pattern.piece("body"), places(pattern, "joint", "body")
    assert inches("3/4") <= body.length - joint[-1] < inches("13/16")
    assert joint[-1] - joint[-2] == INCH


def test_a_fold_round_a_ring_lies_on_the_ruler_as_its_holes_do():
    hanging = Spec(construction="open", size=Size(body_length=20 * INCH), ends=Ends(head=StrapEnd(kind="ring")))
    pattern = solve(hanging, SHOP)
    assert not [x for purpose in ("fold_line", "fold_rivet") for x in places(pattern, purpose) if x % SIXTEENTH]


@pytest.mark.parametrize("spacing", ["even", 3 * INCH])
def test_under_another_rule_nothing_is_moved_to_a_graduation(spacing):
    """`even` and given pitches are exact: what a drawing or a laser wants."""
    row = Row(item="spot_10", count=5, spacing=spacing)
    pattern = solve(Spec(construction="one_piece", size=Size(girth=36 * INCH), ornaments=row), SHOP)
    assert pattern.finished.from_bar == pytest.approx(36 * INCH + pi * THICKNESS, abs=2)
    steps = [b - a for a, b in pairwise(places(pattern, "ornament"))]
    assert max(steps) - min(steps) <= 1


# -------------------------------------------------------------------- settings of the shop


def test_a_collar_in_millimetres_is_laid_out_in_whole_millimetres():
    """420 mm of neck, a 25 mm strap: 25 and 20 where an inch job has 1 and 3/4 in."""
    row = Row(item="spot_10", count=9)
    pattern = solve(Spec(construction="one_piece", units="mm", size=Size(girth=420 * MM), ornaments=row), SHOP)
    strip = pattern.piece("strap")
    assert strip.width == 25 * MM
    assert {b - a for a, b in pairwise(places(pattern, "size_hole"))} == {25 * MM}
    assert places(pattern, "fold_rivet")[:2] == [20 * MM, 45 * MM]
    for piece in pattern.pieces:
        assert piece.length % MM == 0
        assert not [feature.id for feature in piece.features if feature.x % MM]
    assert abs(pattern.finished.from_bar - 420 * MM - pi * THICKNESS) <= MM / 2 + 1


def test_a_measure_that_the_spec_gives_is_kept_in_either_unit():
    spec = Spec(construction="one_piece", units="mm", size=Size(girth=420 * MM), body=Body(width=INCH))
    assert solve(spec, SHOP).piece("strap").width == INCH


@pytest.mark.parametrize(("units", "finest"), [("in", INCH // 8), ("in", INCH // 32), ("mm", 2 * MM), ("mm", MM // 2)])
def test_the_finest_graduation_is_the_shop_s(units, finest):
    rules = replace(SHOP.rules, graduation=finest) if units == "in" else SHOP.rules
    shop = replace(SHOP, rules=replace(rules, mm=rules.mm | {"graduation": finest if units == "mm" else MM}))
    row = Row(item="bell_30", count=7)
    pattern = solve(Spec(construction="three_piece", units=units, size=Size(girth=34 * INCH), ornaments=row), shop)
    assert not [x for x in places(pattern, "ornament") if x % finest]
    assert pattern.piece("body").length % finest == 0


# -------------------------------------------------------------------- many straps


def test_of_two_hundred_straps_nineteen_in_twenty_lie_on_the_ruler():
    reasons = tally(200)
    assert reasons.total() <= (1 - LEAST) * 200, reasons


def test_a_row_on_the_ruler_is_refused_only_where_the_even_row_is():
    """The graduation never costs a strap that could be made without it."""
    for count in range(2, 30):
        spec = three_piece(20 * INCH, ornaments=Row(item="spot_10", count=count))
        even = replace(spec, ornaments=replace(spec.ornaments, spacing="even"))
        assert is_made(spec) >= is_made(even)


def is_made(spec: Spec) -> bool:
    try:
        solve(spec, SHOP)
    except Refusal:
        return False
    return True
