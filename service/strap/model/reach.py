"""Whether a fixing fits the leather that it goes through: a prong clinches, a shank is laced, a post spans it."""

from collections.abc import Iterable

from service.shop.goods import Ornament, Prongs, Shank
from service.shop.shop import Rules
from service.strap.model.hardware import Stack
from service.strap.model.measured import Measured, at_least, at_most


def reach_measures(item: Ornament, subject: str, leather: Stack, rules: Rules) -> list[Measured]:
    """Every rule about one ornament and the leather that it is set through."""
    fixing, about = item.fixing, {"subject": subject, "item": item.id}
    if isinstance(fixing, Prongs):
        return [
            at_least("prong_clinch_min", fixing.length - leather.thick, rules.clinch_min, **about),
            at_most("prong_clinch_max", fixing.length - leather.thin, rules.clinch_max, **about),
        ]
    if isinstance(fixing, Shank):
        return [at_least("shank_reach", fixing.height - leather.thick, rules.lace_thickness, **about)]
    return [
        at_least("post_grip_min", leather.thin, fixing.grip_min, **about),
        at_most("post_grip_max", leather.thick, fixing.grip_max, **about),
    ]


def holds_through(items: Iterable[Ornament], leather: Stack, rules: Rules) -> bool:
    """Whether every one of these holds in this leather."""
    different = {item.id: item for item in items}.values()
    return all(each.check.passed for item in different for each in reach_measures(item, "ornament", leather, rules))
