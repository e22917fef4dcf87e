"""Joints: as few as the paper allows, nothing lost, and nothing cut that need not be."""

from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from service.drawing.printed.joints import BLEED, Room, divide

WIDTHS = st.floats(170, 410)
EXTENTS = st.lists(st.tuples(st.floats(0, 2100), st.floats(0.5, 60)).map(lambda e: (e[0], e[0] + e[1])), max_size=60)


def windows(length, joints, overlap):
    """What each part shows: from its joint to the overlap beyond the next."""
    edges = [None, *joints, None]
    return [(0.0 if a is None else a - BLEED, length if b is None else b + overlap) for a, b in pairwise(edges)]


@given(st.floats(100, 2200), EXTENTS, WIDTHS, st.floats(5, 40))
def test_every_part_has_room_and_nothing_is_lost(length, extents, width, overlap):
    room = Room(width, overlap, 5.0)
    division = divide(length, extents, room)
    shown = windows(length, division.joints, division.overlap)
    assert division.overlap >= overlap
    assert shown[0][0] == 0
    assert shown[-1][1] == length
    for number, (left, right) in enumerate(shown):
        ends = 5.0 * ((number == 0) + (number == len(shown) - 1))
        assert 0 < right - left <= width - ends + 1e-6
    for left, right in extents:
        if right <= length:
            assert any(a - 1e-6 <= left and right <= b + 1e-6 for a, b in shown)


@given(st.floats(100, 2200), WIDTHS)
def test_a_bare_strip_takes_as_few_parts_as_its_length_allows(length, width):
    """Each joint costs the overlap and the bleed: (L + 2·5 + j·(o + 1)) / W, rounded up, from the sum of widths."""
    division = divide(length, [], Room(width, 10.0, 5.0))
    joints = 0
    while length + 10.0 + joints * (10.0 + BLEED) > (joints + 1) * width:
        joints += 1
    assert len(division.joints) == joints


def test_a_joint_goes_through_the_gap_between_two_rows_of_slots():
    """There is one gap of 14 mm in reach, away from the middle: that is where the joint goes."""
    slots = [(float(at), at + 9.0) for at in range(0, 500, 10) if at != 240]
    division = divide(500.0, slots, Room(280.0, 10.0, 5.0))
    assert len(division.joints) == 1
    assert 239 <= division.joints[0] <= 250


def test_a_joint_and_its_name_keep_off_places_that_are_read_and_what_is_set():
    """A joint can lie from 226 to 265 mm; 7 mm before it and 10 behind have no room at a hole at 240, nor is there room
    under a bell from 243 to 281.
    """
    division = divide(500.0, [(239.0, 241.0)], Room(280.0, 10.0, 5.0), [(243.0, 281.0)])
    assert 226 <= division.joints[0] <= 229


def test_a_slot_longer_than_the_overlap_is_never_divided():
    """One joint can lie from 226 to 265 mm; a slot takes up the middle of the piece, where it would lie otherwise."""
    division = divide(500.0, [(200.0, 252.0)], Room(280.0, 10.0, 5.0))
    assert len(division.joints) == 1
    assert 252 <= division.joints[0] <= 265


def test_a_part_more_is_made_rather_than_a_slot_divided():
    """A slot takes up the whole of where one joint could lie."""
    division = divide(500.0, [(220.0, 280.0)], Room(280.0, 10.0, 5.0))
    assert len(division.joints) == 2
    assert division.overlap == 10


def test_where_nothing_can_be_avoided_the_overlap_grows():
    """Slots of 30 mm everywhere, one over another: only a longer overlap keeps each whole."""
    slots = [(float(at), at + 30.0) for at in range(0, 970, 5)]
    division = divide(1000.0, slots, Room(280.0, 10.0, 5.0))
    assert division.overlap == pytest.approx(31.0)


def test_a_page_too_narrow_for_any_part_is_refused():
    with pytest.raises(ValueError, match="room"):
        divide(500.0, [], Room(20.0, 10.0, 5.0))
