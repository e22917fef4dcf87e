"""The keepers at a buckle: how many, how they are held, and how far they reach along the strap."""

from service.shop.goods import Nm
from service.shop.shop import Rules
from service.strap.model.holding import Holding
from service.strap.model.pattern import PieceName
from service.values import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class Loops:
    """So many `loose` keepers beside the frame, then so many `fixed` ones in what is turned back, all of one width.

    `piece` is what the blank of the fixed ones is called. Where the fold is riveted, each lies over one of its rivets,
    with both its ends in the fold: `hold` is what goes through all of that. Where it is stitched, its ends meet under
    it, and each is sewn in.
    """

    width: Nm
    loose: int
    fixed: int
    piece: PieceName
    hold: Holding

    def room(self, rules: Rules) -> Nm:
        """What the loose ones take beside the frame."""
        return self.loose * (self.width + rules.hardware_clear)

    def before(self, rules: Rules) -> Nm:
        """How far towards the bar a fixed one reaches from what holds the fold first, with its room beside the frame.

        That is the rivet beneath its middle, or the beginning of the seam.
        """
        if not self.fixed:
            return 0
        return rules.hardware_clear + (0 if self.hold.is_stitched else self.width // 2)

    def behind(self) -> Nm:
        """How far the nearest fixed one reaches the other way from there."""
        return self.width if self.hold.is_stitched else self.width // 2

    def middles(self, spacing: Nm) -> tuple[Nm, ...]:
        """Where the fixed ones have their middles, from there on: at rivets, or as far apart as rivets would be."""
        first = self.width // 2 if self.hold.is_stitched else 0
        return tuple(first + n * spacing for n in range(self.fixed))


def half_hold(hold: Holding, loops: Loops | None, rules: Rules) -> Nm:
    """How far what holds a fold reaches towards the bar: half a cap, what a stitch keeps clear, or a fixed keeper."""
    return max(hold.half(rules), loops.before(rules) if loops else 0)
