"""The words of the printed pages, against answers reckoned by hand: which part lies where, which hole, which edge."""

import re

import pytest

from service.drawing import words
from service.drawing.model import Text
from service.drawing.printed.bench_sheet import bench_blocks
from service.drawing.printed.flow import Table
from service.drawing.printed.printed import tools_of
from service.schemas.spec import read_spec
from service.strap.plane.lengths import MM
from service.strap.solve import solve
from service.workshop.cautions import cautions
from service.workshop.steps import steps
from tests.drawing.printed_support import print_out
from tests.drawing.support import SHOP, STRAPS, three_piece
from tests.drawing.test_pages import words_on

GARTER = {"units": "in", "construction": "one_piece", "size": {"finished_length": "18 in", "measured_from": "fold"}}
TWO_ROWS = {
    "units": "in",
    "construction": "open",
    "size": {"body_length": "30 in"},
    "body": {"width": "2 in"},
    "ornaments": {"item": "spot_10", "count": 4, "rows": {"count": 2, "across": "staggered", "distance": "3/4 in"}},
}


def made(document):
    return solve(read_spec(document, "in"), SHOP)


def rows_of(pattern):
    """Every row of every table of the bench sheet."""
    work = steps(pattern, SHOP)
    blocks = bench_blocks(pattern, SHOP, "in", work, cautions(pattern, SHOP), tools_of(pattern, work, SHOP))
    return [row for block in blocks if isinstance(block, Table) for row in block.rows]


# ---------------------------------------------------------------- parts of a piece


def heading_of(page, part):
    """What stands over a part: its name, and below it what to do with it."""
    groups = [
        [item for item in group.items if isinstance(item, Text)] for group in page.items if hasattr(group, "items")
    ]
    (texts,) = (texts for texts in groups if texts and texts[0].text == part.name)
    return " ".join(text.text for text in texts)


@pytest.mark.parametrize("paper", ["a4", "letter", "a3"])
def test_a_part_is_laid_on_the_part_that_ends_where_it_begins(paper):
    """By hand: part n of the body begins at joint XA(n - 1), so it lies on part n - 1; part n + 1 lies on it at XAn."""
    document = print_out(three_piece(), paper, sheet="false", piece="body")
    shown = [(page, placed.part) for page in document.pages for placed in page.parts]
    shown.sort(key=lambda each: each[1].left)
    count = len(shown)
    assert count > 1
    for n, (page, part) in enumerate(shown, 1):
        heading = heading_of(page, part)
        before, after = n > 1, n < count
        lay = f"cut along line XA{n - 1} and lay it on A {n - 1}/{count}, XA{n - 1} to XA{n - 1}"
        assert (lay in heading, heading.count("lay it on")) == (before, before)
        laid = f"A {n + 1}/{count} is laid on at line XA{n}"
        assert (laid in heading, heading.count("laid on at")) == (after, after)
        assert not after or part.ends == shown[n][1].begins
        joints = {f"XA{joint}" for joint in (n - 1, n) if 0 < joint < count}
        assert {text for text in inside(page, part) if text.startswith("XA")} == joints


def inside(page, part):
    """Every text within a part's window."""
    (window,) = (window for window, placed in zip(page.windows, page.parts, strict=True) if placed.part == part)
    return [item.text for item in window.items if isinstance(item, Text)]


@pytest.mark.parametrize("name", ["three_piece", "open"])
def test_the_plan_sends_to_the_page_that_says_that_part(name):
    """A part's page is the one whose foot has its name and its number (by hand: page n of the document)."""
    document = print_out(STRAPS[name](), sheet="true")
    said = [words_on(page) for page in document.pages]
    plan = " ".join(text for page in said for text in page)
    told = {found[0]: int(found[1]) for found in re.findall(r"(A \d/\d): page (\d+)", plan)}
    assert len(told) > 1
    for part, number in told.items():
        assert f"page {number} of {len(document.pages)}" in said[number - 1]
        assert part in said[number - 1]


# ---------------------------------------------------------------- the middle hole


@pytest.mark.parametrize(("holes", "nominal"), [(1, 1), (3, 2), (5, 3), (7, 4)])
def test_the_middle_hole_is_told_at_the_length_that_was_ordered(holes, nominal):
    """18 in from the fold to the middle one; the others 3/4 in apart, so many before it as behind it (by hand)."""
    pattern = made(GARTER | {"billet": {"size_holes": {"count": holes, "spacing": "3/4 in"}}})
    measured = {row[0]: row[1] for row in rows_of(pattern) if row[0].startswith("hole ")}
    assert measured[f"hole {nominal}, the middle one"] == "18 in"
    assert [name for name in measured if "middle one" in name] == [f"hole {nominal}, the middle one"]
    datums = {name for name in measured if ", from" in name}
    assert datums == {f"hole {nominal}, {words.DATUMS[datum]}" for datum in ("bar", "frame")}
    if holes > 1:
        assert (measured[f"hole {nominal - 1}"], measured[f"hole {nominal + 1}"]) == ("17 1/4 in", "18 3/4 in")
    ordered = {row[0]: row[1] for row in rows_of(pattern) if row[0] == "finished length"}
    assert ordered == {"finished length": f"18 in to the middle hole, {words.DATUMS['fold']}"}


def test_the_middle_hole_lies_where_it_is_told_to():
    """On the flat strip, by hand: 18 in are measured from 5.373 mm beyond the bar's axis, which is the fold's outside.

    The fold takes π × (2 + 3.3734 / 2) mm of leather between two straight plies, of which the front one begins at the
    fold line: half the arc, and from the bar to the nearest rivet 32.247 mm for a straight part of 32.309 mm.
    """
    pattern = made(GARTER)
    strap = pattern.pieces[0]
    holes = sorted(each.x for each in strap.features if each.purpose == "size_hole")
    front = sorted(each.x for each in strap.features if each.purpose == "fold_rivet")[2]
    assert (holes[2] - front) / MM == pytest.approx(18 * 25.4 - 5.373 - 32.247, abs=0.002)


# ---------------------------------------------------------------- the keeper's lap


def test_the_sheet_tells_the_keepers_whole_lap():
    """Two holes 1/4 in from both ends meet once the ends lie 1/2 in over one another (by hand)."""
    (told,) = (row[-1] for row in rows_of(made(GARTER)) if "lap its ends" in row[-1])
    assert "lap its ends by 1/2 in, so that its holes meet" in told


# ---------------------------------------------------------------- edges


def test_the_upper_edge_is_the_one_at_the_top_of_the_drawing():
    """By hand: y grows towards the bottom; two rows 3/4 in apart on 2 in stand 5/8 in inside the two edges.

    The first row has four spots; the second, in their gaps, three.
    """
    pattern = made(TWO_ROWS)
    spots = [each for each in pattern.pieces[0].features if each.purpose == "ornament"]
    assert [len([spot for spot in spots if spot.y < 0]), len([spot for spot in spots if spot.y > 0])] == [4, 3]
    (marking,) = (row[-1] for row in rows_of(pattern) if "Mark with a small cross" in row[-1])
    upper, lower = re.findall(r"5/8 in inside the (?:upper|lower) edge at [^;]*", marking)
    assert (upper.count(",") + 1, "upper edge" in upper) == (4, True)
    assert (lower.count(",") + 1, "lower edge" in lower) == (3, True)
