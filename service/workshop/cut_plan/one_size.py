"""The fewest bars of one capacity: quick answers first, and the solver only where they leave a gap."""

from collections.abc import Sequence
from dataclasses import dataclass

from service.workshop.cut_plan.bars import Bars, Pattern, best_fit, lower_bound, trimmed
from service.workshop.cut_plan.effort import PATTERNS_ENUMERATED, ROWS, TABLE_CELLS, Effort
from service.workshop.cut_plan.knapsack import full_patterns, lattice, most_valuable
from service.workshop.cut_plan.pricing import Generated, generate, rounded_up
from service.workshop.cut_plan.swapping import emptied


@dataclass(frozen=True, slots=True)
class Packed:
    """One pattern for each bar, and a number of bars that no packing is below."""

    patterns: tuple[Pattern, ...]
    bound: int

    @property
    def proven(self) -> bool:
        """Whether no packing takes fewer bars."""
        return len(self.patterns) == self.bound


def pack(bars: Bars, effort: Effort) -> Packed:
    """The fewest bars that the effort finds. Work and memory are bounded by the counts in `effort`."""
    bound = lower_bound(bars)
    patterns = best_fit(bars)
    if len(patterns) * len(bars.sizes) > TABLE_CELLS:
        return Packed(tuple(patterns), bound)
    if len(patterns) > bound and not effort.over():
        patterns = min(patterns, fill_one_by_one(bars, effort), key=len)
        patterns = emptied(bars, patterns, bound, effort)
    if len(patterns) > bound and len(bars.sizes) <= ROWS and not effort.over():
        return _by_solver(bars, patterns, bound, effort)
    return Packed(tuple(patterns), bound)


def fill_one_by_one(bars: Bars, effort: Effort) -> list[Pattern]:
    """Each bar as full as it can be round the largest thing left, from the first bar to the last."""
    left = list(bars.counts)
    patterns: list[Pattern] = []
    while any(left):
        if effort.over():
            return [*patterns, *_best_fit_of(bars, left)]
        pattern = _fullest(bars, left)
        times = min(left[i] // count for i, count in enumerate(pattern) if count)
        patterns += [pattern] * times
        left = [have - times * count for have, count in zip(left, pattern, strict=True)]
    return patterns


def _fullest(bars: Bars, left: Sequence[int]) -> Pattern:
    """The fullest bar with the largest thing left in it."""
    first = next(index for index, count in enumerate(left) if count)
    rest = [count - (index == first) for index, count in enumerate(left)]
    more = most_valuable(lattice(bars.sizes, bars.capacity - bars.sizes[first]), bars.sizes, rest)
    return tuple(count + (index == first) for index, count in enumerate(more))


def _best_fit_of(bars: Bars, left: Sequence[int]) -> list[Pattern]:
    """Best-fit decreasing of what is left."""
    kept = [index for index, count in enumerate(left) if count]
    rest = Bars(tuple(bars.sizes[i] for i in kept), tuple(left[i] for i in kept), bars.capacity)
    spread = []
    for pattern in best_fit(rest):
        counts = dict(zip(kept, pattern, strict=True))
        spread.append(tuple(counts.get(index, 0) for index in range(len(left))))
    return spread


def _by_solver(bars: Bars, patterns: list[Pattern], bound: int, effort: Effort) -> Packed:
    """All patterns at once where they are few, else those that column generation finds worth having."""
    listed = full_patterns(bars.sizes, bars.counts, bars.capacity, PATTERNS_ENUMERATED)
    pool = generate(bars, listed or patterns, effort)
    bound = max(bound, pool.bound)
    if len(patterns) == bound or effort.over():
        return Packed(tuple(patterns), bound)
    return _whole(bars, pool, patterns, bound, effort, complete=listed is not None)


def _whole(bars: Bars, pool: Generated, best: list[Pattern], bound: int, effort: Effort, *, complete: bool) -> Packed:
    """Solve the pool in whole numbers; a complete pool also raises the bound."""
    found = pool.program.whole(effort)
    if complete:
        bound = max(bound, min(len(best), rounded_up(found.bound)))
    if found.uses is not None and sum(found.uses) < len(best):
        uses = zip(pool.patterns, found.uses, strict=True)
        best = trimmed([pattern for pattern, count in uses for _ in range(count)], bars.counts)
    return Packed(tuple(best), bound)
