"""Soft shadows and highlights made of gradients and sheer shapes: no filters, which not every renderer draws."""

from collections.abc import Callable
from math import pi, sin

from service.drawing.finished.shapes import Segments, moved
from service.drawing.finished.tint import BLACK, WHITE
from service.drawing.model import Cap, Circle, Colour, Item, Path, Pen, RadialGradient, Sheer, Stop

_STEPS = 11
FALL = (0.35, 0.75)
"""Where the light comes from: a thing one unit high throws its shadow so far to the right and down."""


def round_shadow(radius: float, height: float, opacity: float = 0.6) -> Circle:
    """The shadow of a round thing of `radius` that stands `height` high over what is beneath."""
    x, y = FALL[0] * height, FALL[1] * height
    reach = radius + 1.1 * height
    core = max(0.0, (radius - 1.1 * height) / reach)
    fall = ((0.0, 1.0), (0.0, 1.0), (0.25, 0.86), (0.5, 0.5), (0.75, 0.15), (0.9, 0.03), (1.0, 0.0))
    stops = tuple(
        Stop(core + (1 - core) * share if index else 0.0, BLACK, opacity * left)
        for index, (share, left) in enumerate(fall)
    )
    return Circle(x, y, reach, fill=RadialGradient(x, y, reach, x, y, stops))


def _edges(height: float, opacity: float) -> tuple[tuple[float, float], ...]:
    """Sheer layers: how far each reaches beyond the thing's edge, and its opacity, greatest at the edge itself."""
    found = []
    for step in range(_STEPS):
        share = (step + 0.5) / _STEPS
        weight = 2 * sin(pi * share) ** 2 / _STEPS
        found.append((height * (1 - 2 * share), round(1 - (1 - opacity) ** weight, 4)))
    return tuple(found)


def cast_shadow(grown: Callable[[float], Segments], height: float, opacity: float) -> tuple[Item, ...]:
    """The shadow of a flat shape that lies `height` above; `grown(d)` is the shape grown by d millimetres."""
    x, y = FALL[0] * height, FALL[1] * height
    return tuple(Path(moved(grown(reach), x, y), fill=Sheer(BLACK, each)) for reach, each in _edges(height, opacity))


def line_shadow(
    segments: Segments, width: float, height: float, opacity: float, cap: Cap = "round"
) -> tuple[Item, ...]:
    """The shadow of a bar `width` thick along the segments, `height` above what is beneath."""
    way = moved(segments, FALL[0] * height, FALL[1] * height)
    return tuple(
        Path(way, Pen(max(width + 2 * reach, 0.2), BLACK, cap=cap, opacity=each))
        for reach, each in _edges(height, opacity)
    )


def glow(x: float, y: float, radius: float, opacity: float, colour: Colour = WHITE) -> Circle:
    """A spot of light that fades to nothing at `radius`."""
    stops = (Stop(0, colour, opacity), Stop(0.45, colour, opacity * 0.45), Stop(1, colour, 0.0))
    return Circle(x, y, radius, fill=RadialGradient(x, y, radius, x, y, stops))
