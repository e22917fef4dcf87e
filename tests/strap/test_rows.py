"""Graduated rows, sequences, centrepieces, several rows, and what stands between, reckoned independently."""

from dataclasses import replace
from fractions import Fraction
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from service.shop_file import demo_shop
from service.strap.errors import Refusal
from service.strap.model.row import row_items
from service.strap.model.spec import Billet, Body, Ends, Joint, Size, Spec, StrapEnd
from service.strap.model.spec_changes import apply
from service.strap.model.spec_set import Between, Border, Row, Rows
from service.strap.plane.lengths import INCH, MM, parse_length
from service.strap.remedies.remedies import find_remedies
from service.strap.solve import solve

SHOP = demo_shop()
BELLS = ("bell_25", "bell_30", "bell_38")


def inches(text: str) -> int:
    return parse_length(f"{text} in", "in")


def names(**row) -> list[str]:
    return [item.id for item in row_items(Row(**row), SHOP)]


def hanging(row: Row, *, length: int = 40 * INCH, width: int = 2 * INCH, **more) -> Spec:
    plain = StrapEnd(kind="plain", shape="square")
    return Spec(
        construction="open",
        size=Size(body_length=length),
        body=Body(width=width),
        ends=Ends(head=plain, foot=plain),
        ornaments=row,
        **more,
    )


def features(spec: Spec, purpose: str):
    return [f for piece in solve(spec, SHOP).pieces for f in piece.features if f.purpose == purpose]


def test_a_graduated_row_has_its_largest_in_the_middle_and_is_mirrored():
    """Common practice: largest in the middle, mirrored."""
    assert names(items=BELLS, arrange="graduated", count=5) == ["bell_25", "bell_30", "bell_38", "bell_30", "bell_25"]
    assert names(items=BELLS, arrange="graduated", count=6) == [*BELLS, *reversed(BELLS)]
    assert names(items=BELLS, arrange="graduated", count=1) == ["bell_38"]


def test_a_smallest_and_a_largest_are_stepped_through_what_the_shop_stocks():
    assert names(items=("bell_38", "bell_25"), arrange="graduated", count=5) == names(
        items=BELLS, arrange="graduated", count=5
    )


def test_alternating_and_sequences_repeat_their_motif():
    motif = ("bell_30", "concho_25", "bell_30")
    assert names(items=("bell_30", "concho_25"), count=4, arrange="alternating") == ["bell_30", "concho_25"] * 2
    assert names(items=motif, arrange="sequence", count=5) == [*motif, *motif[:2]]
    assert names(items=("bell_25", "bell_38", "bell_30"), arrange="sequence", mirrored=True, count=5) == [
        "bell_25", "bell_38", "bell_30", "bell_38", "bell_25",
    ]  # fmt: skip


def test_a_centrepiece_stands_in_the_exact_middle():
    spec = hanging(Row(item="bell_25", count=6, centrepiece="concho_25"))
    placed = sorted(features(spec, "ornament"), key=lambda f: f.x)
    assert [f.item for f in placed] == ["bell_25"] * 3 + ["concho_25"] + ["bell_25"] * 3
    assert placed[3].x == 20 * INCH
    odd = replace(spec, ornaments=Row(item="bell_25", count=5, centrepiece="concho_25"))
    with pytest.raises(Refusal) as refusal:
        solve(odd, SHOP)
    assert [fault.code for fault in refusal.value.faults] == ["centrepiece_uneven"]
    assert find_remedies(odd, SHOP, refusal.value.faults)


def clear_gaps(placed, start: int, end: int) -> list[int]:
    """Gaps between rims, from anchor to anchor, from the features alone."""
    placed = sorted(placed, key=lambda f: f.x)
    rims = [start, *(rim for f in placed for rim in (f.x - f.footprint // 2, f.x + f.footprint // 2)), end]
    return [right - left for left, right in zip(rims[::2], rims[1::2], strict=True)]


@given(
    st.lists(st.sampled_from(BELLS), min_size=2, max_size=4).map(tuple),
    st.sampled_from(["graduated", "alternating", "sequence"]),
    st.integers(1, 9),
    st.sampled_from(["even", "ruler"]),
    st.integers(16, 60),
    st.sampled_from(["in", "mm"]),
)
def test_things_of_different_sizes_have_equal_clear_gaps(items, arrange, count, spacing, length, units):
    """c = (span - Σ diameters) / (n + 1); on a ruler within the tolerance of a tenth (the shop's)."""
    row = Row(items=items, arrange=arrange, count=count, spacing=spacing)
    spec = replace(hanging(row, length=length * INCH), units=units)
    try:
        placed = features(spec, "ornament")
    except Refusal:
        return
    sizes = [SHOP.ornaments[f.item].diameter for f in placed]
    if len(set(sizes)) < 2:
        return
    wanted = Fraction(length * INCH - sum(sizes), count + 1)
    allowed = Fraction(1, 10) * wanted if spacing == "ruler" else 2
    assert all(abs(gap - wanted) <= allowed + 2 for gap in clear_gaps(placed, 0, length * INCH))


def test_a_ruler_row_of_different_sizes_stands_on_a_ruler():
    spec = hanging(Row(items=BELLS, arrange="graduated", count=5), length=30 * INCH)
    assert all(f.x % (INCH // 8) == 0 for f in features(spec, "ornament"))


def test_things_between_are_spread_with_equal_clear_gaps():
    spec = hanging(
        Row(item="bell_30", count=3),
        between=(Between(item="spot_6"), Between(item="spot_10"), Between(item="spot_6")),
    )
    bells, spots = features(spec, "ornament"), features(spec, "between")
    assert [f.item for f in spots] == ["spot_6", "spot_10", "spot_6"] * 2
    for left, right in pairwise(sorted(bells, key=lambda f: f.x)):
        inner = [f for f in spots if left.x < f.x < right.x]
        gaps = clear_gaps(inner, left.x + left.footprint // 2, right.x - right.footprint // 2)
        assert max(gaps) - min(gaps) <= INCH // 16


def test_level_rows_share_the_width_and_staggered_ones_stand_in_the_gaps():
    """Quincunx: every second row stands at the middles of the first row's gaps (common practice)."""
    level = hanging(Row(item="spot_10", count=6, rows=Rows(count=3)), width=3 * INCH)
    ys = sorted({f.y for f in features(level, "ornament")})
    assert ys == [-INCH, 0, INCH]
    staggered = replace(level, ornaments=Row(item="spot_10", count=6, rows=Rows(count=2, across="staggered")))
    first, second = (
        sorted(f.x for f in features(staggered, "ornament") if f.y == y)
        for y in sorted({f.y for f in features(staggered, "ornament")})
    )
    assert second == [(a + b) // 2 for a, b in pairwise(first)]
    mixed = replace(level, ornaments=Row(items=("spot_10", "bell_25"), count=6, rows=Rows(across="staggered")))
    with pytest.raises(Refusal) as refusal:
        solve(mixed, SHOP)
    assert "staggered_mixed" in {fault.code for fault in refusal.value.faults}


def test_each_row_of_shank_bells_has_a_lace_of_its_own():
    spec = hanging(Row(item="bell_25", count=5, rows=Rows(count=2, distance=inches("1 1/2"))), width=4 * INCH)
    laces = [line for line in solve(spec, SHOP).hardware if line.item == "lace"]
    assert [line.count for line in laces] == [2]


def test_several_border_rows_stand_in_one_register():
    spec = hanging(
        Row(item="bell_25", count=5),
        width=4 * INCH,
        border=(Border(item="spot_6", inset=inches("1/4")), Border(item="spot_10", inset=inches("3/4"))),
    )
    by_y: dict[int, set[int]] = {}
    for feature in features(spec, "border"):
        by_y.setdefault(abs(feature.y), set()).add(feature.x)
    assert set(by_y) == {inches("1 3/4"), inches("1 1/4")}
    bells = {f.x for f in features(spec, "ornament")}
    assert all(bells <= places for places in by_y.values())
    with pytest.raises(Refusal) as refusal:
        solve(replace(spec, border=(spec.border[0], Border(item="spot_10", inset=inches("1/16")))), SHOP)
    assert ("border", "1", "inset") in {fault.path for fault in refusal.value.faults}


def test_a_border_keeps_register_with_a_graduated_row():
    spec = hanging(Row(items=BELLS, arrange="graduated", count=5), width=3 * INCH, border=Border(item="spot_6"))
    spots = sorted({f.x for f in features(spec, "border")})
    bells = sorted(f.x for f in features(spec, "ornament"))
    assert set(bells) <= set(spots)
    for left, right in pairwise(bells):
        steps = [b - a for a, b in pairwise([x for x in spots if left <= x <= right])]
        assert max(steps) - min(steps) <= 1
        read = [k for k in range(1, 12) if (right - left) % (k * INCH // 16) == 0]
        near = [k for k in read if abs(Fraction(right - left, k) - INCH) <= Fraction(INCH, 4)]
        best = min(near or range(1, 12), key=lambda k: abs(Fraction(right - left, k) - INCH))
        assert abs(Fraction(right - left, len(steps)) - INCH) == abs(Fraction(right - left, best) - INCH)


def test_a_lead_ring_needs_two_rivets_and_room_between_them():
    collar = Spec(
        construction="one_piece",
        size=Size(girth=18 * INCH),
        body=Body(width=INCH),
        billet=Billet(ring="ring_38"),
    )
    assert ("ring_38", "lead_ring") in {(line.item, line.purpose) for line in solve(collar, SHOP).hardware}
    for wrong in (
        replace(collar, joint=Joint(spacing=inches("1/2"))),
        replace(collar, joint=Joint(count=1)),
        replace(collar, body=Body(width=inches("1 1/2")), billet=Billet(ring="ring_25")),
    ):
        with pytest.raises(Refusal) as refusal:
            solve(wrong, SHOP)
        remedies = find_remedies(wrong, SHOP, refusal.value.faults)
        assert remedies
        for remedy in remedies:
            solve(apply(wrong, remedy.changes), SHOP)


def test_a_hanging_slot_lies_across_the_strap():
    spec = hanging(Row(item="bell_25", count=4))
    spec = replace(spec, ends=Ends(head=StrapEnd(kind="slot"), foot=StrapEnd(kind="plain")))
    (slot,) = features(spec, "hanger")
    assert (slot.kind, slot.angle, slot.tool, slot.length) == ("slot", 90, "slot_16", inches("5/8"))


@pytest.mark.parametrize("label", ["72", "80", "100"])
def test_belt_sizes_are_the_waist_intervals_of_en_13402(label):
    """EN 13402-3 steps waists by 4 cm from 72 cm (from memory): the middle hole fits that girth, to half of 1/16 in."""
    belt = Spec(construction="one_piece", size=Size(table="belt", label=label))
    pattern = solve(belt, SHOP)
    thickness = SHOP.leathers["harness_8_9"].thickness / MM
    assert pattern.finished.from_bar / MM == pytest.approx(int(label) * 10 + 3.14159265 * thickness, abs=25.4 / 32)
    assert pattern.spec.size.girth == int(label) * 10 * MM
    assert (int(label) - 72) % 4 == 0


def test_a_size_too_small_for_its_row_is_told_at_its_label_and_mended_there():
    garter = Spec(
        construction="one_piece",
        size=Size(table="garter", label="S"),
        ornaments=Row(item="bell_25", count=6),
    )
    with pytest.raises(Refusal) as refusal:
        solve(garter, SHOP)
    changes = [change for r in find_remedies(garter, SHOP, refusal.value.faults) for change in r.changes]
    assert ("size", "label") in {change.path for change in changes}


def test_an_open_strap_has_no_girth_not_even_by_a_label():
    spec = replace(hanging(Row(item="bell_25", count=4)), size=Size(table="garter", label="M"))
    with pytest.raises(Refusal) as refusal:
        solve(spec, SHOP)
    assert ("size", "table") in {fault.path for fault in refusal.value.faults}
