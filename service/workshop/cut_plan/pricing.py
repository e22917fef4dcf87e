"""Column generation for bars of one capacity, with bounds reckoned in whole numbers.

Gilmore and Gomory, *A linear programming approach to the cutting-stock problem*, 1961 (from memory).
"""

from collections.abc import Sequence
from dataclasses import dataclass
from math import ceil

from service.workshop.cut_plan.bars import Bars, Pattern, ceil_div
from service.workshop.cut_plan.effort import PRICING_ROUNDS, Effort
from service.workshop.cut_plan.knapsack import Lattice, lattice, most_valuable, value_bound
from service.workshop.cut_plan.linear import Column, Program

PRICE_SCALE = 10**7
"""Prices are held as whole parts of this, so that a bound is exact whatever the solver's tolerances."""
_TIGHT = 1e-6


@dataclass(frozen=True, slots=True)
class Generated:
    """The patterns that were worth having, the program that they are columns of, and the bound of its prices."""

    patterns: tuple[Pattern, ...]
    program: Program
    bound: int


def generate(bars: Bars, start: Sequence[Pattern], effort: Effort) -> Generated:
    """Begin with `start` and add the most valuable pattern by the rows' prices until none gains anything."""
    patterns = list(dict.fromkeys(start))
    program = Program([float(count) for count in bars.counts], [cover_column(each) for each in patterns])
    grid = lattice(bars.sizes, bars.capacity)
    prices: list[int] = []
    for _ in range(PRICING_ROUNDS):
        relaxed = None if effort.over() else program.relax(effort)
        if relaxed is None:
            break
        prices = [int(price * PRICE_SCALE) for price in relaxed.prices]
        pattern = most_valuable(grid, prices, bars.counts)
        if _value(prices, pattern) <= PRICE_SCALE * (1 + _TIGHT):
            break
        program.add(cover_column(pattern))
        patterns.append(pattern)
    return Generated(tuple(patterns), program, priced_bound(bars, grid, prices))


def priced_bound(bars: Bars, grid: Lattice, prices: Sequence[int]) -> int:
    """The bound that prices give (Farley's): all that is wanted, over the most that one bar can hold of it."""
    most = value_bound(grid, prices, bars.counts) if prices else 0
    return ceil_div(_value(prices, bars.counts), most) if most else 0


def rounded_up(bound: float) -> int:
    """The least whole number that is not below a bound in floating point."""
    return ceil(bound - _TIGHT) if abs(bound) < 1e15 else 0


def _value(prices: Sequence[int], pattern: Sequence[int]) -> int:
    return sum(price * count for price, count in zip(prices, pattern, strict=True))


def cover_column(pattern: Pattern) -> Column:
    """A pattern as a column of the covering program: one row for each size, one bar as its cost."""
    rows = tuple(index for index, count in enumerate(pattern) if count)
    return Column(1.0, rows, tuple(float(pattern[index]) for index in rows))
