"""Holes and slots in the finished strap: their walls seen a little, darker towards the light."""

from service.drawing.finished.shapes import Segments, disc, facing, polar
from service.drawing.finished.tint import BLACK, WHITE, mix
from service.drawing.model import (
    ArcTo,
    Circle,
    Close,
    Colour,
    Item,
    LinearGradient,
    LineTo,
    MoveTo,
    Path,
    Pen,
    Stop,
)
from service.drawing.parts.symbols import stadium
from service.strap.model.pattern import Feature
from service.strap.plane.lengths import MM


def opening(feature: Feature) -> Segments:
    """The shape of a round hole or a slot, about the origin."""
    if feature.kind == "slot":
        return stadium(0.0, 0.0, (feature.length or 0) / MM, (feature.width or 0) / MM, feature.angle)
    return disc((feature.diameter or 0) / MM / 2)


def hole(feature: Feature, edge: Colour) -> tuple[Item, ...]:
    """What is seen in a hole or slot about the origin: its wall, and the shadow at its bottom."""
    if feature.kind == "slot":
        return _long_hole(feature, edge)
    radius = (feature.diameter or 0) / MM / 2
    slant = 0.72 * radius
    dark = mix(edge, BLACK, 0.6)
    return (
        Circle(0.0, 0.0, radius + 0.22, Pen(0.45, dark, opacity=0.4)),
        Circle(0.0, 0.0, radius, fill=LinearGradient(-slant, -slant, slant, slant, _wall(dark, edge))),
        Path(_lower_lip(radius + 0.3), Pen(0.26, mix(edge, WHITE, 0.55), cap="round", opacity=0.5)),
    )


def _wall(dark: Colour, edge: Colour) -> tuple[Stop, ...]:
    return Stop(0, dark, 0.96), Stop(0.5, dark, 0.86), Stop(0.78, dark, 0.62), Stop(1, edge, 0.55)


def _long_hole(feature: Feature, edge: Colour) -> tuple[Item, ...]:
    shape, half = opening(feature), (feature.width or 0) / MM / 2
    dark = mix(edge, BLACK, 0.6)
    across = (half, 0.0) if feature.angle else (0.0, half)
    light = LinearGradient(-across[0], -across[1], *across, _wall(dark, edge))
    return Path(shape, Pen(0.5, dark, opacity=0.4)), Path(shape, fill=light)


def _lower_lip(radius: float) -> Segments:
    return MoveTo(*polar(radius, -20)), ArcTo(radius, *polar(radius, 110))


def slot(reach: float, width: float, edge: Colour, side: int = -1) -> tuple[Item, ...]:
    """A slot from the fold at x = 0 to its round end at `reach`, or to the left of a fold whose `side` is the right."""
    half = width / 2
    dark = mix(edge, BLACK, 0.72)
    to_the_right = (
        MoveTo(0.0, -half),
        LineTo(reach - half, -half),
        ArcTo(half, reach - half, half),
        LineTo(0.0, half),
        Close(),
    )
    shape = facing(to_the_right, side)
    light = (Stop(0, BLACK), Stop(0.6, dark), Stop(1, mix(edge, dark, 0.4)))
    return (
        Path(shape, Pen(0.5, dark, opacity=0.5)),
        Path(shape, fill=LinearGradient(0, -half, 0, half, light)),
    )
