"""The plies of a made-up strap in millimetres: where each lies, and its contour at any distance from its edge."""

from dataclasses import dataclass
from functools import lru_cache
from math import sqrt

from service.drawing.finished.shapes import Segments, moved
from service.drawing.model import LineTo, MoveTo
from service.drawing.parts.symbols import outline_segments
from service.strap.model.pattern import Feature, Pattern, Piece, Placement
from service.strap.plane.cubic import point
from service.strap.plane.geometry import least_from_end
from service.strap.plane.lengths import MM
from service.strap.plane.outline import Cubic, EndForm, end_curve, strap_outline

FOLD_CORNER = 0.7
"""A fold's corners are rubbed off by so many millimetres."""
_FOLD_SEGMENTS = 3
"""A contour goes round a fold in so many lines: a corner, across, a corner."""
_CUT: EndForm = ("square", 0)
_SAMPLES = 48


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
        """Half its width."""
        return self.piece.width / MM / 2

    @property
    def length(self) -> float:
        """From its left to its right end."""
        return self.right - self.left

    @property
    def faces_front(self) -> bool:
        """Whether its grain side is seen; a ply that is turned back shows its flesh side."""
        return self.placement.direction == 1

    @property
    def straight(self) -> tuple[float, float]:
        """Where its full width begins and ends, from its own left end."""
        head = self.head[1] / MM if self.head else 0.0
        foot = self.foot[1] / MM if self.foot else 0.0
        return head, self.length - foot

    def contour(self, inset: float) -> Segments:
        """Its outline `inset` millimetres inside its edge (outside where negative), from its own left end.

        A fold is no edge: inside, the contour runs out to the ply's own end there.
        """
        half = self.half - inset
        start, head = _end(self.head, inset, half, self.half)
        room, foot = _end(self.foot, inset, half, self.half)
        length = self.length - start - room
        outline = strap_outline(round(length * MM), round(2 * half * MM), head, foot)
        return moved(outline_segments(outline), start, 0.0)

    def edge_line(self, inset: float) -> Segments:
        """The contour `inset` millimetres inside, open where the ply is folded."""
        segments = list(self.contour(inset))
        if self.head is None:
            del segments[-_FOLD_SEGMENTS - 1 :]
        if self.foot is None:
            end = segments[1 + _FOLD_SEGMENTS]
            if isinstance(end, LineTo):
                back = [MoveTo(end.x, end.y), *segments[2 + _FOLD_SEGMENTS :]]
                segments = [*segments[:2], *back] if self.head is None else [*back[:-1], segments[1]]
        return tuple(segments)

    def over(self, other: "Ply") -> "Ply | None":
        """The part of this ply that has the other beneath it over its whole width."""
        half = min(self.half, other.half)
        left = max(self.left, other.left + _narrow(other.head, other.half, half))
        right = min(self.right, other.right - _narrow(other.foot, other.half, half))
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


def _end(form: EndForm | None, inset: float, half: float, full: float) -> tuple[float, EndForm]:
    """How far an end is moved in, and its form there: a shaped end keeps its proportion."""
    if inset < 0 and (form is None or form[0] == "square"):
        return inset, ("clipped", round(-0.6 * inset * MM))
    if form is None:
        return 0.0, ("clipped", round(min(FOLD_CORNER, half) * MM))
    shape, depth = form
    return inset, (shape, round(depth * half / full))


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
