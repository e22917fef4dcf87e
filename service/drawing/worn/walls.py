"""The walls of the loop: the outside of the leather in front, the inside of it behind, and its upper edge."""

from collections.abc import Iterator
from dataclasses import dataclass
from functools import lru_cache
from math import cos, pi, sin

from service.drawing.finished import flat
from service.drawing.finished.grain import grain_marks
from service.drawing.finished.holes import hole
from service.drawing.finished.leather import CREASE, has_stitched_edges
from service.drawing.finished.placed import Placed
from service.drawing.finished.shapes import Segments, moved
from service.drawing.finished.stitches import stitched
from service.drawing.finished.tint import BLACK, mix, sheen
from service.drawing.model import (
    Close,
    Colour,
    Group,
    Item,
    LinearGradient,
    LineTo,
    MoveTo,
    Path,
    Pen,
    Sheer,
    Stop,
)
from service.drawing.worn.loop import Loop
from service.drawing.worn.sheet import Face, Sheet

_SHOULDER = ((0.0, 0.0), (0.45, 0.4), (0.9, 0.75), (1.4, 1.0))
_SHADOW = ((-1.8, 0.1), (-0.9, 0.13), (-0.3, 0.16), (0.4, 0.16), (1.2, 0.14))
"""Of a ply on what it lies on: how far each layer stays inside its edge, and its opacity."""
_FALL = (0.8, 1.3)
_LIGHT = -0.62
"""From where light comes, seen from above: radians to the left of the viewer."""
_TONES = 20
_LAP = 0.25
"""Millimetres by which the rims of two parts lap, so that no gap is seen between them."""


@dataclass(frozen=True, slots=True)
class Part:
    """What of a ply lies between two places along the strap, all of it to one side of the loop's flanks."""

    sheet: Sheet
    low: float
    high: float

    def contour(self, inset: float, face: Face) -> Segments:
        """Its outline inside its edges as it is seen on a face of the leather."""
        ply = self.sheet.ply
        found = (self._cut(run, inset) for run in flat.runs(moved(ply.contour(inset), ply.left, 0.0)))
        return self.sheet.seen([run for run in found if run], face)

    def _cut(self, run: flat.Run, inset: float) -> flat.Run:
        """An edge is no edge where the loop turns away."""
        return flat.between(run, self.low - max(-inset, 0.0), self.high + max(-inset, 0.0))

    def line(self, segments: Segments, face: Face) -> Segments:
        """An open line along the ply, begun at its left end, as far as it lies on the part."""
        runs = flat.runs(moved(segments, self.sheet.ply.left, 0.0))
        parts = [part for run in runs for part in flat.parts_between(run, self.low, self.high)]
        return self.sheet.seen(parts, face, closed=False)

    def rim(self, lining: float) -> Segments:
        """The upper edge of its leather and of the lining behind it, from face to face, seen from above."""

        def back(x: float) -> float:
            return self.sheet.inner(x) - lining

        ply = self.sheet.ply
        edge = flat.upper(flat.runs(moved(ply.contour(0.0), ply.left, 0.0))[0])
        found: list[Segments] = []
        for run in flat.parts_between(edge, self.low - _LAP, self.high + _LAP):
            outer, inner = (self.sheet.seen([way], face, closed=False) for way, face in
                            ((run, self.sheet.outer), (run[::-1], back)))  # fmt: skip
            found.append((*outer, *_joined(inner)))
        return tuple(segment for each in found for segment in each)


def _joined(segments: Segments) -> Segments:
    """A line that goes on from where another one ended, and back to where that began."""
    first, *rest = segments
    start = (LineTo(first.x, first.y),) if isinstance(first, MoveTo) else ()
    return (*start, *rest, Close())


def part_of(sheet: Sheet, span: tuple[float, float]) -> Part | None:
    """What of a ply lies within a span along the strap."""
    low, high = max(span[0], sheet.ply.left - 2), min(span[1], sheet.ply.right + 2)
    return Part(sheet, low, high) if min(high, sheet.ply.right) - max(low, sheet.ply.left) > 1e-6 else None


def outside(part: Part, holes: tuple[Placed, ...], lining: float) -> Iterator[Item]:
    """The grain side of a part that faces the viewer, with its edges, its grain and its open holes.

    `lining` is the thickness of what lies behind it.
    """
    ply, sheet = part.sheet.ply, part.sheet
    colour, edge = ply.piece.leather.colour, ply.piece.leather.edge_colour
    yield Path(part.rim(lining), fill=light(sheet.loop, mix(edge, colour, 0.5)))
    for inset, share in _SHOULDER:
        if inset < 0.8 * ply.half:
            yield Path(part.contour(inset, sheet.outer), fill=light(sheet.loop, mix(edge, colour, share)))
    yield from _grain(part, colour)
    yield from _round(part, sheen(colour))
    yield from _worked(part, edge, colour)
    for placed in holes:
        if placed.ply is ply and part.low < placed.x < part.high:
            yield laid(sheet, placed.x, placed.y, hole(placed.feature, edge), placed.feature.id)


def laid(sheet: Sheet, x: float, y: float, items: tuple[Item, ...], name: str | None = None, out: float = 0.0) -> Group:
    """Flat items as they are seen lying on the outer face of a ply, `out` above it."""
    return Group(items, *sheet.loop.seen(x, y, sheet.outer(x) + out), matrix=sheet.loop.turn(x).matrix, id=name)


def shadow(part: Part) -> Iterator[Item]:
    """What a part throws on what it lies on, or on the ground."""
    for inset, opacity in _SHADOW:
        yield Path(moved(part.contour(inset, part.sheet.outer), *_FALL), fill=Sheer(BLACK, opacity))


def inside(part: Part, lining: float, leather: tuple[Colour, Colour]) -> Iterator[Item]:
    """The flesh side, or the lining, of a part that lies behind, and its upper edge."""
    sheet = part.sheet
    colour, edge = leather

    def face(x: float) -> float:
        return sheet.inner(x) - lining

    yield Path(part.rim(lining), fill=light(sheet.loop, mix(edge, colour, 0.55)))
    yield Path(part.contour(0.0, face), fill=inner_light(sheet.loop, mix(edge, BLACK, 0.3)))
    yield Path(part.contour(0.45, face), fill=inner_light(sheet.loop, colour))


@lru_cache(maxsize=64)
def light(loop: Loop, colour: Colour) -> LinearGradient:
    """Leather of a colour on the outside, round the loop, in light from the upper left."""
    return _gradient(loop, colour, _LIGHT, (0.3, 0.62))


@lru_cache(maxsize=64)
def inner_light(loop: Loop, colour: Colour) -> LinearGradient:
    """The same on the inside behind, which looks the other way and lies in the shade of the front."""
    return _gradient(loop, colour, -_LIGHT, (0.06, 0.62))


def _gradient(loop: Loop, colour: Colour, towards: float, most: tuple[float, float]) -> LinearGradient:
    """Across the whole loop, one colour laid on the other before they are rounded: no steps are seen."""
    wide, lit, stops = loop.half_width + 8, sheen(colour), []
    for n in range(_TONES + 1):
        angle = -pi / 2 + pi * n / _TONES
        falls = max(cos(angle - towards), 0.0)
        tone = mix(mix(colour, lit, most[0] * falls**5), BLACK, most[1] * (1 - falls) ** 1.6)
        stops.append(Stop(round((wide + loop.half_width * sin(angle)) / 2 / wide, 3), tone))
    return LinearGradient(-wide, 0, wide, 0, tuple(stops))


def _round(part: Part, lit: Colour) -> Iterator[Item]:
    """A slight roundness across: light along the upper edge, shade along the lower one."""
    half = part.sheet.ply.half
    for inset, opacity in ((0.1, 0.05), (0.22, 0.05), (0.36, 0.05)):
        yield Path(part.contour(inset * half, part.sheet.outer), fill=Sheer(lit, opacity))


def _grain(part: Part, colour: Colour) -> Iterator[Item]:
    sheet = part.sheet
    for marks, pen in grain_marks(sheet.ply, (part.low, part.high), colour):
        yield Path(sheet.marks(marks), pen)


def _worked(part: Part, edge: Colour, colour: Colour) -> Iterator[Item]:
    """Stitches along the edges, or a crease."""
    ply = part.sheet.ply
    face = part.sheet.outer
    for way, pen in stitched(ply):
        line = part.line(way, face)
        if line:
            yield Path(line, pen)
    if not has_stitched_edges(ply):
        line = part.line(ply.edge_line(min(CREASE, 0.3 * ply.half)), face)
        if line:
            yield Path(moved(line, 0.08, 0.3), Pen(0.3, sheen(colour), opacity=0.35))
            yield Path(line, Pen(0.42, mix(edge, BLACK, 0.25), opacity=0.6))
