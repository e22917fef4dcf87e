"""Which of the shop's irons cuts an edge, if one does."""

from service.shop.goods import CutEdgeShape, EdgeIron, Nm
from service.shop.shop import Shop
from service.strap.model.spec_edges import Edge


def iron_meant(edge: Edge, shop: Shop) -> EdgeIron | None:
    """The iron that an edge names; else the first of its shape with all the measures that it says."""
    if edge.iron is not None:
        return shop.edge_irons.get(edge.iron)
    alike = (iron for iron in shop.edge_irons.values() if iron.shape == edge.shape)
    return next(
        (iron for iron in alike if edge.repeat in (None, iron.repeat) and edge.depth in (None, iron.depth)), None
    )


def stretch(iron: EdgeIron, repeat: Nm) -> Nm:
    """By how much a repeat that came out so long is longer or shorter than the iron's."""
    return abs(repeat - iron.repeat)


def most_stretch(iron: EdgeIron, shop: Shop) -> Nm:
    """How much of that the shop takes up from blow to blow."""
    return round(iron.repeat * shop.rules.edge_stretch)


def iron_for(shape: CutEdgeShape, repeat: Nm, depth: Nm, shop: Shop) -> EdgeIron | None:
    """The iron that comes nearest to repeats that came out so long, if it is near enough."""
    irons = [iron for iron in shop.edge_irons.values() if (iron.shape, iron.depth) == (shape, depth)]
    near = min(irons, key=lambda iron: stretch(iron, repeat), default=None)
    return near if near and stretch(near, repeat) <= most_stretch(near, shop) else None
