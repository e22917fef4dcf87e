"""What lies along the long edges of a piece and stands out beyond them: where it runs on one side, and its corners.

All in half a piece: x along it, y from its centre line. The edge is not cut yet.
"""

from collections.abc import Iterator, Sequence
from itertools import pairwise
from math import hypot

from service.shop.goods import Nm
from service.strap.plane.cubic import Curve
from service.strap.plane.narrowing import Narrowing, Place, long_edge
from service.strap.plane.outline import Outline
from service.strap.plane.teeth import CutEdge, sides


def edge_between(outline: Outline, start: Nm, end: Nm) -> list[Place]:
    """The long edge from one place along a piece to another, within what its ends keep parallel."""
    flat = Narrowing(outline.width, 0)
    edge = long_edge(outline.length, outline.width, outline.narrowings or (flat, flat))
    inside = [place for place in edge if start < place[0] < end]
    return [(float(start), _height(edge, start)), *inside, (float(end), _height(edge, end))]


def _height(edge: Sequence[Place], x: Nm) -> float:
    for (x1, y1), (x2, y2) in pairwise(edge):
        if x1 <= x <= x2 and x2 > x1:
            return y1 + (y2 - y1) * (x - x1) / (x2 - x1)
    return edge[0][1] if x < edge[0][0] else edge[-1][1]


def moved_out(edge: Sequence[Place], by: float) -> list[Place]:
    """A chain of chords moved away from the centre line, each corner square to the mean of its chords."""
    chords = [(b[0] - a[0], b[1] - a[1]) for a, b in pairwise(edge)]
    units = [(x / (hypot(x, y) or 1.0), y / (hypot(x, y) or 1.0)) for x, y in chords]
    means = [units[0], *((a[0] + b[0], a[1] + b[1]) for a, b in pairwise(units)), units[-1]]
    found = []
    for (x, y), (dx, dy) in zip(edge, means, strict=True):
        size = hypot(dx, dy) or 1.0
        found.append((x - by * dy / size, y + by * dx / size))
    return found


def round_strip(edge: Sequence[Place], reach: Nm, hold: Nm, cut: CutEdge | None) -> Iterator[Curve | Place]:
    """Round a strip that stands out `reach` beyond an edge and reaches `hold` inside it, from its inner start on."""
    inner, outer = moved_out(edge, -hold), moved_out(edge, reach)
    yield inner[0]
    yield outer[0]
    yield from sides(outer, cut) if cut else outer[1:]
    yield from reversed(inner[1:])
