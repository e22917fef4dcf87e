"""Parts of a spec about its leather: strips lapped to one, and keepers round it between the ornaments."""

from typing import Literal

from service.shop.goods import Nm
from service.values import dataclass

Splicing = Literal["allowed", "none"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Splices:
    """So many laps, each with so many lines of stitches along the strap; no `count`: as few as the leather allows."""

    count: int | None = None
    stitch_lines: int | None = None


Gaps = tuple[int, int, int]
"""From one gap to another, every so many; gap 1 lies between the first two ornaments."""


@dataclass(frozen=True, slots=True, kw_only=True)
class KeepersBetween:
    """Loops of leather round the strap, and what lies behind it, in the middle of the gaps between its ornaments.

    One in `every` so many gaps, or in those of `gaps`; `width` is that of each loop, along the strap.
    """

    every: int | None = None
    gaps: tuple[Gaps, ...] | None = None
    width: Nm | None = None
