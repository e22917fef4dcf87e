"""What is set on a strap, and how it is fixed."""

from dataclasses import dataclass
from decimal import Decimal
from typing import Literal

from service.shop.fixings import Fixing
from service.shop.goods import Nm


@dataclass(frozen=True, slots=True, kw_only=True)
class Ornament:
    """Something set on the strap. Seen from the front it is a disc of `diameter`."""

    id: str
    title: str
    family: Literal["bell", "spot", "concho"]
    diameter: Nm
    height: Nm
    fixing: Fixing
    overhang: bool
    """Whether it may stand out over the strap's edge."""
    mass_mg: int
    price: Decimal
    colour: str
    picture: str | None = None
    """File name of the shop's own picture of it, for the finished look."""
