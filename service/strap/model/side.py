"""One side of a piece: where an end is on it, and the ply that is folded back there."""

from service.shop.goods import Nm
from service.strap.model.end_measures import TurnBack
from service.strap.model.pattern import PieceName, Placement
from service.values import dataclass

Plied = tuple[list[Placement], list[Placement]]
"""The plies behind a body and those before it."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Side:
    """Where an end is on a piece: at its origin, or, of a foot, at its far end.

    Features are numbered on from those of the piece's other end.
    """

    piece: PieceName
    length: Nm
    is_foot: bool = False
    n: int = 1
    first_joint: int = 1
    first_rivet: int = 1
    first_hole: int = 1

    def at(self, away: Nm) -> Nm:
        """The place that lies so far from the end."""
        return self.length - away if self.is_foot else away


def turned_ply(turn: TurnBack, side: Side, at: Nm) -> Placement:
    """The back ply of a piece that is folded at this side, and whose place 0 lies `at`, made up."""
    back = at + turn.landing + (2 * (side.length - turn.landing) if side.is_foot else 0)
    from_x, to_x = (side.length - turn.middle, side.length) if side.is_foot else (0, turn.middle)
    return Placement(piece=side.piece, offset=back, direction=-1, from_x=from_x, to_x=to_x, layer=0)
