"""Straps of harness bells that a restorer has remade to the measure of the originals, said whole.

Figures are those published on the custom-project pages of classicbells.com. What is not published (how long a taper is,
how far a joining strap's tips reach, how wide a keeper, how fine and how far out an edging is) is this shop's own.
"""

from dataclasses import replace
from itertools import pairwise

import pytest

from service.schemas.spec import read_spec
from service.strap.model.pattern import BETWEEN_KEEPERS
from service.strap.plane.lengths import INCH, MM
from service.strap.solve import solve
from tests.strap.test_published_rows import BODY, HEAVY, NECK, ordered
from tests.strap.test_splices import judge_loops
from tests.support.numbered import NUMBERED, RIVETED
from tests.walker.bench import Bench
from tests.workshop.test_walker import answer_for

WIDTHS = {"heel_7_8": 7 / 8, "heel_1_1_4": 5 / 4, "heel_2": 2}


def _buckle(name, width):
    """One for a strap of this width: its other measures are this shop's own."""
    like = NUMBERED.buckles["heel_bar_38"]
    across = round((width + 1 / 32) * INCH)
    return replace(like, id=name, inside_width=across, frame_width=across + INCH // 2)


SHOP = replace(
    NUMBERED,
    buckles=dict(NUMBERED.buckles) | {name: _buckle(name, width) for name, width in WIDTHS.items()},
    leathers={name: replace(each, strip_length=84 * INCH) for name, each in NUMBERED.leathers.items()},
    rules=replace(NUMBERED.rules, hardware_clear=3 * MM // 4, edge_web=5 * MM // 2),
)
"""Its strips are 84 in long, so that what is longer is spliced. Its narrow keepers all but touch the bells beside them,
and their rivets stand 2.5 mm inside their edges: nobody has published how near they do."""


def buckle(name, **more):
    return {"kind": "buckle", "buckle": name, **more}


def sewn_billet(width, **more):
    return {"kind": "billet", "width": width, "join": "stitches", "end": {"kind": "tip"}, **more}


def two_ended(head, foot, **more):
    return read_spec({"construction": "two_ends", "ends": {"head": head, "foot": foot}, **more}, "in")


STRAPS = {
    # 1: a buckle at each end, 48 in by 7/8 in, 25 of 1 1/4 in; a 7/8 in wither strap joins them and adds 4 to 6 in;
    # keepers between the bells hold it together with a lining strap
    "wither": two_ended(
        buckle("heel_7_8", hold="stitches"), buckle("heel_7_8", hold="stitches"), size={"bar_to_bar": "48"},
        body={"width": "7/8"},
        joining_strap={"adds": {"from": "4", "to": "6"}}, ornaments={"item": "no_2", "count": 25},
        keepers_between={"width": "5/16"}, lining={"leather": "lining_2_3", "held_by": "keepers"},
    ),
    # 2: unlined, like a trouser belt: 1 in wide, just over 5 1/2 ft, 41 of 1 in, 1 1/4 in apart; a pinked edging in
    # another colour, stitched on
    "belt": read_spec(
        {"construction": "one_piece", "size": {"finished_length": "67"}, "body": {"width": "1"},
         "ornaments": {"item": "no_0", "count": 41, "spacing": {"pitch": "1 1/4"}},
         "edging": {"leather": "latigo_6_7", "iron": "pinking_6", "reach": "3/16"},
         "stitching": {"inset": "3/32"}}, "in",
    ),
    # 3: two plies stitched along the edges, 2 in by 70 in, 33 of 1 1/4 in; a narrower billet, stitched on, adds 12 in
    "two plies": two_ended(
        buckle("heel_2"), sewn_billet("1 1/2", adds="12"),
        size={"body_length": "70"}, body={"width": "2"}, ornaments={"item": "no_2", "count": 33},
        lining={"leather": "lining_2_3", "purpose": "cover"},
    ),
    # 4: 39 by number, 1 1/2 in wide, about 8 1/2 ft between buckles that are stitched on; buckled 9 ft to 9 ft 10 in; a
    # keeper between each pair of bells
    "heavy horse": two_ended(
        buckle("heel_bar_38", hold="stitches"), buckle("heel_bar_38", hold="stitches"), size={"bar_to_bar": "102"},
        body={"width": "1 1/2", "splices": "allowed"}, joining_strap={"adds": {"from": "6", "to": "16"}},
        ornaments=ordered(HEAVY), keepers_between={"width": "3/8"},
    ),
    # 5: 23 riveted by number, 1 3/4 in wide, almost 9 ft over all; it tapers to a 1 1/4 in buckle and billet, both sewn
    "tapered": two_ended(
        buckle("heel_1_1_4", hold="stitches"), sewn_billet("1 1/4"),
        size={"overall_length": "107"}, body={"width": "1 3/4", "taper": {"to": "1 1/4"}, "splices": "allowed"},
        ornaments=ordered(BODY, RIVETED),
    ),
    # 6: 17 by number, 50 in from buckle to buckle, 1 1/2 in wide in the middle and 1 1/4 in at the ends; a keeper
    # between each pair of bells
    "neck": two_ended(
        buckle("heel_1_1_4"), buckle("heel_1_1_4"), size={"bar_to_bar": "50"},
        body={"width": "1 1/2", "taper": {"to": "1 1/4"}}, joining_strap={"adds": {"from": "6", "to": "12"}},
        ornaments=ordered(NECK), keepers_between={"width": "3/8"},
    ),
}  # fmt: skip
PATTERNS = {name: solve(spec, SHOP) for name, spec in STRAPS.items()}


def body(name):
    return PATTERNS[name].pieces[0]


def bells(name):
    return sorted((each for each in body(name).features if each.purpose == "ornament"), key=lambda each: each.x)


@pytest.mark.parametrize(
    ("name", "count", "width"),
    [("wither", 25, 7 / 8), ("belt", 41, 1), ("two plies", 33, 2), ("heavy horse", 39, 1.5), ("tapered", 23, 1.75),
     ("neck", 17, 1.5)],
)  # fmt: skip
def test_bells_and_width_are_as_published(name, count, width):
    assert len(bells(name)) == count
    assert body(name).width == width * INCH


def test_lengths_are_as_published():
    assert PATTERNS["wither"].finished.from_bar == 48 * INCH
    assert PATTERNS["belt"].finished.length == pytest.approx(5.5 * 12 * INCH, abs=2 * INCH)
    assert (body("two plies").length, PATTERNS["two plies"].piece("lining").length) == (70 * INCH, 70 * INCH)
    assert PATTERNS["heavy horse"].finished.from_bar == 8.5 * 12 * INCH
    assert 0 < 9 * 12 * INCH - PATTERNS["tapered"].finished.over_all <= 2 * INCH
    assert PATTERNS["neck"].finished.from_bar == 50 * INCH


def test_bells_of_one_size_stand_as_far_apart_as_published():
    """Nominally 2 in: 24 gaps of 2 in are the whole body, so the pitch is what its ends leave."""
    belt = bells("belt")
    assert {b.x - a.x for a, b in pairwise(belt)} == {1.25 * INCH}
    wither = bells("wither")
    assert 1.4 * INCH <= (wither[-1].x - wither[0].x) / 24 <= 2 * INCH


@pytest.mark.parametrize(("name", "adds", "width"), [("wither", (4, 6), 7 / 8), ("heavy horse", (6, 16), 1.5)])
def test_the_joining_strap_gives_the_published_range(name, adds, width):
    pattern = PATTERNS[name]
    found = pattern.finished.joined.least, pattern.finished.joined.most
    assert found == tuple(pattern.finished.from_bar + each * INCH for each in adds)
    assert pattern.piece("joining_strap").width == width * INCH


def test_the_heavy_horse_s_strap_measures_9_ft_to_9_ft_10_in():
    joined = PATTERNS["heavy horse"].finished.joined
    assert (joined.least, joined.most) == (108 * INCH, 118 * INCH)


def test_a_narrower_billet_is_stitched_on_and_adds_12_in():
    tongue = PATTERNS["two plies"].piece("tongue_billet")
    assert tongue.length - tongue.lap == 12 * INCH
    assert tongue.width < body("two plies").width
    assert {line.purpose for line in tongue.stitch_lines} == {"joint_stitch"}


@pytest.mark.parametrize(("name", "to"), [("tapered", 1.25), ("neck", 1.25)])
def test_both_ends_taper(name, to):
    """By the buckles that the ends go through, and what is joined to them."""
    pattern = PATTERNS[name]
    assert SHOP.buckles["heel_1_1_4"].inside_width == pytest.approx(to * INCH, abs=INCH // 16)
    other = pattern.piece("joining_strap") or pattern.piece("tongue_billet")
    assert other.width == to * INCH


@pytest.mark.parametrize(("name", "count"), [("wither", 24), ("heavy horse", 38), ("neck", 16)])
def test_a_keeper_stands_between_each_pair_of_bells_and_goes_round_what_is_there(name, count):
    pattern = PATTERNS[name]
    kept = [piece for piece in pattern.pieces if piece.name in BETWEEN_KEEPERS]
    marks = sorted(each.x for each in body(name).features if each.purpose == "keeper_place")
    assert sum(piece.count for piece in kept) == len(marks) == len(bells(name)) - 1 == count
    assert all(one.x < mark < other.x for mark, (one, other) in zip(marks, pairwise(bells(name)), strict=True))
    judge_loops(pattern, SHOP)


def test_bell_strap_and_lining_strap_are_held_together_by_keepers_alone():
    lining = PATTERNS["wither"].piece("lining")
    assert lining.is_loose
    assert (lining.length, lining.width) == (body("wither").length, body("wither").width)
    assert not [line for line in body("wither").stitch_lines if line.purpose == "edge_stitch"]


def test_the_belt_s_edging_is_pinked_of_another_colour_and_stitched_on():
    pattern = PATTERNS["belt"]
    edging = pattern.piece("edging")
    assert pattern.piece("lining") is None
    assert (edging.outline.cut.shape, edging.edging.lies, edging.count) == ("pinked", "behind", 2)
    assert edging.leather.colour != body("belt").leather.colour
    assert {line.purpose for line in body("belt").stitch_lines} == {"edge_stitch"}
    first, last = bells("belt")[0], bells("belt")[-1]
    assert edging.edging.start < first.x < last.x < edging.edging.end


@pytest.mark.parametrize("name", STRAPS)
def test_it_is_made_from_its_answer_alone(name):
    Bench(answer_for(STRAPS[name], SHOP)).make()
