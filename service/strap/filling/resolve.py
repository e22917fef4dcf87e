"""From a spec to a job: defaults said, ids looked up, limits kept. Reports every fault at once."""

from dataclasses import replace

from service.shop.shop import Shop
from service.strap.errors import Refusal
from service.strap.filling.ends import ends_of
from service.strap.filling.features import too_many_features
from service.strap.filling.fill import fill
from service.strap.filling.holds import Holds, held_by
from service.strap.filling.joining import joining_of
from service.strap.filling.limits import limit_faults
from service.strap.filling.meaning import without_meaning
from service.strap.filling.unknown import unknown_ids
from service.strap.model.filled import Filled
from service.strap.model.hardware import keeper_share, keeper_stack, likest_fastener
from service.strap.model.job import Job
from service.strap.model.lining import covers
from service.strap.model.measuring import measuring
from service.strap.model.plies import plies_of, stack
from service.strap.model.row import row_items
from service.strap.model.spec import Spec


def resolve(given: Spec, shop: Shop) -> Job:
    """Look everything up.

    Raises `Refusal` with each unknown id, each field without a meaning in this construction, and a spec
    that asks for more work than the shop takes.
    """
    spec = fill(given, shop)
    faults = [*without_meaning(given, spec, shop), *unknown_ids(spec, shop), *too_many_features(spec, shop)]
    if faults:
        raise Refusal((*faults, *limit_faults(spec, shop)))
    return _look_up(spec, given, shop)


def _look_up(spec: Filled, given: Spec, shop: Shop) -> Job:
    leather = shop.leathers[spec.leather]
    lining = shop.leathers[spec.lining_leather] if spec.lining_leather else None
    row = row_items(spec.ornaments, shop)
    gap = tuple(shop.ornaments[part.item] for part in spec.betweens for _ in range(part.per_gap))
    borders = tuple(shop.ornaments[border.item] for border in spec.borders)
    set_on = (*row, *gap, *borders)
    units, rules = spec.units, shop.rules.in_units(spec.units)
    covered = bool(lining and covers(spec.lining_purpose, set_on, (leather, lining), rules, shop))
    plies = plies_of(spec.two, leather, lining, covers=covered)
    fastener = shop.fasteners[spec.joint.fastener]
    fold_fastener = fastener if plies.joint == plies.fold else likest_fastener(stack(plies.fold), shop, fastener)
    keeper_default = shop.fasteners[shop.defaults.keeper_fastener]
    share = keeper_share(leather, shop)
    lap = keeper_stack(leather, share)
    keeper_fastener = likest_fastener(lap, shop, keeper_default)
    stitched = bool(spec.stitching and spec.stitching.turn_back)
    joint = held_by(fastener, shop)
    fold = joint if fold_fastener is fastener else held_by(fold_fastener, shop)
    holds = Holds(joint, replace(fold, is_stitched=True) if stitched else fold, plies, lap, shop)
    head, foot = ends_of(spec, shop, rules, holds)
    return Job(
        spec=spec,
        given=given,
        shop=shop,
        rules=rules,
        units=units,
        measuring=measuring(spec.ornaments.spacing if spec.ornaments else "ruler", units, rules),
        leather=leather,
        lining=lining,
        edging=shop.leathers[spec.edging.leather] if spec.edging else None,
        covers=covered,
        plies=plies,
        joint_held=holds.joint,
        fold_held=holds.fold,
        keeper_held=held_by(keeper_fastener, shop),
        keeper_share=share,
        head=head,
        foot=foot,
        joining=joining_of(spec, shop),
        row=row,
        gap=gap,
        borders=borders,
    )
