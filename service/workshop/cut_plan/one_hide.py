"""A batch out of hides of one size.

It falls apart without loss: pieces of each width into the fewest strips, since all strips are equally long, and
then strips into the fewest hides.
"""

from collections import defaultdict
from collections.abc import Mapping

from service.workshop.cut_plan.bars import Bars, Pattern
from service.workshop.cut_plan.batch import Hide, HideCut, Solved, StripCut, Wanted, bars_of, strip_of
from service.workshop.cut_plan.effort import Effort
from service.workshop.cut_plan.one_size import Packed, pack


def solve_one_size(wanted: Wanted, hide: Hide, effort: Effort) -> Solved:
    """The fewest hides of this size, as many as it takes; every piece has to fit."""
    strips: dict[int, list[StripCut]] = {}
    least: dict[int, int] = {}
    widths = sorted(wanted, reverse=True)
    for done, width in enumerate(widths):
        bars = bars_of(wanted[width], hide.length)
        packed = pack(bars, effort.share(len(widths) - done + 1))
        strips[width] = [strip_of(width, bars.sizes, pattern) for pattern in packed.patterns]
        least[width] = packed.bound
    packed = _hides({width: len(found) for width, found in strips.items()}, hide, effort)
    bound = packed.bound
    if any(least[width] < len(strips[width]) for width in widths):
        bound = _hides(least, hide, effort).bound
    return Solved(_dealt(packed, widths, strips, hide), bound * hide.cost)


def _hides(counts: Mapping[int, int], hide: Hide, effort: Effort) -> Packed:
    widths = sorted(counts, reverse=True)
    return pack(Bars(tuple(widths), tuple(counts[width] for width in widths), hide.width), effort)


def _dealt(packed: Packed, widths: list[int], strips: Mapping[int, list[StripCut]], hide: Hide) -> tuple[HideCut, ...]:
    """The strips dealt out to the hides by the hides' patterns."""
    left = defaultdict(list, {width: list(reversed(found)) for width, found in strips.items()})
    return tuple(HideCut(hide, tuple(_taken(pattern, widths, left))) for pattern in packed.patterns)


def _taken(pattern: Pattern, widths: list[int], left: dict[int, list[StripCut]]) -> list[StripCut]:
    return [left[width].pop() for width, count in zip(widths, pattern, strict=True) for _ in range(count)]
