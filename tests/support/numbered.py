"""A shop that owns every bell by the founders' numbers, laced and riveted, and strips for the longest harness."""

from dataclasses import replace

from service.shop.fixings import Rivet, Shank
from service.shop.ornaments import Ornament
from service.shop_file import demo_shop
from service.strap.plane.lengths import INCH, MM

DEMO = demo_shop()
SIZES = {number: INCH + number * INCH // 8 for number in range(13)} | {
    14: 3 * INCH,
    16: 3 * INCH + INCH // 8,
    18: 3 * INCH + INCH // 4,
}
"""Diameters: 0 is 1 in, then 1/8 in a number up to 12, which is 2 1/2 in; 14 is about 3 in, 18 is 3 1/4 in.

Published by restorers of harness bells. That of 16 is not published: this shop's own lies between its neighbours.
"""
RIVETED = "_riveted"
"""Ends the id of a bell that has a hole in place of a shank: one that is sold for two fixings has an id for each."""


def bell(number: int, *, riveted: bool = False) -> Ornament:
    """The bell of a number. Shank, base, mass and price are this shop's own."""
    size = SIZES[number]
    shank = Shank(width=size // 3, thickness=3 * MM, height=11 * MM, direction="across")
    return replace(
        DEMO.ornaments["bell_38"],
        id=f"no_{number}{RIVETED if riveted else ''}",
        title=f"bell no. {number}{', riveted' if riveted else ''}",
        diameter=size,
        height=size - MM,
        fixing=Rivet(hole=32 * MM // 10, base=MM) if riveted else shank,
    )


_BELLS = [bell(number, riveted=riveted) for riveted in (False, True) for number in SIZES]
NUMBERED = replace(
    DEMO,
    ornaments={each.id: each for each in _BELLS} | {k: v for k, v in DEMO.ornaments.items() if not k.startswith("no_")},
    leathers={name: replace(each, strip_length=180 * INCH) for name, each in DEMO.leathers.items()},
    limits=replace(DEMO.limits, length_max=180 * INCH, ornaments_max=100),
)
"""The shop: up to 180 in and 100 ornaments in a row."""
