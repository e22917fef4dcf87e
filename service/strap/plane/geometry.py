"""Distances in the plane of a piece, in nanometres: between cuts, between discs, and to a shaped end.

A cut is a capsule: a line segment with a radius (a round hole is a segment of no length).
"""

from functools import lru_cache
from itertools import pairwise
from math import cos, floor, hypot, inf, pi, radians, sin, sqrt

from service.shop.goods import Nm
from service.strap.plane.cubic import point
from service.strap.plane.outline import Arc, Cubic, EndForm, Line, OutlineSegment, Point, end_curve
from service.values import dataclass

_CURVE_STEPS = 32
_CHORDS = 64


@dataclass(frozen=True, slots=True)
class Capsule:
    """All points within `radius` of the segment from (`x1`, `y1`) to (`x2`, `y2`), which runs to the right."""

    x1: float
    y1: float
    x2: float
    y2: float
    radius: float


def disc(x: Nm, y: Nm, diameter: Nm) -> Capsule:
    """A round hole, or what an ornament or a cap covers."""
    return Capsule(x, y, x, y, diameter / 2)


def slot(x: Nm, y: Nm, length: Nm, width: Nm, angle: int) -> Capsule:
    """A slot with round ends, `length` over all, turned by `angle` degrees from along the strap."""
    reach = (length - width) / 2
    if angle == 90:
        return Capsule(x, y - reach, x, y + reach, width / 2)
    dx, dy = reach * cos(radians(angle)), reach * sin(radians(angle))
    return Capsule(x - dx, y - dy, x + dx, y + dy, width / 2)


def gap(a: Capsule, b: Capsule) -> float:
    """Clear distance between two capsules; negative where they overlap."""
    if a.x1 == a.x2 and b.x1 == b.x2 and a.y1 == a.y2 and b.y1 == b.y2:  # two round holes, which most are
        return hypot(a.x1 - b.x1, a.y1 - b.y1) - a.radius - b.radius
    if _is_upright_or_level(a) and _is_upright_or_level(b):
        return _box_distance(a, b) - a.radius - b.radius
    return _segment_distance(a, b) - a.radius - b.radius


def _is_upright_or_level(shape: Capsule) -> bool:
    return shape.x1 == shape.x2 or shape.y1 == shape.y2


def _box_distance(a: Capsule, b: Capsule) -> float:
    """Distance of two segments along the axes: each fills the box that it spans."""
    top, bottom = (a.y1, a.y2) if a.y1 < a.y2 else (a.y2, a.y1)
    other_top, other_bottom = (b.y1, b.y2) if b.y1 < b.y2 else (b.y2, b.y1)
    along = max(0.0, a.x1 - b.x2, b.x1 - a.x2)
    across = max(0.0, top - other_bottom, other_top - bottom)
    return hypot(along, across)


def _segment_distance(a: Capsule, b: Capsule) -> float:
    if is_disc(a):
        return to_segment(a.x1, a.y1, b.x1, b.y1, b.x2, b.y2)
    if is_disc(b):
        return to_segment(b.x1, b.y1, a.x1, a.y1, a.x2, a.y2)
    if _cross(a, b):
        return 0.0
    return min(
        to_segment(a.x1, a.y1, b.x1, b.y1, b.x2, b.y2),
        to_segment(a.x2, a.y2, b.x1, b.y1, b.x2, b.y2),
        to_segment(b.x1, b.y1, a.x1, a.y1, a.x2, a.y2),
        to_segment(b.x2, b.y2, a.x1, a.y1, a.x2, a.y2),
    )


def is_disc(shape: Capsule) -> bool:
    """Whether it is a round hole, and no slot."""
    return shape.x1 == shape.x2 and shape.y1 == shape.y2


def _cross(a: Capsule, b: Capsule) -> bool:
    def side(s: Capsule, x: float, y: float) -> float:
        return (s.x2 - s.x1) * (y - s.y1) - (s.y2 - s.y1) * (x - s.x1)

    return side(a, b.x1, b.y1) * side(a, b.x2, b.y2) < 0 and side(b, a.x1, a.y1) * side(b, a.x2, a.y2) < 0


def to_segment(x: float, y: float, x1: float, y1: float, x2: float, y2: float) -> float:
    """Distance from a point to a segment."""
    dx, dy = x2 - x1, y2 - y1
    square = dx * dx + dy * dy
    along = 0.0 if square == 0 else max(0.0, min(1.0, ((x - x1) * dx + (y - y1) * dy) / square))
    return hypot(x - x1 - along * dx, y - y1 - along * dy)


def from_end(form: EndForm, half: Nm, x: float, y: float) -> float:
    """Signed distance to one end's curve; x counts from its tip inwards.

    The end is convex, so that from inside its nearest wall is the one whose straight line is nearest.
    """
    return min([across * x + up * y + away for across, up, away in end_walls(form, half)])


@lru_cache(maxsize=512)
def end_walls(form: EndForm, half: Nm) -> tuple[tuple[float, float, float], ...]:
    """Each chord of an end as (a, b, c): a · x + b · y + c is the distance to its line, positive inside."""
    walls = []
    for (x1, y1), (x2, y2) in pairwise(end_corners(form, half)):
        across, up = (y2 - y1), (x1 - x2)
        size = hypot(across, up)
        walls.append((across / size, up / size, -(across * x1 + up * y1) / size))
    return tuple(walls)


@lru_cache(maxsize=1024)
def least_from_end(form: EndForm, half: Nm, y: Nm, keep: Nm) -> Nm:
    """How far from an end's tip a point at height `y` is at least `keep` inside the end's curve."""
    return max(-floor((up * y + away - keep) / across) for across, up, away in end_walls(form, half) if across > 0)


def draw_back(form: EndForm, half: Nm, centre: tuple[float, float], radius: float) -> float:
    """How far an end has to draw back along its strap until it lies clear of a disc; none or less where it does.

    `centre` is the disc's, counted from the end's tip inwards and from the centre line. `-inf` beside the strap.
    The end is taken as chords inside its curve.
    """
    return centre[0] + _reach_over(form, half, abs(centre[1]), radius)


@lru_cache(maxsize=1024)
def _reach_over(form: EndForm, half: Nm, y: float, radius: float) -> float:
    """How far a disc at height `y` that touches an end from outside has its centre before the end's tip.

    Kept, since what stands in one row has one height and few sizes.
    """
    corners = end_corners(form, half)[:-1]
    reaches = [_over_point(corner, side * y, radius) for corner in corners for side in (1, -1)]
    reaches += [_over_chord(chord, side * y, radius) for chord in pairwise(corners) for side in (1, -1)]
    return max(reaches)


def _over_point(point: tuple[float, float], y: float, radius: float) -> float:
    """How far a disc that touches a point from outside, its centre at height `y`, lies before the end's tip."""
    square = radius * radius - (point[1] - y) ** 2
    return sqrt(square) - point[0] if square >= 0 else -inf


def _over_chord(chord: tuple[tuple[float, float], tuple[float, float]], y: float, radius: float) -> float:
    """The same of a disc that touches a chord between its ends."""
    (x1, y1), (x2, y2) = chord
    size = hypot(x2 - x1, y2 - y1)
    outwards, up = (y2 - y1) / size, (x2 - x1) / size
    height = y - radius * up
    if not min(y1, y2) <= height <= max(y1, y2) or y1 == y2:
        return -inf
    return outwards * radius - (x1 + (x2 - x1) * (height - y1) / (y2 - y1))


@lru_cache(maxsize=512)
def end_corners(form: EndForm, half: Nm) -> tuple[tuple[float, float], ...]:
    """One half of an end as a chain of chords, from its tip on the centre line to beyond its straight edge."""
    at: Point = (-form[1], -half)
    corners = [(float(at[0]), float(at[1]))]
    for segment in end_curve(*form, half):
        corners += points_along(at, segment)
        at = segment.end
    upper = [(-x, -y) for x, y in corners if y <= 0]
    chain = [(0.0, 0.0), *reversed(upper), (float(form[1] + 4 * half), float(half))]
    return tuple(corner for corner, following in pairwise([*chain, (inf, inf)]) if corner != following)


def points_along(start: Point, segment: OutlineSegment) -> list[tuple[float, float]]:
    """Points along a segment, without its start."""
    if isinstance(segment, Line):
        return [(float(segment.end[0]), float(segment.end[1]))]
    if isinstance(segment, Arc):
        return _arc_points(start, segment)
    return _cubic_points(start, segment)


def _arc_points(start: Point, arc: Arc) -> list[tuple[float, float]]:
    """Points along a quarter circle turning clockwise as drawn."""
    (x0, y0), (x1, y1) = start, arc.end
    centre = (x0, y1) if (x1 - x0) * (y1 - y0) > 0 else (x1, y0)
    first = _quarter_angle(x0 - centre[0], y0 - centre[1])
    angles = (first + pi / 2 * step / _CURVE_STEPS for step in range(1, _CURVE_STEPS))
    inner = [(centre[0] + arc.radius * cos(angle), centre[1] + arc.radius * sin(angle)) for angle in angles]
    return [*inner, (float(x1), float(y1))]


def _quarter_angle(dx: Nm, dy: Nm) -> float:
    if dx == 0:
        return pi / 2 if dy > 0 else -pi / 2
    return 0.0 if dx > 0 else pi


def _cubic_points(start: Point, curve: Cubic) -> list[tuple[float, float]]:
    points = []
    for step in range(1, _CURVE_STEPS + 1):
        t = step / _CURVE_STEPS
        points.append(point((start, curve.control_1, curve.control_2, curve.end), t))
    return points


@lru_cache(maxsize=512)
def end_area(form: EndForm, half: Nm) -> float:
    """Area of an end as far as it is shaped, in square nanometres."""
    chain = end_corners(form, half)[:-1]
    strips = pairwise(chain)
    return sum((x2 - x1) * (y1 + y2) for (x1, y1), (x2, y2) in strips)


@lru_cache(maxsize=512)
def end_length(form: EndForm, half: Nm) -> Nm:
    """The length of an end's curve; cubic curves are taken as 64 chords."""
    shape, depth = form
    total, at = 0.0, (-depth, -half)
    for segment in end_curve(shape, depth, half):
        total += _segment_length(at, segment)
        at = segment.end
    return round(total)


def _segment_length(start: Point, segment: OutlineSegment) -> float:
    if isinstance(segment, Arc):
        return pi / 2 * segment.radius
    if isinstance(segment, Line):
        return hypot(segment.end[0] - start[0], segment.end[1] - start[1])
    curve = (start, segment.control_1, segment.control_2, segment.end)
    points = [point(curve, step / _CHORDS) for step in range(_CHORDS + 1)]
    return sum(hypot(b[0] - a[0], b[1] - a[1]) for a, b in pairwise(points))


def over_disc(tip: EndForm, half: Nm, tip_x: Nm, centre: tuple[Nm, Nm], radius: Nm) -> bool:
    """Whether a tip that ends at `tip_x` lies over a disc."""
    return draw_back(tip, half, (tip_x - centre[0], centre[1]), radius) > 0
