"""What the bench sheet says was ordered, against what is on the strap."""

import re
from fractions import Fraction
from itertools import islice

import pytest

from openapi.example_requests import examples
from service.drawing.description import description
from service.drawing.printed.bench_sheet import bench_blocks
from service.drawing.printed.flow import Prose, Table
from service.drawing.printed.order import ordered
from service.drawing.printed.printed import tools_of
from service.schemas.spec import read_spec
from service.strap.errors import Refusal
from service.strap.plane.lengths import INCH, MM, reading
from service.strap.solve import solve
from service.workshop.steps import steps
from tests.drawing.support import SHOP
from tests.support.two_ended import PAIRS, odd_pair


def made(document):
    return solve(read_spec(document, document.get("units", "in")), SHOP)


def told(document):
    """The entries by caption."""
    return dict(ordered(made(document), SHOP, document.get("units", "in")))


COLLAR = {"construction": "one_piece", "size": {"girth": "17 in"}, "body": {"width": "1 in"}}
CUFF = {
    "construction": "two_ends",
    "size": {"girth": "8 in"},
    "body": {"width": "1 1/2 in"},
    "ends": {
        "head": {"kind": "snap", "half": "cap"},
        "foot": {"kind": "snap", "half": "stud", "count": 2, "spacing": "1/2 in"},
    },
}


def test_a_sewn_collar_has_no_rivets_in_its_fold():
    """Common practice: a fold that is stitched is not riveted as well."""
    found = told(COLLAR | {"stitching": {"turn_back": True}})
    assert found["fold"] == "stitched"
    assert "joint" not in found
    assert found["stitches"].startswith("edges and folds, ")


def test_a_riveted_collar_is_riveted_in_its_fold():
    assert told(COLLAR)["fold"] == "2 × double-cap rivet, medium, 3/8 in post, 1 in apart"


def test_a_snap_cuff_has_neither_joint_nor_fold():
    assert not {"joint", "fold"} & told(CUFF).keys()


@pytest.mark.parametrize(("join", "how"), [("stitches", "sewn"), ("rivets", "riveted"), ("screws", "screwed")])
def test_a_billet_is_said_to_be_held_as_it_is(join, how):
    ends = {
        "head": {"kind": "billet", "join": join, "end": {"kind": "buckle", "hold": "stitches"}},
        "foot": {"kind": "billet", "join": "stitches", "end": {"kind": "tip"}},
    }
    found = told({"construction": "two_ends", "size": {"body_length": "30 in"}, "ends": ends})
    assert f"billet 1 in wide, {how} on: " in found["first end"]
    assert "billet 1 in wide, sewn on: " in found["last end"]
    assert ("×" in found["joint"]) == (join != "stitches")
    assert found["fold"] == "stitched"


def odd(count):
    """Straps of any two ends that can be made."""

    def found():
        for seed, pair in enumerate(PAIRS):
            try:
                yield solve(read_spec(odd_pair(*pair, seed), "in"), SHOP)
            except Refusal:
                continue

    return islice(found(), count)


def test_whatever_the_ends_what_is_told_is_what_is_laid_out():
    """A fastener is told for joints and folds just where the hardware to lay out has one for them."""
    seen = set()
    for pattern in odd(60):
        entries = dict(ordered(pattern, SHOP, "in"))
        lines = {line.id: line.purpose for piece in pattern.pieces for line in piece.stitch_lines}.values()
        for caption, purpose, sewn in (("joint", "joint", "joint_stitch"), ("fold", "fold_rivet", "fold_stitch")):
            items = {line.item for line in pattern.hardware if line.purpose == purpose}
            text = entries.get(caption, "")
            assert all(SHOP.item(item).title in text for item in items), (text, items)
            assert ("×" in text) == bool(items), text
            assert ("stitched" in text) == (sewn in lines), text
            seen |= {(caption, bool(items), sewn in lines)}
    assert {(caption, *held) for caption in ("joint", "fold") for held in ((True, False), (False, True))} <= seen


SCALLOPED = {
    "construction": "two_ends",
    "size": {"finished_length": "36 in"},
    "body": {"width": "1 1/2 in", "edge": {"shape": "scalloped"}},
    "ends": {"head": {"kind": "ring", "ring": "dee_38"}, "foot": {"kind": "ring", "ring": "dee_38"}},
    "stitching": {},
    "worn_by": "object",
}


def test_a_seam_along_scallops_is_measured_from_roots_and_from_crests():
    """A divider runs along a crest, not along a root: both distances are told, as they are on the leather."""
    pattern = made(SCALLOPED)
    strap = pattern.pieces[0]
    line = strap.stitch_lines[0]
    from_crest = strap.width // 2 - abs(line.points[0][1])
    from_root = from_crest - strap.outline.cut.depth
    assert (reading(from_root, "in"), reading(from_crest, "in")) == ("1/8 in", "1/4 in")
    inside = "1/8 in inside the roots, 1/4 in inside the crests of the edge"
    assert inside in dict(ordered(pattern, SHOP, "in"))["stitches"]
    (prick,) = (step.do for step in steps(pattern, SHOP) if step.op == "prick")
    assert inside in prick
    assert inside in description(pattern.pieces, SHOP, "in")


def test_a_seam_along_a_straight_edge_is_measured_from_it():
    pattern = made(SCALLOPED | {"body": {"width": "1 1/2 in"}})
    assert ", 1/8 in inside the edge, " in dict(ordered(pattern, SHOP, "in"))["stitches"]
    assert "roots" not in " ".join(step.do for step in steps(pattern, SHOP))


def test_spots_along_scallops_are_measured_from_roots_and_from_crests():
    spots = {"border": {"item": "spot_6", "inset": "1/4 in", "step": "1 in"}, "stitching": {"edges": False}}
    wide = {
        "body": SCALLOPED["body"] | {"width": "2 in"},
        "ends": {"head": {"kind": "plain"}, "foot": {"kind": "plain"}},
    }
    found = told(SCALLOPED | wide | spots)
    assert "1/4 in inside the roots, 3/8 in inside the crests of each edge" in found["along the edges"]


def sheet_rows(pattern):
    """First cells of the table that says what is measured once the strap is made up."""
    work = steps(pattern, SHOP)
    blocks = bench_blocks(pattern, SHOP, "in", work, (), tools_of(pattern, work, SHOP))
    tables = [block for block in blocks if isinstance(block, Table)]
    return [row[0] for row in tables[-1].rows]


@pytest.mark.parametrize("count", [1, 2, 3, 4])
def test_the_stud_that_the_size_is_measured_at_is_named(count):
    """An even number has no middle one; the length told is that of the stud that is named."""
    foot = CUFF["ends"]["foot"] | {"count": count}
    document = CUFF | {"ends": CUFF["ends"] | {"foot": foot}}
    pattern = made(document)
    number = next(hole.hole for hole in pattern.finished.holes if hole.length == pattern.finished.length)
    named = {1: "the stud", 3: "the middle stud"}.get(count, f"stud {number} of {count} (1 is the tightest)")
    said = [
        told(document)["finished length"],
        *(step.do for step in steps(pattern, SHOP) if step.op in ("try", "measure")),
    ]
    assert len(said) == 3
    assert all(f"from {named} to the cap" in each for each in said), said
    assert ("middle" in " ".join([*said, *sheet_rows(pattern)])) == (count == 3)
    meant = {1: "stud 1", 3: "stud 2, the middle one"}.get(count, f"stud {number}, at which the size is measured")
    assert meant in sheet_rows(pattern)


BUCKLED = {
    "construction": "one_piece",
    "size": {"finished_length": "417.3 mm"},
    "ornaments": {"item": "spot_10", "count": 3, "spacing": "even"},
    "billet": {"prong_slot": "1 3/4 in"},
}


@pytest.mark.parametrize(("units", "fine", "tape"), [("in", "1/64", "1/16"), ("mm", "0.1", "1")])
def test_every_reading_keeps_to_what_the_sheet_says_of_it(units, fine, tape):
    """A finished length or a girth is the nearest of a tape's graduations, all else the nearest of a rule's."""
    pattern = made(BUCKLED | {"units": units})
    work = steps(pattern, SHOP)
    blocks = list(bench_blocks(pattern, SHOP, units, work, (), tools_of(pattern, work, SHOP)))
    (told,) = (block.text for block in blocks if isinstance(block, Prose) and "≈ is" in block.text)
    of_tape = f"of finished lengths and girths, which are read off a tape, the nearest {tape} {units}"
    assert f"≈ is the nearest {fine} {units}, {of_tape}" in told
    unit = INCH if units == "in" else MM
    finished = [each for hole in pattern.finished.holes for each in (hole.length, hole.fits)]
    rows = [row for block in blocks if isinstance(block, Table) for row in block.rows]
    measured = {cell for row in rows if row[0].startswith("hole ") for cell in row[1:3]}
    assert {near(each, Fraction(tape), unit, units) for each in finished} <= measured
    slot = next(each for each in pattern.pieces[0].features if each.method == "holes_and_cuts")
    half = near((slot.length - slot.width) // 2, Fraction(fine), unit, units)
    assert any(f"holes {half} to either side" in " ".join(row) for row in rows)


def near(length, step, unit, units):
    """By hand: the whole number of steps that comes nearest, and whether it is exact."""
    exact = Fraction(length, unit)
    whole = round(exact / step) * step
    return ("" if whole == exact else "≈ ") + as_read(whole, units)


def as_read(value, units):
    if units == "mm":
        return f"{float(value):g} mm"
    whole, rest = divmod(value, 1)
    return " ".join(str(part) for part in (whole, rest) if part) + " in"


def works(document):
    pattern = made(document)
    return pattern, steps(pattern, SHOP)


def test_a_hanging_slot_is_ordered_with_its_width():
    ends = {"head": {"kind": "slot", "slot": "1/2 in"}, "foot": {"kind": "plain"}}
    document = {"construction": "open", "size": {"body_length": "20 in"}, "body": {"width": "1 1/2 in"}, "ends": ends}
    (slot,) = (each for each in made(document).pieces[0].features if each.purpose == "hanger")
    assert told(document)["hanging slot"] == f"{reading(slot.length, 'in')} × {reading(slot.width, 'in')}"


def test_threads_are_counted_and_each_has_its_length():
    _, work = works(SCALLOPED)
    (sew,) = (step for step in work if step.op == "stitch")
    assert re.search(r"with 2 threads of 12 ft [0-9]+ in each, ", sew.do), sew.do


def test_a_tail_is_glued_where_it_is_sewn_and_nowhere_else():
    """Common practice: the ring and the keeper in a fold run free."""
    pattern, work = works(COLLAR | {"stitching": {"turn_back": True}})
    xs = [x for line in pattern.pieces[0].stitch_lines if line.purpose == "fold_stitch" for x, _ in line.points]
    (glue,) = (step.do for step in work if step.op == "glue")
    assert f"from {reading(min(xs), 'in')} to {reading(max(xs), 'in')} on the front ply" in glue


@pytest.mark.parametrize(("length", "strips"), [("60 in", 1), ("80 in", 2)])
def test_more_than_a_leather_yields_in_one_strip_is_cut_in_several(length, strips):
    """A body and two billets of its width: they go in as many strips as are told, none longer than the leather's."""
    ends = {"head": {"kind": "billet", "end": {"kind": "buckle"}}, "foot": {"kind": "billet", "end": {"kind": "tip"}}}
    document = {"construction": "two_ends", "size": {"body_length": length}, "body": {"width": "1 in"}, "ends": ends}
    pattern, work = works(document)
    first = next(step.do for step in work if step.op == "strip")
    whole = sum(piece.length for piece in pattern.pieces if piece.width == INCH)
    longest = pattern.pieces[0].leather.strip_length
    assert (whole > longest) == (strips > 1)
    assert (f", in {strips} strips of at most {reading(longest, 'in')}" in first) == (strips > 1)


def test_what_is_named_in_a_step_stands_among_its_tools():
    pattern = solve(read_spec(examples()["neck_strap_with_keepers"], "in"), SHOP)
    for step in steps(pattern, SHOP):
        for named in ("thin steel", "clamp"):
            assert named not in step.do or named in (step.tool or "")
        assert step.op != "lace" or step.tool == "knife"
