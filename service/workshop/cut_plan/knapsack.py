"""The most valuable filling of one bar, on a lattice of bounded size, and all fillings where they are few."""

from collections.abc import Sequence
from dataclasses import dataclass
from math import gcd

import numpy as np
import numpy.typing as npt

from service.workshop.cut_plan.bars import Pattern, ceil_div
from service.workshop.cut_plan.effort import GRID_CELLS, GRID_WORK

_Cells = npt.NDArray[np.int64]
_Flags = npt.NDArray[np.bool_]


@dataclass(frozen=True, slots=True)
class Lattice:
    """Sizes in cells, for bars of `capacity` cells.

    `up` rounds sizes up: what fits in cells fits in truth. `down` rounds them down: what fits in truth fits
    in cells. They are equal where the sizes have a common measure that is coarse enough.
    """

    up: tuple[int, ...]
    down: tuple[int, ...]
    capacity: int


def lattice(sizes: Sequence[int], capacity: int) -> Lattice:
    """The finest lattice with at most `GRID_CELLS` cells, fewer for very many sizes, or an exact coarser one."""
    measure, most = gcd(*sizes), min(GRID_CELLS, GRID_WORK // len(sizes))
    cell = measure if capacity // measure <= most else ceil_div(capacity, most)
    up = tuple(ceil_div(size, cell) for size in sizes)
    down = tuple(size // cell for size in sizes)
    return Lattice(up, down, capacity // cell)


def most_valuable(grid: Lattice, values: Sequence[int], copies: Sequence[int]) -> Pattern:
    """The filling with the greatest sum of whole values, among those that fit in cells (and so in truth)."""
    _, taken = _table(grid.up, grid.capacity, values, copies)
    counts, at = [0] * len(values), grid.capacity
    for index, bundle, shift, better in reversed(taken):
        if at >= shift and better[at - shift]:
            counts[index] += bundle
            at -= shift
    return tuple(counts)


def value_bound(grid: Lattice, values: Sequence[int], copies: Sequence[int]) -> int:
    """A whole number that no filling's sum of whole values is above."""
    best, _ = _table(grid.down, grid.capacity, values, copies)
    return int(best[-1])


def _table(
    weights: Sequence[int], capacity: int, values: Sequence[int], copies: Sequence[int]
) -> tuple[_Cells, list[tuple[int, int, int, _Flags]]]:
    """The best value for every capacity up to the whole one, and where each bundle of copies improved it."""
    best = np.zeros(capacity + 1, dtype=np.int64)
    taken: list[tuple[int, int, int, _Flags]] = []
    for index, (weight, value) in enumerate(zip(weights, values, strict=True)):
        if value <= 0:
            continue
        most = min(copies[index], capacity // weight) if weight else copies[index]
        for bundle in _bundles(most):
            shift = bundle * weight
            candidate = best[: capacity + 1 - shift] + bundle * value
            taken.append((index, bundle, shift, candidate > best[shift:]))
            np.maximum(best[shift:], candidate, out=best[shift:])
    return best, taken


def _bundles(copies: int) -> list[int]:
    """Bundles out of which any number up to `copies` can be put together: 1, 2, 4 and so on."""
    bundles, bundle = [], 1
    while copies > 0:
        bundles.append(min(bundle, copies))
        copies -= bundle
        bundle *= 2
    return bundles


def full_patterns(sizes: Sequence[int], copies: Sequence[int], capacity: int, most: int) -> list[Pattern] | None:
    """Every pattern to which nothing can be added, or `None` where there are more than `most`.

    The search gives up after 10 × `most` steps, so that a hopeless list costs no more than a hopeful one.
    """
    if len(sizes) > _DEEPEST:
        return None
    search = _Search(tuple(sizes), tuple(copies), most, 10 * most)
    return search.found if search.fill(0, capacity, ()) else None


_DEEPEST = 120
"""Different sizes of one search: it goes as deep as there are sizes."""


class _Search:
    """A depth-first search for full patterns, largest size first."""

    def __init__(self, sizes: Pattern, copies: Pattern, most: int, steps: int) -> None:
        self.sizes = sizes
        self.copies = copies
        self.most = most
        self.steps = steps
        self.found: list[Pattern] = []
        totals = [size * count for size, count in zip(sizes, copies, strict=True)]
        self.after = [sum(totals[index + 1 :]) for index in range(len(totals))]

    def fill(self, index: int, rest: int, chosen: Pattern) -> bool:
        """List all full fillings that begin with `chosen`; false where there are too many."""
        self.steps -= 1
        if self.steps < 0 or len(self.found) > self.most:
            return False
        if index == len(self.sizes):
            if self._is_full(chosen, rest):
                self.found.append(chosen)
            return True
        size = self.sizes[index]
        for count in range(min(self.copies[index], rest // size), -1, -1):
            left = rest - count * size
            if not self.fill(index + 1, left, (*chosen, count)):
                return False
            if left >= self.after[index]:  # with fewer of this size there would always be room for it again
                break
        return True

    def _is_full(self, chosen: Pattern, rest: int) -> bool:
        things = zip(self.sizes, chosen, self.copies, strict=True)
        return all(size > rest or count == copies for size, count, copies in things)
