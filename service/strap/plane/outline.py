"""Outlines of pieces: closed curves of lines, circular arcs and cubic Bézier curves, exact in nanometres.

Ends follow the trade: square, round (half circle, depth = half the width), English point (two convex
curves meeting in a soft point), straight point, clipped corners.
"""

from collections.abc import Callable, Iterable
from dataclasses import field
from functools import lru_cache
from typing import NamedTuple

from service.shop.goods import EndShape, Nm
from service.strap.plane.lengths import millimetres
from service.strap.plane.narrowing import Narrowing, Narrowings, Place, long_edge
from service.strap.plane.teeth import CutEdge, sides
from service.values import dataclass

Point = tuple[Nm, Nm]


@dataclass(frozen=True, slots=True)
class Line:
    """A straight line to `end`."""

    end: Point


@dataclass(frozen=True, slots=True)
class Arc:
    """A quarter of a circle to `end`, turning clockwise as drawn (y downwards)."""

    radius: Nm
    end: Point


@dataclass(frozen=True, slots=True)
class Cubic:
    """A cubic Bézier curve to `end`."""

    control_1: Point
    control_2: Point
    end: Point


OutlineSegment = Line | Arc | Cubic
"""Exact in nanometres, and none but what an end is made of: rules measure leather on them.

A drawing's `Segment` is another: millimetres as floats, any arc, and paths that are lifted and closed. Nothing is
measured on those, so they need not be exact; `service.drawing.parts.symbols` makes them of these, once.
"""


EndForm = tuple[EndShape, Nm]
"""The shape of an end and its depth."""


class TaperAt(NamedTuple):
    """A taper along a piece: to the head (`n` 1) or the foot (2), `width` wide at `narrow`, of full width at `full`."""

    n: int
    width: Nm
    narrow: Nm
    full: Nm
    eased: bool


@dataclass(frozen=True, slots=True)
class Outline:
    """A closed outline, clockwise as drawn, from `start` through its segments and back.

    Between its shaped ends the edges are straight, unless it narrows to them. `head` is the end at the origin. The
    segments follow from the rest.
    """

    start: Point = field(compare=False)
    segments: tuple[OutlineSegment, ...] = field(compare=False)
    length: Nm
    width: Nm
    head: EndForm
    foot: EndForm
    narrowings: Narrowings | None = None
    """One whose edges are cut has them too, to say where that begins and ends."""
    cut: CutEdge | None = None

    @property
    def end_widths(self) -> tuple[Nm, Nm]:
        """The widths at the head and at the foot, behind their shapes."""
        if not self.narrowings:
            return self.width, self.width
        return self.narrowings[0].width, self.narrowings[1].width

    @property
    def head_half(self) -> Nm:
        """Half the width at the head, behind its shape."""
        return self.end_widths[0] // 2

    @property
    def foot_half(self) -> Nm:
        """Half the width at the foot, behind its shape."""
        return self.end_widths[1] // 2

    @property
    def root_depth(self) -> Nm:
        """How far inside its edges the roots lie, where they are cut."""
        return self.cut.depth if self.cut else 0

    @property
    def root_half(self) -> Nm:
        """Half the width between the roots of its edges, or between the edges themselves."""
        return self.width // 2 - self.root_depth

    @property
    def full_width(self) -> tuple[Nm, Nm]:
        """From where to where along it it has its full width."""
        if not self.narrowings:
            return self.head[1], self.length - self.foot[1]
        return self.narrowings[0].reach, self.length - self.narrowings[1].reach

    @property
    def tapers(self) -> tuple[TaperAt, ...]:
        """Its tapers, that of the head first."""
        if not self.narrowings:
            return ()
        near, far = self.narrowings
        places = ((1, near, near.parallel, near.reach), (2, far, self.length - far.parallel, self.length - far.reach))
        return tuple(TaperAt(n, each.width, narrow, full, each.eased) for n, each, narrow, full in places if each.over)

    @property
    def head_depth(self) -> Nm:
        """How far the end at the origin reaches along the piece."""
        return self.head[1]

    @property
    def foot_depth(self) -> Nm:
        """How far the far end reaches along the piece."""
        return self.foot[1]


def default_depth(shape: EndShape, width: Nm) -> Nm:
    """Depth of an end when nothing is said: half the width, a quarter for clipped corners, none when square."""
    if shape == "square":
        return 0
    return width // 4 if shape == "clipped" else width // 2


def strap_outline(
    length: Nm,
    width: Nm,
    head: EndForm,
    foot: EndForm,
    narrowings: Narrowings | None = None,
    cut: CutEdge | None = None,
) -> Outline:
    """The outline of a strip `length` × `width` with a shaped end each side, its origin at the head's tip."""
    near, far = narrowings or (Narrowing(width, head[1]), Narrowing(width, foot[1]))
    edge = _long_edge if cut is None else _cut_edge(cut)
    other = _long_edge if cut is None or cut.upper_only else edge
    upper = edge(length, width // 2, (head[1], near), (foot[1], far))
    lower = other(length, width // 2, (foot[1], far), (head[1], near))
    segments = [
        *upper,
        *(_moved(segment, length, 1) for segment in end_curve(*foot, far.width // 2)),
        *(_moved(segment, length, -1) for segment in lower),
        *_head_curve(head, near.width // 2),
    ]
    return Outline((head[1], -(near.width // 2)), tuple(segments), length, width, head, foot, narrowings, cut)


def lengthened(outline: Outline, by: Nm) -> Outline:
    """The outline of a strip that is longer by this much between its ends."""
    form = (outline.head, outline.foot, outline.narrowings, outline.cut)
    return strap_outline(outline.length + by, outline.width, *form)


@lru_cache(maxsize=128)
def uncut(outline: Outline) -> Outline:
    """The outline before its edges are cut."""
    return strap_outline(outline.length, outline.width, outline.head, outline.foot, outline.narrowings)


def part_of(outline: Outline, length: Nm, *, has_head: bool, has_foot: bool) -> Outline:
    """A part of a strip, so long, that is cut square across its full width where it has not the strip's own end."""
    square: EndForm = ("square", 0)
    head, foot = outline.head if has_head else square, outline.foot if has_foot else square
    narrowings = outline.narrowings
    if narrowings:
        flat = Narrowing(outline.width, 0)
        narrowings = (narrowings[0] if has_head else flat, narrowings[1] if has_foot else flat)
    return strap_outline(length, outline.width, head, foot, narrowings)


_Shoulder = tuple[Nm, Narrowing]
"""How deep an end is shaped, and how the strip narrows to it."""


def _long_edge(length: Nm, half: Nm, head: _Shoulder, foot: _Shoulder) -> list[OutlineSegment]:
    """The upper edge from the head's shoulder to the foot's."""
    segments = _widening(half, *head)
    segments += [Line((length - foot[1].reach, -half))] if foot[1].over else []
    narrow, at = -(foot[1].width // 2), length - foot[1].parallel
    if foot[1].over:
        segments.append(_side((length - foot[1].reach, -half), (at, narrow), eased=foot[1].eased))
    if not foot[1].over or foot[1].parallel > foot[0]:
        segments.append(Line((length - foot[0], narrow)))
    return segments


def _cut_edge(cut: CutEdge) -> Callable[[Nm, Nm, _Shoulder, _Shoulder], list[OutlineSegment]]:
    """The upper edge, cut between what both ends keep parallel."""

    def edge(length: Nm, half: Nm, head: _Shoulder, foot: _Shoulder) -> list[OutlineSegment]:
        narrowings = (head[1], foot[1])
        base = long_edge(length, 2 * half, narrowings)
        segments: list[OutlineSegment] = [Line(_upper(base[0]))] if base[0][0] > head[0] else []
        for side in sides(base, cut):
            if len(side) == 2:
                segments.append(Line(_upper(side)))
            else:
                _, one, other, end = side
                segments.append(Cubic(_upper(one), _upper(other), _upper(end)))
        return [*segments, Line((length - foot[0], -(foot[1].width // 2)))] if foot[1].parallel > foot[0] else segments

    return edge


def _upper(place: Place) -> Point:
    """A place of half a piece, on its upper edge."""
    return round(place[0]), -round(place[1])


def _widening(half: Nm, depth: Nm, narrowing: Narrowing) -> list[OutlineSegment]:
    """The upper edge from a head's shoulder to where full width begins."""
    if not narrowing.over:
        return []
    narrow = -(narrowing.width // 2)
    level: list[OutlineSegment] = [Line((narrowing.parallel, narrow))] if narrowing.parallel > depth else []
    return [*level, _side((narrowing.parallel, narrow), (narrowing.reach, -half), eased=narrowing.eased)]


def _side(start: Point, end: Point, *, eased: bool) -> OutlineSegment:
    """One edge of a taper. With its controls at the thirds, x runs evenly along the curve."""
    if not eased:
        return Line(end)
    third = (end[0] - start[0]) // 3
    return Cubic((start[0] + third, start[1]), (end[0] - third, end[1]), end)


@lru_cache(maxsize=512)
def _head_curve(form: EndForm, half: Nm) -> tuple[OutlineSegment, ...]:
    """The curve of an end at the origin, from the lower corner to the upper one."""
    return tuple(_moved(segment, 0, -1) for segment in end_curve(*form, half))


@lru_cache(maxsize=512)
def end_curve(shape: EndShape, depth: Nm, half: Nm) -> tuple[OutlineSegment, ...]:
    """The end's curve from the upper corner to the lower one, its tip at the origin, the strap to the left."""
    lower = (-depth, half)
    if shape == "square":
        return (Line((0, half)),)
    if shape == "round":
        return (Arc(half, (0, 0)), Arc(half, lower))
    if shape == "straight_point":
        return (Line((0, 0)), Line(lower))
    if shape == "clipped":
        corner = max(half - depth, 0)
        return (Line((0, -corner)), Line((0, corner)), Line(lower))
    shoulder, cheek = depth * 2 // 5, depth * 3 // 25
    brow = half * 7 // 20
    return (
        Cubic((-shoulder, -half), (-cheek, -brow), (0, 0)),
        Cubic((-cheek, brow), (-shoulder, half), lower),
    )


def _moved(segment: OutlineSegment, x: Nm, sign: int) -> OutlineSegment:
    """The segment turned half round for `sign` -1, then moved along by `x`."""
    end = (x + sign * segment.end[0], sign * segment.end[1])
    if isinstance(segment, Line):
        return Line(end)
    if isinstance(segment, Arc):
        return Arc(segment.radius, end)
    one, other = ((x + sign * control[0], sign * control[1]) for control in (segment.control_1, segment.control_2))
    return Cubic(one, other, end)


@lru_cache(maxsize=64)
def path_data(outline: Outline) -> str:
    """The outline as SVG path data in millimetres, to 0.001."""
    parts = [f"M{_pair(outline.start)}"]
    for segment in outline.segments:
        if isinstance(segment, Line):
            parts.append(f"L{_pair(segment.end)}")
        elif isinstance(segment, Arc):
            radius = _number(segment.radius)
            parts.append(f"A{radius} {radius} 0 0 1 {_pair(segment.end)}")
        else:
            parts.append(f"C{_pair(segment.control_1)} {_pair(segment.control_2)} {_pair(segment.end)}")
    return " ".join([*parts, "Z"])


def chain_data(points: Iterable[Point], *, closed: bool) -> str:
    """Straight chords from point to point as SVG path data in millimetres, to 0.001."""
    chain = " ".join(f"{'L' if n else 'M'}{_pair(point)}" for n, point in enumerate(points))
    return f"{chain} Z" if closed else chain


def _pair(point: Point) -> str:
    return f"{_number(point[0])} {_number(point[1])}"


@lru_cache(maxsize=16_384)
def _number(length: Nm) -> str:
    return f"{millimetres(length):.3f}".rstrip("0").rstrip(".") if length else "0"
