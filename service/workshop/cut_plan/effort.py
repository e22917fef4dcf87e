"""How much work a plan may take: time handed in from above, and counts of work that bound it by arithmetic.

Counts come first: they are reached at the same place in every run, so that equal input gives equal output.
Time only cuts in where a machine is too slow for the counts.
"""

from collections.abc import Callable
from dataclasses import dataclass, field


@dataclass(slots=True)
class Effort:
    """The time that is left, in seconds, asked from `clock_left`; `cut_short` tells whether it ever ran out."""

    clock_left: Callable[[], float]
    keep: float = 0.0
    """Seconds that are kept for others."""
    cut_short: bool = field(default=False)

    def left(self) -> float:
        """Seconds left for this part of the work, never below 0."""
        return max(0.0, self.clock_left() - self.keep)

    def over(self) -> bool:
        """Whether to stop now; remembered in `cut_short`."""
        if self.left() > 0:
            return False
        self.cut_short = True
        return True

    def share(self, parts: int) -> "Effort":
        """An equal share of what is left for one of so many parts that are still to be done."""
        return Effort(self.clock_left, keep=self.keep + self.left() * (parts - 1) / parts)


GRID_CELLS = 12_000
"""Cells of the lattice that a knapsack is solved on, at most."""
GRID_WORK = 4_000_000
"""Cells times different sizes, at most: memory and time of one knapsack follow from it."""
TABLE_CELLS = 1_000_000
"""Different sizes times bars, at most; beyond it a quick packing stands as it is."""
PATTERNS_ENUMERATED = 4000
"""With no more patterns than this they are all listed and the problem is solved once, whole."""
PRICING_ROUNDS = 150
"""Rounds of column generation, at most."""
MIP_NODES = 300
"""Nodes of one branch-and-bound search, at most."""
SHARINGS = 5000
"""Pairs of bars that are shared out anew, at most."""
ATTEMPTS = 60
"""Sets of hides of several sizes that are tried one after another, at most."""
COMBINATIONS = 5000
"""Sets or sums of hides of several sizes that are listed, at most."""
ROWS = 600
"""Rows of one program; beyond it the bound is left to quicker means."""
GATHERINGS = 2000
"""Pairs of hides whose strips are dealt out anew, at most."""
WAYS_LISTED = 300
"""With no more ways of cutting hides of several sizes than this they are all listed and solved once, whole."""
WAYS_SOLVED = 400
"""Ways of cutting hides of several sizes that are solved in whole numbers though they are not all, at most."""
