"""A strap that joins the two buckles of another, filled in for one job."""

from service.shop.goods import Buckle, Nm
from service.strap.plane.outline import EndForm
from service.values import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class Joining:
    """A strap that joins two buckles: its tips' form, and the row of holes behind each for the wider prong.

    Either its own `length` is given, or what it `adds` between the bars at its outermost holes.
    """

    width: Nm
    form: EndForm
    count: int
    spacing: Nm
    adds: Nm | None
    length: Nm | None
    hole_diameter: Nm | None
    prong_of: Buckle
