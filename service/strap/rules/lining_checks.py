"""Whether a lining that covers backs has room to come down beside them."""

from service.shop.goods import Nm
from service.strap.model.job import Job
from service.strap.model.lining import backs
from service.strap.model.measured import Measured, at_least
from service.strap.model.pattern import Feature, Pattern


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
