"""Spacing along a line: equal things between two anchors, things between them, and a border in register.

`n` equal things between two anchors make `n + 1` gaps: pitch = span / (n + 1). Every station is placed
from the whole span, never by adding up a rounded pitch.
"""

from collections.abc import Callable
from decimal import Decimal
from fractions import Fraction
from functools import lru_cache
from itertools import pairwise
from typing import Literal

from service.shop.goods import Nm
from service.shop.shop import Units
from service.strap.plane.lengths import INCH, MM
from service.values import dataclass

GRADUATIONS: dict[Units, tuple[Nm, ...]] = {
    "in": (INCH, INCH // 2, INCH // 4, INCH // 8, INCH // 16, INCH // 32),
    "mm": (10 * MM, 5 * MM, 2 * MM, MM, MM // 2),
}
"""The graduations of a ruler, coarsest first (common practice)."""

SpacingRule = Literal["ruler", "even"] | Nm
Suits = Callable[[Nm], bool]
"""Whether a pitch also puts on a graduation what follows from it: things between, second rows, border steps."""


@dataclass(frozen=True, slots=True)
class Ruler:
    """What a maker measures with: its graduations, coarsest first, and a share of the pitch that gaps may differ by."""

    graduations: tuple[Nm, ...]
    tolerance: Decimal

    @property
    def finest(self) -> Nm:
        """The finest graduation that the shop reads."""
        return self.graduations[-1]


@lru_cache(maxsize=64)
def ruler_for(units: Units, finest: Nm, tolerance: Decimal) -> Ruler:
    """A ruler's graduations down to the shop's finest; those that are no whole number of it are passed over."""
    coarser = (each for each in GRADUATIONS[units] if each > finest and each % finest == 0)
    return Ruler((*coarser, finest), tolerance)


def nearest(length: Nm, step: Nm) -> Nm:
    """The whole number of steps nearest to a length; half way the even one, so that mirrored lengths stay mirrored."""
    steps, rest = divmod(length, step)
    return (steps + (2 * rest > step - steps % 2)) * step


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


def round_up(length: Nm, step: Nm) -> Nm:
    """The least whole number of steps that is not shorter than a length."""
    return -(-length // step) * step


def any_pitch(_pitch: Nm) -> bool:
    """Every pitch will do."""
    return True


def space(span: Span, count: int, rule: SpacingRule, ruler: Ruler, suits: Suits = any_pitch) -> Stations:
    """Place `count` equal things on the span by one of the spacing rules.

    `even`: pitch = span / (count + 1). `ruler`: on the ruler's graduations, from the piece's own end, wherever the
    span's clearances allow. A length: that pitch, centred. Never refuses: what is too tight shows in the checks.
    """
    if rule == "ruler":
        return _ruled(span, count, ruler, suits)
    if rule == "even" or count < 2:
        return _even(span, count)
    return _centred(span, count, rule)


def _even(span: Span, count: int) -> Stations:
    places = (span.start + (2 * span.length * n + count + 1) // (2 * count + 2) for n in range(1, count + 1))
    return Stations(tuple(places), (span.start + span.end) // 2)


def _centred(span: Span, count: int, pitch: Nm) -> Stations:
    first = span.start + (span.length - (count - 1) * pitch) // 2
    return Stations(tuple(first + n * pitch for n in range(count)), (span.start + span.end) // 2)


def _ruled(span: Span, count: int, ruler: Ruler, suits: Suits) -> Stations:
    """A row of one pitch that is on a graduation; else each thing moved to its nearest; else the even row."""
    if count < 2:
        exact = _even(span, count)
        lone = rounded(exact, ruler.finest)
        return lone if all(_keeps_ends(span, place, place) for place in lone.places) else exact
    if (count - 1) * span.pitch_min + 2 * span.end_min > span.length:
        return _even(span, count)
    return _by_pitch(span, count, ruler, suits) or _by_place(span, count, ruler)


def _by_place(span: Span, count: int, ruler: Ruler) -> Stations:
    """Each thing moved to its nearest graduation, else a row of one pitch whatever it leaves, else the even row."""
    exact = _even(span, count)
    return _each(exact, span, ruler) or _snug(span, count, ruler) or exact


def _by_pitch(span: Span, count: int, ruler: Ruler, suits: Suits) -> Stations | None:
    """One pitch on the coarsest graduation that leaves end gaps within the tolerance of it, at worst within twice that.

    A pitch that suits what follows from it goes before one that does not: the ends show less than what is read with ≈.
    """
    near, finest = _near_pitches(span, count, ruler), ruler.finest
    for wanted in (suits, any_pitch):
        for within in (True, False):
            for pitch, close in near:
                if close is within and wanted(pitch):
                    row = _at_pitch(span, count, pitch, finest)
                    if row:
                        return row
    return None


def _near_pitches(span: Span, count: int, ruler: Ruler) -> list[tuple[Nm, bool]]:
    """Of each graduation the two multiples next to the even pitch, the nearer first, if they leave near enough ends.

    Beside each stands whether the end gaps are within the tolerance of it; else they are within twice that.
    """
    length, gaps, near = span.length, count + 1, []
    share, whole = ruler.tolerance.as_integer_ratio()
    for graduation in ruler.graduations:
        pitch = _near_even(length, gaps, graduation)
        for each in (pitch, pitch + (graduation if pitch * gaps < length else -graduation)):
            off, most = abs(length - gaps * each) * whole, 2 * share * each
            if off <= 2 * most:
                near.append((each, off <= most))
    return near


def _near_even(length: Nm, gaps: int, step: Nm) -> Nm:
    """The whole number of steps nearest to the even pitch."""
    return (2 * length + step * gaps) // (2 * step * gaps) * step


def _at_pitch(span: Span, count: int, pitch: Nm, finest: Nm) -> Stations | None:
    """A row of one pitch, its first thing on the graduation nearest to where both ends are equal, if it is clear."""
    if pitch < max(span.pitch_min, 1):
        return None
    reach = (count - 1) * pitch
    first = nearest((span.start + span.end - reach) // 2, finest)
    last = first + reach
    if not _keeps_ends(span, first, last):
        return None
    return Stations(tuple(range(first, last + 1, pitch)), (first + last) // 2)


def _keeps_ends(span: Span, first: Nm, last: Nm) -> bool:
    return first - span.start >= span.end_min and span.end - last >= span.end_min


def rounded(exact: Stations, graduation: Nm) -> Stations:
    """Each place moved to a graduation from the piece's own end, alike on both sides of the middle.

    The middle of an even number of things may lie half way between two graduations.
    """
    half = graduation // 2 if len(exact.places) % 2 == 0 and graduation % 2 == 0 else graduation
    middle = nearest(exact.middle, half)
    beside = middle % graduation
    away = (nearest(abs(place - exact.middle) - beside, graduation) + beside for place in exact.places)
    places = (middle + (by if place > exact.middle else -by) for place, by in zip(exact.places, away, strict=True))
    return Stations(tuple(places), middle)


def _each(exact: Stations, span: Span, ruler: Ruler) -> Stations | None:
    """Each thing moved to its nearest graduation, if every pitch stays within the tolerance of the even one."""
    row = rounded(exact, ruler.finest)
    even = Decimal(span.length) / (len(row.places) + 1)
    pitches = [right - left for left, right in pairwise(row.places)]
    alike = all(abs(pitch - even) <= ruler.tolerance * even for pitch in pitches)
    clear = min(pitches) >= max(span.pitch_min, 1) and _keeps_ends(span, row.places[0], row.places[-1])
    return row if alike and clear else None


def _snug(span: Span, count: int, ruler: Ruler) -> Stations | None:
    """One pitch on the finest graduation, whatever that leaves at the ends: where things stand close."""
    finest = ruler.finest
    near = _near_even(span.length, count + 1, finest)
    tried = (_at_pitch(span, count, pitch, finest) for pitch in (near, near + finest, near - finest))
    clear = (row for row in tried if row)
    return min(clear, key=lambda row: abs(span.length - (count + 1) * row.pitch), default=None)


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
def register_parts(pitch: Nm, step: Nm, graduation: Nm = 1) -> int:
    """How many border steps make one pitch: the whole number whose step comes nearest the wanted one.

    On a ruler those go first that give a step on its graduation, within a quarter of the wanted one.
    """
    if pitch <= 0:
        return 1
    on_ruler = graduated_parts(pitch, step, graduation) if graduation > 1 else None
    if on_ruler:
        return on_ruler
    low = max(pitch // step, 1)
    return min((low, low + 1), key=lambda parts: (abs(pitch - step * parts) * (2 * low + 1 - parts), parts))


@lru_cache(maxsize=4096)
def graduated_parts(pitch: Nm, step: Nm, graduation: Nm) -> int | None:
    """Of the parts of a pitch that lie on a graduation, and within a quarter of the wanted step, the nearest to it."""
    whole, rest = divmod(pitch, graduation)
    least, most = max(-(-4 * pitch // (5 * step)), 1), min(4 * pitch // (3 * step), whole)
    fitting = (parts for parts in range(least, most + 1) if whole % parts == 0 and rest == 0)
    return min(fitting, key=lambda parts: (abs(Fraction(pitch, parts) - step), parts), default=None)
