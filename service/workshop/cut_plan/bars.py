"""So many of each size out of bars of one capacity: best-fit decreasing, and bounds that no packing beats.

The same problem stands for pieces out of strips and for strips out of hides. All numbers are whole; a saw's
kerf is already in them: n things with a cut between neighbours fit where the sum of
(size + kerf) is at most capacity + kerf.
"""

from bisect import bisect_left, insort
from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

Pattern = tuple[int, ...]
"""How many of each size come out of one bar."""
MOST_STEPS = 24
"""Dual feasible functions, and sizes to leave smaller things out by, that are tried."""


@dataclass(frozen=True, slots=True)
class Bars:
    """`counts[i]` things of `sizes[i]` to come out of bars of `capacity`. Sizes fall, each fits, each count > 0."""

    sizes: tuple[int, ...]
    counts: tuple[int, ...]
    capacity: int

    @property
    def total(self) -> int:
        """The size of everything together."""
        return sum(size * count for size, count in zip(self.sizes, self.counts, strict=True))

    def used(self, pattern: Pattern) -> int:
        """What of a bar a pattern takes."""
        return sum(size * count for size, count in zip(self.sizes, pattern, strict=True))


def best_fit(bars: Bars) -> list[Pattern]:
    """Best-fit decreasing: the largest first, each where it leaves the least. In O(n log n)."""
    rests: list[tuple[int, int]] = []
    contents: list[list[int]] = []
    for index, size in enumerate(bars.sizes):
        for _ in range(bars.counts[index]):
            at = bisect_left(rests, (size, -1))
            rest, number = rests.pop(at) if at < len(rests) else (bars.capacity, len(contents))
            if number == len(contents):
                contents.append([0] * len(bars.sizes))
            contents[number][index] += 1
            insort(rests, (rest - size, number))
    return [tuple(content) for content in contents]


def lower_bound(bars: Bars) -> int:
    """The best of the quick bounds: by total size, by large things, by dual feasible functions.

    Martello and Toth's L2 (*Knapsack Problems*, 1990); Fekete and Schepers, *New classes of fast lower bounds for
    bin packing problems*, 2001 (both from memory).
    """
    if not bars.sizes:
        return 0
    halves = [size for size in bars.sizes if 2 * size <= bars.capacity]
    tried = halves[:: 1 + len(halves) // MOST_STEPS]
    by_size = max(_large_things(bars, small) for small in (0, *tried))
    return max(by_size, *(_stepped(bars, steps) for steps in range(1, MOST_STEPS + 1)))


def _large_things(bars: Bars, small: int) -> int:
    """L2 with things smaller than `small` left out: two things above half a bar never share one."""
    capacity = bars.capacity
    lonely = crowded = room = rest = 0
    for size, count in zip(bars.sizes, bars.counts, strict=True):
        if size > capacity - small:
            lonely += count
        elif 2 * size > capacity:
            crowded += count
            room += count * (capacity - size)
        elif size >= small:
            rest += count * size
    return lonely + crowded + max(0, ceil_div(rest - room, capacity))


def _stepped(bars: Bars, steps: int) -> int:
    """Sizes rounded to whole k-ths of a bar, u(k): whatever fitted still fits, so the bound holds."""
    capacity, total = bars.capacity, 0
    for size, count in zip(bars.sizes, bars.counts, strict=True):
        whole, rest = divmod((steps + 1) * size, capacity)
        share = whole * capacity if rest else size * steps
        total += count * share
    return ceil_div(total, capacity * steps)


def ceil_div(value: int, by: int) -> int:
    """The quotient, rounded up."""
    return -(-value // by)


def tally(patterns: Iterable[Pattern]) -> list[tuple[Pattern, int]]:
    """Equal patterns counted, in a fixed order."""
    return sorted(Counter(patterns).items(), reverse=True)


def trimmed(patterns: Sequence[Pattern], counts: Sequence[int]) -> list[Pattern]:
    """The patterns without what they make too much of; empty ones fall away."""
    left, kept = list(counts), []
    for pattern in patterns:
        taken = tuple(min(count, rest) for count, rest in zip(pattern, left, strict=True))
        left = [rest - count for rest, count in zip(left, taken, strict=True)]
        if any(taken):
            kept.append(taken)
    return kept


def covers(patterns: Sequence[Pattern], counts: Sequence[int]) -> bool:
    """Whether the patterns make all of it."""
    made = [sum(column) for column in zip(*patterns, strict=True)] or [0] * len(counts)
    return all(have >= want for have, want in zip(made, counts, strict=True))
