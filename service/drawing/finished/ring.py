"""A ring of any shape at a strap's end, lying flat, its rail's axis where the strap is folded round it."""

from collections.abc import Iterator
from typing import assert_never

from service.drawing.finished.shade import line_shadow
from service.drawing.finished.shapes import Segments, box, disc, facing
from service.drawing.finished.tint import metal
from service.drawing.finished.tube import tube
from service.drawing.model import ArcTo, Close, Item, LineTo, MoveTo
from service.shop.goods import Ring
from service.strap.plane.lengths import MM

_GROUND, _ON_STRAP = 2.4, 1.2


def ring_shadow(ring: Ring, side: int) -> tuple[Item, ...]:
    """The ring's shadow on the ground."""
    thick = ring.thickness / MM
    return tuple(item for way in _ways(ring, side) for item in line_shadow(way, thick, _GROUND, 0.42))


def ring_items(ring: Ring, side: int) -> tuple[Item, ...]:
    """The ring, out to the left of x = 0 for `side` -1, to the right for 1."""
    return tuple(item for way in _ways(ring, side) for item in tube(way, ring.thickness / MM, metal(ring.colour)))


def ring_on_strap(ring: Ring, side: int) -> tuple[Item, ...]:
    """The half of a threaded ring that lies on the strap, after its shadow; the near half goes beneath the strap.

    Of a dee that is its bow: its straight side lies in the loop.
    """
    if ring.shape in ("rectangle", "hook"):
        return (*ring_shadow(ring, side), *ring_items(ring, side))
    radius = (ring.inside_width + ring.thickness) / MM / 2
    middle = 0.0 if ring.shape == "dee" else side * radius
    way = (MoveTo(middle, -side * radius), ArcTo(radius, middle, side * radius))
    x, y = middle + side * 0.8 * radius, side * 0.6 * radius
    shaded = (MoveTo(x, -y), ArcTo(radius, x, y))
    shade = line_shadow(shaded, ring.thickness / MM, _ON_STRAP, 0.5)
    return (*shade, *tube(way, ring.thickness / MM, metal(ring.colour), "butt"))


def _ways(ring: Ring, side: int) -> tuple[Segments, ...]:
    """The middle lines of its rails: of a hook its eye, then its pin and the hook with its gate."""
    half = (ring.inside_width + ring.thickness) / MM / 2
    bow = (MoveTo(0.0, -half), ArcTo(half, 0.0, half, side > 0), Close())
    match ring.shape:
        case "round":
            return (disc(half, side * half, 0.0),)
        case "dee":
            return (bow,)
        case "rectangle":
            long = (ring.inside_length + ring.thickness) / MM
            return (facing(box(-long, -half, 0.0, half, ring.thickness / MM), side),)
        case "hook":
            return (bow, *(facing(way, side) for way in _hook(half, ring.length / MM, ring.thickness / MM)))
        case _:
            assert_never(ring.shape)


def _hook(eye: float, length: float, thick: float) -> Iterator[Segments]:
    """To the left, from the bow of the eye, `eye` away, to `length`: the pin that turns in it, the hook, its gate.

    The hook is bent round from the pin, as wide as twice its rail, open at one side; the gate closes that.
    """
    last = -(length - thick / 2)
    neck = -eye - (length - eye) / 4
    wide = min(1.6 * thick, (neck - last) / 2)
    yield MoveTo(-eye, 0.0), LineTo(neck, 0.0)
    yield (
        MoveTo(neck, 0.0),
        LineTo(neck, wide),
        LineTo(last + wide, wide),
        ArcTo(wide, last, 0.0),
        ArcTo(wide, last + wide, -wide),
    )
    yield MoveTo(last + wide, -wide), LineTo(neck, -wide), LineTo(neck, 0.0)
