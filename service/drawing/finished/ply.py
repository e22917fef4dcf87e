"""The plies of a made-up strap in millimetres: where each lies, and its contour at any distance from its edge."""

from dataclasses import dataclass, replace
from functools import lru_cache
from math import sqrt
from typing import NamedTuple

from service.drawing.finished.shapes import Segments, moved
from service.drawing.model import LineTo, MoveTo
from service.drawing.parts.symbols import outline_segments
from service.shop.goods import Nm
from service.strap.model.pattern import Feature, Pattern, Piece, Placement
from service.strap.plane.cubic import point
from service.strap.plane.geometry import least_from_end
from service.strap.plane.lengths import MM
from service.strap.plane.narrowing import Narrowing, Narrowings
from service.strap.plane.outline import Cubic, EndForm, end_curve, strap_outline

FOLD_CORNER = 0.7
"""A fold's corners are rubbed off by so many millimetres."""
_FOLD_SEGMENTS = 3
"""A contour goes round a fold in so many lines: a corner, across, a corner."""
_CUT: EndForm = ("square", 0)
_SAMPLES = 48


class Band(NamedTuple):
    """A part of a ply, from its own left end on, that is `half` wide to each side at least."""

    start: float
    end: float
    half: float


@dataclass(frozen=True, slots=True)
class Ply:
    """One flat ply, its left end at `left` on the made-up strap.

    `head` and `foot` are its left and right ends, `None` where the strap is folded there.
    """

    piece: Piece
    placement: Placement
    left: float
    right: float
    head: EndForm | None
    foot: EndForm | None

    @property
    def half(self) -> float:
        """Half its width, where it is widest."""
        return self.piece.width / MM / 2

    @property
    def halves(self) -> tuple[float, float]:
        """Half its width at its left end, and at its right one."""
        near, far = self.narrowings or (None, None)
        return (near.width / MM / 2 if near else self.half), (far.width / MM / 2 if far else self.half)

    @property
    def narrowings(self) -> Narrowings | None:
        """How it narrows to its left end, and to its right one, each counted from there; a tail does not."""
        found, placed = self.piece.outline.narrowings, self.placement
        if not found:
            return None
        if not self.faces_front:
            tail = found[placed.from_x > 0].width
            return Narrowing(tail, 0), Narrowing(tail, 0)
        left, right = (round(x * MM) for x in (self.left, self.right))
        near, far = placed.offset - left, right - placed.offset - self.piece.length
        return _cut_off(found[0], near, self.piece.width), _cut_off(found[1], far, self.piece.width)

    @property
    def length(self) -> float:
        """From its left to its right end."""
        return self.right - self.left

    @property
    def faces_front(self) -> bool:
        """Whether its grain side is seen; a ply that is turned back shows its flesh side."""
        return self.placement.direction == 1

    @property
    def shows_edging(self) -> bool:
        """Whether an edging stands out beyond its edges."""
        return self.faces_front and self.piece.stands_out > 0

    @property
    def bands(self) -> tuple[Band, ...]:
        """Its parts of one width: as it is all along, or to both sides of that as narrow as its ends."""
        first = self.head[1] / MM if self.head else 0.0
        last = self.length - (self.foot[1] / MM if self.foot else 0.0)
        if not self.narrowings:
            return (Band(first, last, self.half),)
        (near, far), (left, right) = self.halves, self.narrowings
        low, high = max(first, left.reach / MM), min(last, self.length - right.reach / MM)
        half = self.half - self.piece.outline.root_depth / MM
        return Band(first, low, near), Band(low, high, half), Band(high, last, far)

    def contour(self, inset: float) -> Segments:
        """Its outline `inset` millimetres inside its edge (outside where negative), from its own left end.

        A fold is no edge: inside, the contour runs out to the ply's own end there.
        """
        start, head = _end(self.head, inset, self.halves[0])
        room, foot = _end(self.foot, inset, self.halves[1])
        length, width = round((self.length - start - room) * MM), round(2 * (self.half - inset) * MM)
        cut = self.piece.outline.cut if self.faces_front else None
        outline = strap_outline(length, width, head, foot, self._narrowed(inset, (start, room)), cut)
        return moved(outline_segments(outline), start, 0.0)

    def _narrowed(self, inset: float, starts: tuple[float, float]) -> Narrowings | None:
        """How the contour narrows that lies `inset` inside, begun at `starts` from both ends."""
        if not self.narrowings:
            return None
        near, far = (
            replace(each, width=each.width - round(2 * inset * MM), parallel=each.parallel - round(start * MM))
            for each, start in zip(self.narrowings, starts, strict=True)
        )
        return near, far

    def edge_line(self, inset: float) -> Segments:
        """The contour `inset` millimetres inside, open where the ply is folded."""
        move, *rest, close = self.contour(inset)
        edge = (len(rest) - _parts(self.head) - _parts(self.foot)) // 2
        upper, foot = [move, *rest[:edge]], rest[edge : edge + _parts(self.foot)]
        lower, head = rest[edge + len(foot) : 2 * edge + len(foot)], rest[2 * edge + len(foot) :]
        if self.head and self.foot:
            return (*upper, *foot, *lower, *head, close)
        if self.foot:
            return (*upper, *foot, *lower)
        turn = foot[-1]
        back = [MoveTo(turn.x, turn.y), *lower] if isinstance(turn, LineTo) else lower
        return (*back, *head, *upper[1:]) if self.head else (*upper, *back)

    def over(self, other: "Ply") -> "Ply | None":
        """The part of this ply that has the other beneath it over its whole width."""
        half, (near, far) = min(self.half, other.half), other.halves
        left = max(self.left, other.left + _narrow(other.head, near, min(half, near)))
        right = min(self.right, other.right - _narrow(other.foot, far, min(half, far)))
        if left >= right:
            return None
        head = self.head if left == self.left else _CUT
        foot = self.foot if right == self.right else _CUT
        return Ply(self.piece, self.placement, left, right, head, foot)

    def place(self, feature: Feature) -> tuple[float, float]:
        """Where a feature of its piece lies on the made-up strap."""
        x = self.placement.offset + self.placement.direction * feature.x
        return x / MM, feature.y / MM

    def shows(self, feature: Feature) -> bool:
        """Whether a feature lies on this ply's front."""
        return self.faces_front and self.placement.from_x <= feature.x <= self.placement.to_x


def _cut_off(narrowing: Narrowing, by: Nm, full: Nm) -> Narrowing:
    """How a ply narrows that begins so much before its piece's end, or, where that is negative, behind it."""
    parallel = narrowing.parallel + by
    if parallel >= 0 or not narrowing.over:
        return replace(narrowing, parallel=max(parallel, 0))
    over = max(parallel + narrowing.over, 0)
    return Narrowing(full - (full - narrowing.width) * over // narrowing.over, 0, over)


def _end(form: EndForm | None, inset: float, full: float) -> tuple[float, EndForm]:
    """How far an end is moved in, and its form there: a shaped end keeps its proportion."""
    half = full - inset
    if inset < 0 and (form is None or form[0] == "square"):
        return inset, ("clipped", round(-0.6 * inset * MM))
    if form is None:
        return 0.0, ("clipped", round(min(FOLD_CORNER, half) * MM))
    shape, depth = form
    return inset, (shape, round(depth * half / full))


def _parts(form: EndForm | None) -> int:
    """In how many segments a contour goes round an end."""
    return _FOLD_SEGMENTS if form is None else len(end_curve(*form, form[1]))


def plies(pattern: Pattern, folds: tuple[float, float]) -> tuple[Ply, ...]:
    """Every ply but linings, which nobody sees, the rearmost first.

    `folds` are the outer edges of the folds at the left and right ends.
    """
    seen = (placement for placement in pattern.placements if placement.piece != "lining")
    order = sorted(seen, key=lambda placement: placement.layer)
    return tuple(_ply(pattern, placement, folds) for placement in order)


def _ply(pattern: Pattern, placement: Placement, folds: tuple[float, float]) -> Ply:
    piece = pattern.piece(placement.piece)
    if piece is None:
        raise ValueError(f"a placement names {placement.piece!r}, which this strap does not have")
    outline = piece.outline
    head = outline.head if placement.from_x == 0 else None
    foot = outline.foot if placement.to_x == piece.length else None
    ends = sorted((placement.offset + placement.direction * x) / MM for x in (placement.from_x, placement.to_x))
    if placement.direction == -1:
        head, foot = foot, head
    left = folds[0] if head is None else ends[0]
    right = folds[1] if foot is None else ends[1]
    return Ply(piece, placement, left, right, head, foot)


def _narrow(end: EndForm | None, full: float, half: float) -> float:
    """From the tip of an end of a ply `full` wide to each side to where it is `half` wide to each side."""
    if end is None or end[0] == "square":
        return 0.0
    shape, depth = end[0], end[1] / MM
    if shape == "round":
        return full - sqrt(full * full - half * half)
    if shape == "english_point":
        return depth * _point_share(half / full)
    return least_from_end(end, round(full * MM), round(half * MM), 0) / MM


@lru_cache(maxsize=256)
def _point_share(share: float) -> float:
    """Where an English point has a `share` of its full width: the share of its depth from the tip."""
    size = 1000 * MM
    cubic = end_curve("english_point", size, size)[0]
    if not isinstance(cubic, Cubic):
        raise TypeError("an English point is drawn with cubic curves")
    curve = ((-size, -size), cubic.control_1, cubic.control_2, cubic.end)
    for step in range(_SAMPLES, 0, -1):
        x, y = point(curve, step / _SAMPLES)
        if -y >= share * size:
            return -x / size
    return 1.0
