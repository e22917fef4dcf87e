"""Labels along a line: in order, apart, within bounds, and nowhere better."""

from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from service.drawing.parts.places import spread

WANTED = st.lists(st.floats(0, 100), min_size=1, max_size=30).map(sorted)


@given(WANTED, st.floats(0.1, 3))
def test_labels_keep_their_distance_and_their_bounds(wanted, gap):
    places = spread(wanted, gap, -5.0, 110.0)
    assert all(after - before >= gap - 1e-9 for before, after in pairwise(places))
    assert places[0] >= -5.0 - 1e-9
    assert places[-1] <= 110.0 + 1e-9


@given(WANTED, st.floats(0.1, 3), st.lists(st.floats(0, 20), min_size=30, max_size=30))
def test_no_other_places_lie_nearer(wanted, gap, extra):
    """The sum of squares is convex, so no other allowed places may beat the ones found."""

    def cost(places):
        return sum((place - want) ** 2 for place, want in zip(places, wanted, strict=True))

    other, at = [], -5.0
    for step, want in zip(extra, wanted, strict=False):
        at = max(at, min(want, at + step))
        other.append(at)
        at += gap
    if other[-1] <= 110.0:
        assert cost(spread(wanted, gap, -5.0, 110.0)) <= cost(other) + 1e-6


def test_labels_with_room_stay_where_they_belong():
    assert spread([1.0, 5.0, 9.0], 2.0, 0.0, 10.0) == [1.0, 5.0, 9.0]


def test_a_crowd_stands_about_its_middle():
    """By symmetry: three labels wanted at one place stand a gap to each side of it."""
    assert spread([5.0, 5.0, 5.0], 2.0, 0.0, 10.0) == pytest.approx([3.0, 5.0, 7.0])


def test_too_many_labels_are_refused():
    with pytest.raises(ValueError, match="do not fit"):
        spread([0.0] * 7, 2.0, 0.0, 10.0)
