"""Where a piece too long for its paper is divided, so that nothing is lost and little is cut.

The two parts at a joint both show the strip from the joint to `overlap` beyond it: what lies wholly before the
strip's end is whole on the first part, what lies wholly behind the joint is whole on the second.
"""

from bisect import bisect_left, bisect_right
from collections import deque
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from math import ceil, floor, inf

Extent = tuple[float, float]
"""The least and the greatest x of something that ought not to be cut, in millimetres."""

BLEED = 1.0
"""Millimetres that a part shows before its joint, so that the line to cut along is seen whole."""
_LOST, _CUT, _CROSSED, _TOUCHED = 1e6, 1e3, 3.0, 1.0
_NAMED = 7.0
"""Millimetres before a joint that are kept clear for its name: the middle of a hole then lies before all of it."""
_STEP = 1.0
_LEAST = 15.0
"""Millimetres of the shortest part worth gluing."""
_SLACK = 1e-6


@dataclass(frozen=True, slots=True)
class Room:
    """What one page shows of a piece: `width` in all, of which each of the piece's ends needs `end` more."""

    width: float
    overlap: float
    end: float

    @property
    def first(self) -> float:
        """From the piece's beginning to the first joint, at most."""
        return self.width - self.end - self.overlap

    @property
    def middle(self) -> float:
        """From joint to joint, at most."""
        return self.width - BLEED - self.overlap

    @property
    def last(self) -> float:
        """From the last joint to the piece's end, at most."""
        return self.width - self.end - BLEED


@dataclass(frozen=True, slots=True)
class Division:
    """Places of the joints in ascending order, none for a piece that is whole, and the overlap they need."""

    joints: tuple[float, ...]
    overlap: float


class _Costs:
    """What it costs to divide at a place, by how many extents are lost or cut there, or lie near, and what is crossed.

    Near is from where the joint's name begins to the end of the overlap behind it; a footprint is what will sit there.
    """

    def __init__(self, extents: Sequence[Extent], footprints: Sequence[Extent], overlap: float) -> None:
        self._overlap = overlap
        self._lefts, self._rights = _sides(extents)
        self._shown_lefts, self._shown_rights = _sides(footprints)
        long = [(left, right - overlap) for left, right in extents if right - left > overlap]
        self._long_lefts, self._long_rights = _sides(long)

    def at(self, place: float) -> float:
        cut = len(self._lefts) - bisect_right(self._rights, place) - self._from(self._lefts, place)
        near = len(self._lefts) - bisect_right(self._rights, place - _NAMED)
        touched = near - self._from(self._lefts, place + self._overlap)
        under = len(self._shown_lefts) - bisect_right(self._shown_rights, place)
        crossed = under - self._from(self._shown_lefts, place)
        return _LOST * self._lost(place) + _CUT * cut + _CROSSED * crossed + _TOUCHED * touched

    def _lost(self, place: float) -> int:
        gone = bisect_right(self._long_rights, place) + self._from(self._long_lefts, place)
        return len(self._long_lefts) - gone

    @staticmethod
    def _from(ascending: list[float], place: float) -> int:
        return len(ascending) - bisect_left(ascending, place)


def _sides(extents: Iterable[Extent]) -> tuple[list[float], list[float]]:
    """All left sides and all right sides, ascending."""
    found = list(extents)
    return sorted(left for left, _ in found), sorted(right for _, right in found)


def divide(length: float, extents: Sequence[Extent], room: Room, footprints: Sequence[Extent] = ()) -> Division:
    """The joints of a piece, as few as `room` allows, or one more where something would be lost.

    A joint rather avoids `footprints` than goes through them. Where even that loses something the overlap grows until
    nothing can be lost, as far as the page has room for it. Raises `ValueError` where a page has no room for a part
    worth having.
    """
    if length + 2 * room.end <= room.width:
        return Division((), room.overlap)
    if min(room.first, room.middle, room.last) < _LEAST:
        raise ValueError(f"a page with room for {room.width} mm cannot show a part of a piece")
    costs = _Costs(extents, footprints, room.overlap)
    fewest = max(1, ceil((length - room.first - room.last) / room.middle - 1e-9) + 1)
    cost, joints = _best(length, costs, room, fewest)
    if cost >= _LOST:
        cost, joints = min((cost, joints), _best(length, costs, room, fewest + 1))
    if cost < _LOST:
        return Division(joints, room.overlap)
    wider = replace(room, overlap=max(right - left for left, right in extents) + 1)
    if min(wider.first, wider.middle) < _LEAST or wider.overlap <= room.overlap:
        return Division(joints, room.overlap)
    return divide(length, extents, wider, footprints)


_Way = tuple[float, float, tuple[float, ...]]
"""What it has cost so far, the place that it has come to, and every joint on it."""


def _best(length: float, costs: _Costs, room: Room, count: int) -> tuple[float, tuple[float, ...]]:
    """The cheapest `count` joints and their cost: each step keeps the best way to every place."""
    ideal = length / (count + 1)
    ways: list[_Way] = [(0.0, 0.0, ())]
    for number in range(1, count + 1):
        reach = room.first if number == 1 else room.middle
        places = _places(length, room, number, count)
        ways = [
            (cost + costs.at(place) + ((place - ideal * number) / reach) ** 2, place, (*joints, place))
            for place, (cost, _, joints) in _cheapest_before(ways, places, reach)
        ]
    if not ways:
        return inf, ()
    cost, _, joints = min(ways)
    return cost, joints


def _places(length: float, room: Room, number: int, count: int) -> list[float]:
    """Where joint `number` can lie: the ends of its range, which always work, and steps between."""
    low = max(length - room.last - (count - number) * room.middle, number * _LEAST)
    high = min(room.first + (number - 1) * room.middle, length - (count + 1 - number) * _LEAST)
    steps = range(ceil(low / _STEP), floor(high / _STEP) + 1)
    return sorted({low, *(step * _STEP for step in steps), high})


def _cheapest_before(ways: Sequence[_Way], places: Sequence[float], reach: float) -> Iterator[tuple[float, _Way]]:
    """For each ascending place the cheapest way that ends up to `reach` before it (a sliding minimum)."""
    near: deque[_Way] = deque()
    coming = iter(ways)
    following = next(coming, None)
    for place in places:
        while following is not None and following[1] <= place - _LEAST + _SLACK:
            while near and near[-1][0] >= following[0]:
                near.pop()
            near.append(following)
            following = next(coming, None)
        while near and near[0][1] < place - reach - _SLACK:
            near.popleft()
        if near:
            yield place, near[0]
