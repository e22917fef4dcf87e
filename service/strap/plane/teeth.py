"""Edges cut in scallops or points: whole repeats along a long edge, from crest to crest.

All in half a piece: x along it, y from its centre line, the leather below the edge.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise
from math import atan, cos, hypot, sin, tan
from typing import NamedTuple

from service.shop.goods import CutEdgeShape, Nm
from service.strap.plane.cubic import Curve
from service.strap.plane.narrowing import Place


@dataclass(frozen=True, slots=True)
class CutEdge:
    """`count` repeats of a shape along each long edge, or along the upper one alone, their roots `depth` inside it."""

    shape: CutEdgeShape
    count: int
    depth: Nm
    upper_only: bool = False


class Tooth(NamedTuple):
    """A crest on the edge, or a root inside it, with the unit direction of the edge there."""

    place: Place
    along: Place


def length_along(edge: Sequence[Place]) -> float:
    """How long a chain of chords is."""
    return sum(hypot(b[0] - a[0], b[1] - a[1]) for a, b in pairwise(edge))


def repeats(edge: Sequence[Place], repeat: Nm, most: int) -> int:
    """The whole number of repeats that comes nearest to the wanted one; at least one."""
    return min(max(round(length_along(edge) / repeat), 1), most)


def teeth(edge: Sequence[Place], cut: CutEdge) -> Iterator[Tooth]:
    """Crests and roots in turn, the first and the last a crest, half a repeat apart along the edge."""
    chords = [(a, b, hypot(b[0] - a[0], b[1] - a[1])) for a, b in pairwise(edge) if a != b]
    total, passed, at = sum(size for *_, size in chords), 0.0, 0
    for n in range(2 * cut.count + 1):
        way = total * n / (2 * cut.count)
        while at + 1 < len(chords) and passed + chords[at][2] < way:
            passed += chords[at][2]
            at += 1
        (x1, y1), (x2, y2), size = chords[at]
        along = ((x2 - x1) / size, (y2 - y1) / size)
        inside = cut.depth if n % 2 else 0
        x, y = x1 + along[0] * (way - passed), y1 + along[1] * (way - passed)
        yield Tooth((x + inside * along[1], y - inside * along[0]), along)


def roots(edge: Sequence[Place], cut: CutEdge) -> list[Place]:
    """The first crest, every root, and the last crest: what the edge encloses whatever its shape."""
    found = [tooth.place for tooth in teeth(edge, cut)]
    return [found[0], *found[1::2], found[-1]]


def sides(edge: Sequence[Place], cut: CutEdge) -> Iterator[Curve | Place]:
    """From each crest to its root and from that to the next: straight to a place, or by a cubic curve.

    A scallop is an arc of a circle that touches the edge with its crest: of half chord c and rise d the half angle is
    2 · atan(d / c), the radius (c² + d²) / 2d. The cubic with handles of 4/3 · tan(angle / 4) · radius is within
    0.03 % of it (the usual approximation of an arc).
    """
    for n, (one, other) in enumerate(pairwise(teeth(edge, cut))):
        if cut.shape == "pinked":
            yield other.place
            continue
        half = hypot(other.place[0] - one.place[0], other.place[1] - one.place[1])
        rise = cut.depth
        angle = 2 * atan(rise / max(half * half - rise * rise, 1.0) ** 0.5)
        handle = 4 / 3 * tan(angle / 4) * (half * half) / (2 * rise)
        leaving, coming = (0.0, angle) if n % 2 == 0 else (-angle, 0.0)
        out, back = _turned(one.along, leaving), _turned(other.along, coming)
        yield (
            one.place,
            (one.place[0] + handle * out[0], one.place[1] + handle * out[1]),
            (other.place[0] - handle * back[0], other.place[1] - handle * back[1]),
            other.place,
        )


def _turned(along: Place, inwards: float) -> Place:
    """A direction turned towards the centre line by an angle."""
    c, s = cos(inwards), sin(inwards)
    return c * along[0] + s * along[1], c * along[1] - s * along[0]
