"""Contours moved outwards, held against shapely's buffer of the same contour in fine chords."""

from math import pi

import numpy as np
import pytest
import shapely
import svgelements
from hypothesis import assume, given
from hypothesis import strategies as st

from service.drawing.cutting.offset import outwards
from service.drawing.model import ArcTo, Close, CurveTo, LineTo, MoveTo
from service.drawing.parts.symbols import outline_segments
from service.forms.svg import path_data
from service.schemas.goods import END_SHAPES
from service.strap.plane.lengths import SIXTY_FOURTH
from service.strap.plane.outline import default_depth, strap_outline
from service.strap.plane.profile import base_edge
from service.strap.plane.teeth import length_along
from tests.support.shapes import along, are_near, ring
from tests.support.tapered import cut_outlines, narrowing_outlines

NEAR = 0.01
"""Millimetres that a parallel may be off: what was asked for."""


def chords(segments, per_curve=100):
    """The contour as a polygon, read from its path data by another library."""
    return ring(path_data(segments), per_curve)


def hollowest(segments):
    """The least radius of a curve among them, by svgelements' places: three of them lie on a circle (Euclid III, 1)."""
    least = float("inf")
    for part in svgelements.Path(path_data(segments)):
        if isinstance(part, svgelements.CubicBezier):
            a, b, c = (along(part, 60)[n : n - 2 or None] for n in range(3))
            sides = [np.linalg.norm(one - other, axis=1) for one, other in ((a, b), (b, c), (a, c))]
            (one, other), (left, right) = (b - a).T, (c - a).T
            area = np.abs(one * right - other * left) / 2
            with np.errstate(divide="ignore"):
                least = min(least, (np.prod(sides, axis=0) / (4 * area)).min())
    return least


@st.composite
def outlines(draw):
    width = draw(st.integers(24, 6 * 64)) * SIXTY_FOURTH
    length = draw(st.integers(12 * 64, 40 * 64)) * SIXTY_FOURTH
    ends = []
    for _ in range(2):
        shape = draw(st.sampled_from(END_SHAPES))
        free = shape not in ("square", "round")
        depth = draw(st.integers(8, 4 * 64)) * SIXTY_FOURTH if free and draw(st.booleans()) else None
        if shape == "clipped":
            depth = None
        ends.append((shape, default_depth(shape, width) if depth is None else depth))
    return strap_outline(length, width, *ends)


@given(outlines(), st.floats(0.01, 1.0))
def test_the_parallel_is_where_shapely_has_it_within_a_hundredth_of_a_millimetre(outline, distance):
    segments = outline_segments(outline)
    moved = chords(outwards(segments, distance))
    true = chords(segments).buffer(distance, quad_segs=60)
    assert moved.is_valid
    assert are_near(moved, true, NEAR)
    assert abs(moved.area - true.area) < NEAR * true.length


@given(narrowing_outlines(), st.floats(0.01, 3.0))
def test_a_strip_that_narrows_grows_as_shapely_has_it(outline, distance):
    """Its hollow corners with it; shapely's arcs are chords of half a degree.

    No cutter follows a curve that is hollower than itself: such tapers, a sixteenth over a sixteenth, are left out.
    """
    segments = outline_segments(outline)
    assume(distance < hollowest(segments))
    moved = chords(outwards(segments, distance))
    true = chords(segments).buffer(distance, quad_segs=180)
    assert moved.is_valid
    assert are_near(moved, true, NEAR)
    assert abs(moved.area - true.area) < NEAR * true.length


@given(cut_outlines(), st.floats(0.02, 0.4))
def test_a_strip_with_cut_edges_grows_as_shapely_has_it(outline, distance):
    """Roots stay corners, where the moved scallops or points cross."""
    assume(length_along(base_edge(outline)) > outline.cut.count * 3_000_000)
    segments = outline_segments(outline)
    moved = chords(outwards(segments, distance), per_curve=30)
    true = chords(segments, per_curve=60).buffer(distance, quad_segs=90)
    assert moved.is_valid
    assert are_near(moved, true, 2 * NEAR)


@pytest.mark.parametrize("shape", END_SHAPES)
def test_a_strip_grows_by_twice_the_distance_each_way(shape):
    outline = strap_outline(100_000_000, 25_400_000, (shape, default_depth(shape, 25_400_000)), ("square", 0))
    left, top, right, bottom = chords(outwards(outline_segments(outline), 0.5)).bounds
    assert bottom - top == pytest.approx(26.4, abs=NEAR)
    assert right - left == pytest.approx(101.0, abs=NEAR)


def test_lines_stay_lines_and_corners_turn_about_themselves():
    """Perimeter of a rectangle moved outwards by d: that of the rectangle + 2πd (Steiner's formula)."""
    square = (MoveTo(0, 0), LineTo(30, 0), LineTo(30, 10), LineTo(0, 10), Close())
    moved = outwards(square, 0.25)
    kinds = [type(segment) for segment in moved]
    assert kinds.count(ArcTo) == 8
    assert CurveTo not in kinds
    assert svgelements.Path(path_data(moved)).length(error=1e-7) == pytest.approx(80 + 2 * pi * 0.25, abs=0.002)


def test_a_half_circle_keeps_its_centre():
    outline = strap_outline(100_000_000, 20_000_000, ("square", 0), ("round", 10_000_000))
    arcs = [segment for segment in outwards(outline_segments(outline), 0.1) if isinstance(segment, ArcTo)]
    assert [arc.radius for arc in arcs].count(pytest.approx(10.1)) == 2


def test_no_distance_changes_nothing():
    segments = outline_segments(strap_outline(50_000_000, 20_000_000, ("clipped", 5_000_000), ("square", 0)))
    assert outwards(segments, 0) == segments


def test_a_contour_that_bulges_inwards_is_refused():
    with pytest.raises(ValueError, match="inwards"):
        outwards((MoveTo(0, 0), ArcTo(5, 10, 0, clockwise=False), LineTo(0, 10), Close()), 0.1)


@pytest.mark.parametrize(("grown", "near"), [(0.005, True), (0.02, False)])
def test_near_is_what_the_hausdorff_distance_says(grown, near):
    """Of two circles in the one direction and the other: shapely's own measure takes minutes of long contours."""
    one, other = (shapely.Point(0, 0).buffer(10 + more, quad_segs=300) for more in (0, grown))
    assert (one.hausdorff_distance(other) < 0.01) is near
    assert are_near(one, other, 0.01) is are_near(other, one, 0.01) is near
