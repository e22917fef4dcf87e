"""A round bell as it is turned to the viewer: a bright ball in its rim band, with the slits that let the sound out.

Light and what the metal mirrors stay where the room has them; band and slits turn with the bell.
"""

from collections.abc import Iterator
from functools import lru_cache
from math import asin, cos, sin, sqrt

from service.drawing.finished.shade import glow
from service.drawing.finished.shapes import Segments, moved
from service.drawing.finished.tint import BLACK, Tones, mix
from service.drawing.finished.turned import Turn
from service.drawing.model import (
    ArcTo,
    Circle,
    Close,
    CurveTo,
    Item,
    LinearGradient,
    MoveTo,
    Path,
    Pen,
    RadialGradient,
    Segment,
    Stamp,
    Stop,
)

BALL = 0.93
"""The ball's share of the band's diameter."""
_CROSSED_FROM = 20.0
"""Diameter in millimetres from which a bell has two slits that cross; a smaller one has a single slit."""
_QUARTER = 0.5523
"""How long a control of a quarter of a circle is."""
_REACH, _WIDE, _HOLE = 0.60, 0.084, 0.098
"""Of the ball's radius: how far a slit reaches from the middle, its width, and the radius of the hole at its end."""
_LIMB = 0.3
"""A slit ends, seen from the side, where the ball turns away."""


def ball(diameter: float, tones: Tones, turn: Turn) -> tuple[Item, ...]:
    """A bell of `diameter`, its middle at the origin."""
    radius = diameter / 2
    if turn.out[2] < 0:
        turn = Turn(turn.along, turn.down, (-turn.out[0], -turn.out[1], -turn.out[2]))
        crossed: tuple[float, ...] = ()
    else:
        crossed = (0.0, 1.0) if diameter >= _CROSSED_FROM else (0.0,)
    back, front = _shine(radius, tones)
    near = _near_half(BALL * radius, turn)
    return (
        Stamp(back, 0.0, 0.0),
        *_band(radius, turn, tones),
        Path(near, fill=_body(BALL * radius, tones)),
        Stamp(front, 0.0, 0.0),
        *_slits(BALL * radius, crossed, turn, tones),
    )


@lru_cache(maxsize=32)
def _shine(radius: float, tones: Tones) -> tuple[tuple[Item, ...], tuple[Item, ...]]:
    """What is the same on every bell of a size: the ball itself, and what is mirrored and gleams on it."""
    size = BALL * radius
    back = (Circle(0, 0, size, Pen(0.02 * radius, tones.deep), _body(size, tones)),)
    front = (
        _room(size, tones),
        Circle(0, 0, size, fill=_back_light(size, tones)),
        glow(-0.36 * size, -0.42 * size, 0.34 * size, 0.85, tones.glint),
        glow(-0.38 * size, -0.46 * size, 0.13 * size, 0.95),
    )
    return back, front


@lru_cache(maxsize=32)
def _body(radius: float, tones: Tones) -> RadialGradient:
    """Light from the upper left, the dark of the room towards the lower right."""
    stops = (
        Stop(0, tones.glint), Stop(0.12, mix(tones.light, tones.glint, 0.35)),
        Stop(0.34, mix(tones.base, tones.light, 0.35)), Stop(0.58, tones.base), Stop(0.76, tones.shade),
        Stop(0.9, tones.dark), Stop(1, tones.deep),
    )  # fmt: skip
    return RadialGradient(0, 0, radius, -0.34 * radius, -0.40 * radius, stops)


def _back_light(radius: float, tones: Tones) -> RadialGradient:
    """The light of leather and ground from below."""
    x, y = -0.2 * radius, -0.26 * radius
    stops = (
        Stop(0, tones.light, 0.0),
        Stop(0.8, tones.light, 0.0),
        Stop(0.91, tones.light, 0.62),
        Stop(1, tones.base, 0.25),
    )
    return RadialGradient(x, y, 1.33 * radius, x, y, stops)


def _room(radius: float, tones: Tones) -> Path:
    """What polished metal mirrors from the front: a darker field under a curved horizon."""
    reach = 0.985 * radius
    left, right = (-reach * 0.985, reach * 0.17), (reach * 0.985, reach * 0.17)
    stops = (Stop(0, tones.dark, 0.5), Stop(0.4, tones.dark, 0.22), Stop(0.8, tones.dark, 0.0))
    field = LinearGradient(0, 0.05 * radius, 0, radius, stops)
    lower = (ArcTo(1.55 * radius, *right, clockwise=False), ArcTo(reach, 0, reach), ArcTo(reach, *left))
    return Path((MoveTo(*left), *lower, Close()), fill=field)


def _band(radius: float, turn: Turn, tones: Tones) -> tuple[Item, ...]:
    """The rim where the two halves meet, seen as a flat ring, and the groove beside it."""
    slant = 0.72 * radius
    stops = (
        Stop(0, tones.glint), Stop(0.3, tones.light), Stop(0.55, tones.shade), Stop(0.82, tones.dark),
        Stop(1, tones.base),
    )  # fmt: skip
    rim = LinearGradient(-slant, -slant, slant, slant, stops)
    edge = _ellipse(radius, turn)
    return Path(edge, Pen(0.05 * radius, tones.deep), rim), Path(
        _ellipse((BALL + 0.012) * radius, turn), fill=tones.deep
    )


def _ellipse(radius: float, turn: Turn) -> Segments:
    """A circle square to what stands out."""
    half = _half_ellipse(radius, turn, 1.0)
    return (MoveTo(*_at(radius, turn, 1.0, 0.0)), *half, *_half_ellipse(radius, turn, -1.0), Close())


def _near_half(radius: float, turn: Turn) -> Segments:
    """The half of a ball that stands out, as it is seen: as far as its rim, and round it towards where it leans."""
    (ax, ay), (bx, by) = _at(radius, turn, 1.0, 0.0), _at(radius, turn, -1.0, 0.0)
    x, y = turn.leaning
    outer = (ArcTo(radius, radius * x, radius * y, clockwise=False), ArcTo(radius, bx, by, clockwise=False))
    return MoveTo(ax, ay), *outer, *_half_ellipse(radius, turn, -1.0), Close()


def _at(radius: float, turn: Turn, across: float, towards: float) -> tuple[float, float]:
    """A place of the rim: `across` the way in which it leans, and `towards` it, as shares of the radius."""
    x, y = turn.leaning
    depth = turn.out[2]
    return radius * (-y * across + x * towards * depth), radius * (x * across + y * towards * depth)


def _half_ellipse(radius: float, turn: Turn, sign: float) -> Segments:
    """Half of the rim, from one of its far ends to the other, by two quarters."""

    def at(across: float, towards: float) -> tuple[float, float]:
        return _at(radius, turn, sign * across, sign * towards)

    return (
        CurveTo(*at(1, _QUARTER), *at(_QUARTER, 1), *at(0, 1)),
        CurveTo(*at(-_QUARTER, 1), *at(-1, _QUARTER), *at(-1, 0)),
    )


def _slits(radius: float, crossed: tuple[float, ...], turn: Turn, tones: Tones) -> Iterator[Item]:
    """Each slit with its dark rim and its lit lower lip first, then the openings."""
    quarter = asin(1.0)
    ways: list[Segment] = []
    ends: list[tuple[float, float, float]] = []
    for number in crossed:
        spun = turn.spun(number * quarter)
        ways += _slit(radius, spun)
        ends += [end for sign in (1, -1) if (end := _end(radius, spun, sign))]
    if not ways:
        return
    way = tuple(ways)
    dark = mix(tones.deep, BLACK, 0.72)
    lip = mix(tones.light, tones.base, 0.3)
    wide = _WIDE * radius * max(turn.out[2], 0.45)
    drop = 0.024 * radius
    for pen, by, grown in (
        (Pen(1.5 * wide, tones.deep, cap="round", opacity=0.5), 0.0, 1.2),
        (Pen(1.12 * wide, lip, cap="round"), drop, 1.12),
        (Pen(wide, dark, cap="round"), 0.0, 1.0),
    ):
        yield Path(moved(way, by, by), pen)
        for x, y, share in ends:
            yield Circle(
                x + by,
                y + by,
                _HOLE * radius * grown * share,
                fill=pen.colour if pen.opacity == 1 else mix(tones.shade, tones.deep, 0.6),
            )


def _slit(radius: float, turn: Turn) -> Segments:
    """The middle line of a slit on the ball, as far as it is seen: a part of a great circle."""
    most = asin(_REACH)
    seen = [n for n in range(-8, 9) if turn.depth(sin(most * n / 8), 0, cos(most * n / 8)) > _LIMB]
    if len(seen) < 2:
        return ()
    low, high = most * seen[0] / 8, most * seen[-1] / 8
    middle, step = (low + high) / 2, (high - low) / 2
    return MoveTo(*_on(radius, turn, low)), _curve(radius, turn, low, step), _curve(radius, turn, middle, step)


def _on(radius: float, turn: Turn, angle: float) -> tuple[float, float]:
    return turn.at(radius * sin(angle), 0.0, radius * cos(angle))


def _curve(radius: float, turn: Turn, start: float, by: float) -> CurveTo:
    """A part of a great circle as one cubic curve."""
    control = 4 / 3 * _tan_quarter(by)
    one, other = _on(radius, turn, start), _on(radius, turn, start + by)
    (ax, ay), (bx, by_) = (turn.at(radius * cos(angle), 0.0, -radius * sin(angle)) for angle in (start, start + by))
    return CurveTo(
        one[0] + control * ax, one[1] + control * ay, other[0] - control * bx, other[1] - control * by_, *other
    )


def _tan_quarter(angle: float) -> float:
    return sin(angle / 4) / cos(angle / 4)


def _end(radius: float, turn: Turn, sign: int) -> tuple[float, float, float] | None:
    """Where the hole at an end of a slit is seen, and what of its size; `None` where it is not."""
    out = sqrt(1 - _REACH * _REACH)
    depth = turn.depth(sign * _REACH, 0.0, out)
    if depth <= _LIMB:
        return None
    return *turn.at(sign * _REACH * radius, 0.0, out * radius), sqrt(min(1.0, depth + 0.2))
