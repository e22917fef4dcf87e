"""The one way in which things are put side by side: on shelves, each with a gap to the one before.

A shelf may as well be a row of a key, a strip of leather, or a page on which things stand one below the other.
"""

from collections.abc import Sequence
from typing import NamedTuple


class Spot(NamedTuple):
    """The shelf that a thing stands on, from 0, and how far along it begins."""

    shelf: int
    at: float


def shelved(lengths: Sequence[float], room: float, gap: float, *, in_order: bool = False) -> tuple[Spot, ...]:
    """A spot for each thing, on the first shelf of length `room` that has room for it behind what stands there.

    `in_order` looks at the last shelf alone, so that things are read in their order. A thing longer than `room` has a
    shelf of its own.
    """
    ends: list[float] = []
    spots = []
    for length in lengths:
        tried = range(max(len(ends) - 1, 0) if in_order else 0, len(ends))
        shelf = next((each for each in tried if ends[each] + gap + length <= room), len(ends))
        if shelf == len(ends):
            ends.append(0.0)
            at = 0.0
        else:
            at = ends[shelf] + gap
        ends[shelf] = at + length
        spots.append(Spot(shelf, at))
    return tuple(spots)
