"""A ring or a dee at a strap's end, lying flat, its rail's axis where the strap is folded round it."""

from service.drawing.finished.shade import line_shadow
from service.drawing.finished.shapes import Segments, disc
from service.drawing.finished.tint import metal
from service.drawing.finished.tube import tube
from service.drawing.model import ArcTo, Close, Item, MoveTo
from service.shop.goods import Ring
from service.strap.plane.lengths import MM

_GROUND, _ON_STRAP = 2.4, 1.2


def ring_shadow(ring: Ring, side: int) -> tuple[Item, ...]:
    """The ring's shadow on the ground."""
    return line_shadow(_way(ring, side), ring.thickness / MM, _GROUND, 0.42)


def ring_items(ring: Ring, side: int) -> tuple[Item, ...]:
    """The ring, out to the left of x = 0 for `side` -1, to the right for 1."""
    return tube(_way(ring, side), ring.thickness / MM, metal(ring.colour))


def ring_on_strap(ring: Ring, side: int) -> tuple[Item, ...]:
    """The half of a threaded ring that lies on the strap, after its shadow; the near half goes beneath the strap."""
    radius = (ring.inside_width + ring.thickness) / MM / 2
    way = (MoveTo(side * radius, -side * radius), ArcTo(radius, side * radius, side * radius))
    x, y = side * 1.8 * radius, side * 0.6 * radius
    shaded = (MoveTo(x, -y), ArcTo(radius, x, y))
    shade = line_shadow(shaded, ring.thickness / MM, _ON_STRAP, 0.5)
    return (*shade, *tube(way, ring.thickness / MM, metal(ring.colour), "butt"))


def _way(ring: Ring, side: int) -> Segments:
    radius = (ring.inside_width + ring.thickness) / MM / 2
    if ring.shape == "round":
        return disc(radius, side * radius, 0.0)
    return (MoveTo(0.0, -radius), ArcTo(radius, 0.0, radius, side > 0), Close())
