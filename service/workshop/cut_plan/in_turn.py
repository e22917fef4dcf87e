"""A good plan out of hides of several sizes without the solver: choose the hides first, then fill them in turn.

Sets of hides are tried from the cheapest that could be enough; each is filled hide after hide with the strips
that use most of it.
"""

from collections import Counter
from collections.abc import Iterator, Sequence
from itertools import islice, product

from service.workshop.cut_plan.bars import best_fit
from service.workshop.cut_plan.batch import Hide, HideCut, StripCut, Wanted, bars_of, strip_of
from service.workshop.cut_plan.effort import ATTEMPTS, COMBINATIONS, Effort
from service.workshop.cut_plan.knapsack import lattice, most_valuable

ENDLESS = 0
"""The count of a hide of which there are always more."""
_MOST_CHOICE = 150
"""Strips among which those of one hide are chosen: the fullest."""
_COARSE = 10**6
"""Areas are compared in these parts, so that their sums stay small whole numbers."""


def cost_of(cuts: Sequence[HideCut]) -> int:
    """The cost of all hides that are cut."""
    return sum(cut.hide.cost for cut in cuts)


def cheapest_in_turn(wanted: Wanted, hides: Sequence[Hide], spare: Hide, bound: int, effort: Effort) -> list[HideCut]:
    """The cheapest plan of all sets of hides that are tried. `spare` takes what no other holds, in any number."""
    by_cost = sorted(hides, key=lambda hide: (hide.cost, hide.key))
    everything = [hide for hide in by_cost for _ in range(hide.count)]
    first = effort.share(4)
    best = _filled(wanted, [*everything, spare], first)
    if not first.over():
        best = min(best, _filled(wanted, [*everything[::-1], spare], first), key=cost_of)
    for chosen in islice(_cheaper_sets(by_cost, bound, best), ATTEMPTS):
        for order in (chosen, chosen[::-1]):
            cuts = [] if effort.over() else _filled(wanted, order, effort)
            if cuts:
                return min(best, cuts, key=cost_of)
    return best


def _cheaper_sets(hides: Sequence[Hide], bound: int, best: Sequence[HideCut]) -> Iterator[list[Hide]]:
    """Sets of hides that cost at least `bound` and less than the best plan, cheapest first."""
    cost = cost_of(best)
    used = Counter(cut.hide.key for cut in best)
    sets = [
        (sum(count * hide.cost for count, hide in zip(counts, hides, strict=True)), counts)
        for counts in _counts(hides, used)
    ]
    for _, counts in sorted(each for each in sets if bound <= each[0] < cost):
        yield [hide for hide, count in zip(hides, counts, strict=True) for _ in range(count)]


def _counts(hides: Sequence[Hide], used: Counter[int]) -> Iterator[tuple[int, ...]]:
    """How many of each size: every way, or only those near the used ones where there are too many ways."""
    ways = 1
    for hide in hides:
        ways *= hide.count + 1
    if ways <= COMBINATIONS:
        yield from product(*(range(hide.count + 1) for hide in hides))
        return
    base = [used[hide.key] for hide in hides]
    some = [at for at, count in enumerate(base) if count]
    for fewer, more, less, plus in islice(product(some, range(len(hides)), (1, 2), (0, 1, 2)), COMBINATIONS):
        near = list(base)
        near[fewer] -= less
        near[more] += plus
        if near[fewer] >= 0 and near[more] <= hides[more].count:
            yield tuple(near)


def _filled(wanted: Wanted, order: Sequence[Hide], effort: Effort) -> list[HideCut]:
    """All pieces out of these hides in turn, the last one as often as it takes if it is endless; else nothing.

    Where time runs out the rest is filled in haste: the plan is always whole.
    """
    filling = _Filling(wanted)
    barren: set[int] = set()
    for hide in order:
        if hide.key not in barren and not filling.fill(hide, hasty=effort.over()):
            barren.add(hide.key)
        if not filling.left:
            return filling.cuts
    if order and order[-1].count == ENDLESS:
        while filling.left:
            filling.fill(order[-1], hasty=effort.over())
    return [] if filling.left else filling.cuts


class _Filling:
    """What is left to cut, and the strips that it would make, kept until their width changes."""

    def __init__(self, wanted: Wanted) -> None:
        self.left = {width: Counter(lengths) for width, lengths in wanted.items()}
        self.cuts: list[HideCut] = []
        self._strips: dict[tuple[int, int], list[StripCut]] = {}

    def fill(self, hide: Hide, *, hasty: bool) -> bool:
        """Cut this hide into the strips that use most of it; whether there was one."""
        if hasty:
            chosen = self._widest_first(hide)
        else:
            strips = [strip for width in sorted(self.left, reverse=True) for strip in self._of(width, hide)]
            chosen = _most_used(strips, hide)
        if chosen:
            self.cuts.append(HideCut(hide, tuple(chosen)))
        for strip in chosen:
            self.left[strip.width] -= Counter(strip.lengths)
        for width in {strip.width for strip in chosen}:
            self._forget(width)
        return bool(chosen)

    def _of(self, width: int, hide: Hide) -> list[StripCut]:
        """The strips of one width that this hide would hold, best-fit decreasing."""
        if width > hide.width:
            return []
        key = (width, hide.length)
        if key not in self._strips:
            fitting = {length: n for length, n in self.left[width].items() if length <= hide.length}
            bars = bars_of(fitting, hide.length)
            self._strips[key] = [strip_of(width, bars.sizes, pattern) for pattern in best_fit(bars)]
        return self._strips[key]

    def _widest_first(self, hide: Hide) -> list[StripCut]:
        """Strips as long as there is room, widest and longest pieces first, without looking for better ones."""
        chosen: list[StripCut] = []
        room = hide.width
        for width in sorted(self.left, reverse=True):
            left = Counter(self.left[width])
            while width <= room and (lengths := _longest_first(left, hide.length)):
                chosen.append(StripCut(width, lengths))
                left -= Counter(lengths)
                room -= width
        return chosen

    def _forget(self, width: int) -> None:
        self._strips = {key: found for key, found in self._strips.items() if key[0] != width}
        if not self.left[width]:
            del self.left[width]


def _longest_first(left: Counter[int], room: int) -> tuple[int, ...]:
    """The pieces of one strip, the longest that fits first."""
    lengths: list[int] = []
    for length in sorted(left, reverse=True):
        count = min(left[length], room // length)
        lengths += [length] * count
        room -= count * length
    return tuple(lengths)


def _most_used(strips: Sequence[StripCut], hide: Hide) -> list[StripCut]:
    """The strips that together use most of a hide's area: all of them where they fit."""
    if sum(strip.width for strip in strips) <= hide.width:
        return list(strips)
    strips = sorted(strips, key=lambda strip: -strip.used)[:_MOST_CHOICE]
    values = [strip.width // _COARSE * (strip.used // _COARSE) + 1 for strip in strips]
    grid = lattice([strip.width for strip in strips], hide.width)
    pattern = most_valuable(grid, values, [1] * len(strips))
    return [strip for strip, count in zip(strips, pattern, strict=True) if count]
