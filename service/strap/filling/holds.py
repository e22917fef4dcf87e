"""What holds each end, where an end says so: rivets, screws or stitches."""

from dataclasses import dataclass, replace

from service.shop.goods import Fastener, Leather
from service.shop.shop import Shop
from service.strap.model.hardware import fitting_fasteners, hole_for
from service.strap.model.holding import Holding
from service.strap.model.plies import Plies, stack
from service.strap.model.spec import Hold


@dataclass(frozen=True, slots=True)
class Holds:
    """What a strap's joints and folds are held by where its ends say nothing of it."""

    joint: Holding
    fold: Holding
    plies: Plies
    shop: Shop

    def of_joint(self, asked: Hold | None) -> Holding:
        """What joins a billet to the body."""
        return self._as_asked(self.joint, asked, self.plies.joint)

    def of_fold(self, asked: Hold | None) -> Holding:
        """What holds a turned-back end."""
        return self._as_asked(self.fold, asked, self.plies.fold)

    def _as_asked(self, usual: Holding, asked: Hold | None, plies: tuple[Leather, ...]) -> Holding:
        if asked is None:
            return usual
        if asked != "screws":
            return replace(usual, is_stitched=asked == "stitches")
        fitting = fitting_fasteners(stack(plies), self.shop, usual.fastener)
        screws = [each for each in (*fitting, *self.shop.fasteners.values()) if each.is_screw]
        return held_by(screws[0] if screws else usual.fastener, self.shop)


def held_by(fastener: Fastener, shop: Shop, *, is_stitched: bool = False) -> Holding:
    """A fastener with the hole that its post goes through."""
    return Holding(fastener, hole_for(fastener.post_diameter, shop.rules.hole_ease, shop), is_stitched)
