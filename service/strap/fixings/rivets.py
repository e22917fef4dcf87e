"""Holes for rivets: of a joint, of a turned-back end, of a keeper's lap."""

from service.shop.goods import Nm
from service.strap.model.holding import Holding
from service.strap.model.pattern import Feature, PieceName, Purpose


def rivet(held: Holding, piece: PieceName, purpose: Purpose, n: int, x: Nm, mates: tuple[str, ...]) -> Feature:
    """A hole for the fastener that is held there, on the centre line."""
    fastener, cut = held.fastener, held.cut
    return Feature(
        id=f"{piece}.{purpose}.{n}",
        kind="hole",
        action="punch",
        purpose=purpose,
        x=x,
        diameter=cut.length,
        tool=cut.tool,
        item=fastener.id,
        footprint=fastener.cap_diameter,
        mates=mates,
    )
