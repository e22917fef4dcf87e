"""Spacing things of different sizes: equal clear gaps between rims, not equal distances between centres.

Clear gap c = (span - Σ diameters) / (n + 1), anchors included.
"""

from dataclasses import dataclass
from decimal import Decimal
from math import ceil, floor

from service.shop.goods import Nm
from service.shop.shop import Units
from service.strap.spacing import GRADUATIONS, SpacingRule, Stations


@dataclass(frozen=True, slots=True, kw_only=True)
class ClearSpan:
    """A line between two anchors for things of given `diameters`, in order.

    Neighbours' rims keep `clear_min`; the outer rims keep `end_min` from the anchors.
    """

    start: Nm
    end: Nm
    diameters: tuple[Nm, ...]
    clear_min: Nm
    end_min: Nm

    @property
    def free(self) -> Nm:
        """What the things leave of the line, for all gaps together."""
        return self.end - self.start - sum(self.diameters)

    @property
    def gaps(self) -> int:
        """Clear gaps: one more than there are things."""
        return len(self.diameters) + 1


def space_clear(span: ClearSpan, rule: SpacingRule, units: Units, tolerance: Decimal) -> Stations:
    """Places with equal clear gaps (`even`), or rounded to a ruler's graduation, or at a given pitch of centres.

    `ruler`: the distances from the middle are rounded to the coarsest graduation that leaves every clear gap
    within `tolerance` of the others' mean and keeps the clearances; the exact places where none does.
    """
    exact = _exact(span)
    if rule == "ruler":
        return _ruled(exact, span, units, tolerance) or exact
    if rule == "even":
        return exact
    first = (span.start + span.end - (len(span.diameters) - 1) * rule) // 2
    return Stations(tuple(first + n * rule for n in range(len(span.diameters))), exact.middle)


def _exact(span: ClearSpan) -> Stations:
    places, taken = [], span.start
    free, gaps = span.free, span.gaps
    for n, diameter in enumerate(span.diameters, 1):
        places.append(taken + (2 * free * n + gaps) // (2 * gaps) + diameter // 2)
        taken += diameter
    return Stations(tuple(places), (span.start + span.end) // 2)


def _ruled(exact: Stations, span: ClearSpan, units: Units, tolerance: Decimal) -> Stations | None:
    """The row on the coarsest graduation that keeps its gaps near their mean, and the clearances."""
    mean = Decimal(span.free) / span.gaps
    near = (ceil(mean - tolerance * mean), floor(mean + tolerance * mean))
    rows = (_rounded(exact, span, graduation, near) for graduation in GRADUATIONS[units])
    return next((row for row in rows if row), None)


def _rounded(exact: Stations, span: ClearSpan, graduation: Nm, near: tuple[Nm, Nm]) -> Stations | None:
    """Each place moved to a whole number of graduations from the middle, alike on both sides.

    None where a clear gap is not between the two of `near`, or shorter than the span's clearances.
    """
    middle, (least, most) = exact.middle, near
    places: list[Nm] = []
    rim, shortest = span.start, max(least, span.end_min)
    for place, diameter in zip(exact.places, span.diameters, strict=True):
        steps = (2 * abs(place - middle) + graduation) // (2 * graduation)
        moved = middle + (steps if place > middle else -steps) * graduation
        if not shortest <= moved - diameter // 2 - rim <= most:
            return None
        places.append(moved)
        rim, shortest = moved + diameter // 2, max(least, span.clear_min)
    return Stations(tuple(places), middle) if max(least, span.end_min) <= span.end - rim <= most else None


def least_clear_span(span: ClearSpan) -> Nm:
    """The shortest line between the anchors that holds these things with equal clear gaps."""
    return sum(span.diameters) + span.gaps * max(span.clear_min, span.end_min)


def gap_places(left: Nm, right: Nm, diameters: tuple[Nm, ...]) -> tuple[Nm, ...]:
    """Centres of things in the clear gap from one rim to the next, themselves with equal clear gaps."""
    span = ClearSpan(start=left, end=right, diameters=diameters, clear_min=0, end_min=0)
    return _exact(span).places
