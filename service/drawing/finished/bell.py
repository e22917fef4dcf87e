"""A round bell seen from the front: a bright ball in its rim band, with the slits that let the sound out."""

from math import sqrt

from service.drawing.finished.shade import glow, round_shadow
from service.drawing.finished.shapes import Segments, polar
from service.drawing.finished.tint import BLACK, Tones, mix
from service.drawing.model import (
    ArcTo,
    Circle,
    Close,
    Item,
    LinearGradient,
    LineTo,
    MoveTo,
    Path,
    RadialGradient,
    Sheer,
    Stop,
)

_CROSSED_FROM = 20.0
"""Diameter in millimetres from which a bell has two slits that cross; a smaller one has a single slit."""


def bell(diameter: float, tones: Tones) -> tuple[Item, ...]:
    """A bell of `diameter` about the origin, with the shadow that it throws on the leather."""
    radius = diameter / 2
    ball = 0.93 * radius
    angles = (0.0, 90.0) if diameter >= _CROSSED_FROM else (0.0,)
    return (
        round_shadow(radius, 0.3 * radius, 0.7),
        *_band(radius, ball, tones),
        *_ball(ball, tones),
        *_slits(ball, angles, tones),
        glow(-0.36 * ball, -0.42 * ball, 0.34 * ball, 0.85, tones.glint),
        glow(-0.38 * ball, -0.46 * ball, 0.13 * ball, 0.95),
    )


def _band(radius: float, ball: float, tones: Tones) -> tuple[Item, ...]:
    """The rim where the two halves meet, and the groove beside it."""
    slant = 0.72 * radius
    stops = (
        Stop(0, tones.glint),
        Stop(0.3, tones.light),
        Stop(0.55, tones.shade),
        Stop(0.82, tones.dark),
        Stop(1, tones.base),
    )
    rim = LinearGradient(-slant, -slant, slant, slant, stops)
    return (
        Circle(0, 0, radius, fill=tones.deep),
        Circle(0, 0, 0.985 * radius, fill=rim),
        Circle(0, 0, ball + 0.012 * radius, fill=tones.deep),
    )


def _ball(radius: float, tones: Tones) -> tuple[Item, ...]:
    """Light from the upper left, the dark of the room across the lower half, the leather's light from below."""
    body = RadialGradient(
        0,
        0,
        radius,
        -0.34 * radius,
        -0.40 * radius,
        (
            Stop(0, tones.glint),
            Stop(0.12, mix(tones.light, tones.glint, 0.35)),
            Stop(0.34, mix(tones.base, tones.light, 0.35)),
            Stop(0.58, tones.base),
            Stop(0.76, tones.shade),
            Stop(0.9, tones.dark),
            Stop(1, tones.deep),
        ),
    )
    back_light = RadialGradient(
        -0.2 * radius,
        -0.26 * radius,
        1.33 * radius,
        -0.2 * radius,
        -0.26 * radius,
        (
            Stop(0, tones.light, 0.0),
            Stop(0.8, tones.light, 0.0),
            Stop(0.91, tones.light, 0.62),
            Stop(1, tones.base, 0.25),
        ),
    )
    return Circle(0, 0, radius, fill=body), _room(radius, tones), Circle(0, 0, radius, fill=back_light)


def _room(radius: float, tones: Tones) -> Path:
    """What polished metal mirrors from the front: a darker field under a curved horizon."""
    reach = 0.985 * radius
    left, right = (-reach * 0.985, reach * 0.17), (reach * 0.985, reach * 0.17)
    field = LinearGradient(
        0,
        0.05 * radius,
        0,
        radius,
        (Stop(0, tones.dark, 0.5), Stop(0.4, tones.dark, 0.22), Stop(0.8, tones.dark, 0.0)),
    )
    return Path(
        (
            MoveTo(*left),
            ArcTo(1.55 * radius, *right, clockwise=False),
            ArcTo(reach, 0, reach),
            ArcTo(reach, *left),
            Close(),
        ),
        fill=field,
    )


def _slits(ball: float, angles: tuple[float, ...], tones: Tones) -> tuple[Item, ...]:
    """Each slit with its lit lower lip first, then all the openings, then what gleams inside."""
    lip = 0.024 * ball
    lips = tuple(Path(_slit(ball, angle, 1.12, lip), fill=mix(tones.light, tones.base, 0.3)) for angle in angles)
    rims = tuple(Path(_slit(ball, angle, 1.2, 0.0), fill=Sheer(tones.deep, 0.55)) for angle in angles)
    dark = mix(tones.deep, BLACK, 0.72)
    openings = tuple(Path(_slit(ball, angle, 1.0, 0.0), fill=dark) for angle in angles)
    return (*rims, *lips, *openings)


def _slit(ball: float, angle: float, grown: float, drop: float) -> Segments:
    """A slit through the middle, `angle` degrees from the strap's way, with a round hole at each end."""
    reach, half, hole = 0.60 * ball, 0.042 * ball * grown, 0.098 * ball * grown
    neck = reach - sqrt(hole * hole - half * half)
    (ax, ay), (bx, by) = polar(1.0, angle), polar(1.0, angle + 90)

    def at(along: float, across: float) -> tuple[float, float]:
        return along * ax + across * bx + drop, along * ay + across * by + drop

    return (
        MoveTo(*at(-neck, -half)),
        LineTo(*at(neck, -half)),
        ArcTo(hole, *at(reach + hole, 0)),
        ArcTo(hole, *at(neck, half)),
        LineTo(*at(-neck, half)),
        ArcTo(hole, *at(-reach - hole, 0)),
        ArcTo(hole, *at(-neck, -half)),
        Close(),
    )
