"""One piece as the rules look at it: what is cut out of it and what stands out on it."""

from collections.abc import Iterable

from service.shop.goods import Nm
from service.strap.model.job import Job
from service.strap.model.pattern import Feature, Piece, Purpose
from service.strap.plane.geometry import Capsule, disc, slot
from service.values import dataclass

DECORATION: tuple[Purpose, ...] = ("ornament", "between", "border")


@dataclass(frozen=True, slots=True)
class Shape:
    """A feature with what it cuts or covers, from `left` to `right` along the piece and from `top` to `bottom`."""

    left: float
    right: float
    top: float
    bottom: float
    purpose: Purpose
    capsule: Capsule
    feature: Feature


class Surface:
    """A piece of a job, its shapes worked out once for whichever rules look at them.

    `cuts` are its holes and slots, `ornaments` what decorates it, `kept_inside` those of them that may not stand out
    over the edge, and `caps` whatever else stands out on it.
    """

    def __init__(self, piece: Piece, job: Job) -> None:
        self.piece = piece
        self.job = job
        self.cuts: list[Shape] = []
        self.ornaments: list[Shape] = []
        self.kept_inside: list[Shape] = []
        self.caps: list[Shape] = []
        goods = job.shop.ornaments
        for feature in piece.features:
            if feature.action == "punch":
                self.cuts.append(_cut(feature))
            if feature.footprint:
                shape = _round(feature, feature.footprint)
                if feature.purpose not in DECORATION:
                    self.caps.append(shape)
                else:
                    self.ornaments.append(shape)
                    if not goods[str(feature.item)].overhang:
                        self.kept_inside.append(shape)


def cut_shape(feature: Feature) -> Capsule:
    """What a hole or slot cuts away."""
    if feature.kind == "slot":
        return slot(feature.x, feature.y, feature.long, feature.across, feature.angle)
    return disc(feature.x, feature.y, feature.across)


def outermost(shapes: Iterable[Shape]) -> list[Shape]:
    """Of alike shapes in one row along the piece the first and the last.

    None between them comes nearer to the outline, which is widest in its middle, nor to what lies over an end.
    """
    rows: dict[tuple[object, ...], list[Shape]] = {}
    for shape in shapes:
        alike = (shape.purpose, shape.top, shape.bottom, shape.right - shape.left)
        row = rows.get(alike)
        if row is None:
            rows[alike] = [shape, shape]
        elif shape.left < row[0].left:
            row[0] = shape
        elif shape.left > row[1].left:
            row[1] = shape
    return [shape for row in rows.values() for shape in row]


def _cut(feature: Feature) -> Shape:
    if feature.kind != "slot":
        return _round(feature, feature.across)
    capsule = cut_shape(feature)
    y1, y2, radius = capsule.y1, capsule.y2, capsule.radius
    top, bottom = (y1, y2) if y1 < y2 else (y2, y1)
    return Shape(
        capsule.x1 - radius, capsule.x2 + radius, top - radius, bottom + radius, feature.purpose, capsule, feature
    )


def _round(feature: Feature, diameter: Nm) -> Shape:
    x, y, radius = feature.x, feature.y, diameter / 2
    capsule = Capsule(x, y, x, y, radius)
    return Shape(x - radius, x + radius, y - radius, y + radius, feature.purpose, capsule, feature)
