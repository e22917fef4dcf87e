"""Outlines of pieces: closed curves of lines, circular arcs and cubic Bézier curves, exact in nanometres.

Ends follow the trade: square, round (half circle, depth = half the width), English point (two convex
curves meeting in a soft point), straight point, clipped corners.
"""

from collections.abc import Iterable
from dataclasses import dataclass
from functools import lru_cache

from service.shop.goods import EndShape, Nm
from service.strap.plane.lengths import millimetres

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


@dataclass(frozen=True, slots=True)
class Outline:
    """A closed outline, clockwise as drawn, from `start` through its segments and back.

    Between its shaped ends the edges are straight. `head` is the end at the origin.
    """

    start: Point
    segments: tuple[OutlineSegment, ...]
    length: Nm
    width: Nm
    head: EndForm
    foot: EndForm

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


def strap_outline(length: Nm, width: Nm, head: EndForm, foot: EndForm) -> Outline:
    """The outline of a strip `length` × `width` with a shaped end each side, its origin at the head's tip."""
    half = width // 2
    upper_right = (length - foot[1], -half)
    lower_left = (head[1], half)
    segments: list[OutlineSegment] = [Line(upper_right)]
    segments += [_moved(segment, length, 1) for segment in end_curve(*foot, half)]
    segments.append(Line(lower_left))
    segments += _head_curve(head, half)
    return Outline((head[1], -half), tuple(segments), length, width, head, foot)


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


def _number(length: Nm) -> str:
    return f"{millimetres(length):.3f}".rstrip("0").rstrip(".") if length else "0"
