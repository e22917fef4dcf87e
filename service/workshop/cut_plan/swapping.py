"""Emptying bars by sharing out two at a time anew: one of the two gets as full as it can be.

Each such step gathers what is left over in fewer bars, until one of them is empty. Where no pair gains any more,
a few things change places and the steps begin again, by a fixed sequence of random numbers.
"""

from collections import Counter
from collections.abc import Sequence
from itertools import combinations
from random import Random

import numpy as np
import numpy.typing as npt

from service.workshop.cut_plan.bars import Bars, Pattern
from service.workshop.cut_plan.effort import SHARINGS, Effort

_MOST_SHARED = 13
"""Things of two bars together of which all subsets are tried."""
_Contents = list[int]


def emptied(bars: Bars, patterns: Sequence[Pattern], target: int, effort: Effort) -> list[Pattern]:
    """The patterns, or fewer of them; ended at `target` bars, after `SHARINGS` steps, or by the effort."""
    contents = [[s for s, n in zip(bars.sizes, pattern, strict=True) for _ in range(n)] for pattern in patterns]
    swapping = _Swapping(bars.capacity, contents, Random(0))  # noqa: S311 - a fixed sequence, no secret
    while len(swapping.contents) > target and swapping.steps < SHARINGS and not effort.over():
        swapping.settle(effort)
        if len(swapping.contents) > target:
            swapping.stir()
    return [_pattern(bars, content) for content in swapping.contents]


def _pattern(bars: Bars, content: _Contents) -> Pattern:
    counts = Counter(content)
    return tuple(counts[size] for size in bars.sizes)


class _Swapping:
    """Bars and what is in them; always a good packing, never of more bars than before."""

    def __init__(self, capacity: int, contents: list[_Contents], random: Random) -> None:
        self.capacity = capacity
        self.contents = contents
        self.random = random
        self.steps = 0

    def settle(self, effort: Effort) -> None:
        """Share out pairs until none gains."""
        gained = True
        while gained and self.steps < SHARINGS and not effort.over():
            pairs = combinations(range(len(self.contents)), 2)
            gained = sum(self._share(first, second) for first, second in pairs) > 0
            self.contents = [content for content in self.contents if content]

    def _share(self, first: int, second: int) -> bool:
        """Share out two bars anew; whether the fuller of them got fuller."""
        a, b = self.contents[first], self.contents[second]
        if len(a) + len(b) > _MOST_SHARED or self.steps >= SHARINGS:
            return False
        self.steps += 1
        things = a + b
        sums = subset_sums(things)
        fits = (sums <= self.capacity) & (sums[-1] - sums <= self.capacity)
        chosen = int(np.argmax(np.where(fits, sums, -1)))
        if sums[chosen] <= max(sum(a), sum(b)):
            return False
        self.contents[first] = [thing for bit, thing in enumerate(things) if chosen >> bit & 1]
        self.contents[second] = [thing for bit, thing in enumerate(things) if not chosen >> bit & 1]
        return True

    def stir(self) -> None:
        """Let three pairs of things from different bars change places, where they fit."""
        self.steps += 1
        for _ in range(3):
            a, b = self.random.sample(self.contents, 2)
            here, there = self.random.randrange(len(a)), self.random.randrange(len(b))
            more = b[there] - a[here]
            if sum(a) + more <= self.capacity and sum(b) - more <= self.capacity:
                a[here], b[there] = b[there], a[here]


def subset_sums(things: Sequence[int]) -> npt.NDArray[np.int64]:
    """The sum of every subset; bit i of a place says whether thing i is in it."""
    sums = np.zeros(1, dtype=np.int64)
    for thing in things:
        sums = np.concatenate((sums, sums + thing))
    return sums
