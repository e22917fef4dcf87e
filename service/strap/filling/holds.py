"""What holds each end, where an end says so: rivets, screws or stitches."""

from dataclasses import dataclass, replace

from service.shop.goods import Fastener
from service.shop.shop import Shop
from service.strap.model.hardware import Stack, fitting_fasteners, hole_for, likest_fastener
from service.strap.model.holding import Holding
from service.strap.model.plies import Plies, kept_fold, stack
from service.strap.model.spec import Hold


@dataclass(frozen=True, slots=True)
class Holds:
    """What a strap's joints and folds are held by where its ends say nothing of it."""

    joint: Holding
    fold: Holding
    plies: Plies
    lap: Stack
    """The two ends of a keeper, one on the other."""
    shop: Shop

    def of_joint(self, asked: Hold | None) -> Holding:
        """What joins a billet to the body."""
        return self._as_asked(self.joint, asked, stack(self.plies.joint))

    def of_fold(self, asked: Hold | None) -> Holding:
        """What holds a turned-back end."""
        return self._as_asked(self.fold, asked, stack(self.plies.fold))

    def of_kept_fold(self, asked: Hold | None) -> Holding:
        """What holds it where the two ends of a fixed keeper lie in it: the likest that holds all four plies."""
        plies = kept_fold(self.plies, self.lap)
        usual = likest_fastener(plies, self.shop, self.fold.fastener)
        return self._as_asked(held_by(usual, self.shop, is_stitched=self.fold.is_stitched), asked, plies)

    def _as_asked(self, usual: Holding, asked: Hold | None, plies: Stack) -> Holding:
        if asked is None:
            return usual
        if asked != "screws":
            return replace(usual, is_stitched=asked == "stitches")
        fitting = fitting_fasteners(plies, self.shop, usual.fastener)
        screws = [each for each in (*fitting, *self.shop.fasteners.values()) if each.is_screw]
        return held_by(screws[0] if screws else usual.fastener, self.shop)


def held_by(fastener: Fastener, shop: Shop, *, is_stitched: bool = False) -> Holding:
    """A fastener with the hole that its post goes through."""
    return Holding(fastener, hole_for(fastener.post_diameter, shop.rules.hole_ease, shop), is_stitched)
