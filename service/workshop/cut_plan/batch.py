"""What one leather's plan is worked out from, and what comes out, as whole numbers without names.

Sizes here are net: trims are taken off hides, and a kerf is added to both things and hides (see `bars`).
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from itertools import compress

from service.workshop.cut_plan.bars import Bars, Pattern


@dataclass(frozen=True, slots=True)
class Hide:
    """A size of hide: `count` of them, each at a `cost` (its whole area). `key` finds it again."""

    length: int
    width: int
    count: int
    cost: int
    key: int


Lengths = Mapping[int, int]
"""How many pieces of each length."""
Wanted = Mapping[int, Lengths]
"""The pieces of a batch: for each width how many of each length."""


@dataclass(frozen=True, slots=True)
class StripCut:
    """One strip: its width, and the lengths of the pieces that come out of it."""

    width: int
    lengths: tuple[int, ...]

    @property
    def used(self) -> int:
        """The length that its pieces take."""
        return sum(self.lengths)


@dataclass(frozen=True, slots=True)
class HideCut:
    """One hide and the strips that come out of it."""

    hide: Hide
    strips: tuple[StripCut, ...]

    @property
    def used_width(self) -> int:
        """The width that its strips take."""
        return sum(strip.width for strip in self.strips)


@dataclass(frozen=True, slots=True)
class Solved:
    """Hides cut, and a cost that no plan is below."""

    cuts: tuple[HideCut, ...]
    bound: int

    @property
    def cost(self) -> int:
        """The cost of all hides that are cut."""
        return sum(cut.hide.cost for cut in self.cuts)


def bars_of(lengths: Lengths, capacity: int) -> Bars:
    """The pieces of one width as a problem of bars; every one has to fit."""
    sizes = tuple(sorted(lengths, reverse=True))
    return Bars(sizes, tuple(lengths[size] for size in sizes), capacity)


def strip_of(width: int, sizes: Sequence[int], pattern: Pattern) -> StripCut:
    """A pattern as a strip, longest piece first."""
    things = compress(zip(sizes, pattern, strict=True), pattern)
    return StripCut(width, tuple(size for size, count in things for _ in range(count)))


def piece_count(wanted: Wanted) -> int:
    """How many pieces a batch has."""
    return sum(sum(lengths.values()) for lengths in wanted.values())
