"""One piece as the rules look at it: what is cut out of it and what covers it."""

from dataclasses import dataclass
from functools import cached_property
from typing import NamedTuple

from service.strap.model.job import Job
from service.strap.model.pattern import Feature, Piece, Purpose
from service.strap.plane.geometry import Capsule, disc, slot

DECORATION: tuple[Purpose, ...] = ("ornament", "between", "border")


class Shape(NamedTuple):
    """A feature with what it cuts or covers, from `left` to `right` along the piece and from `top` to `bottom`."""

    left: float
    right: float
    top: float
    bottom: float
    purpose: Purpose
    capsule: Capsule
    feature: Feature


@dataclass(frozen=True)
class Surface:
    """A piece of a job; its shapes are worked out once, for whichever rules ask for them."""

    piece: Piece
    job: Job

    @cached_property
    def cuts(self) -> list[Shape]:
        """Every hole and slot."""
        return [_shape(feature, cut_shape(feature)) for feature in self.piece.features if feature.action == "punch"]

    @cached_property
    def covers(self) -> list[Shape]:
        """Everything that stands out on it."""
        return [
            _shape(feature, disc(feature.x, feature.y, feature.footprint))
            for feature in self.piece.features
            if feature.footprint
        ]

    @cached_property
    def ornaments(self) -> list[Shape]:
        """What decorates it."""
        return [shape for shape in self.covers if shape.purpose in DECORATION]

    @cached_property
    def caps(self) -> list[Shape]:
        """The caps of its rivets."""
        return [shape for shape in self.covers if shape.purpose not in DECORATION]

    @cached_property
    def kept_inside(self) -> list[Shape]:
        """Ornaments that may not stand out over the edge."""
        goods = self.job.shop.ornaments
        return [shape for shape in self.ornaments if not goods[str(shape.feature.item)].overhang]


def cut_shape(feature: Feature) -> Capsule:
    """What a hole or slot cuts away."""
    if feature.kind == "slot":
        return slot(feature.x, feature.y, feature.long, feature.across, feature.angle)
    return disc(feature.x, feature.y, feature.across)


def _shape(feature: Feature, capsule: Capsule) -> Shape:
    radius = capsule.radius
    top, bottom = (capsule.y1, capsule.y2) if capsule.y1 < capsule.y2 else (capsule.y2, capsule.y1)
    return Shape(
        capsule.x1 - radius, capsule.x2 + radius, top - radius, bottom + radius, feature.purpose, capsule, feature
    )
