"""Whether a fixing fits the leather that it goes through: a prong clinches, a shank is laced, a post spans it."""

from collections.abc import Iterable
from typing import NamedTuple

from service.shop.goods import Nm, Ornament, Prongs, Shank
from service.shop.shop import Rules
from service.strap.model.hardware import Stack


class Reach(NamedTuple):
    """What a fixing has, and the least and the most that it may be, over the leather's whole range of thickness.

    Both are pairs of a figure and its limit.
    """

    least: tuple[Nm, Nm]
    most: tuple[Nm, Nm] | None = None

    @property
    def holds(self) -> bool:
        """Whether it keeps both."""
        return self.least[0] >= self.least[1] and (self.most is None or self.most[0] <= self.most[1])


def reach(item: Ornament, leather: Stack, rules: Rules) -> Reach:
    """Of prongs and of a shank what stands out behind the leather; of a screw post what it has to span."""
    fixing = item.fixing
    if isinstance(fixing, Prongs):
        return Reach(
            (fixing.length - leather.thick, rules.clinch_min), (fixing.length - leather.thin, rules.clinch_max)
        )
    if isinstance(fixing, Shank):
        return Reach((fixing.height - leather.thick, rules.lace_thickness))
    return Reach((leather.thin, fixing.grip_min), (leather.thick, fixing.grip_max))


def holds_through(items: Iterable[Ornament], leather: Stack, rules: Rules) -> bool:
    """Whether every one of these holds in this leather."""
    different = {item.id: item for item in items}.values()
    return all(reach(item, leather, rules).holds for item in different)
