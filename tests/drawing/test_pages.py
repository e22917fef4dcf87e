"""Pattern pages: few of them, everything on them, nothing over anything else."""

from dataclasses import replace
from itertools import combinations

import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st

from service.drawing.model import Group, Text
from service.drawing.printed.pages import PaperTooSmall
from service.drawing.printed.paper import PAPERS
from service.drawing.working.sheet import UnknownPiece
from service.strap.lengths import INCH, MM
from tests.drawing.printed_support import example, print_out
from tests.drawing.support import SHOP, STRAPS, one_piece, patterns, piece_of, three_piece, unchecked

PAPER_NAMES = st.sampled_from(list(PAPERS))


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
        paper_box = shapely.box(6, 6, page.width - 6, page.height - 6)
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
    room = max(PAPERS[paper]) - 12 - 8
    fewest = -(-(inches * 25.4 + 10) // (room - 11))
    assert len(pages) <= fewest + 1


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


def test_an_unknown_piece_is_refused_by_name():
    with pytest.raises(UnknownPiece, match="keeper"):
        print_out(three_piece(), piece="strap")
