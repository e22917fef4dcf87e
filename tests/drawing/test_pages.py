"""Pattern pages: few of them, everything on them, nothing over anything else."""

from dataclasses import replace
from itertools import combinations

import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st

from openapi.example_requests import examples
from service.drawing.model import Group, Text
from service.drawing.parts import symbols
from service.drawing.parts.chosen import UnknownPiece
from service.drawing.printed.pages import PaperTooSmall
from service.drawing.printed.paper import PAPERS
from service.schemas.spec import read_spec
from service.strap.plane.lengths import INCH, MM, reading
from service.strap.solve import solve
from tests.drawing.printed_support import example, print_out
from tests.drawing.support import SHOP, STRAPS, one_piece, patterns, piece_of, three_piece, unchecked

PAPER_NAMES = st.sampled_from(list(PAPERS))
LEAST_FREE = {"a4": 6, "a3": 6, "letter": 7, "tabloid": 7}
"""Printers for inch papers leave 1/4 in, 6.35 mm, unprinted, and feed a sheet half a millimetre askew (from memory)."""


def parts_on(document):
    return [(number, placed) for number, page in enumerate(document.pages) for placed in page.parts]


def words_on(page):
    def texts(items):
        for item in items:
            if isinstance(item, Text):
                yield item.text
            elif isinstance(item, Group):
                yield from texts(item.items)

    return list(texts(page.items))


@settings(max_examples=60)
@given(patterns(), PAPER_NAMES)
def test_whatever_the_pattern_every_feature_is_whole_on_a_page_and_parts_keep_apart(pattern, paper):
    """Even patterns that no solver would allow: features anywhere, on one another."""
    document = print_out(pattern, paper, sheet="false")
    shown = parts_on(document)
    for piece in pattern.pieces:
        parts = [placed.part for _, placed in shown if placed.part.piece == piece.name]
        assert [part.number for part in parts] == list(range(1, parts[0].count + 1))
        for feature in piece.features:
            half = {"slot": (feature.width or 0) / 2, "hole": (feature.diameter or 0) / 2}.get(feature.kind, 0) / MM
            left, right = feature.x / MM - half, feature.x / MM + half
            inside = [
                part for part in parts if part.left <= max(left, 0) and min(right, piece.length / MM) <= part.right
            ]
            assert inside, feature
    for page in document.pages:
        boxes = [shapely.box(w.box.left, w.box.top, w.box.right, w.box.bottom) for w in page.windows]
        free = LEAST_FREE[paper]
        paper_box = shapely.box(free, free, page.width - free, page.height - free)
        assert all(paper_box.buffer(1e-6).contains(box) for box in boxes)
        assert all(a.intersection(b).area == 0 for a, b in combinations(boxes, 2))


@pytest.mark.parametrize("name", STRAPS)
def test_windows_show_the_pattern_at_true_size(name):
    """A window's origin and its part's edges differ by exactly what they differ by on the leather."""
    for page in print_out(STRAPS[name](), sheet="false").pages:
        for window, placed in zip(page.windows, page.parts, strict=True):
            part = placed.part
            if part.begins is not None:
                assert window.box.left - placed.x == pytest.approx(part.left)
            if part.ends is not None:
                assert window.box.right - placed.x == pytest.approx(part.right)


def test_the_overlap_is_that_of_the_shop_file():
    shop = replace(SHOP, paper=replace(SHOP.paper, overlap=25 * MM, margin=12 * MM))
    document = print_out(one_piece(), sheet="false", shop=shop)
    parts = [placed.part for _, placed in parts_on(document) if placed.part.piece == "strap"]
    assert len(parts) > 1
    for part in parts[:-1]:
        assert part.right - part.ends == pytest.approx(25)
    assert all(window.box.left >= 12 for page in document.pages for window in page.windows)


def test_a_strap_that_fits_is_not_divided_and_needs_no_plan():
    pattern = unchecked(piece_of(10 * INCH, INCH, ()))
    (page,) = print_out(pattern, sheet="false").pages
    assert [placed.part.name for placed in page.parts] == ["A"]
    assert "How the pages go together" not in words_on(page)


def test_the_plan_names_the_page_of_every_part():
    document = print_out(three_piece(), sheet="false")
    said = [text for page in document.pages for text in words_on(page)]
    assert said.count("How the pages go together") == 1
    plan = " ".join(said)
    for number, placed in parts_on(document):
        name = placed.part.name
        title = {"B": "B  Buckle billet", "C": "C  Tongue billet", "D": "D  Keeper"}.get(name, name)
        assert f"{title}: page {number + 1}" in plan


def test_letters_of_tools_are_the_same_on_every_page_and_in_the_key():
    document = print_out(three_piece(), sheet="false")
    said = [text for page in document.pages for text in words_on(page)]
    assert said.count("Key") == 1
    for title in ("round punch 3 (1/8 in)", "slot punch 5/8 in", "round punch 6 (3/16 in)"):
        assert said.count(title) == 1


@given(st.integers(4, 84), st.sampled_from([1, 2, 3, 4]), PAPER_NAMES)
@settings(max_examples=60)
def test_pages_are_never_more_than_one_part_each(inches, width, paper):
    """A bare strip needs no more pages than parts along the long side of the paper, and one for the plan."""
    pattern = unchecked(piece_of(inches * INCH, width * INCH, ()))
    pages = print_out(pattern, paper, sheet="false").pages
    room = max(PAPERS[paper]) - 2 * LEAST_FREE[paper] - 8
    fewest = -(-(inches * 25.4 + 10) // (room - 11))
    assert len(pages) <= fewest + 1


def joints_and_pages(pattern, paper="a4", shop=SHOP):
    pages = print_out(pattern, paper, sheet="false", shop=shop).pages
    return sum(placed.part.begins is not None for page in pages for placed in page.parts), len(pages)


@pytest.mark.parametrize(("paper", "joints"), [("a4", 6), ("letter", 7), ("a3", 4), ("tabloid", 4)])
def test_a_strap_has_as_few_joints_as_the_long_side_of_the_paper_allows(paper, joints):
    """72 in, by hand: 1828.8 mm and 5 at each end; a page shows its long side less both margins and 8 mm of bars.

    A4: 277 mm, of which each joint costs 11: 7 parts show 1873 of the 1838.8 mm, 6 only 1607. Letter: 257.4 mm, 8
    parts show 1982, 7 only 1736. A3: 400 mm, 5 parts show 1956, 4 only 1567. Tabloid: 409.8 mm, 5 parts show 2005, 4
    only 1606.
    """
    assert joints_and_pages(unchecked(piece_of(72 * INCH, INCH, ())), paper)[0] == joints


def test_a_joint_is_weighed_against_paper_as_the_shop_says():
    """Upright, A4 shows 190 mm: 11 parts, four of them on a page (by hand). Ten joints save a page."""
    thrifty = replace(SHOP, paper=replace(SHOP.paper, joint_sheets=0))
    pattern = unchecked(piece_of(72 * INCH, INCH, ()))
    assert (joints_and_pages(pattern), joints_and_pages(pattern, shop=thrifty)) == ((6, 4), (10, 3))


@pytest.mark.parametrize("paper", ["letter", "tabloid"])
def test_inch_papers_keep_the_shops_margin_where_it_is_wider(paper):
    wide = replace(SHOP, paper=replace(SHOP.paper, margin=12 * MM))
    for page in print_out(one_piece(), paper, shop=wide).pages:
        assert all(window.box.left >= 12 for window in page.windows)


def test_a_lining_is_printed_only_where_it_is_asked_for():
    """It is cut a little over and trimmed to what it lines (common practice)."""
    pattern = example("lined_bag_strap")
    assert {placed.part.piece for _, placed in parts_on(print_out(pattern))} == {"strap"}
    assert {placed.part.piece for _, placed in parts_on(print_out(pattern, piece="lining"))} == {"lining"}


def test_the_plan_tells_of_a_lining_that_has_no_page():
    """A plain strip is cut by width and length; what is trimmed flush takes its shape from the strap."""
    told = [text for page in print_out(example("lined_bag_strap")).pages for text in words_on(page)]
    assert "B  Lining: no page, for it is trimmed once it is glued" in told
    pattern = example("neck_strap_with_keepers")
    lining = pattern.piece("lining")
    told = [text for page in print_out(pattern).pages for text in words_on(page)]
    size = f"{reading(lining.width, 'in')} by {reading(lining.cut_length, 'in')}"
    assert f"B  Lining: no page, for it is a plain strip: {size}" in told


def test_a_lining_that_keepers_hold_and_that_is_no_plain_strip_is_printed_as_it_is_cut():
    """Nobody trims it to the strap: its narrow ends are its own, farther apart by its rise."""
    spec = examples()["neck_strap_with_keepers"] | {"body": {"width": "1 1/2 in", "taper": {"to": "1 in"}}}
    pattern = solve(read_spec(spec, "in"), SHOP)
    lining = pattern.piece("lining")
    assert lining.rise > 0
    document = print_out(pattern)
    assert "lining" in {placed.part.piece for _, placed in parts_on(document)}
    told = [text for page in document.pages for text in words_on(page)]
    size = f"{reading(lining.cut_length, 'in')} × 1 1/2 in, narrowing to 1 in at both ends · Latigo"
    assert any(text.startswith(size) for text in told)


def test_holes_of_a_joining_strap_are_numbered_from_its_middle():
    """It is buckled at the same hole at both ends: each number stands twice, the least beside the middle."""
    pattern = example("harness_strap_joined")
    piece = pattern.piece("joining_strap")
    numbers = symbols.hole_numbers(piece, 3.0)
    assert [text.text for text in numbers] == ["3", "2", "1", "1", "2", "3"]
    assert [text.x for text in numbers] == pytest.approx(sorted(each.x / MM for each in piece.features))


def test_a_plan_without_room_on_the_pattern_is_on_the_bench_sheet():
    """Of the lined strap's parts two fill each page; alone the pattern has one page more for its plan."""
    pattern, title = example("lined_bag_strap"), "How the pages go together"
    whole, alone = print_out(pattern), print_out(pattern, sheet="false")
    pages = [number for number, page in enumerate(whole.pages) if title in words_on(page)]
    assert pages == [next(number for number, page in enumerate(whole.pages) if page.title == "Bench sheet")]
    assert all(page.parts or page.title == "Bench sheet" for page in whole.pages)
    assert [page.title for page in alone.pages if title in words_on(page)] == ["Plan"]


def test_a_strap_too_wide_for_any_page_is_refused_with_the_papers_that_are_larger():
    pattern = unchecked(piece_of(30 * INCH, 12 * INCH, ()))
    with pytest.raises(PaperTooSmall, match="too wide for A4: choose a3 or tabloid") as refused:
        print_out(pattern, "a4")
    assert refused.value.larger == ("a3", "tabloid")
    assert print_out(pattern, "a3", sheet="false").pages


def test_a_wide_strap_leaves_its_readings_to_the_bench_sheet_rather_than_not_fit():
    pattern = unchecked(piece_of(30 * INCH, 9 * INCH, ()))
    assert print_out(pattern, "a4", sheet="false").pages


def test_lines_of_stitches_are_shown_and_explained():
    collar = example("stitched_collar")
    wanted = {line.id for piece in collar.pieces for line in piece.stitch_lines}
    document = print_out(collar, sheet="false")
    drawn = {getattr(item, "id", None) for page in document.pages for window in page.windows for item in window.items}
    assert wanted
    assert wanted <= drawn
    assert "line of stitches" in [text for page in document.pages for text in words_on(page)]


def test_every_part_and_every_page_says_which_face_is_up():
    document = print_out(three_piece(), sheet="false")
    for page in document.pages:
        assert page.title.startswith("Grain side up: ")
        headings = [text for text in words_on(page) if "grain side up" in text]
        assert len(headings) == len(page.parts)
        assert page.title in words_on(page)
    (page, *_) = print_out(example("lined_bag_strap"), sheet="false", piece="lining").pages
    assert page.title.startswith("Flesh side up: ")


@pytest.mark.parametrize("paper", PAPERS)
def test_size_holes_are_numbered_once_wherever_they_are_whole(paper):
    """Drawn with the part that shows them; one in an overlap stands on both pages with its number."""
    document = print_out(three_piece(), paper, sheet="false", piece="tongue_billet")
    shown = {item.text for page in document.pages for window in page.windows for item in bold(window.items)}
    assert {"1", "2", "3", "4", "5"} <= shown


def bold(items):
    return [item for item in items if isinstance(item, Text) and item.weight == "bold"]


def test_an_unknown_piece_is_refused_by_name():
    with pytest.raises(UnknownPiece, match="keeper"):
        print_out(three_piece(), piece="strap")
