"""Where an edging lies along the edges of a body."""

from service.shop.goods import Leather, Nm
from service.strap.model.spec_edges import EdgingLies
from service.strap.plane.teeth import CutEdge
from service.values import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class EdgingAt:
    """What stands out along the long edges of a body, from `start` to `end` along it: `reach` beyond them.

    It reaches `hold` inside the edges, and its outer edge is `cut` if it is not straight.
    """

    start: Nm
    end: Nm
    reach: Nm
    hold: Nm
    lies: EdgingLies
    cut: CutEdge | None
    leather: Leather
