"""Spacing things of different sizes: equal clear gaps between rims, not equal distances between centres.

Clear gap c = (span - Σ diameters) / (n + 1), anchors included.
"""

from dataclasses import dataclass
from decimal import Decimal
from functools import lru_cache
from itertools import accumulate, pairwise

from service.shop.goods import Nm
from service.strap.plane.spacing import Ruler, SpacingRule, Stations, nearest, round_up, rounded


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


def space_clear(span: ClearSpan, rule: SpacingRule, ruler: Ruler) -> Stations:
    """Places with equal clear gaps (`even`), or moved to a ruler's graduations, or at a given pitch of centres.

    `ruler`: gaps that are alike to half the finest graduation, and the rest at both ends, if these then come within
    the tolerance of the mean gap; else each place on its nearest graduation; the exact places where the clearances
    allow neither.
    """
    if rule == "ruler":
        return _ruled(span, ruler)
    exact = _exact(span)
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


def _ruled(span: ClearSpan, ruler: Ruler) -> Stations:
    """The row whose ends or gaps show least, of those that are clear."""
    free = span.free
    if free < (span.gaps - 2) * span.clear_min + 2 * span.end_min:
        return _exact(span)
    near, alike = ruler.tolerance * free, _alike(span, ruler.finest)
    off = _unevenness(alike, span)
    if off is not None and off <= near:
        return alike
    exact = _exact(span)
    each = rounded(exact, ruler.finest)
    moved = _unevenness(each, span)
    if moved is not None and moved <= max(near, Decimal(ruler.finest * span.gaps) / 2):
        return each
    return exact if off is None else alike


def _unevenness(row: Stations, span: ClearSpan) -> Nm | None:
    """The greatest difference of a clear gap from their mean, times their number; nothing where one is too narrow."""
    gaps, free = _gaps(row, span), span.free
    if not _is_clear(gaps, span):
        return None
    return max(max(gaps) * len(gaps) - free, free - min(gaps) * len(gaps))


def _gaps(row: Stations, span: ClearSpan) -> list[Nm]:
    """The clear gaps from anchor to anchor."""
    placed = list(zip(row.places, span.diameters, strict=True))
    begins = [place - diameter // 2 for place, diameter in placed]
    ends = [place + diameter // 2 for place, diameter in placed]
    return [right - left for left, right in zip([span.start, *ends], [*begins, span.end], strict=True)]


def _is_clear(gaps: list[Nm], span: ClearSpan) -> bool:
    """Whether the clearances hold."""
    return min(gaps[0], gaps[-1]) >= span.end_min and min(gaps[1:-1], default=span.clear_min) >= span.clear_min


def _alike(span: ClearSpan, finest: Nm) -> Stations:
    """Each distance on the graduation nearest to the rims and the mean gap; both ends take the rest."""
    mean = span.free // span.gaps
    between = [left // 2 + right // 2 for left, right in pairwise(span.diameters)]
    steps = {rims: max(nearest(mean + rims, finest), round_up(span.clear_min + rims, finest)) for rims in set(between)}
    away = list(accumulate([steps[rims] for rims in between], initial=0))
    rest = span.end - span.start - away[-1] - span.diameters[0] // 2 - span.diameters[-1] // 2
    first = nearest(span.start + span.diameters[0] // 2 + rest // 2, finest)
    return Stations(tuple(first + by for by in away), first + away[-1] // 2)


def least_clear_span(span: ClearSpan) -> Nm:
    """The shortest line between the anchors that holds these things with equal clear gaps."""
    return sum(span.diameters) + span.gaps * max(span.clear_min, span.end_min)


@lru_cache(maxsize=4096)
def gap_places(left: Nm, right: Nm, diameters: tuple[Nm, ...], clear: Nm = 0, finest: Nm = 1) -> tuple[Nm, ...]:
    """Centres of things in the clear gap from one rim to the next, themselves with equal clear gaps.

    On whole numbers of `finest`, if everything keeps `clear` then; else exact.
    """
    span = ClearSpan(start=left, end=right, diameters=diameters, clear_min=clear, end_min=clear)
    exact = _exact(span)
    if finest == 1 or not diameters:
        return exact.places
    row = rounded(exact, finest)
    return row.places if _is_clear(_gaps(row, span), span) else exact.places
