"""A contour moved outwards by a distance: the path of a cutter that takes half its width on either side.

The true parallel curve: lines and arcs exactly, corners rounded about themselves, and cubic Bézier curves by
cubics that stay within `TOLERANCE` of it.
"""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from math import hypot

from service.drawing.model import ArcTo, Close, CurveTo, LineTo, MoveTo, Segment
from service.strap.plane.cubic import Curve, derivative, halves, point, second_derivative, split

TOLERANCE = 0.002
"""Millimetres by which the curves may differ from the true parallel at the places where they are compared."""
_SAME = 1e-6
_DEEPEST = 12
_NEWTON = 12
Point = tuple[float, float]


@dataclass(frozen=True, slots=True)
class _Edge:
    """One segment moved outwards, the corner that it led to before, and its directions where it begins and there."""

    start: Point
    segments: tuple[LineTo | ArcTo | CurveTo, ...]
    corner: Point
    first: Point
    last: Point


def outwards(contour: tuple[Segment, ...], distance: float) -> tuple[Segment, ...]:
    """A closed contour, clockwise as drawn, moved outwards by `distance` millimetres.

    A distance of 0 leaves it as it is. Corners become arcs of that radius about the corner; hollow ones stay
    corners, where the moved edges cross.
    """
    if distance == 0:
        return contour
    edges = _trimmed(list(_edges(contour, distance)))
    found: list[Segment] = [MoveTo(*edges[0].start)]
    for edge, following in zip(edges, [*edges[1:], edges[0]], strict=True):
        found += edge.segments
        end = edge.segments[-1]
        if hypot(following.start[0] - end.x, following.start[1] - end.y) > _SAME:
            found += _round(edge, following.start, distance)
    return (*found, Close())


def _trimmed(edges: list[_Edge]) -> list[_Edge]:
    """The edges, those that meet in a hollow corner shortened to where they cross."""
    for n, edge in enumerate(edges):
        after = (n + 1) % len(edges)
        cross = edge.last[0] * edges[after].first[1] - edge.last[1] * edges[after].first[0]
        if cross < -_SAME * hypot(*edge.last) * hypot(*edges[after].first):
            edges[n], edges[after] = _met(edge, edges[after])
    return edges


def _met(edge: _Edge, following: _Edge) -> tuple[_Edge, _Edge]:
    """Two edges up to where they cross, and from there on."""
    before, rest = list(edge.segments), list(following.segments)
    while True:
        start = _end_of(before[-2]) if len(before) > 1 else edge.start
        one, other = _as_curve(start, before[-1]), _as_curve(following.start, rest[0])
        t, u = _crossing(one, other)
        if t < 0 and len(before) > 1:
            before.pop()
        elif u > 1 and len(rest) > 1:
            following = replace(following, start=_end_of(rest.pop(0)))
        else:
            break
    left, right = split(one, min(max(t, 0.0), 1.0))[0], split(other, min(max(u, 0.0), 1.0))[1]
    before[-1], rest[0] = _as_segment(left, before[-1]), _as_segment(right, rest[0])
    return replace(edge, segments=tuple(before)), replace(following, start=right[0], segments=tuple(rest))


def _crossing(one: Curve, other: Curve) -> Point:
    """The parameters at which two curves cross, by Newton's method from the end of the one and the other's start."""
    t, u = 1.0, 0.0
    for _ in range(_NEWTON):
        (x, y), (to_x, to_y) = point(one, t), point(other, u)
        (a, b), (c, d) = derivative(one, t), derivative(other, u)
        share = b * c - a * d
        if abs(share) < _SAME:
            break
        t += ((to_y - y) * c - (to_x - x) * d) / share
        u += ((to_y - y) * a - (to_x - x) * b) / share
    return t, u


def _end_of(segment: LineTo | ArcTo | CurveTo) -> Point:
    return segment.x, segment.y


def _as_curve(start: Point, segment: LineTo | ArcTo | CurveTo) -> Curve:
    """A line as a cubic that is passed evenly; no arc ends in a hollow corner."""
    end = _end_of(segment)
    if isinstance(segment, CurveTo):
        return start, (segment.x1, segment.y1), (segment.x2, segment.y2), end
    third = ((end[0] - start[0]) / 3, (end[1] - start[1]) / 3)
    return start, (start[0] + third[0], start[1] + third[1]), (end[0] - third[0], end[1] - third[1]), end


def _as_segment(curve: Curve, like: LineTo | ArcTo | CurveTo) -> LineTo | CurveTo:
    _, one, two, end = curve
    return CurveTo(*one, *two, *end) if isinstance(like, CurveTo) else LineTo(*end)


def _edges(contour: tuple[Segment, ...], distance: float) -> Iterator[_Edge]:
    at = start = (0.0, 0.0)
    for segment in contour:
        if isinstance(segment, MoveTo):
            at = start = (segment.x, segment.y)
            continue
        drawn = LineTo(*start) if isinstance(segment, Close) else segment
        end = (drawn.x, drawn.y)
        if isinstance(drawn, CurveTo):
            yield _moved_curve((at, (drawn.x1, drawn.y1), (drawn.x2, drawn.y2), end), distance)
        elif hypot(end[0] - at[0], end[1] - at[1]) > _SAME:
            yield _moved_arc(at, drawn, distance) if isinstance(drawn, ArcTo) else _moved_line(at, end, distance)
        at = end


def _round(edge: _Edge, end: Point, distance: float) -> tuple[ArcTo, ArcTo]:
    """The corner behind an edge in two arcs: one near half a turn would hang on the last digit of its ends."""
    x, y = edge.corner
    behind = (edge.segments[-1].x - x + end[0] - x, edge.segments[-1].y - y + end[1] - y)
    size = hypot(*behind)
    towards = (behind[0] / size, behind[1] / size) if size > _SAME else _unit(edge.last)
    return ArcTo(distance, x + towards[0] * distance, y + towards[1] * distance), ArcTo(distance, *end)


def _unit(direction: Point) -> Point:
    size = hypot(*direction)
    return direction[0] / size, direction[1] / size


def _outward(direction: Point) -> Point:
    """The unit normal on the left of a direction: outwards where the contour runs clockwise, y downwards."""
    x, y = _unit(direction)
    return y, -x


def _shifted(point: Point, direction: Point, distance: float) -> Point:
    normal = _outward(direction)
    return point[0] + normal[0] * distance, point[1] + normal[1] * distance


def _moved_line(start: Point, end: Point, distance: float) -> _Edge:
    along = (end[0] - start[0], end[1] - start[1])
    moved = LineTo(*_shifted(end, along, distance))
    return _Edge(_shifted(start, along, distance), (moved,), end, along, along)


def _moved_arc(start: Point, arc: ArcTo, distance: float) -> _Edge:
    """A clockwise arc bulges outwards: the same centre, a radius greater by the distance."""
    if not arc.clockwise:
        raise ValueError("a contour that is moved outwards has no arcs that bulge inwards")
    centre = _centre(start, arc)
    share = (arc.radius + distance) / arc.radius

    def out(point: Point) -> Point:
        return centre[0] + (point[0] - centre[0]) * share, centre[1] + (point[1] - centre[1]) * share

    end = (arc.x, arc.y)
    first, last = ((centre[1] - y, x - centre[0]) for x, y in (start, end))
    return _Edge(out(start), (ArcTo(arc.radius + distance, *out(end)),), end, first, last)


def _centre(start: Point, arc: ArcTo) -> Point:
    """The centre of a clockwise arc of at most half a turn (SVG 2, appendix B.2.4)."""
    half_x, half_y = (start[0] - arc.x) / 2, (start[1] - arc.y) / 2
    half = hypot(half_x, half_y)
    lift = (max(arc.radius**2 - half**2, 0.0) ** 0.5) / half
    return (start[0] + arc.x) / 2 + lift * half_y, (start[1] + arc.y) / 2 - lift * half_x


def _moved_curve(curve: Curve, distance: float) -> _Edge:
    pieces = tuple(_pieces(curve, distance, 0))
    first = _direction(curve, 0.0)
    return _Edge(_shifted(curve[0], first, distance), pieces, curve[3], first, _direction(curve, 1.0))


def _pieces(curve: Curve, distance: float, depth: int) -> Iterator[CurveTo]:
    """Cubics along the parallel of a curve; the curve is halved until each is near enough."""
    candidate = _parallel(curve, distance)
    if depth < _DEEPEST and _apart(curve, candidate, distance) > TOLERANCE:
        for half in halves(curve):
            yield from _pieces(half, distance, depth + 1)
        return
    _, one, two, end = candidate
    yield CurveTo(*one, *two, *end)


def _parallel(curve: Curve, distance: float) -> Curve:
    """The cubic with the parallel's ends and its velocities there: |o'| = |p'| + distance · turning."""
    starts = _shifted(curve[0], _direction(curve, 0.0), distance)
    ends = _shifted(curve[3], _direction(curve, 1.0), distance)
    out, back = _velocity(curve, 0.0, distance), _velocity(curve, 1.0, distance)
    one = (starts[0] + out[0] / 3, starts[1] + out[1] / 3)
    two = (ends[0] - back[0] / 3, ends[1] - back[1] / 3)
    return starts, one, two, ends


def _velocity(curve: Curve, t: float, distance: float) -> Point:
    """The derivative of the parallel at t: that of the curve, longer by distance times its curvature."""
    dx, dy = derivative(curve, t)
    ddx, ddy = second_derivative(curve, t)
    speed = hypot(dx, dy)
    if speed < _SAME:
        return _direction(curve, t)
    share = 1 + distance * (dx * ddy - dy * ddx) / speed**3
    return dx * share, dy * share


def _apart(curve: Curve, candidate: Curve, distance: float) -> float:
    """The greatest distance between the candidate and the parallel at some equal parameters."""
    found = 0.0
    for t in (0.125, 0.25, 0.375, 0.5, 0.625, 0.75, 0.875):
        true = _shifted(point(curve, t), _direction(curve, t), distance)
        near = point(candidate, t)
        found = max(found, hypot(true[0] - near[0], true[1] - near[1]))
    return found


def _direction(curve: Curve, t: float) -> Point:
    """The curve's direction at t; that of its chord where it has no speed there."""
    found = derivative(curve, t)
    if hypot(*found) > _SAME:
        return found
    return curve[3][0] - curve[0][0], curve[3][1] - curve[0][1]
