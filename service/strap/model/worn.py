"""What the tip of a buckled strap lies on, at each size hole."""

from typing import Literal

from service.shop.goods import Nm
from service.values import dataclass

TipLies = Literal["raised", "flat", "through"]
"""The tip cannot lie down on what is raised, lies on what is flat, and passes through a ring that is wide enough."""
TOUCH: Nm = 1_000_000
"""A tip that reaches less far than this over a rim only touches it, and bends aside (from memory)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Covered:
    """What the tip lies on: a feature by its id, or `lead_ring`. `by` is how far the tip reaches past its near rim."""

    at: str
    item: str
    by: Nm
    lies: TipLies
    severity: Literal["fault", "warning"]

    @property
    def keeps_up(self) -> bool:
        """Whether the tip cannot lie down there."""
        return self.lies == "raised" and self.by >= TOUCH


@dataclass(frozen=True, slots=True, kw_only=True)
class Worn:
    """What the tip covers when the strap is buckled at one size hole, the nearest to the bar first."""

    hole: int
    covers: tuple[Covered, ...]

    @property
    def lies_down(self) -> bool:
        """Whether the tip can lie down at this hole."""
        return not any(each.keeps_up for each in self.covers)
