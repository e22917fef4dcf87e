"""Fewer settings of the strap cutter: strips of one width gathered on one hide, without more hides or strips.

Two hides of one length at a time are dealt out anew: every width goes wholly to one of them where that can be,
else one width is divided between them. Then the hides and their strips are put in an order in which one hide
begins with the width that the last one ended with.
"""

from collections import Counter
from collections.abc import Callable, Iterator, Sequence
from dataclasses import replace
from itertools import combinations

import numpy as np

from service.workshop.cut_plan.batch import HideCut, StripCut
from service.workshop.cut_plan.effort import GATHERINGS, Effort
from service.workshop.cut_plan.swapping import subset_sums

_MOST_WIDTHS = 12
"""Widths of two hides together of which all ways to deal them out are tried."""
Dealt = dict[int, int]
"""How many strips of each width the first of two hides gets."""


def gathered(cuts: Sequence[HideCut], effort: Effort) -> list[HideCut]:
    """The same strips on the same hides, or fewer, dealt out so that fewer widths are met on more than one."""
    found, tried, gained = list(cuts), 0, True
    while gained and tried < GATHERINGS and not effort.over():
        gained = False
        for first, second in combinations(range(len(found)), 2):
            tried += 1
            pair = _dealt_anew(found[first], found[second]) if tried <= GATHERINGS else None
            if pair:
                found[first], found[second] = pair
                gained = True
    return [cut for cut in found if cut.strips]


def settings(cuts: Sequence[HideCut]) -> int:
    """How often the strap cutter is set, going through hides and strips in their order."""
    widths = [strip.width for cut in cuts for strip in cut.strips]
    return sum(1 for at, width in enumerate(widths) if at == 0 or widths[at - 1] != width)


def _dealt_anew(a: HideCut, b: HideCut) -> tuple[HideCut, HideCut] | None:
    """Both hides with fewer widths in common, or `None` where that cannot be."""
    mine, others = _widths(a), _widths(b)
    common = len(mine.keys() & others.keys())
    together = mine + others
    if not common or a.hide.length != b.hide.length or len(together) > _MOST_WIDTHS:
        return None
    ways = _ways(together, a.hide.width, b.hide.width)
    better = next((dealt for dealt, divided in ways if divided < common), None)
    return _deal(a, b, better) if better is not None else None


def _widths(cut: HideCut) -> Counter[int]:
    return Counter(strip.width for strip in cut.strips)


def _ways(together: Counter[int], room: int, other_room: int) -> Iterator[tuple[Dealt, int]]:
    """A way to deal out widths that divides none, if there is one; then ways that divide one."""
    total = sum(width * count for width, count in together.items())
    widths = sorted(together, reverse=True)
    sums = subset_sums([width * together[width] for width in widths])
    for bits in np.flatnonzero((sums <= room) & (total - sums <= other_room))[:1]:
        yield _whole(int(bits), widths, together), 0
    for width in widths:
        rest = [each for each in widths if each != width]
        sums = subset_sums([each * together[each] for each in rest])
        most = np.minimum(together[width] - 1, (room - sums) // width)
        least = np.maximum(1, -((sums + other_room - total) // width))
        for bits in np.flatnonzero((sums <= room) & (least <= most))[:1]:
            yield {**_whole(int(bits), rest, together), width: int(most[bits])}, 1


def _whole(bits: int, widths: Sequence[int], together: Counter[int]) -> Dealt:
    """All strips of the widths whose bits are set."""
    return {width: together[width] for bit, width in enumerate(widths) if bits >> bit & 1}


def _deal(a: HideCut, b: HideCut, dealt: Dealt) -> tuple[HideCut, HideCut]:
    first: list[StripCut] = []
    second: list[StripCut] = []
    left = Counter(dealt)
    for strip in (*a.strips, *b.strips):
        mine = left[strip.width] > 0
        left[strip.width] -= mine
        (first if mine else second).append(strip)
    return replace(a, strips=tuple(first)), replace(b, strips=tuple(second))


def in_order(cuts: Sequence[HideCut]) -> list[HideCut]:
    """Hides and strips in working order: each next hide, if one can, begins with the width set last."""
    waiting = sorted(cuts, key=lambda cut: (-cut.used_width, cut.hide.key, *map(_sizes, cut.strips)))
    widths = [frozenset(strip.width for strip in cut.strips) for cut in waiting]
    common = Counter(width for each in widths for width in each)
    ordered: list[HideCut] = []
    last = 0
    while waiting:
        at = next((i for i, each in enumerate(widths) if last in each), 0)
        cut, mine = waiting.pop(at), widths.pop(at)
        common -= Counter(mine)
        end = max((width for width in mine if width in common and width != last), default=0)
        ordered.append(replace(cut, strips=tuple(sorted(cut.strips, key=_begin_and_end(last, end)))))
        last = ordered[-1].strips[-1].width
    return ordered


def _begin_and_end(first: int, end: int) -> Callable[[StripCut], tuple[int, ...]]:
    """The order of strips on a hide: `first` before all, `end` after all, else the widest first."""
    return lambda strip: (strip.width != first, strip.width == end, *_sizes(strip))


def _sizes(strip: StripCut) -> tuple[int, ...]:
    return (-strip.width, *(-length for length in strip.lengths))
