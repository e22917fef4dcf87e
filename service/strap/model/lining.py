"""What a lining is for: it covers the backs of what is set, or it carries what is set through both plies.

A shank stands up behind the leather. A lining that covers it rises over it and comes down to the edge beside it.
"""

from collections.abc import Iterable, Iterator, Mapping
from itertools import pairwise
from math import ceil, hypot

from service.shop.goods import Leather, Nm, Ornament, Prongs, Shank
from service.shop.shop import Rules
from service.strap.model.job import Job
from service.strap.model.measured import Measured, at_least
from service.strap.model.pattern import Feature, Pattern
from service.strap.model.plies import stack
from service.strap.model.reach import holds_through
from service.strap.model.spec import LiningPurpose


def covers(
    asked: LiningPurpose | None, items: Iterable[Ornament], leather: Leather, lining: Leather, rules: Rules
) -> bool:
    """Whether a lining is glued on after everything is set. What was asked for holds.

    Else it covers whatever has a back that would lie on the wearer: prongs and shanks (common practice). Where they are
    made for both plies and not for the outer one alone, it carries them.
    """
    if asked:
        return asked == "cover"
    set_on = tuple(items)
    if not any(isinstance(item.fixing, Prongs | Shank) for item in set_on):
        return False
    outer, both = stack((leather,)), stack((leather, lining))
    return holds_through(set_on, outer, rules) or not holds_through(set_on, both, rules)


def backs(features: Iterable[Feature], goods: Mapping[str, Ornament], leather: Leather) -> Iterator[tuple[Feature, Nm]]:
    """Each shank that is set, and how far it stands up at most behind the leather."""
    for feature in features:
        item = goods.get(feature.item or "")
        if item and isinstance(item.fixing, Shank):
            yield feature, max(item.fixing.height - leather.thin, 0)


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


def lining_measures(pattern: Pattern, job: Job) -> list[Measured]:
    """What stays beside a covered back, and what the lining takes to come down from it, for each item at its worst."""
    if not job.covers:
        return []
    lined = pattern.pieces[0]
    worst: dict[str | None, tuple[Nm, Nm, Feature]] = {}
    for feature, height in backs(lined.features, job.shop.ornaments, job.leather):
        beside = lined.width // 2 - abs(feature.y) - _half_across(feature)
        if feature.item not in worst or beside < worst[feature.item][0]:
            worst[feature.item] = (beside, round(height * job.rules.lining_run), feature)
    return [at_least("lining_run", beside, run, feature) for beside, run, feature in worst.values()]


def _half_across(feature: Feature) -> Nm:
    """Half of a slot's extent across the strap."""
    return ((feature.length if feature.angle else feature.width) or 0) // 2
