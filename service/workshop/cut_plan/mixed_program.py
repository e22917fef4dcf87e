"""The covering program for hides of several sizes, and the bound that its prices give.

Rows, all 'at least': each piece size is made as often as wanted; of each strip length and width the hides yield no
fewer strips than are cut up; of each width no fewer strips are cut than the longest hide would need; of each size
of hide no more are cut than there are (written with both signs turned).
"""

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction
from functools import partial
from math import ceil

from service.workshop.cut_plan.bars import Pattern, lower_bound
from service.workshop.cut_plan.batch import Hide, Wanted, bars_of
from service.workshop.cut_plan.knapsack import Lattice, full_patterns, lattice, most_valuable, value_bound
from service.workshop.cut_plan.linear import Column
from service.workshop.cut_plan.pricing import PRICE_SCALE

_TIGHT = 1e-6


@dataclass(frozen=True, slots=True)
class StripWay:
    """A strip `length` × `width` cut into pieces by a pattern of that width's piece lengths."""

    length: int
    width: int
    pattern: Pattern


@dataclass(frozen=True, slots=True)
class HideWay:
    """A hide cut into strips by a pattern of the batch's widths."""

    hide: Hide
    pattern: Pattern


Way = StripWay | HideWay


@dataclass(frozen=True, slots=True)
class _Table:
    """What one strip length and width, or one size of hide, may be filled with."""

    sizes: tuple[int, ...]
    copies: tuple[int, ...]
    capacity: int
    grid: Lattice


def row_count(wanted: Wanted, hides: Sequence[Hide]) -> int:
    """How many rows the program has at most, to be known before it is made."""
    pieces = sum(len(lengths) for lengths in wanted.values())
    return pieces + (len({hide.length for hide in hides}) + 2) * len(wanted) + len(hides)


class MixedProgram:
    """Rows and columns by name. `spare` is the hide of which there are always more."""

    def __init__(self, wanted: Wanted, hides: Sequence[Hide], spare: Hide) -> None:
        self.wanted = wanted
        self.hides = (*hides, spare)
        self.spare = spare
        self.widths = tuple(sorted(wanted, reverse=True))
        self.sizes = {width: tuple(sorted(wanted[width], reverse=True)) for width in self.widths}
        self.unit = max(hide.cost for hide in hides) if hides else spare.cost
        lengths = sorted({hide.length for hide in self.hides}, reverse=True)
        self.strips = {
            (length, width): self._strip_table(length, width)
            for length in lengths
            for width in self.widths
            if self.sizes[width][-1] <= length
        }
        self.tables = {hide: self._hide_table(hide) for hide in self.hides}
        self._rows: dict[tuple[object, ...], int] = {}
        self.least = [float(value) for value in self._named_rows()]

    def _strip_table(self, length: int, width: int) -> _Table:
        sizes = self.sizes[width]
        copies = tuple(self.wanted[width][size] if size <= length else 0 for size in sizes)
        return _Table(sizes, copies, length, lattice(sizes, length))

    def _hide_table(self, hide: Hide) -> _Table:
        pieces = [sum(self.wanted[width].values()) for width in self.widths]
        copies = tuple(
            min(count, hide.width // width) if (hide.length, width) in self.strips else 0
            for width, count in zip(self.widths, pieces, strict=True)
        )
        return _Table(self.widths, copies, hide.width, lattice(self.widths, hide.width))

    def _named_rows(self) -> Iterator[int]:
        """The least value of each row, which gets its number by the way."""
        longest = max(hide.length for hide in self.hides)
        named: list[tuple[tuple[object, ...], int]] = [
            (("piece", width, size), self.wanted[width][size]) for width in self.widths for size in self.sizes[width]
        ]
        named += [(("strip", *key), 0) for key in self.strips]
        named += [(("width", width), lower_bound(bars_of(self.wanted[width], longest))) for width in self.widths]
        named += [(("hide", hide), -hide.count) for hide in self.hides if hide is not self.spare]
        for number, (name, value) in enumerate(named):
            self._rows[name] = number
            yield value

    def column(self, way: Way) -> Column:
        """A way of cutting as a column."""
        return self._strip_column(way) if isinstance(way, StripWay) else self._hide_column(way)

    def _strip_column(self, way: StripWay) -> Column:
        entries = [
            (self._rows["piece", way.width, size], float(count))
            for size, count in zip(self.sizes[way.width], way.pattern, strict=True)
            if count
        ]
        entries += [(self._rows["strip", way.length, way.width], -1.0), (self._rows["width", way.width], 1.0)]
        return Column(0.0, *_columns(entries))

    def _hide_column(self, way: HideWay) -> Column:
        entries = [
            (self._rows["strip", way.hide.length, width], float(count))
            for width, count in zip(self.widths, way.pattern, strict=True)
            if count
        ]
        if way.hide is not self.spare:
            entries.append((self._rows["hide", way.hide], -1.0))
        return Column(way.hide.cost / self.unit, *_columns(entries))

    def every_way(self, most: int) -> list[Way] | None:
        """Every full way of cutting strips and hides, or `None` where there are more than `most`."""
        ways: list[Way] = []
        makers: list[tuple[_Table, Callable[[Pattern], Way]]] = [
            *((table, partial(StripWay, *key)) for key, table in self.strips.items()),
            *((table, partial(HideWay, hide)) for hide, table in self.tables.items()),
        ]
        for table, make in makers:
            patterns = full_patterns(table.sizes, table.copies, table.capacity, most - len(ways))
            if patterns is None or len(ways) + len(patterns) > most:
                return None
            ways += map(make, patterns)
        return ways

    def worth_adding(self, prices: Sequence[float]) -> list[Way]:
        """For each strip and each hide the way that gains most by the rows' prices, where one gains."""
        ways: list[Way] = []
        whole = [int(price * PRICE_SCALE) for price in prices]
        for (length, width), table in self.strips.items():
            pattern = most_valuable(table.grid, self._piece_prices(whole, width), table.copies)
            gain = _value(self._piece_prices(whole, width), pattern) + self._price(whole, "width", width)
            if gain > self._price(whole, "strip", length, width) + PRICE_SCALE * _TIGHT:
                ways.append(StripWay(length, width, pattern))
        for hide, table in self.tables.items():
            strips = [self._price(whole, "strip", hide.length, width) for width in self.widths]
            pattern = most_valuable(table.grid, strips, table.copies)
            if _value(strips, pattern) > self._worth(hide) + self._price(whole, "hide", hide) + PRICE_SCALE * _TIGHT:
                ways.append(HideWay(hide, pattern))
        return ways

    def bound(self, prices: Sequence[float]) -> int:
        """A cost that no plan is below: what the rows are worth by these prices, made to keep every hide's cost.

        The prices of strips are set anew to what can come out of a strip; then all are scaled, one size of hide
        after another, until a hide yields no more than it costs; what the others still yield above their cost is
        taken off for each of them that there is. Whole numbers and fractions only.
        """
        whole = [int(price * PRICE_SCALE) for price in prices]
        strips = {
            (length, width): value_bound(table.grid, self._piece_prices(whole, width), table.copies)
            + self._price(whole, "width", width)
            for (length, width), table in self.strips.items()
        }
        yields = {
            hide: value_bound(table.grid, [strips.get((hide.length, w), 0) for w in self.widths], table.copies)
            for hide, table in self.tables.items()
        }
        worth = sum(price * int(least) for price, least in zip(whole, self.least, strict=True) if least > 0)
        return max((self._scaled(worth, yields, scale) for scale in self._scales(yields)), default=0)

    def _scales(self, yields: Mapping[Hide, int]) -> list[Fraction]:
        scales = [Fraction(self._worth(hide), value) for hide, value in yields.items() if value]
        most = min(Fraction(1), *(Fraction(self._worth(self.spare), yields[self.spare] or 1),))
        return sorted({min(scale, most) for scale in scales}) if scales else []

    def _scaled(self, worth: int, yields: Mapping[Hide, int], scale: Fraction) -> int:
        over = sum(
            hide.count * max(Fraction(0), scale * yields[hide] - self._worth(hide))
            for hide in self.hides
            if hide is not self.spare
        )
        return ceil((scale * worth - over) * self.unit / PRICE_SCALE)

    def _piece_prices(self, whole: Sequence[int], width: int) -> list[int]:
        return [whole[self._rows["piece", width, size]] for size in self.sizes[width]]

    def _price(self, whole: Sequence[int], *name: object) -> int:
        row = self._rows.get(name)
        return 0 if row is None else whole[row]

    def _worth(self, hide: Hide) -> int:
        """A hide's cost on the scale of prices, rounded down."""
        return hide.cost * PRICE_SCALE // self.unit


def _columns(entries: Sequence[tuple[int, float]]) -> tuple[tuple[int, ...], tuple[float, ...]]:
    return tuple(row for row, _ in entries), tuple(value for _, value in entries)


def _value(prices: Sequence[int], pattern: Sequence[int]) -> int:
    return sum(price * count for price, count in zip(prices, pattern, strict=True))
