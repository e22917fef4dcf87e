"""Stitches: short lengths of waxed thread from hole to hole, each in its own groove."""

from collections.abc import Iterator
from itertools import pairwise
from math import ceil, hypot

from service.drawing.finished.ply import Ply
from service.drawing.finished.shapes import Segments, moved
from service.drawing.finished.tint import BLACK, WHITE, mix
from service.drawing.model import Item, LineTo, MoveTo, Path, Pen, Segment
from service.strap.model.stitch_line import StitchRun
from service.strap.plane.lengths import MM

_THREAD = 0.8
_LINEN = "#ead9b4"
_HOLE = 0.16
"""Share of a pitch in which the thread has gone down through its hole; its ends are round."""


def stitches(ply: Ply) -> Iterator[Item]:
    """Every line of stitches that is seen on the ply, from the ply's own left end."""
    yield from (Path(way, pen) for way, pen in stitched(ply))


def stitched(ply: Ply) -> Iterator[tuple[Segments, Pen]]:
    """The ways of the same, each with the pens that draw it, one upon the other."""
    thread = mix(ply.piece.leather.colour, _LINEN, 0.85)
    for line in ply.piece.stitch_lines:
        for run in line.runs:
            way = tuple(_seen(ply, run))
            pitch = run.length / MM / run.stitches
            drawn = max(0.1, (1 - _HOLE) * pitch - _THREAD)
            dash = (drawn, pitch - drawn)
            yield moved(way, 0.12, 0.24), Pen(1.25 * _THREAD, BLACK, dash, "round", 0.38)
            yield way, Pen(_THREAD, mix(thread, BLACK, 0.28), dash, "round")
            yield moved(way, -0.05, -0.08), Pen(0.7 * _THREAD, thread, dash, "round")
            yield moved(way, -0.1, -0.16), Pen(0.25 * _THREAD, mix(thread, WHITE, 0.6), dash, "round")


def _seen(ply: Ply, run: StitchRun) -> Iterator[Segment]:
    """The run's chords as far as they lie on this ply, from the first hole there on."""
    placement, inside, passed, pitch = ply.placement, False, 0.0, run.length / run.stitches
    for one, other in pairwise(run.points):
        size = hypot(other[0] - one[0], other[1] - one[1])
        low, high = _within(one[0], other[0], (placement.from_x, placement.to_x))
        if low > 0:
            low = (ceil((passed + low * size) / pitch) * pitch - passed) / (size or 1.0)
        passed += size
        if low >= high:
            inside = False
            continue
        for share in (high,) if inside else (low, high):
            x, y = (a + share * (b - a) for a, b in zip(one, other, strict=True))
            place = ((placement.offset + placement.direction * x) / MM - ply.left, y / MM)
            yield LineTo(*place) if inside else MoveTo(*place)
            inside = True
        inside = high == 1


def _within(start: float, end: float, span: tuple[float, float]) -> tuple[float, float]:
    """From which share of a chord to which it lies within a span; from a greater one to a lesser where nowhere."""
    if start == end:
        return (0.0, 1.0) if span[0] <= start <= span[1] else (1.0, 0.0)
    shares = sorted((place - start) / (end - start) for place in span)
    return max(shares[0], 0.0), min(shares[1], 1.0)
