"""An edging beyond the edges of a strap: two strips of another leather, seen from the front behind its plies."""

from service.drawing.finished.leather import ply_shadow, thickness_of
from service.drawing.finished.ply import Ply
from service.drawing.finished.shapes import moved
from service.drawing.finished.tint import BLACK, mix, sheen
from service.drawing.model import Group, Item, LinearGradient, Path, Pen, Stop
from service.drawing.parts.edging import edging_strips
from service.strap.plane.lengths import MM

_GROUND = (Stop(0, BLACK, 0.2), Stop(1, BLACK, 0.3))


def edging(ply: Ply) -> tuple[Item, ...]:
    """Both strips with their shadows on the ground, and the strap's shadow on them."""
    at = ply.piece.edging
    if at is None:
        return ()
    colour, edge, lit = at.leather.colour, at.leather.edge_colour, sheen(at.leather.colour)
    left, half, out = ply.placement.offset / MM, ply.half, ply.half + at.reach / MM
    items: list[Item] = []
    for side, strip in zip((-1, 1), edging_strips(ply.piece.outline, at), strict=True):
        shine = (Stop(0, lit, 0.0), Stop(0.9, lit, 0.28), Stop(1, lit, 0.0))
        gleam = LinearGradient(0, side * half, 0, side * out, shine)
        items += [
            Path(moved(strip, 0.5, 1.3), fill=LinearGradient(0, -out, 0, out, _GROUND)),
            Path(strip, Pen(0.5, mix(edge, BLACK, 0.15)), fill=colour),
            Path(strip, fill=gleam),
        ]
    shade = Group(ply_shadow(ply, 0.6 * thickness_of(ply), 0.6), ply.left)
    return Group(tuple(items), left, name="edging"), shade
