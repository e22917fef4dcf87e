"""Distances, areas and parallels against shapely, which shares nothing with ours."""

from itertools import pairwise

import pytest
from shapely.geometry import LineString, Point

from service.schemas.goods import END_SHAPES
from service.strap.plane.edges import area, edge_distance
from service.strap.plane.geometry import disc, gap, least_from_end, slot
from service.strap.plane.lengths import MM
from service.strap.plane.outline import default_depth, strap_outline
from service.strap.plane.parallel import inner_half, inner_room
from tests.support.shapes import polygon

LENGTH, WIDTH = 300 * MM, 40 * MM
FORMS = [(shape, default_depth(shape, WIDTH)) for shape in END_SHAPES]
FORMS += [("english_point", 55 * MM), ("straight_point", 9 * MM), ("clipped", 13 * MM)]
SHAPES = [
    disc(20 * MM, 3 * MM, 5 * MM),
    disc(31 * MM, -11 * MM, 8 * MM),
    slot(24 * MM, 0, 20 * MM, 4 * MM, 0),
    slot(24 * MM, 7 * MM, 20 * MM, 4 * MM, 90),
    slot(40 * MM, -2 * MM, 18 * MM, 3 * MM, 30),
    slot(40 * MM, -2 * MM, 18 * MM, 3 * MM, 135),
]


def drawn(shape):
    """The same capsule by shapely, whose circles are polygons."""
    return LineString([(shape.x1, shape.y1), (shape.x2, shape.y2)]).buffer(shape.radius, quad_segs=90)


def edge_of(outline):
    """The outline finely, in nanometres."""
    return polygon(outline, steps=400, scale=MM)


@pytest.mark.parametrize("one", SHAPES)
@pytest.mark.parametrize("other", SHAPES)
def test_a_gap_is_that_of_shapely(one, other):
    apart = drawn(one).distance(drawn(other))
    if apart:
        assert gap(one, other) == pytest.approx(apart, abs=0.01 * MM)
    else:
        assert gap(one, other) <= 0.01 * MM
    assert gap(one, other) == gap(other, one)


@pytest.mark.parametrize("form", FORMS)
@pytest.mark.parametrize("foot", [False, True])
@pytest.mark.parametrize("x", [9, 14, 25, 47])
@pytest.mark.parametrize("y", [-13, 0, 4])
def test_the_distance_to_the_edge_is_that_of_shapely(form, foot, x, y):
    outline = strap_outline(LENGTH, WIDTH, *((("square", 0), form) if foot else (form, ("square", 0))))
    at = LENGTH - x * MM if foot else x * MM
    edge, point = edge_of(outline), Point(at, y * MM)
    expected = edge.exterior.distance(point) * (1 if edge.contains(point) else -1)
    found = edge_distance(outline, disc(at, y * MM, 0))
    if expected > 0:
        assert found == pytest.approx(expected, abs=0.03 * MM)
    else:
        assert found <= 0.03 * MM


@pytest.mark.parametrize("form", FORMS)
def test_an_area_is_that_of_shapely(form):
    outline = strap_outline(LENGTH, WIDTH, form, ("round", WIDTH // 2))
    assert area(outline) == pytest.approx(edge_of(outline).area, rel=1e-3)


@pytest.mark.parametrize("form", FORMS)
@pytest.mark.parametrize("inset", [2, 5])
def test_a_parallel_keeps_its_distance(form, inset):
    """Every place of it, and between any two of them, is the inset away from the edge by shapely."""
    outline = strap_outline(LENGTH, WIDTH, form, FORMS[-3])
    places = inner_half(outline, inset * MM)
    edge = edge_of(outline).exterior
    for one, other in pairwise(places):
        middle = Point((one[0] + other[0]) / 2, (one[1] + other[1]) / 2)
        for place in (Point(one), middle):
            assert edge.distance(place) == pytest.approx(inset * MM, abs=0.05 * MM)
    xs = [x for x, _ in places]
    length, width = inner_room(outline, inset * MM)
    assert length == pytest.approx(max(xs) - min(xs), abs=1)
    assert width == pytest.approx(2 * max(abs(y) for _, y in places), abs=1)


@pytest.mark.parametrize("form", FORMS)
@pytest.mark.parametrize("y", [0, 6])
def test_the_least_place_from_an_end_is_just_far_enough(form, y):
    half, keep = WIDTH // 2, 4 * MM
    outline = strap_outline(LENGTH, WIDTH, form, ("square", 0))
    x = least_from_end(form, half, y * MM, keep)
    assert edge_distance(outline, disc(x, y * MM, 0)) >= keep
    assert edge_distance(outline, disc(x - 10, y * MM, 0)) < keep
