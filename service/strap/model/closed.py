"""A strap that is closed: how long it is at each of its holes, and which girth fits there."""

from typing import NamedTuple

from service.shop.goods import Nm
from service.values import dataclass


class HoleLength(NamedTuple):
    """The finished length when closed at one size hole, or on one stud, and the girth that fits there.

    Hole 1 is the nearest to the buckle: the tightest.
    """

    hole: int
    length: Nm
    fits: Nm


@dataclass(frozen=True, slots=True)
class Joined:
    """A strap with its joining strap, closed at the same hole at both ends: its length all round, and what fits.

    Hole 1 is the nearest to the joining strap's middle: the tightest.
    """

    holes: tuple[HoleLength, ...]

    @property
    def least(self) -> Nm:
        """How long it is all round at the innermost holes."""
        return self.holes[0].length

    @property
    def most(self) -> Nm:
        """How long it is all round at the outermost holes."""
        return self.holes[-1].length
