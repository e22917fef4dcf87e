"""Outlines as a whole: how far things lie inside them, their areas and their lengths."""

from service.shop.goods import Nm
from service.strap.plane.geometry import Capsule, end_area, end_length, from_end, is_disc
from service.strap.plane.outline import Outline
from service.strap.plane.profile import clearance, length_and_area


def edge_distance(outline: Outline, shape: Capsule) -> float:
    """Clear distance from a capsule to the outline; negative where it sticks out.

    Exact along straight edges. Near a shaped end or an eased taper the curve is taken as chords, which tells the
    distance to 0.02 mm on any end of up to 150 mm.
    """
    if outline.narrowings:
        return clearance(outline, shape)
    depth = _depth_inside(outline, shape.x1, abs(shape.y1))
    if not is_disc(shape):
        depth = min(depth, _depth_inside(outline, shape.x2, abs(shape.y2)))
    return depth - shape.radius


def _depth_inside(outline: Outline, x: float, y: float) -> float:
    """Distance from a point to the outline, negative outside it; y counts from the centre line."""
    half = outline.width // 2
    depth = half - y
    if x < outline.head[1] + depth:
        depth = min(depth, from_end(outline.head, half, x, y))
    if outline.length - x < outline.foot[1] + depth:
        depth = min(depth, from_end(outline.foot, half, outline.length - x, y))
    return depth


def area(outline: Outline) -> float:
    """Area inside the outline in square nanometres; curves are taken as their chords."""
    if outline.narrowings:
        return length_and_area(outline)[1]
    half = outline.width // 2
    straight = outline.length - outline.head_depth - outline.foot_depth
    return straight * 2.0 * half + sum(end_area(form, half) for form in (outline.head, outline.foot))


def perimeter(outline: Outline) -> Nm:
    """The length of an outline: its edges and its two ends."""
    if outline.narrowings:
        return round(length_and_area(outline)[0])
    straight = outline.length - outline.head_depth - outline.foot_depth
    half = outline.width // 2
    return 2 * straight + end_length(outline.head, half) + end_length(outline.foot, half)
