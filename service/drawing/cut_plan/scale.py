"""At what scales a plan's hides are shown, along and across; one pair for the whole plan."""

from collections.abc import Sequence
from dataclasses import dataclass

from service.shop.goods import Nm
from service.strap.plane.lengths import MM
from service.words import say
from service.workshop.cut_plan.model import Sheet

_DENOMINATORS = (1, 2, 2.5, 4, 5, 8, 10, 12, 16, 20, 25, 40, 50, 100, 200, 500, 1000)
LEAST_STRIPS = (4.8, 4.0, 3.4)
"""Millimetres on the sheet that the narrowest strip should have, for its name and its box, the best first."""


@dataclass(frozen=True, slots=True)
class Scale:
    """One millimetre on the sheet stands for `along` and `across` millimetres of leather."""

    along: float
    across: float

    def x(self, length: Nm) -> float:
        """A length along the hide, on the sheet."""
        return length / MM / self.along

    def y(self, length: Nm) -> float:
        """A length across the hide, on the sheet."""
        return length / MM / self.across

    def __str__(self) -> str:
        return say("along 1 : {along:g}, across 1 : {across:g}", along=self.along, across=self.across)


def scale_for(sheets: Sequence[Sheet], width: float, height: float, least: float = LEAST_STRIPS[0]) -> Scale:
    """The largest scale at which the longest hide is at most `width`; across so that strips can be read.

    Across it is no smaller than along, as large as gives the narrowest strip its `least`, and no larger than lets what
    is cut of the widest hide be at most `height`.
    """
    if not sheets:
        return Scale(1, 1)
    longest = max(sheet.stock.length for sheet in sheets) / MM
    widest = max(sheet.used_width for sheet in sheets) / MM
    narrowest = min(strip.width for sheet in sheets for strip in sheet.strips) / MM
    along = _at_least(longest / width)
    wanted = max(widest / height, narrowest / least)
    return Scale(along, min(along, _at_most(wanted) if _at_most(wanted) >= widest / height else _at_least(wanted)))


def _at_least(value: float) -> float:
    return next((each for each in _DENOMINATORS if each >= value), value)


def _at_most(value: float) -> float:
    return next((each for each in reversed(_DENOMINATORS) if each <= value), value)
