"""How a strap is measured out at the bench."""

from service.shop.goods import Nm
from service.shop.shop import Rules, Units
from service.strap.plane.spacing import Ruler, SpacingRule, ruler_for
from service.values import dataclass


@dataclass(frozen=True, slots=True)
class Measuring:
    """How a strap is measured out at the bench.

    `spacing` is the row's rule, `ruler` where there is no row. `grid` is what stations and blanks are whole numbers of:
    the ruler's finest graduation, and 1 nm under other rules than `ruler`.
    """

    spacing: SpacingRule
    ruler: Ruler
    grid: Nm


def measuring(spacing: SpacingRule, units: Units, rules: Rules) -> Measuring:
    """By a row's spacing, in these units."""
    ruler = ruler_for(units, rules.graduation, rules.ruler_tolerance)
    return Measuring(spacing, ruler, ruler.finest if spacing == "ruler" else 1)
