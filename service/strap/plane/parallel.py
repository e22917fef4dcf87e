"""The line that runs inside an outline at a constant distance from it, as chords.

A convex outline is what all its walls have in common, and the parallel what these walls have in common once each is
moved inwards. So the line keeps its distance exactly, in the sense of `geometry.edge_distance`.
"""

from collections.abc import Iterator

from service.shop.goods import Nm
from service.strap.plane.geometry import end_walls
from service.strap.plane.outline import Outline

Place = tuple[float, float]
_Wall = tuple[float, float, float]
"""(a, b, c): a · x + b · y + c is the distance to a straight line, positive inside."""
_AXIS: _Wall = (0.0, 1.0, 0.0)
_PARALLEL = 1e-12


def inner_half(outline: Outline, inset: Nm) -> tuple[Place, ...]:
    """Half of the parallel, from the centre line at the head round one edge to the centre line at the foot.

    y counts from the centre line. Empty where nothing of the piece is `inset` away from its outline.
    """
    if min(inner_room(outline, inset)) <= 0:
        return ()
    kept = [_AXIS]
    corners: list[Place] = []
    for wall in (*_moved_walls(outline, inset), _AXIS):
        while corners and _outside(wall, corners[-1]):
            kept.pop()
            corners.pop()
        if abs(_cross(kept[-1], wall)) > _PARALLEL:
            corners.append(_meet(kept[-1], wall))
            kept.append(wall)
    return tuple(corners)


def inner_room(outline: Outline, inset: Nm) -> tuple[float, float]:
    """How long the parallel is along the centre line, and how wide; less than nothing where it has no room."""
    half = outline.width // 2
    heads, foots = end_walls(outline.head, half), end_walls(outline.foot, half)
    first = max((inset - away) / across for across, _, away in heads if across > 0)
    last = outline.length - max((inset - away) / across for across, _, away in foots if across > 0)
    return last - first, 2.0 * (half - inset)


def _moved_walls(outline: Outline, inset: Nm) -> Iterator[_Wall]:
    """The walls of one half in their order along it, each moved inwards."""
    half = outline.width // 2
    for across, up, away in end_walls(outline.head, half):
        yield across, up, away - inset
    for across, up, away in reversed(end_walls(outline.foot, half)):
        yield -across, up, across * outline.length + away - inset


def _outside(wall: _Wall, place: Place) -> bool:
    return wall[0] * place[0] + wall[1] * place[1] + wall[2] < 0


def _cross(one: _Wall, other: _Wall) -> float:
    return one[0] * other[1] - one[1] * other[0]


def _meet(one: _Wall, other: _Wall) -> Place:
    """Where two lines that are not parallel cross."""
    share = _cross(one, other)
    x = (one[1] * other[2] - other[1] * one[2]) / share
    return x, (other[0] * one[2] - one[0] * other[2]) / share
