"""A first plan out of hides of several sizes: fill them in one order after another, and keep the cheapest."""

from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import replace
from itertools import islice, permutations

from service.workshop.cut_plan.bars import Bars, best_fit
from service.workshop.cut_plan.batch import Hide, HideCut, Lengths, StripCut, Wanted, bars_of, strip_of
from service.workshop.cut_plan.effort import ORDERS, Effort


def cheapest_in_order(wanted: Wanted, hides: Sequence[Hide], spare: Hide, effort: Effort) -> list[HideCut]:
    """The cheapest plan of all orders tried. `spare` takes what the others leave, in any number."""
    plans = []
    for order in islice(_orders(hides), ORDERS):
        plans.append(_exchanged(_filled(wanted, (*order, spare)), hides))
        if effort.over():
            break
    return min(plans, key=cost_of)


def cost_of(cuts: Sequence[HideCut]) -> int:
    """The cost of all hides that are cut."""
    return sum(cut.hide.cost for cut in cuts)


def _orders(hides: Sequence[Hide]) -> Iterator[tuple[Hide, ...]]:
    """Smallest first, which uses up offcuts; largest first; then the others, each size left out in turn."""
    by_cost = sorted(hides, key=lambda hide: (hide.cost, hide.key))
    yield tuple(by_cost)
    yield tuple(reversed(by_cost))
    yield tuple(sorted(hides, key=lambda hide: (-hide.length, hide.cost, hide.key)))
    for left_out in by_cost:
        rest = [hide for hide in by_cost if hide != left_out]
        yield (*rest, left_out)
        yield (left_out, *reversed(rest))
    if len(hides) <= 4:
        yield from permutations(by_cost)


def _filled(wanted: Wanted, order: Sequence[Hide]) -> list[HideCut]:
    left = {width: Counter(lengths) for width, lengths in wanted.items()}
    cuts: list[HideCut] = []
    for hide in order:
        if not any(left.values()):
            break
        for cut in _fill(left, hide):
            cuts.append(cut)
            for strip in cut.strips:
                left[strip.width] -= Counter(strip.lengths)
    return cuts


def _fill(left: Wanted, hide: Hide) -> list[HideCut]:
    """All that is left, if the hides of this size hold it, else the best-filled strips that they hold."""
    strips = [strip for width, lengths in left.items() for strip in _strips(width, lengths, hide)]
    shelves = _shelved(strips, hide)
    if len(shelves) > hide.count:
        strips.sort(key=lambda strip: (-strip.used * strip.width, strip.width, strip.lengths))
        shelves = _first_fit(strips, hide)
    return [HideCut(hide, tuple(shelf)) for shelf in shelves if shelf]


def _strips(width: int, lengths: Lengths, hide: Hide) -> list[StripCut]:
    """The pieces of one width that this hide can hold, best-fit decreasing."""
    fitting = {length: count for length, count in lengths.items() if length <= hide.length}
    if width > hide.width or not fitting:
        return []
    bars = bars_of(fitting, hide.length)
    return [strip_of(width, bars.sizes, pattern) for pattern in best_fit(bars)]


def _shelved(strips: list[StripCut], hide: Hide) -> list[list[StripCut]]:
    """Best-fit decreasing by width."""
    by_width: dict[int, list[StripCut]] = {}
    for strip in strips:
        by_width.setdefault(strip.width, []).append(strip)
    widths = tuple(sorted(by_width, reverse=True))
    bars = Bars(widths, tuple(len(by_width[width]) for width in widths), hide.width)
    return [
        [by_width[width].pop(0) for width, count in zip(widths, pattern, strict=True) for _ in range(count)]
        for pattern in best_fit(bars)
    ]


def _first_fit(strips: Sequence[StripCut], hide: Hide) -> list[list[StripCut]]:
    """Each strip on the first hide that has room for it; the others fall away."""
    shelves: list[list[StripCut]] = []
    rests: list[int] = []
    for strip in strips:
        at = next((i for i, rest in enumerate(rests) if rest >= strip.width), None)
        if at is None and len(shelves) < hide.count:
            at = len(shelves)
            shelves.append([])
            rests.append(hide.width)
        if at is not None:
            shelves[at].append(strip)
            rests[at] -= strip.width
    return shelves


def _exchanged(cuts: list[HideCut], hides: Sequence[Hide]) -> list[HideCut]:
    """Each hide for the cheapest free one that still holds its strips; the dearest are tried first."""
    free = {hide: hide.count for hide in hides}
    for cut in cuts:
        if cut.hide in free:
            free[cut.hide] -= 1
    by_cost = sorted(hides, key=lambda hide: (hide.cost, hide.key))
    found = []
    for cut in sorted(cuts, key=lambda cut: -cut.hide.cost):
        better = next((h for h in by_cost if free[h] > 0 and h.cost < cut.hide.cost and _holds(h, cut)), None)
        if better:
            free[better] -= 1
            if cut.hide in free:
                free[cut.hide] += 1
        found.append(replace(cut, hide=better or cut.hide))
    return found


def _holds(hide: Hide, cut: HideCut) -> bool:
    return cut.used_width <= hide.width and all(strip.used <= hide.length for strip in cut.strips)
