"""Lengths as answers have them: a number of millimetres, and what a person reads off a ruler."""

from functools import lru_cache

from service.shop.goods import Nm
from service.shop.shop import Units
from service.strap.plane.lengths import exact_text, millimetres, reading

_KEPT = 16_384
"""Different lengths; straps of one shop share most of theirs."""

mm = lru_cache(maxsize=_KEPT)(millimetres)
"""A length as a number of millimetres."""
read = lru_cache(maxsize=_KEPT)(reading)
"""A length as its reading in some units."""
exact = lru_cache(maxsize=_KEPT)(exact_text)
"""A length as the text that is read back as exactly this."""


def pair(name: str, length: Nm, units: Units) -> dict[str, float | str]:
    """One length under two names: `x_mm` as a number of millimetres, `x` as its reading in `units`."""
    return {name + "_mm": mm(length), name: read(length, units)}
