"""Lengths as answers have them: a number of millimetres, and what a person reads off a ruler."""

from service.shop.goods import Nm
from service.shop.shop import Units
from service.strap.plane.lengths import millimetres as mm
from service.strap.plane.lengths import reading as read

__all__ = ["mm", "pair", "read"]


def pair(name: str, length: Nm, units: Units) -> dict[str, float | str]:
    """One length under two names: `x_mm` as a number of millimetres, `x` as its reading in `units`."""
    return {name + "_mm": mm(length), name: read(length, units)}
