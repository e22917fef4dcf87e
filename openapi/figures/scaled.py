"""A drawing's items larger or smaller, their lines as wide as before."""

from dataclasses import replace

from service.drawing.model import (
    ArcTo,
    Circle,
    Close,
    CurveTo,
    Group,
    Item,
    LineTo,
    MoveTo,
    Path,
    Segment,
)


def scaled(item: Item, by: float, x: float, y: float) -> Item:
    """The item `by` times as large, its origin moved to (`x`, `y`); of paths, circles and groups of those."""
    if isinstance(item, Circle):
        return replace(item, x=x + by * item.x, y=y + by * item.y, radius=by * item.radius, id=None)
    if isinstance(item, Path):
        return replace(item, segments=tuple(_segment(each, by, x, y) for each in item.segments), id=None)
    if isinstance(item, Group):
        inner = tuple(scaled(each, by, x + by * item.x, y + by * item.y) for each in item.items)
        return Group(inner)
    raise TypeError(type(item).__name__)


def _segment(segment: Segment, by: float, x: float, y: float) -> Segment:
    if isinstance(segment, MoveTo):
        return MoveTo(x + by * segment.x, y + by * segment.y)
    if isinstance(segment, LineTo):
        return LineTo(x + by * segment.x, y + by * segment.y)
    if isinstance(segment, ArcTo):
        return replace(segment, radius=by * segment.radius, x=x + by * segment.x, y=y + by * segment.y)
    if isinstance(segment, CurveTo):
        return CurveTo(
            x + by * segment.x1,
            y + by * segment.y1,
            x + by * segment.x2,
            y + by * segment.y2,
            x + by * segment.x,
            y + by * segment.y,
        )
    return Close()
