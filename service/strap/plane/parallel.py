"""The line that runs inside an outline at a constant distance from it, as chords.

Each wall of the outline is moved inwards, and those that follow one another cross; of a convex outline that is what
all walls have in common. So the line keeps its distance exactly, in the sense of `edges.edge_distance`; at the hollow
corner of a taper, where it turns by a few degrees, it keeps a little more.
"""

from bisect import bisect_right
from collections.abc import Iterable, Iterator
from functools import lru_cache
from itertools import pairwise
from math import ceil, floor, hypot, inf

from service.shop.goods import Nm
from service.strap.plane.geometry import end_walls
from service.strap.plane.narrowing import Place
from service.strap.plane.outline import Outline
from service.strap.plane.profile import base_edge, walls

_Wall = tuple[float, float, float]
"""(a, b, c): a · x + b · y + c is the distance to a straight line, positive inside."""
_AXIS: _Wall = (0.0, 1.0, 0.0)
_PARALLEL = 1e-12


def inner_half(outline: Outline, inset: Nm) -> tuple[Place, ...]:
    """Half of the parallel, from the centre line at the head round one edge to the centre line at the foot.

    y counts from the centre line. Empty where nothing of the piece is `inset` away from its outline.
    """
    if min(inner_room(outline, inset)) <= 0:
        return ()
    if outline.narrowings:
        return tuple(_crossings((_AXIS, *_moved_chords(walls(outline), inset), _AXIS)))
    kept = [_AXIS]
    corners: list[Place] = []
    for wall in (*_moved_walls(outline, inset), _AXIS):
        while corners and _outside(wall, corners[-1]):
            kept.pop()
            corners.pop()
        if abs(_cross(kept[-1], wall)) > _PARALLEL:
            corners.append(_meet(kept[-1], wall))
            kept.append(wall)
    return tuple(corners)


def inner_room(outline: Outline, inset: Nm) -> tuple[float, float]:
    """How long the parallel is along the centre line, and how wide; less than nothing where it has no room."""
    near, far = outline.head_half, outline.foot_half
    heads, foots = end_walls(outline.head, near), end_walls(outline.foot, far)
    first = max((inset - away) / across for across, _, away in heads if across > 0)
    last = outline.length - max((inset - away) / across for across, _, away in foots if across > 0)
    return last - first, 2.0 * (min(near, far) - inset)


@lru_cache(maxsize=128)
def inner_edge(outline: Outline, inset: Nm) -> tuple[Place, ...]:
    """The parallel of the long edge alone, past the shaped ends; before its first place and after its last it is level.

    It lies beyond the centre line where the piece is narrower than twice the inset.
    """
    edge = base_edge(outline)
    length = float(outline.length)
    ends = (-length, edge[0][1]), (2 * length, edge[-1][1])
    chain = [ends[0], *edge, ends[1]]
    return tuple(_crossings(_moved_chords(pairwise(chain), inset))) or ((0.0, edge[0][1] - inset),)


def inner_height(outline: Outline, inset: Nm, x: float) -> float:
    """How far from the centre line the parallel of the long edge runs at `x`."""
    if not outline.narrowings:
        return float(outline.width // 2 - inset)
    edge = inner_edge(outline, inset)
    n = bisect_right(edge, (x, -1.0 * outline.width))
    if n in (0, len(edge)):
        return edge[min(n, len(edge) - 1)][1]
    return _between(edge[n - 1], edge[n], x)


def reached_at(outline: Outline, inset: Nm, y: float) -> tuple[Nm, ...]:
    """Where along the piece the parallel of a long edge that narrows reaches `y` from the centre line."""
    edge = inner_edge(outline, inset)
    found = []
    for (x1, y1), (x2, y2) in pairwise(edge):
        if min(y1, y2) < y <= max(y1, y2):
            x = x1 + (y - y1) * (x2 - x1) / (y2 - y1)
            found.append(ceil(x) if y2 > y1 else floor(x))
    return tuple(found)


def _between(one: Place, other: Place, x: float) -> float:
    return one[1] + (x - one[0]) / (other[0] - one[0]) * (other[1] - one[1])


def _moved_chords(chords: Iterable[tuple[Place, Place]], inset: Nm) -> Iterator[_Wall]:
    """The walls of chords from left to right, the piece below them, each moved inwards."""
    for (x1, y1), (x2, y2) in chords:
        size = hypot(x2 - x1, y2 - y1)
        across, up = (y2 - y1) / size, (x1 - x2) / size
        yield across, up, -(across * x1 + up * y1) - inset


def _crossings(chain: Iterable[_Wall]) -> list[Place]:
    """Where each wall crosses the next; one that would be passed from its far end to its near one is left out."""
    kept: list[_Wall] = []
    corners: list[Place] = []
    for wall in chain:
        while corners and _along(kept[-1], corners[-1]) >= _along_to(kept[-1], wall):
            kept.pop()
            corners.pop()
        if kept and abs(_cross(kept[-1], wall)) > _PARALLEL:
            corners.append(_meet(kept[-1], wall))
            kept.append(wall)
        elif not kept:
            kept.append(wall)
    return corners


def _along(wall: _Wall, place: Place) -> float:
    """How far along a wall a place lies, in the direction in which the chain is followed."""
    return wall[0] * place[1] - wall[1] * place[0]


def _along_to(wall: _Wall, other: _Wall) -> float:
    """How far along a wall another crosses it; without end where none does."""
    return inf if abs(_cross(wall, other)) <= _PARALLEL else _along(wall, _meet(wall, other))


def _moved_walls(outline: Outline, inset: Nm) -> Iterator[_Wall]:
    """The walls of one half in their order along it, each moved inwards."""
    half = outline.width // 2
    for across, up, away in end_walls(outline.head, half):
        yield across, up, away - inset
    for across, up, away in reversed(end_walls(outline.foot, half)):
        yield -across, up, across * outline.length + away - inset


def _outside(wall: _Wall, place: Place) -> bool:
    return wall[0] * place[0] + wall[1] * place[1] + wall[2] < 0


def _cross(one: _Wall, other: _Wall) -> float:
    return one[0] * other[1] - one[1] * other[0]


def _meet(one: _Wall, other: _Wall) -> Place:
    """Where two lines that are not parallel cross."""
    share = _cross(one, other)
    x = (one[1] * other[2] - other[1] * one[2]) / share
    return x, (other[0] * one[2] - one[0] * other[2]) / share
