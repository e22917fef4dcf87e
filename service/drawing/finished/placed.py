"""What is set on a strap made up, each thing at its place. Millimetres."""

from dataclasses import dataclass

from service.drawing.finished.ply import Ply
from service.shop.goods import Buckle, Ring
from service.strap.model.pattern import Feature
from service.strap.plane.lengths import MM


@dataclass(frozen=True, slots=True)
class Placed:
    """A feature of the pattern that is seen from the front, at its place on the made-up strap."""

    feature: Feature
    ply: Ply
    x: float
    y: float


@dataclass(frozen=True, slots=True)
class PlacedRing:
    """A ring, its rail's axis at `x`; `side` is -1 where it hangs out to the left, 1 to the right."""

    ring: Ring
    x: float
    side: int


@dataclass(frozen=True, slots=True, kw_only=True)
class PlacedBuckle:
    """A buckle, its bar's axis at `x`, with its prong's slot; `side` is -1 where it lies out to the left."""

    buckle: Buckle
    x: float
    side: int
    slot: Placed

    def inwards(self, x: float) -> float:
        """How far a place lies from the bar towards the middle of the strap."""
        return -self.side * (x - self.x)


@dataclass(frozen=True, slots=True)
class PlacedKeeper:
    """The keeper: its middle, its width along the strap, half its own and half the strap's width across."""

    x: float
    width: float
    half: float
    strap_half: float


def radius(placed: Placed) -> float:
    """Half as wide as what is set there."""
    return placed.feature.footprint / MM / 2
