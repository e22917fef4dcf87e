"""Spacing things of different sizes: equal clear gaps between rims, not equal distances between centres.

Clear gap c = (span - Σ diameters) / (n + 1), anchors included.
"""

from dataclasses import dataclass
from decimal import Decimal

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
        return next(
            (
                row
                for row in (_rounded(exact, graduation) for graduation in GRADUATIONS[units])
                if _keeps(row, span, tolerance)
            ),
            exact,
        )
    if rule == "even":
        return exact
    first = (span.start + span.end - (len(span.diameters) - 1) * rule) // 2
    return Stations(tuple(first + n * rule for n in range(len(span.diameters))), exact.middle)


def _exact(span: ClearSpan) -> Stations:
    places, taken = [], 0
    for n, diameter in enumerate(span.diameters, 1):
        places.append(span.start + taken + (2 * span.free * n + span.gaps) // (2 * span.gaps) + diameter // 2)
        taken += diameter
    return Stations(tuple(places), (span.start + span.end) // 2)


def _rounded(row: Stations, graduation: Nm) -> Stations:
    """Each place moved to a whole number of graduations from the middle, alike on both sides."""

    def moved(place: Nm) -> Nm:
        away = place - row.middle
        steps = (2 * abs(away) + graduation) // (2 * graduation)
        return row.middle + (steps if away > 0 else -steps) * graduation

    return Stations(tuple(moved(place) for place in row.places), row.middle)


def _keeps(row: Stations, span: ClearSpan, tolerance: Decimal) -> bool:
    gaps = clear_gaps(row, span)
    mean = Decimal(span.free) / span.gaps
    even = all(abs(gap - mean) <= tolerance * mean for gap in gaps)
    return even and min(gaps[1:-1], default=span.clear_min) >= span.clear_min and min(gaps[0], gaps[-1]) >= span.end_min


def clear_gaps(row: Stations, span: ClearSpan) -> list[Nm]:
    """Every clear gap from anchor to anchor."""
    rims = [span.start]
    for place, diameter in zip(row.places, span.diameters, strict=True):
        rims += [place - diameter // 2, place + diameter // 2]
    rims.append(span.end)
    return [right - left for left, right in zip(rims[::2], rims[1::2], strict=True)]


def least_clear_span(span: ClearSpan) -> Nm:
    """The shortest line between the anchors that holds these things with equal clear gaps."""
    return sum(span.diameters) + span.gaps * max(span.clear_min, span.end_min)


def gap_places(left: Nm, right: Nm, diameters: tuple[Nm, ...]) -> tuple[Nm, ...]:
    """Centres of things in the clear gap from one rim to the next, themselves with equal clear gaps."""
    span = ClearSpan(start=left, end=right, diameters=diameters, clear_min=0, end_min=0)
    return _exact(span).places
