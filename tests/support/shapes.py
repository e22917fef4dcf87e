"""Outlines as shapely has them, through another reader of SVG paths than ours."""

import numpy as np
import shapely
from shapely.geometry import Polygon
from svgelements import Close, Line, Move, PathSegment
from svgelements import Path as SvgPath

from service.strap.plane.outline import Outline, path_data


def polygon(outline: Outline, steps: int = 200, scale: int = 1) -> Polygon:
    """The outline with so many chords to a segment; in millimetres, or whatever `scale` makes of one."""
    segments = [each for each in SvgPath(path_data(outline)) if not isinstance(each, Move)]
    return Polygon(np.concatenate([along(segment, steps) for segment in segments]) * scale)


def ring(data: str, per_curve: int) -> Polygon:
    """A closed contour by its path data, with so many chords to each curve."""
    parts = [part for part in SvgPath(data) if not isinstance(part, Move)]
    return Polygon(np.concatenate([along(part, 1 if isinstance(part, Line | Close) else per_curve) for part in parts]))


def along(segment: PathSegment, steps: int) -> np.ndarray:
    """The places at the beginnings of so many steps along a segment, as (steps, 2)."""
    return np.asarray(segment.npoint(np.arange(steps) / steps))


def are_near(one: Polygon, other: Polygon, distance: float) -> bool:
    """Whether the discrete Hausdorff distance of two rings is no more: no corner of either lies farther from the other.

    That is what shapely's own measures, by every pair of a corner and a side; here only those near by are looked at.
    """
    rings = [shapely.boundary(each) for each in (one, other)]
    shapely.prepare(rings)
    corners = [shapely.points(shapely.get_coordinates(ring)) for ring in rings]
    return all(shapely.dwithin(ring, each, distance).all() for ring, each in zip(rings, reversed(corners), strict=True))
