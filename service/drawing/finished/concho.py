"""A concho: a disc with a beaded rim, a sunk ring, an engraved star of petals and a plain dome."""

from math import cos, radians

from service.drawing.finished.shade import glow, round_shadow
from service.drawing.finished.shapes import Segments, polar
from service.drawing.finished.spot import dome
from service.drawing.finished.tint import Tones, mix
from service.drawing.model import (
    Circle,
    Close,
    Colour,
    CurveTo,
    Item,
    LinearGradient,
    MoveTo,
    Path,
    Stop,
)

_PETALS = 12
_BEADS = 36
_LIGHT_FROM = 235.0
"""Degrees clockwise from the right: the upper left."""


def concho(diameter: float, tones: Tones) -> tuple[Item, ...]:
    """A concho of `diameter` about the origin, with its shadow."""
    return (round_shadow(diameter / 2, 0.08 * diameter, 0.6), *concho_face(diameter, tones))


def concho_face(diameter: float, tones: Tones) -> tuple[Item, ...]:
    """The concho alone."""
    radius = diameter / 2
    return (
        *_plate(radius, tones),
        *_beads(radius, tones),
        *_petals(radius, tones),
        Circle(0.012 * radius, 0.02 * radius, 0.275 * radius, fill=tones.deep),
        dome(0.25 * radius, tones),
        glow(-0.09 * radius, -0.1 * radius, 0.13 * radius, 0.9),
    )


def _plate(radius: float, tones: Tones) -> tuple[Item, ...]:
    slant = 0.72 * radius
    rim = (Stop(0, tones.glint), Stop(0.35, tones.base), Stop(0.7, tones.dark), Stop(1, tones.shade))
    sunk = (Stop(0, tones.dark), Stop(0.45, tones.shade), Stop(0.75, tones.base), Stop(1, tones.light))
    floor = (Stop(0, tones.light), Stop(0.5, tones.base), Stop(1, tones.shade))
    return (
        Circle(0, 0, radius, fill=LinearGradient(-slant, -slant, slant, slant, rim)),
        Circle(0, 0, 0.955 * radius, fill=tones.dark),
        Circle(0, 0, 0.83 * radius, fill=LinearGradient(-slant, -slant, slant, slant, sunk)),
        Circle(0, 0, 0.775 * radius, fill=LinearGradient(-slant, -slant, slant, slant, floor)),
    )


def _beads(radius: float, tones: Tones) -> tuple[Item, ...]:
    """Each bead a dark drop with a lit one on it, towards the light."""
    size = 0.056 * radius
    places = [polar(0.893 * radius, (bead + 0.5) * 360 / _BEADS) for bead in range(_BEADS)]
    dark = tuple(Circle(x, y, size, fill=tones.shade) for x, y in places)
    lit = tuple(Circle(x - 0.24 * size, y - 0.3 * size, 0.6 * size, fill=tones.light) for x, y in places)
    return (*dark, *lit)


def _petals(radius: float, tones: Tones) -> tuple[Item, ...]:
    """Petals cut to a ridge: each has two facets, and each facet is as bright as it faces the light."""
    facets = []
    for petal in range(_PETALS):
        middle = petal * 360 / _PETALS
        for side in (-1, 1):
            facing = cos(radians(middle + side * 90 - _LIGHT_FROM))
            facets.append(Path(_facet(radius, middle, side), fill=_brightness(facing, tones)))
    return tuple(facets)


def _facet(radius: float, middle: float, side: int) -> Segments:
    inner, outer, widest = 0.28 * radius, 0.755 * radius, 0.58 * radius
    half = 360 / _PETALS / 2 * 0.93
    return (
        MoveTo(*polar(inner, middle)),
        CurveTo(
            *polar(0.42 * radius, middle + side * half * 0.9),
            *polar(widest, middle + side * half * 1.08),
            *polar(0.645 * radius, middle + side * half * 0.85),
        ),
        CurveTo(
            *polar(0.69 * radius, middle + side * half * 0.66),
            *polar(0.725 * radius, middle + side * half * 0.3),
            *polar(outer, middle),
        ),
        Close(),
    )


def _brightness(facing: float, tones: Tones) -> Colour:
    """The colour of a facet that looks into the light (1) or away from it (-1)."""
    if facing >= 0:
        return mix(tones.base, tones.glint, 0.85 * facing)
    return mix(tones.base, tones.dark, -0.95 * facing)
