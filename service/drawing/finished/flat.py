"""Flat shapes as runs of places: curves taken as chords, and what lies between two places along the strap."""

from collections.abc import Iterable, Iterator
from itertools import pairwise
from math import atan2, cos, hypot, sin, sqrt, tau

from service.drawing.model import ArcTo, Close, CurveTo, LineTo, MoveTo, Segment

Place = tuple[float, float]
Run = list[Place]
"""Places in order; a closed one ends where it began."""
_CHORD = 0.9
"""Curves are taken as chords about so long, in millimetres, and at least as two."""
_MOST = 10


def runs(segments: Iterable[Segment]) -> list[Run]:
    """Each part of a path."""
    found: list[Run] = []
    for segment in segments:
        if isinstance(segment, MoveTo):
            found.append([(segment.x, segment.y)])
        elif isinstance(segment, Close):
            found[-1].append(found[-1][0])
        else:
            found[-1].extend(_chords(found[-1][-1], segment))
    return [[run[0], *(b for a, b in pairwise(run) if a != b)] for run in found]


def _chords(start: Place, segment: LineTo | ArcTo | CurveTo) -> Iterator[Place]:
    if isinstance(segment, LineTo):
        yield segment.x, segment.y
    elif isinstance(segment, ArcTo):
        yield from _arc(start, segment)
    else:
        count = _count(hypot(segment.x - start[0], segment.y - start[1]))
        for n in range(1, count + 1):
            t = n / count
            a, b, c, d = (1 - t) ** 3, 3 * t * (1 - t) ** 2, 3 * t * t * (1 - t), t**3
            yield (
                a * start[0] + b * segment.x1 + c * segment.x2 + d * segment.x,
                a * start[1] + b * segment.y1 + c * segment.y2 + d * segment.y,
            )


def _arc(start: Place, arc: ArcTo) -> Iterator[Place]:
    """As `service.forms` paints it: the shorter part of a circle, a radius too short lengthened to fit."""
    half_x, half_y = (start[0] - arc.x) / 2, (start[1] - arc.y) / 2
    half = hypot(half_x, half_y)
    if not half:
        return
    radius = max(arc.radius, half)
    lift = sqrt(radius * radius - half * half) / half * (1 if arc.clockwise else -1)
    x, y = (start[0] + arc.x) / 2 + lift * half_y, (start[1] + arc.y) / 2 - lift * half_x
    begin, end = atan2(start[1] - y, start[0] - x), atan2(arc.y - y, arc.x - x)
    turn = (end - begin) % tau if arc.clockwise else -((begin - end) % tau)
    count = _count(abs(turn) * radius)
    for n in range(1, count):
        yield x + radius * cos(begin + turn * n / count), y + radius * sin(begin + turn * n / count)
    yield arc.x, arc.y


def _count(length: float) -> int:
    return min(max(2, round(length / _CHORD)), _MOST)


def between(run: Run, low: float, high: float) -> Run:
    """What of a closed run lies between two places along the strap, cut straight there; empty where nothing does."""
    for edge, sign in ((low, 1.0), (high, -1.0)):
        run = list(_kept(run, edge, sign))
    return [*run, run[0]] if run else []


def _kept(run: Run, edge: float, sign: float) -> Iterator[Place]:
    """What lies on one side of a line across the strap (Sutherland and Hodgman)."""
    for one, other in pairwise([*run, run[0]] if run else ()):
        inside, stays = sign * (one[0] - edge) >= 0, sign * (other[0] - edge) >= 0
        if inside:
            yield one
        if inside != stays:
            share = (edge - one[0]) / (other[0] - one[0])
            yield edge, one[1] + share * (other[1] - one[1])


def parts_between(run: Run, low: float, high: float) -> Iterator[Run]:
    """What of an open run lies between two places along the strap."""
    found: Run = []
    for one, other in pairwise(run):
        shares = _shares(one[0], other[0], low, high)
        if shares is None:
            continue
        begin, end = ((one[0] + share * (other[0] - one[0]), one[1] + share * (other[1] - one[1])) for share in shares)
        if not found or found[-1] != begin:
            if found:
                yield found
            found = [begin]
        found.append(end)
    if found:
        yield found


def _shares(start: float, end: float, low: float, high: float) -> tuple[float, float] | None:
    if start == end:
        return (0.0, 1.0) if low <= start <= high else None
    first, last = sorted(((low - start) / (end - start), (high - start) / (end - start)))
    first, last = max(first, 0.0), min(last, 1.0)
    return (first, last) if first < last else None


def upper(run: Run) -> Run:
    """The upper edge of a closed run, from its left end to its right one: lines that go straight across left out."""
    places = run[:-1]
    left = min(range(len(places)), key=lambda n: places[n])
    right = max(range(len(places)), key=lambda n: (places[n][0], -places[n][1]))
    turned = places[left:] + places[:left]
    last = (right - left) % len(places)
    one, other = turned[: last + 1], [turned[0], *reversed(turned[last:])]
    return min(one, other, key=lambda way: sum(y for _, y in way) / len(way))
