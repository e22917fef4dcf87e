"""What a lining is for: it covers the backs of what is set, or it carries what is set through both plies.

A shank stands up behind the leather. A lining that covers it rises over it and comes down to the edge beside it.
"""

from collections.abc import Iterable, Iterator, Mapping
from itertools import pairwise
from math import ceil, hypot

from service.shop.goods import Leather, Nm
from service.shop.ornaments import Ornament
from service.shop.shop import Rules, Shop
from service.strap.model.hardware import Stack, held_on
from service.strap.model.pattern import Feature
from service.strap.model.plies import stack
from service.strap.model.spec import LiningPurpose


def covers(
    asked: LiningPurpose | None, items: Iterable[Ornament], plies: tuple[Leather, Leather], rules: Rules, shop: Shop
) -> bool:
    """Whether the lining, the second of two plies, is glued on after everything is set. What was asked for holds.

    Else it covers whatever has a back that would lie on the wearer: prongs, shanks and rivets (common practice). Where
    they are made for both plies and not for the outer one alone, it carries them.
    """
    if asked:
        return asked == "cover"
    once = tuple({item.id: item for item in items}.values())
    if not any(item.fixing.has_back for item in once):
        return False
    return _hold_in(stack(plies[:1]), once, rules, shop) or not _hold_in(stack(plies), once, rules, shop)


def _hold_in(leather: Stack, items: Iterable[Ornament], rules: Rules, shop: Shop) -> bool:
    """Whether every one of these holds in this leather."""
    fixings = (held_on(item, leather, shop) for item in items)
    return all(fixing.reach(leather.thin, leather.thick, rules).holds for fixing in fixings)


def backs(features: Iterable[Feature], goods: Mapping[str, Ornament], leather: Leather) -> Iterator[tuple[Feature, Nm]]:
    """Each back that stands up, and how far at most behind the leather."""
    for feature in features:
        item = goods.get(feature.item or "")
        if item and item.fixing.stands:
            yield feature, max(item.fixing.stands - leather.thin, 0)


def rise_over(found: Iterable[tuple[Feature, Nm]]) -> Nm:
    """How much longer than the strap a lining is that lies over these backs.

    It rises from the middle between two backs and comes down to the middle before the next: two sides of a triangle in
    place of its base. Backs side by side are one, as high as the highest.
    """
    heights: dict[Nm, Nm] = {}
    for feature, height in found:
        heights[feature.x] = max(height, heights.get(feature.x, 0))
    places = sorted(heights)
    halves = [(after - x) / 2 for x, after in pairwise(places)]
    if not halves:
        return 0
    sides = zip([halves[0], *halves], [*halves, halves[-1]], strict=True)
    return ceil(sum(hypot(half, heights[x]) - half for x, both in zip(places, sides, strict=True) for half in both))
