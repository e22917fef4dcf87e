"""Leather that must stay between cuts, to the outline, and room between the things that sit on the strap."""

from bisect import bisect_left
from collections.abc import Iterator
from math import hypot, inf
from typing import NamedTuple

from service.shop.goods import Nm
from service.strap.model.job import Job, said
from service.strap.model.measured import Measured, at_least
from service.strap.model.pattern import Feature, Piece, Purpose
from service.strap.plane.geometry import Capsule, disc, edge_distance, gap, least_edge_distance, slot
from service.strap.rules.stitch_checks import stitch_measures

_DECORATION: tuple[Purpose, ...] = ("ornament", "between", "border")


class _Shape(NamedTuple):
    """A feature with what it cuts or covers, from `left` to `right` along the piece and from `top` to `bottom`."""

    left: float
    right: float
    top: float
    bottom: float
    purpose: Purpose
    capsule: Capsule
    feature: Feature


def _shape(feature: Feature, capsule: Capsule) -> _Shape:
    radius = capsule.radius
    top, bottom = (capsule.y1, capsule.y2) if capsule.y1 < capsule.y2 else (capsule.y2, capsule.y1)
    return _Shape(
        capsule.x1 - radius, capsule.x2 + radius, top - radius, bottom + radius, feature.purpose, capsule, feature
    )


def web_measures(piece: Piece, job: Job) -> list[Measured]:
    """The tightest edge web, cut web, ornament and hardware clearances of one piece, by kinds of feature."""
    rules = job.rules
    cuts = [_shape(feature, cut_shape(feature)) for feature in piece.features if feature.action == "punch"]
    covers = [
        _shape(feature, disc(feature.x, feature.y, feature.footprint))
        for feature in piece.features
        if feature.footprint
    ]
    ornaments = [shape for shape in covers if shape.purpose in _DECORATION]
    caps = [shape for shape in covers if shape.purpose not in _DECORATION]
    hardware = caps + [shape for shape in cuts if not shape.feature.footprint]
    goods = job.shop.ornaments
    kept_inside = [shape for shape in ornaments if not goods[said(shape.feature.item)].overhang]
    cut_webs, _ = _pairs("cut_web", cuts, rules.cut_web)
    between_caps, _ = _pairs("cap_clear", caps, rules.cap_clear)
    clear, apart = _pairs("ornament_clear", ornaments, rules.ornament_clear)
    return [
        *_edges("edge_web", piece, cuts, rules.edge_web),
        *_edges("ornament_edge", piece, kept_inside, rules.ornament_edge),
        *cut_webs,
        *between_caps,
        *clear,
        *_against("hardware_clear", hardware, apart, rules.hardware_clear),
        *_billet_clear(piece, ornaments, job),
        *(_stitches(piece, job, cuts, [*kept_inside, *caps]) if job.stitching else ()),
    ]


def _stitches(piece: Piece, job: Job, cuts: list[_Shape], covers: list[_Shape]) -> list[Measured]:
    return stitch_measures(piece, job, *([(shape.capsule, shape.feature) for shape in of] for of in (cuts, covers)))


def cut_shape(feature: Feature) -> Capsule:
    """What a hole or slot cuts away."""
    if feature.kind == "slot":
        return slot(feature.x, feature.y, said(feature.length), said(feature.width), feature.angle)
    return disc(feature.x, feature.y, said(feature.diameter))


def _edges(rule: str, piece: Piece, shapes: list[_Shape], limit: Nm) -> Iterator[Measured]:
    nearest: dict[str, tuple[float, Feature]] = {}
    for *_, purpose, capsule, feature in shapes:
        if purpose in nearest and least_edge_distance(piece.outline, capsule) >= nearest[purpose][0]:
            continue
        found = edge_distance(piece.outline, capsule)
        if purpose not in nearest or found < nearest[purpose][0]:
            nearest[purpose] = (found, feature)
    for found, feature in nearest.values():
        yield at_least(rule, found, limit, feature)


def _pairs(rule: str, shapes: list[_Shape], limit: Nm) -> tuple[list[Measured], list[_Shape]]:
    """The tightest pair of each two kinds of feature that come nearest or break the limit, and what was looked at.

    Shapes are swept in order of their left ends; a shape is compared onwards until the next cannot be nearer than
    the nearest pair found so far. One that lies deep in another of its kind is a fault already, and left out from
    there on: so few have room beside each other that the work grows with the features however they lie.
    """
    ordered = sorted(shapes, key=_by_left_end)
    following = list(range(1, len(ordered) + 1))
    best, swept, index, end = _Tightest(limit), [], 0, len(ordered)
    while index < end:
        a, last, later = ordered[index], index, following[index]
        while later < end and (b := ordered[later]).left - a.right <= best.window:
            level = b.top - a.bottom <= best.window and a.top - b.bottom <= best.window
            if level and best.see(a, b) and b.feature.item == a.feature.item and b.purpose == a.purpose:
                following[last] = following[later]
            else:
                last = later
            later = following[later]
        swept.append(a)
        index = following[index]
    return list(best.measures(rule)), swept


def _by_left_end(shape: _Shape) -> tuple[float, float]:
    return shape.left, shape.capsule.y1


def _against(rule: str, few: list[_Shape], many: list[_Shape], limit: Nm) -> Iterator[Measured]:
    """As `_pairs`, for pairs of one of the `few` and one of the `many`: from each of the few outwards."""
    ordered = sorted(many, key=_by_left_end)
    lefts = [shape.left for shape in ordered]
    widest = max((shape.right - shape.left for shape in many), default=0)
    best = _Tightest(limit)
    for one in few:
        middle = bisect_left(lefts, one.left)
        best.start_again()
        for later in range(middle, len(ordered)):
            if ordered[later].left - one.right > best.window:
                break
            best.see(one, ordered[later])
        for earlier in range(middle - 1, -1, -1):
            if one.left - ordered[earlier].left - widest > best.window:
                break
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

    def see(self, a: _Shape, b: _Shape) -> bool:
        """Measure one pair; whether the middle of one lies in the other."""
        found = gap(a.capsule, b.capsule)
        if found < self.window:
            self.window = max(found, self._limit)
        kinds = (a.purpose, b.purpose)
        known = self._best.get(kinds)
        if known is None or found < known[0]:
            self._best[kinds] = (found, a.feature, b.feature)
        return found < -min(a.capsule.radius, b.capsule.radius)

    def measures(self, rule: str) -> Iterator[Measured]:
        """What was found, as checks of `rule`."""
        for found, one, other in self._best.values():
            yield at_least(rule, found, self._limit, one, other)


def _billet_clear(piece: Piece, ornaments: list[_Shape], job: Job) -> Iterator[Measured]:
    """Ornaments keep clear of the billets that lie over the body's ends."""
    if piece.name != "body":
        return
    half, overlap = job.strap_width / 2, job.overlap
    nearest: dict[str, tuple[float, Feature]] = {}
    for *_, purpose, capsule, feature in ornaments:
        found = _billet_gap(capsule, half, overlap, piece.length)
        if purpose not in nearest or found < nearest[purpose][0]:
            nearest[purpose] = (found, feature)
    for found, feature in nearest.values():
        yield at_least("hardware_clear", found, job.rules.hardware_clear, feature)


def _billet_gap(ornament: Capsule, half: float, overlap: Nm, length: Nm) -> float:
    """Clear distance to the nearer billet, taken as a rectangle of its width and the overlap's length."""
    from_end = min(ornament.x1, length - ornament.x1) - overlap
    aside = abs(ornament.y1) - half
    apart = hypot(from_end, aside) if from_end > 0 and aside > 0 else max(from_end, aside)
    return apart - ornament.radius
