"""Half of an outline whose edges are not straight, as a chain of chords, and distances from it.

The chain runs from the middle of the head to the middle of the foot, x ascending, y counted from the centre line: an
outline is alike on both sides of it. Curves are taken as chords, which lie within 0.02 mm of them.
"""

from bisect import bisect_left, bisect_right
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from functools import lru_cache
from itertools import pairwise
from math import hypot, inf
from typing import NamedTuple

from service.shop.goods import CutEdgeShape, Nm
from service.strap.plane.cubic import point
from service.strap.plane.geometry import Capsule, end_corners, is_disc, to_segment
from service.strap.plane.narrowing import Narrowing, Narrowings, Place, long_edge
from service.strap.plane.narrowing import edge_at as half_at
from service.strap.plane.outline import EndForm, Outline
from service.strap.plane.teeth import length_along, roots, sides

_CURVE_STEPS = 24


class Profile(NamedTuple):
    """The corners of the chain, and among them those at which the leather comes in between: `hollows`."""

    xs: tuple[float, ...]
    ys: tuple[float, ...]
    hollows: tuple[Place, ...]


@lru_cache(maxsize=128)
def profile(outline: Outline) -> Profile:
    """The chain of an outline that narrows; where its edges are cut, along their roots."""
    edge = base_edge(outline)
    corners = tuple(_corners(outline, roots(edge, outline.cut) if outline.cut else edge))
    hollows = tuple(b for a, b, c in zip(corners, corners[1:], corners[2:], strict=False) if _turns_out(a, b, c))
    return Profile(tuple(x for x, _ in corners), tuple(y for _, y in corners), hollows)


def walls(outline: Outline) -> Iterator[tuple[Place, Place]]:
    """Each chord of the chain, from the head on."""
    found = profile(outline)
    yield from pairwise(zip(found.xs, found.ys, strict=True))


def _corners(outline: Outline, edge: Iterable[Place]) -> Iterator[Place]:
    """From the head's middle round its end, along an edge, and round the foot's end to its middle."""
    length = outline.length
    heads = _end(outline.head, outline.head_half)
    foots = [(length - x, y) for x, y in reversed(_end(outline.foot, outline.foot_half))]
    low, high = heads[-1][0], foots[0][0]
    between = [place for place in edge if low < place[0] < high]
    return _apart([*heads, *between, *foots])


def _end(form: EndForm, half: Nm) -> list[Place]:
    """An end from its middle to its shoulder."""
    return list(end_corners(form, half)[:-1])


def _apart(places: Iterable[Place]) -> Iterator[Place]:
    """The places without those that stand twice."""
    before: Place | None = None
    for place in places:
        if place != before:
            yield place
        before = place


def edge_at(outline: Outline, x: float) -> float:
    """How far from the centre line the long edge runs at `x`, before it is cut, past the shaped ends too."""
    return half_at(outline.length, outline.width, _narrowings(outline), x)


def base_edge(outline: Outline) -> list[Place]:
    """The long edge between what both ends keep parallel, before it is cut."""
    return long_edge(outline.length, outline.width, _narrowings(outline))


@dataclass(frozen=True, slots=True)
class EdgeAt:
    """A long edge that is cut, from its first crest to its last: so many repeats, as long as they came out."""

    shape: CutEdgeShape
    count: int
    repeat: Nm
    depth: Nm
    start: Nm
    end: Nm
    edges: int = 2
    """Both, or the upper one alone."""


def cut_edge(outline: Outline) -> EdgeAt | None:
    """How the long edges of an outline are cut, if they are."""
    cut, edge = outline.cut, base_edge(outline)
    if cut is None:
        return None
    start, end = round(edge[0][0]), round(edge[-1][0])
    repeat, edges = round(length_along(edge) / cut.count), 1 if cut.upper_only else 2
    return EdgeAt(cut.shape, cut.count, repeat, cut.depth, start, end, edges)


def _narrowings(outline: Outline) -> Narrowings:
    flat = Narrowing(outline.width, 0)
    return outline.narrowings or (flat, flat)


def _whole_edge(outline: Outline) -> list[Place]:
    """The long edge as it is cut, its curves as chords."""
    edge = base_edge(outline)
    if outline.cut is None:
        return edge
    found = [edge[0]]
    for side in sides(edge, outline.cut):
        found += [side] if len(side) == 2 else [point(side, n / _CURVE_STEPS) for n in range(1, _CURVE_STEPS + 1)]
    return found


def _turns_out(a: Place, b: Place, c: Place) -> bool:
    """Whether the chain turns away from the centre line, so that leather lies on both sides of the corner."""
    return (b[0] - a[0]) * (c[1] - b[1]) - (b[1] - a[1]) * (c[0] - b[0]) > 0


def _height(found: Profile, x: float) -> float:
    n = min(max(bisect_right(found.xs, x), 1), len(found.xs) - 1)
    left, right = found.xs[n - 1], found.xs[n]
    if right == left:
        return max(found.ys[n - 1], found.ys[n])
    return found.ys[n - 1] + (found.ys[n] - found.ys[n - 1]) * (x - left) / (right - left)


def depth_inside(outline: Outline, x: float, y: float) -> float:
    """Distance from a point to the outline, negative outside it; y counts from the centre line."""
    known = profile(outline)
    xs, ys, _ = known
    above = _height(known, x) - y if 0 <= x <= outline.length else -inf
    found = abs(above)
    for n in range(max(bisect_left(xs, x - found) - 1, 0), len(xs) - 1):
        if xs[n] > x + found:
            break
        found = min(found, to_segment(x, y, xs[n], ys[n], xs[n + 1], ys[n + 1]))
    return found if above >= 0 else -found


def clearance(outline: Outline, shape: Capsule) -> float:
    """Clear distance from a capsule to the outline; negative where it sticks out.

    Between the ends of a slot only a hollow corner may come nearer than at them.
    """
    depth = depth_inside(outline, shape.x1, abs(shape.y1))
    if not is_disc(shape):
        depth = min(depth, depth_inside(outline, shape.x2, abs(shape.y2)))
        if depth > 0:
            hollows = ((x, side) for x, y in profile(outline).hollows for side in (y, -y))
            depth = min((depth, *(to_segment(x, y, shape.x1, shape.y1, shape.x2, shape.y2) for x, y in hollows)))
    return depth - shape.radius


@lru_cache(maxsize=128)
def length_and_area(outline: Outline) -> tuple[float, float]:
    """The length of an outline that narrows or is cut, and the area in it, in nanometres and square nanometres."""
    upper = _half_length_and_area(outline, _whole_edge(outline))
    both = outline.cut is None or not outline.cut.upper_only
    lower = upper if both else _half_length_and_area(outline, base_edge(outline))
    return upper[0] + lower[0], upper[1] + lower[1]


def _half_length_and_area(outline: Outline, edge: Iterable[Place]) -> tuple[float, float]:
    chain = list(pairwise(_corners(outline, edge)))
    length = sum(hypot(b[0] - a[0], b[1] - a[1]) for a, b in chain)
    return length, sum((b[0] - a[0]) * (a[1] + b[1]) for a, b in chain) / 2
