"""How far along a piece a thing that is cut, set or folded there reaches into the leather or lies on it."""

from collections.abc import Mapping

from service.shop.goods import Nm
from service.shop.ornaments import Ornament
from service.strap.model.pattern import Feature


def touches(feature: Feature, goods: Mapping[str, Ornament]) -> Nm:
    """From its middle to both sides, along the piece.

    A bell is round, and touches the leather only where it is fixed; all else that is set lies flat on it.
    """
    item = goods.get(feature.item or "")
    lies_flat = item is None or item.family != "bell"
    return max(_cut_to(feature), feature.footprint // 2 if lies_flat else 0)


def _cut_to(feature: Feature) -> Nm:
    across = feature.kind == "slot" and feature.angle == 90
    return (feature.diameter or (feature.width if across else feature.length) or 0) // 2
