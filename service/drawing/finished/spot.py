"""Small domes: spots with their rim, and the flatter caps of rivets."""

from service.drawing.finished.shade import glow, round_shadow
from service.drawing.finished.tint import Tones, mix
from service.drawing.model import Circle, Item, LinearGradient, RadialGradient, Stop


def spot(diameter: float, tones: Tones) -> tuple[Item, ...]:
    """A domed spot of `diameter` about the origin, with its shadow."""
    return (round_shadow(diameter / 2, 0.15 * diameter, 0.62), *spot_face(diameter, tones))


def spot_face(diameter: float, tones: Tones) -> tuple[Item, ...]:
    """The spot alone."""
    radius = diameter / 2
    return (
        _rim(radius, tones),
        dome(0.86 * radius, tones),
        glow(-0.3 * radius, -0.36 * radius, 0.36 * radius, 0.95, tones.glint),
    )


def cap(diameter: float, tones: Tones) -> tuple[Item, ...]:
    """A rivet's cap of `diameter` about the origin: nearly flat, with a rounded edge."""
    return (round_shadow(diameter / 2, 0.1 * diameter, 0.6), *cap_face(diameter, tones))


def cap_face(diameter: float, tones: Tones) -> tuple[Item, ...]:
    """The cap alone."""
    radius = diameter / 2
    slant = 0.7 * radius
    face = LinearGradient(
        -slant, -slant, slant, slant,
        (Stop(0, tones.glint), Stop(0.4, tones.light), Stop(0.7, tones.base), Stop(1, tones.shade)),
    )  # fmt: skip
    return (
        _rim(radius, tones),
        Circle(0, 0, 0.8 * radius, fill=face),
        glow(-0.22 * radius, -0.28 * radius, 0.5 * radius, 0.5, tones.glint),
    )


def dome(radius: float, tones: Tones) -> Circle:
    """A dome lit from the upper left."""
    stops = (
        Stop(0, tones.glint),
        Stop(0.22, tones.light),
        Stop(0.55, tones.base),
        Stop(0.82, tones.shade),
        Stop(1, tones.dark),
    )
    return Circle(0, 0, radius, fill=RadialGradient(0, 0, radius, -0.36 * radius, -0.42 * radius, stops))


def _rim(radius: float, tones: Tones) -> Circle:
    slant = 0.72 * radius
    stops = (
        Stop(0, tones.light),
        Stop(0.45, tones.shade),
        Stop(0.8, tones.dark),
        Stop(1, mix(tones.deep, tones.dark, 0.4)),
    )
    return Circle(0, 0, radius, fill=LinearGradient(-slant, -slant, slant, slant, stops))
