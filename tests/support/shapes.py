"""Outlines as shapely has them, through another reader of SVG paths than ours."""

from shapely.geometry import Polygon
from svgelements import Move
from svgelements import Path as SvgPath

from service.strap.plane.outline import Outline, path_data


def polygon(outline: Outline, steps: int = 200, scale: int = 1) -> Polygon:
    """The outline with so many chords to a segment; in millimetres, or whatever `scale` makes of one."""
    segments = [each for each in SvgPath(path_data(outline)) if not isinstance(each, Move)]
    points = [segment.point(n / steps) for segment in segments for n in range(steps)]
    return Polygon([(point.x * scale, point.y * scale) for point in points])
