"""Distances between many things on one piece: from each only to its neighbours.

The work grows with the number of features, however they lie.
"""

from bisect import bisect_left
from collections.abc import Callable, Iterable, Iterator
from math import inf

from service.shop.goods import Nm
from service.strap.model.pattern import Feature, Piece, Purpose
from service.strap.model.rule import Measured, Rule
from service.strap.plane.edges import edge_distance
from service.strap.plane.geometry import Capsule, gap
from service.strap.rules.surface import Shape, outermost


def edges(rule: Rule, piece: Piece, shapes: Iterable[Shape], limit: Nm) -> Iterator[Measured]:
    """The shape of each kind that comes nearest to the outline."""
    near = shapes if piece.outline.cut else outermost(shapes)
    return least(rule, near, lambda capsule: edge_distance(piece.outline, capsule), limit)


def nearest(rule: Rule, shapes: Iterable[Shape], distance: Callable[[Capsule], float], limit: Nm) -> Iterator[Measured]:
    """The shape of each kind for which the distance to what lies over an end is least."""
    return least(rule, outermost(shapes), distance, limit)


def least(rule: Rule, shapes: Iterable[Shape], distance: Callable[[Capsule], float], limit: Nm) -> Iterator[Measured]:
    """The shape of each kind for which a distance is least."""
    nearest_of: dict[Purpose, tuple[float, Feature]] = {}
    for shape in shapes:
        found, known = distance(shape.capsule), nearest_of.get(shape.purpose)
        if known is None or found < known[0]:
            nearest_of[shape.purpose] = (found, shape.feature)
    for found, feature in nearest_of.values():
        yield rule.measured(found, limit, feature)


def pairs(rule: Rule, shapes: list[Shape], limit: Nm) -> tuple[list[Measured], list[Shape]]:
    """The tightest pair of each two kinds of feature that come nearest or break the limit, and what was looked at.

    Shapes are swept in order of their left ends; a shape is compared onwards until the next cannot be nearer than
    the nearest pair found so far. One that lies deep in another of its kind is a fault already, and left out from
    there on: so few have room beside each other that the work grows with the features however they lie.
    """
    if len(shapes) < 2:
        return [], shapes
    ordered = sorted(shapes, key=_by_left_end)
    following = list(range(1, len(ordered) + 1))
    best, swept, index, end = _Tightest(limit), [], 0, len(ordered)
    while index < end:
        a, last, later = ordered[index], index, following[index]
        while later < end and (b := ordered[later]).left - a.right <= best.window:
            level = b.top - a.bottom <= best.window and a.top - b.bottom <= best.window
            if level and best.may_be(a, b) and best.see(a, b):
                following[last] = following[later]
            else:
                last = later
            later = following[later]
        swept.append(a)
        index = following[index]
    return list(best.measures(rule)), swept


def _by_left_end(shape: Shape) -> tuple[float, float]:
    return shape.left, shape.capsule.y1


def against(rule: Rule, few: list[Shape], ordered: list[Shape], limit: Nm) -> Iterator[Measured]:
    """As `pairs`, for pairs of one of the `few` and one that those have swept: from each of the few outwards."""
    if not few or not ordered:
        return
    lefts = [shape.left for shape in ordered]
    widest = max([shape.right - shape.left for shape in ordered])
    best = _Tightest(limit)
    for one in few:
        middle = bisect_left(lefts, one.left)
        best.start_again()
        for later in range(middle, len(ordered)):
            if ordered[later].left - one.right > best.window:
                break
            if best.may_be_tighter(one, ordered[later]):
                best.see(one, ordered[later])
        for earlier in range(middle - 1, -1, -1):
            if one.left - ordered[earlier].left - widest > best.window:
                break
            if best.may_be_tighter(one, ordered[earlier]):
                best.see(one, ordered[earlier])
    yield from best.measures(rule)


class _Tightest:
    """The tightest pair so far of each two kinds of feature, and how far it is worth looking on."""

    def __init__(self, limit: Nm) -> None:
        self._limit = limit
        self._best: dict[tuple[str, str], tuple[float, Feature, Feature]] = {}
        self.window: float = inf

    def start_again(self) -> None:
        """Look as far as ever again: what was found near one shape says nothing of the next."""
        self.window = inf

    def may_be(self, a: Shape, b: Shape) -> bool:
        """Whether a pair may be the tightest of its kinds, or overlap, by how far apart it is along the piece alone."""
        apart, known = b.left - a.right, self._best.get((a.purpose, b.purpose))
        return apart < 0 or known is None or apart < known[0]

    def may_be_tighter(self, a: Shape, b: Shape) -> bool:
        """Whether a pair that lies either way round may be the tightest of its kinds: no two are nearer than along."""
        known = self._best.get((a.purpose, b.purpose))
        return known is None or b.left - a.right < known[0] > a.left - b.right

    def see(self, a: Shape, b: Shape) -> bool:
        """Measure one pair; whether the middle of one lies in the other, and they are alike."""
        found = gap(a.capsule, b.capsule)
        if found < self.window:
            self.window = max(found, self._limit)
        kinds = (a.purpose, b.purpose)
        known = self._best.get(kinds)
        if known is None or found < known[0]:
            self._best[kinds] = (found, a.feature, b.feature)
        deep = found < -min(a.capsule.radius, b.capsule.radius)
        return deep and a.purpose == b.purpose and a.feature.item == b.feature.item

    def measures(self, rule: Rule) -> Iterator[Measured]:
        """What was found, measured by `rule`."""
        for found, one, other in self._best.values():
            yield rule.measured(found, self._limit, one, other)
