"""A tip with holes on a strap that nothing of its own closes: each hole has its length from the other end."""

from itertools import pairwise

import pytest

from service.drawing.printed.bench_sheet import bench_blocks
from service.drawing.printed.flow import Table
from service.drawing.printed.printed import tools_of
from service.schemas.pattern import made_document
from service.schemas.spec import read_spec
from service.strap.plane.lengths import tape_reading
from service.strap.solve import solve
from service.workshop.steps import steps
from tests.drawing.support import SHOP

HOLES = {"kind": "tip", "size_holes": {"count": 7, "spacing": "2 in"}}
HOOK = {"kind": "ring", "ring": "hook_25"}
LEAD = {"construction": "two_ends", "size": {"overall_length": "24 in"}, "ends": {"head": HOOK, "foot": HOLES}}


def answer(document):
    pattern = solve(read_spec(document, "in"), SHOP)
    return pattern, made_document(pattern, steps(pattern, SHOP), (), "in")


def holes_of(told, piece):
    found = next(each for each in told["pieces"] if each["name"] == piece)
    return found, [each["x_mm"] for each in found["features"] if each["purpose"] == "size_hole"]


def test_a_hook_and_a_tip():
    """By hand: from one hole to the next 2 in; behind the last is the tip, which the strap is measured to."""
    _, told = answer(LEAD)
    piece, places = holes_of(told, "strap")
    finished = told["finished"]
    assert [each["hole"] for each in finished["holes"]] == list(range(1, 8))
    assert not any("fits" in each or "fits_mm" in each for each in finished["holes"])
    lengths = [each["length_mm"] for each in finished["holes"]]
    assert [b - a for a, b in pairwise(lengths)] == pytest.approx([50.8] * 6, abs=0.002)
    tip = piece["length_mm"] - max(places)
    assert lengths[-1] == pytest.approx(finished["length_mm"] - tip, abs=0.002)
    assert told["worn"] == []


def test_from_is_to_the_other_end_whatever_it_is_measured_from():
    """Over all is 24 in, as asked. Geometry: the bar's axis lies half a bar and a ply inside the fold's outer edge."""
    pattern, told = answer(LEAD)
    each = told["finished"]["from"]
    assert each["frame"] == "24 in"
    inside = each["fold_mm"] - each["bar_mm"]
    assert inside == pytest.approx(SHOP.rings["hook_25"].thickness / 2e6 + pattern.pieces[0].thickness / 1e6, abs=0.01)
    _, plain = answer(LEAD | {"ends": {"head": HOOK, "foot": {"kind": "plain"}}})
    for name in ("fold_mm", "bar_mm", "frame_mm"):
        assert plain["finished"]["from"][name] - each[name] == pytest.approx(0, abs=0.002), name


@pytest.mark.parametrize("datum", ["fold", "bar", "frame"])
def test_each_hole_is_measured_as_the_strap_is(datum):
    _, told = answer(LEAD | {"size": {"finished_length": "24 in", "measured_from": datum}})
    piece, places = holes_of(told, "strap")
    assert told["finished"]["length"] == told["finished"]["from"][datum] == "24 in"
    behind = piece["length_mm"] - min(places)
    assert told["finished"]["holes"][0]["length_mm"] == pytest.approx(24 * 25.4 - behind, abs=0.002)


def test_a_tip_at_each_end():
    """Both rows count on, as their features do: those of the first end are measured from the last."""
    _, told = answer(LEAD | {"ends": {"head": HOLES, "foot": HOLES}, "size": {"body_length": "50 in"}})
    _, places = holes_of(told, "strap")
    by_number = {each["hole"]: each["length_mm"] for each in told["finished"]["holes"]}
    assert sorted(by_number) == list(range(1, 15))
    assert sorted(by_number.values()) == pytest.approx(sorted(max(x, 50 * 25.4 - x) for x in places), abs=0.002)


def test_each_hole_is_named_by_its_feature():
    """Two billets count their own holes: `at` tells them apart, and so does the sheet."""
    billet = {"kind": "billet", "end": {"kind": "tip"}}
    pattern, told = answer(LEAD | {"ends": {"head": billet, "foot": billet}, "size": {"body_length": "30 in"}})
    holes = {each["id"] for piece in told["pieces"] for each in piece["features"] if each["purpose"] == "size_hole"}
    assert [each["at"] for each in told["finished"]["holes"]] == sorted(
        holes, key=lambda name: (name.startswith("foot"), name)
    )
    work = steps(pattern, SHOP)
    blocks = bench_blocks(pattern, SHOP, "in", work, (), tools_of(pattern, work, SHOP))
    rows = [row[0] for row in [block for block in blocks if isinstance(block, Table)][-1].rows]
    assert "from the other end to the centre of hole 1 of the tongue billet of the last end" in rows


def test_the_sheet_has_a_row_for_each_hole():
    pattern, told = answer(LEAD)
    work = steps(pattern, SHOP)
    blocks = bench_blocks(pattern, SHOP, "in", work, (), tools_of(pattern, work, SHOP))
    rows = [block for block in blocks if isinstance(block, Table)][-1].rows
    lengths = {row[0]: row[1] for row in rows}
    for each in told["finished"]["holes"]:
        read = tape_reading(round(each["length_mm"] * 1e6), "in")
        assert lengths[f"from the other end to the centre of hole {each['hole']}"] == read
