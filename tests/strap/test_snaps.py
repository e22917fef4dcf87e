"""Straps that a snap closes: a cap in one end, studs in the other, measured from stud to cap."""

from dataclasses import replace
from math import pi

import pytest

from service.schemas.spec import SpecError, read_spec
from service.shop_file import demo_shop
from service.strap.errors import Refusal
from service.strap.plane.lengths import INCH, MM
from service.strap.solve import solve
from tests.support.straps import assert_told_and_mended
from tests.support.wearer import assert_worn_as_told, touched_at_each_hole
from tests.walker.bench import Bench
from tests.workshop.test_walker import answer_for

SHOP = demo_shop()
STUDS = {"kind": "snap", "half": "stud", "count": 3, "spacing": "3/4"}
CAP = {"kind": "snap", "half": "cap"}
CUFF = {
    "construction": "two_ends",
    "size": {"girth": "8"},
    "body": {"width": "1"},
    "ends": {"head": STUDS, "foot": CAP},
    "ornaments": {"item": "spot_10", "count": 3},
}


def spec_of(**changes):
    return read_spec(CUFF | changes, "in")


def places(pattern, purpose):
    return sorted(each.x for piece in pattern.pieces for each in piece.features if each.purpose == purpose)


def test_a_snap_is_named_by_its_cap_in_lines_of_a_fortieth_of_an_inch():
    """Common practice in the button trade: 40 lines to the inch."""
    for snap in SHOP.snaps.values():
        assert abs(snap.cap_diameter - int(snap.id.rsplit("_", 1)[1]) * INCH / 40) <= MM // 20


def test_a_girth_fits_on_the_middle_stud_and_each_other_as_much_tighter_or_looser():
    """Inside a closed loop lies its flat length less pi times its thickness (geometry); studs are 3/4 in apart."""
    pattern = solve(spec_of(), SHOP)
    (cap,), studs = places(pattern, "snap_cap"), places(pattern, "snap_stud")
    thick = SHOP.leathers["harness_8_9"].thickness
    assert [cap - stud for stud in reversed(studs)] == [each.length for each in pattern.finished.holes]
    assert cap - studs[1] == pytest.approx(8 * INCH + pi * thick, abs=INCH / 32)  # on a graduation of 1/16 in
    fits = [each.fits for each in pattern.finished.holes]
    assert fits[1] == pytest.approx(8 * INCH, abs=INCH / 32)
    assert [fits[1] - fits[0], fits[2] - fits[1]] == [INCH * 3 // 4] * 2
    assert pattern.finished.measured_from == "stud"


def test_a_snap_that_is_told_by_its_id_needs_its_half():
    with pytest.raises(SpecError) as caught:
        spec_of(ends={"head": {"snap": "line_20"}, "foot": CAP})
    assert [(fault.path, fault.code) for fault in caught.value.faults] == [(("ends", "head", "half"), "missing")]


def test_it_is_the_same_cuff_whichever_end_has_the_cap():
    """Mirrored: what lies x from the one end lies x from the other."""
    even = {"ornaments": {"item": "spot_10", "count": 3, "spacing": "even"}}
    one, other = solve(spec_of(**even), SHOP), solve(spec_of(ends={"head": CAP, "foot": STUDS}, **even), SHOP)
    length = one.pieces[0].length
    assert length == other.pieces[0].length
    for purpose in ("snap_cap", "snap_stud", "ornament"):
        assert sorted(length - x for x in places(one, purpose)) == pytest.approx(places(other, purpose), abs=1)
    assert one.finished.holes == other.finished.holes


@pytest.mark.parametrize("ends", [{"head": STUDS, "foot": CAP}, {"head": CAP, "foot": STUDS}])
@pytest.mark.parametrize("on_billets", [False, True])
def test_it_is_made_and_worn(ends, on_billets):
    """By its steps alone, and closed on each stud: the end with the cap lies on nothing raised."""
    if on_billets:
        ends = {name: {"kind": "billet", "width": "1", "end": end} for name, end in ends.items()}
    spec = spec_of(ends=ends, size={"girth": "16"}, ornaments={"item": "bell_25", "count": 4}, body={"width": "1 1/2"})
    answer = answer_for(spec, SHOP)
    Bench(answer).make()
    assert_worn_as_told(answer, SHOP)
    assert touched_at_each_hole(answer, SHOP) == [[], [], []]
    assert [(each["count"], each["for"]) for each in answer["hardware"] if each["item"] == "line_20"] == [
        (1, "snap_cap"),
        (3, "snap_stud"),
    ]


def test_what_the_end_with_the_cap_lies_on_is_told():
    """A row at a given pitch that is longer than its room comes under the cap's end, and is refused there."""
    crowded = {"item": "bell_25", "count": 6, "spacing": {"pitch": "1 1/4"}}
    with pytest.raises(Refusal) as refused:
        solve(spec_of(ornaments=crowded), SHOP)
    assert {fault.path[0] for fault in refused.value.faults} == {"ornaments"}


@pytest.mark.parametrize(
    ("changes", "code", "path"),
    [
        ({"leather": "bridle_10_11"}, "snap_short", ("ends", "head", "snap")),
        ({"ends": {"head": STUDS | {"spacing": "7/16"}, "foot": CAP}}, "studs_crowded", ("ends", "head", "spacing")),
        ({"ends": {"head": CAP, "foot": STUDS | {"spacing": "7/16"}}}, "studs_crowded", ("ends", "foot", "spacing")),
        ({"body": {"width": "1/2"}}, "snap_off_edge", ("ends", "foot", "snap")),
        ({"ends": {"head": STUDS, "foot": CAP | {"snap": "line_24"}}}, "without_meaning", ("ends", "foot", "snap")),
        ({"ends": {"head": STUDS, "foot": CAP | {"count": 2}}}, "without_meaning", ("ends", "foot", "count")),
        ({"ends": {"head": STUDS | {"snap": "line_21"}, "foot": CAP}}, "unknown_snap", ("ends", "head", "snap")),
        ({"size": {"finished_length": "9", "measured_from": "bar"}}, "without_meaning", ("size", "measured_from")),
    ],
)
def test_what_is_wrong_is_told_where_it_is_said_and_mended(changes, code, path):
    assert_told_and_mended(spec_of(**changes), code, path, SHOP)


def test_a_snap_that_holds_thicker_leather_is_refused():
    """Set in leather that its posts are too long for it turns, and comes loose (common practice)."""
    loose = {name: replace(snap, grip_min=4 * MM, grip_max=6 * MM) for name, snap in SHOP.snaps.items()}
    with pytest.raises(Refusal) as refused:
        solve(spec_of(), replace(SHOP, snaps=loose))
    assert {fault.code for fault in refused.value.faults} == {"snap_long"}


def test_two_caps_close_on_nothing():
    """A strap that closes on something else: measured over its ends, and for no girth."""
    pattern = solve(spec_of(ends={"head": CAP, "foot": CAP}, size={"finished_length": "9"}), SHOP)
    assert pattern.finished.measured_from == "ends"
    assert pattern.pieces[0].length == 9 * INCH
    assert pattern.finished.holes == pattern.worn == ()
    with pytest.raises(Refusal, match="two halves of a snap"):
        solve(spec_of(ends={"head": CAP, "foot": CAP}), SHOP)


def test_a_shop_without_snaps_says_so():
    with pytest.raises(Refusal) as refused:
        solve(spec_of(), replace(SHOP, snaps={}))
    assert {fault.code for fault in refused.value.faults} == {"unknown_snap"}
