"""Where two things of a pattern come nearest to one another: outlines, cuts, rims, lines of stitches; in nanometres."""

from collections.abc import Iterator
from itertools import pairwise, product
from math import hypot

from service.strap.model.pattern import Feature
from service.strap.model.stitch_line import StitchLine
from service.strap.plane.geometry import points_along
from service.strap.plane.outline import Outline

Place = tuple[float, float]
Chain = tuple[Place, ...]
"""Straight from place to place; a single one is a point."""
Between = tuple[Place, Place]


def along_outline(outline: Outline) -> Chain:
    """An outline as chords."""
    found: list[Place] = [outline.start]
    at = outline.start
    for segment in outline.segments:
        found += points_along(at, segment)
        at = segment.end
    return tuple(found)


def middle_line(thing: Feature | StitchLine) -> Chain:
    """Of a hole or a rim its middle, of a slot the line between the middles of its round ends."""
    if isinstance(thing, StitchLine):
        return (*thing.points, thing.points[0]) if thing.closed else tuple(thing.points)
    reach = (thing.length - thing.width) / 2 if thing.length and thing.width else 0.0
    dx, dy = (0.0, reach) if thing.angle else (reach, 0.0)
    return ((thing.x - dx, thing.y - dy), (thing.x + dx, thing.y + dy)) if reach else ((thing.x, thing.y),)


def rim(thing: Feature | StitchLine) -> Chain:
    """The middle of what is set there."""
    return middle_line(thing) if isinstance(thing, StitchLine) else ((thing.x, thing.y),)


def nearest(one: Chain, other: Chain) -> Between:
    """The place on the one and that on the other which lie nearest together; neither crosses the other."""
    return min(_pairs(one, other), key=lambda pair: apart(*pair))


def _pairs(one: Chain, other: Chain) -> Iterator[Between]:
    for place, chord in product(one, _chords(other)):
        yield place, _foot(place, chord)
    for chord, place in product(_chords(one), other):
        yield _foot(place, chord), place


def _chords(chain: Chain) -> list[Between]:
    return list(pairwise(chain)) or [(chain[0], chain[0])]


def _foot(place: Place, chord: Between) -> Place:
    """The place on a chord that lies nearest."""
    (x1, y1), (x2, y2) = chord
    square = (x2 - x1) ** 2 + (y2 - y1) ** 2
    share = ((place[0] - x1) * (x2 - x1) + (place[1] - y1) * (y2 - y1)) / square if square else 0.0
    share = min(max(share, 0.0), 1.0)
    return x1 + share * (x2 - x1), y1 + share * (y2 - y1)


def apart(one: Place, other: Place) -> float:
    """How far apart two places are."""
    return hypot(one[0] - other[0], one[1] - other[1])


def shortened(between: Between, first: float, second: float) -> Between:
    """From the rim of the one thing to that of the other, where their middles are so far apart."""
    (x1, y1), (x2, y2) = between
    size = apart(*between) or 1.0
    ux, uy = (x2 - x1) / size, (y2 - y1) / size
    return (x1 + first * ux, y1 + first * uy), (x2 - second * ux, y2 - second * uy)
