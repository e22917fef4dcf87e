"""What holds two plies on one another: a turned-back end, or a billet on a body."""

from service.shop.goods import Fastener, Nm
from service.shop.shop import Rules
from service.strap.model.hardware import Cut
from service.values import dataclass


@dataclass(frozen=True, slots=True)
class Holding:
    """A fastener through each pair of holes that are `cut` for it, or lines of stitches in their place."""

    fastener: Fastener
    cut: Cut
    is_stitched: bool = False

    def half(self, rules: Rules) -> Nm:
        """How far it reaches to each side along the strap: half a cap, or what a stitch keeps clear."""
        return rules.stitch_clear if self.is_stitched else self.fastener.cap_diameter // 2
