"""A cubic Bézier curve as arcs of circles, for machines and formats that know no other curve."""

from collections.abc import Iterator
from math import hypot

from service.strap.plane.cubic import Curve, Place, halves, point

_DEEPEST = 12
_BETWEEN = (0.11, 0.21, 0.35, 0.65, 0.79, 0.89)
"""Where an arc through both ends and the middle may lie farthest from its curve: most near 0.21 and 0.79."""
_STRAIGHT = 1e-9


def arcs_along(curve: Curve, tolerance: float) -> Iterator[tuple[float, Place]]:
    """The arcs that follow a curve within `tolerance`, each as its bulge and its end.

    Each passes through both ends and the middle of its part of the curve, and so lies as much on the one side of it
    as on the other. The curve is halved until all are near enough.
    """
    yield from _arcs(curve, tolerance, 0)


def _arcs(curve: Curve, tolerance: float, depth: int) -> Iterator[tuple[float, Place]]:
    bulge = bulge_through(curve[0], point(curve, 0.5), curve[3])
    if depth < _DEEPEST and _apart(curve, bulge) > tolerance:
        for half in halves(curve):
            yield from _arcs(half, tolerance, depth + 1)
        return
    yield bulge, curve[3]


def bulge_through(start: Place, middle: Place, end: Place) -> float:
    """The bulge of the arc from `start` through `middle` to `end`: the tangent of a quarter of the angle it turns by.

    Greater than 0 where it turns from the x axis towards the y axis, 0 of a straight line. At the middle the chords
    to both ends enclose half of what is left of a full turn (Euclid, *Elements* III, 20).
    """
    ax, ay, bx, by = start[0] - middle[0], start[1] - middle[1], end[0] - middle[0], end[1] - middle[1]
    around = hypot(ax, ay) * hypot(bx, by) - (ax * bx + ay * by)
    return -(ax * by - ay * bx) / around if around else 0.0


def _apart(curve: Curve, bulge: float) -> float:
    """The greatest distance between a curve and the arc with that bulge between its ends, at some places."""
    (x1, y1), (x2, y2) = curve[0], curve[3]
    dx, dy = x2 - x1, y2 - y1
    chord = hypot(dx, dy)
    places = [point(curve, t) for t in _BETWEEN]
    if chord < _STRAIGHT:
        return max(hypot(x - x1, y - y1) for x, y in places)
    if abs(bulge) < _STRAIGHT:
        return max(abs((x - x1) * dy - (y - y1) * dx) / chord for x, y in places)
    lift = (1 - bulge * bulge) / (4 * bulge)
    centre_x, centre_y = (x1 + x2) / 2 - lift * dy, (y1 + y2) / 2 + lift * dx
    radius = chord * (1 + bulge * bulge) / (4 * abs(bulge))
    return max(abs(hypot(x - centre_x, y - centre_y) - radius) for x, y in places)
