"""Packing: nothing overlaps, nothing leaves its page, the same every time."""

from itertools import combinations, pairwise

import pytest
import shapely
from hypothesis import given
from hypothesis import strategies as st

from service.drawing.printed.packing import pack
from service.drawing.shelves import shelved

SIZES = st.lists(st.tuples(st.floats(5, 280), st.floats(5, 180)), min_size=1, max_size=14)


@given(SIZES, st.floats(0, 10))
def test_rectangles_keep_their_gap_and_their_page(sizes, gap):
    """Judged by shapely."""
    spots = pack(sizes, 280, 180, gap)
    boxes = [
        (spot.page, shapely.box(spot.x, spot.y, spot.x + wide, spot.y + high))
        for spot, (wide, high) in zip(spots, sizes, strict=True)
    ]
    page = shapely.box(-1e-6, -1e-6, 280 + 1e-6, 180 + 1e-6)
    assert all(page.contains(box) for _, box in boxes)
    for (one, a), (other, b) in combinations(boxes, 2):
        assert one != other or a.distance(b) >= gap - 1e-6
        assert one != other or a.intersection(b).area < 1e-6


@given(SIZES)
def test_pages_are_numbered_by_the_first_rectangle_on_them_and_none_is_empty(sizes):
    pages = [spot.page for spot in pack(sizes, 280, 180, 5)]
    assert list(dict.fromkeys(pages)) == list(range(max(pages) + 1))


def test_what_fits_one_page_by_its_area_and_shape_is_put_on_one():
    """Three strips of 60 mm on a page of 200."""
    assert {spot.page for spot in pack([(270, 60)] * 3, 280, 200, 7)} == {0}


def test_ranks_decide_what_comes_first():
    spots = pack([(100, 50), (100, 60)], 100, 60, 0, ranks=[2, 1])
    assert [spot.page for spot in spots] == [0, 1]


def test_what_is_larger_than_a_page_is_refused():
    with pytest.raises(ValueError, match="does not fit"):
        pack([(281, 10)], 280, 180, 5)


LENGTHS = st.lists(st.floats(1, 120), max_size=30)


@given(LENGTHS, st.floats(20, 100), st.floats(0, 10), st.booleans())
def test_on_shelves_nothing_overlaps_or_stands_out(lengths, room, gap, in_order):
    """But what is longer than the shelf, which has one of its own."""
    spots = shelved(lengths, room, gap, in_order=in_order)
    shelves = {}
    for spot, length in zip(spots, lengths, strict=True):
        shelves.setdefault(spot.shelf, []).append((spot.at, spot.at + length))
    assert sorted(shelves) == list(range(len(shelves)))
    for shelf in shelves.values():
        assert shelf[0][0] == 0
        assert all(after[0] - before[1] == pytest.approx(gap, abs=1e-9) for before, after in pairwise(shelf))
        assert shelf[-1][1] <= room + 1e-9 or len(shelf) == 1


@given(LENGTHS, st.floats(20, 100), st.floats(0, 10))
def test_first_fit_leaves_no_shelf_half_empty_before_a_thing_that_has_room_there(lengths, room, gap):
    """D. S. Johnson, *Near-optimal bin packing algorithms*, 1973 (from memory): a bin is opened where none has room."""
    ends = {}
    for spot, length in zip(shelved(lengths, room, gap), lengths, strict=True):
        assert all(ends[shelf] + gap + length > room for shelf in range(spot.shelf))
        ends[spot.shelf] = spot.at + length


@given(LENGTHS, st.floats(20, 100), st.floats(0, 10))
def test_in_order_shelves_are_read_one_after_the_other(lengths, room, gap):
    spots = shelved(lengths, room, gap, in_order=True)
    assert list(spots) == sorted(spots)
