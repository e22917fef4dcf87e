"""Spacing along a line: equal things between two anchors, things between them, and a border in register.

`n` equal things between two anchors make `n + 1` gaps: pitch = span / (n + 1). Every station is placed
from the whole span, never by adding up a rounded pitch.
"""

from dataclasses import dataclass
from decimal import Decimal
from functools import lru_cache
from itertools import pairwise
from typing import Literal

from service.shop.goods import Nm
from service.shop.shop import Units
from service.strap.lengths import INCH, MM

GRADUATIONS: dict[Units, tuple[Nm, ...]] = {
    "in": (INCH, INCH // 2, INCH // 4, INCH // 8, INCH // 16, INCH // 32),
    "mm": (10 * MM, 5 * MM, 2 * MM, MM, MM // 2),
}
"""The graduations of a ruler, coarsest first (common practice)."""

SpacingRule = Literal["ruler", "even"] | Nm


@dataclass(frozen=True, slots=True, kw_only=True)
class Span:
    """The line between two anchors, and what a row on it has to keep.

    `pitch_min` is the least distance between neighbours' centres, `end_min` from an anchor to the first.
    """

    start: Nm
    end: Nm
    pitch_min: Nm
    end_min: Nm

    @property
    def length(self) -> Nm:
        """From anchor to anchor; negative where they have passed each other."""
        return self.end - self.start


@dataclass(frozen=True, slots=True)
class Stations:
    """The places of a row in order, and the middle of the line it stands on."""

    places: tuple[Nm, ...]
    middle: Nm

    @property
    def pitch(self) -> Nm:
        """The least distance of neighbours' centres; 0 for fewer than two."""
        return min((right - left for left, right in pairwise(self.places)), default=0)


def space(span: Span, count: int, rule: SpacingRule, units: Units, tolerance: Decimal) -> Stations:
    """Place `count` equal things on the span by one of the spacing rules.

    `even`: pitch = span / (count + 1). `ruler`: the coarsest graduation whose pitch leaves end gaps within
    `tolerance` of it, and keeps the span's clearances; the even pitch where none does. A length: that
    pitch, centred. Never refuses: what is too tight shows in the checks.
    """
    if rule == "even" or count < 2:
        return _even(span, count)
    if rule == "ruler":
        return _ruler(span, count, units, tolerance) or _even(span, count)
    return _centred(span, count, rule)


def _even(span: Span, count: int) -> Stations:
    places = (span.start + (2 * span.length * n + count + 1) // (2 * count + 2) for n in range(1, count + 1))
    return Stations(tuple(places), (span.start + span.end) // 2)


def _centred(span: Span, count: int, pitch: Nm) -> Stations:
    first = span.start + (span.length - (count - 1) * pitch) // 2
    return Stations(tuple(first + n * pitch for n in range(count)), (span.start + span.end) // 2)


def _ruler(span: Span, count: int, units: Units, tolerance: Decimal) -> Stations | None:
    for graduation in GRADUATIONS[units]:
        steps = (2 * span.length + graduation * (count + 1)) // (2 * graduation * (count + 1))
        pitch = steps * graduation
        end = (span.length - (count - 1) * pitch) // 2
        close_enough = abs(end - pitch) <= tolerance * pitch
        if pitch >= max(span.pitch_min, 1) and end >= span.end_min and close_enough:
            return _centred(span, count, pitch)
    return None


def largest_count(span: Span, rule: SpacingRule) -> int:
    """The greatest count whose even (or given) pitch keeps the span's clearances; 0 where none fits."""
    if isinstance(rule, int):
        if rule < span.pitch_min:
            return 1 if span.length >= 2 * span.end_min else 0
        room = span.length - 2 * span.end_min
        return room // rule + 1 if room >= 0 else 0
    single = 1 if span.length >= 2 * span.end_min else 0
    return max(single, span.length // max(span.pitch_min, span.end_min, 1) - 1)


def least_span(span: Span, count: int, rule: SpacingRule) -> Nm:
    """The shortest distance between the anchors at which `count` things keep the span's clearances."""
    if count < 2:
        return 2 * span.end_min * count
    if isinstance(rule, int):
        return (count - 1) * rule + 2 * span.end_min
    return (count + 1) * max(span.pitch_min, span.end_min)


@lru_cache(maxsize=4096)
def register_parts(pitch: Nm, step: Nm) -> int:
    """How many border steps make one pitch: the whole number whose step comes nearest the wanted one."""
    if pitch <= 0:
        return 1
    low = max(pitch // step, 1)
    return min((low, low + 1), key=lambda parts: (abs(pitch - step * parts) * (2 * low + 1 - parts), parts))
