"""Shapes that the finished look is made of, as segments in millimetres."""

from collections.abc import Iterable
from math import cos, radians, sin

from service.drawing.model import ArcTo, Close, CurveTo, LineTo, MoveTo, Segment

Segments = tuple[Segment, ...]


def box(left: float, top: float, right: float, bottom: float, radius: float = 0.0) -> Segments:
    """A rectangle, its corners rounded off by `radius`."""
    if radius <= 0:
        return (MoveTo(left, top), LineTo(right, top), LineTo(right, bottom), LineTo(left, bottom), Close())
    return (
        MoveTo(left + radius, top),
        LineTo(right - radius, top),
        ArcTo(radius, right, top + radius),
        LineTo(right, bottom - radius),
        ArcTo(radius, right - radius, bottom),
        LineTo(left + radius, bottom),
        ArcTo(radius, left, bottom - radius),
        LineTo(left, top + radius),
        ArcTo(radius, left + radius, top),
        Close(),
    )


def disc(radius: float, x: float = 0.0, y: float = 0.0) -> Segments:
    """A full circle."""
    return MoveTo(x - radius, y), ArcTo(radius, x + radius, y), ArcTo(radius, x - radius, y), Close()


def backwards(segments: Segments) -> Segments:
    """A closed shape of lines and arcs the other way round: inside another shape it is then a hole in it."""
    corners = [segment for segment in segments if isinstance(segment, MoveTo | LineTo | ArcTo)]
    found: list[Segment] = [MoveTo(corners[-1].x, corners[-1].y)]
    for before, segment in zip(corners[-2::-1], corners[:0:-1], strict=True):
        if isinstance(segment, ArcTo):
            found.append(ArcTo(segment.radius, before.x, before.y, not segment.clockwise))
        else:
            found.append(LineTo(before.x, before.y))
    return (*found, Close())


def moved(segments: Iterable[Segment], x: float, y: float) -> Segments:
    """The segments moved by (`x`, `y`)."""
    return tuple(_moved(segment, x, y) for segment in segments)


def _moved(segment: Segment, x: float, y: float) -> Segment:
    if isinstance(segment, MoveTo):
        return MoveTo(segment.x + x, segment.y + y)
    if isinstance(segment, LineTo):
        return LineTo(segment.x + x, segment.y + y)
    if isinstance(segment, ArcTo):
        return ArcTo(segment.radius, segment.x + x, segment.y + y, segment.clockwise)
    if isinstance(segment, CurveTo):
        return CurveTo(segment.x1 + x, segment.y1 + y, segment.x2 + x, segment.y2 + y, segment.x + x, segment.y + y)
    return segment


def facing(segments: Iterable[Segment], side: int) -> Segments:
    """The segments, which face left, as they are for `side` -1, or facing right."""
    return tuple(segments) if side < 0 else tuple(_mirrored(segment) for segment in segments)


def _mirrored(segment: Segment) -> Segment:
    if isinstance(segment, MoveTo):
        return MoveTo(-segment.x, segment.y)
    if isinstance(segment, LineTo):
        return LineTo(-segment.x, segment.y)
    if isinstance(segment, ArcTo):
        return ArcTo(segment.radius, -segment.x, segment.y, not segment.clockwise)
    if isinstance(segment, CurveTo):
        return CurveTo(-segment.x1, segment.y1, -segment.x2, segment.y2, -segment.x, segment.y)
    return segment


def polar(radius: float, degrees: float) -> tuple[float, float]:
    """The point at `radius` from the origin, `degrees` clockwise from the right."""
    return radius * cos(radians(degrees)), radius * sin(radians(degrees))
