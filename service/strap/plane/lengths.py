"""Lengths: reading what people write, and writing what people read off a ruler.

A length is a whole number of nanometres (1 in = 25.4 mm exactly, so 1/64 in = 396 875 nm).
`Fraction` appears only while an input is read.
"""

from decimal import Decimal
from fractions import Fraction
from functools import lru_cache

from service.shop.goods import Nm
from service.shop.shop import Units
from service.strap.errors import LengthError
from service.strap.plane.length_text import UNIT_NM, read_text
from service.words import say

MM: Nm = UNIT_NM["mm"]
INCH: Nm = UNIT_NM["in"]
SIXTY_FOURTH: Nm = 396_875
LONGEST: Nm = 100_000 * MM
"""No input may be longer than 100 m: beyond it a slip of the pen is certain."""

_FINER = (100, 10, 1)
"""Micrometres to which readings are told apart, the coarsest first."""
_KEPT = 16_384
"""Different lengths whose readings are kept; straps of one shop share most of theirs."""
_PARTS = tuple(str(Fraction(part, 64)) for part in range(64))


def parse_length(value: str | int | Decimal, units: Units) -> Nm:
    """Read a length: a text such as `24 1/2 in`, `2 ft 3 in`, `24.5"`, `622,3 mm`, or a bare number in `units`.

    Returns whole nanometres, rounded to the nearest where the input falls between (1/3 in).
    Raises `LengthError` for anything else, for a negative length and for one above `LONGEST`.
    """
    exact = read_text(value, units) if isinstance(value, str) else _read_number(value, units)
    if exact > LONGEST:
        raise LengthError(say("longer than the {longest} m that can be read", longest=LONGEST // (1000 * MM)))
    return round(exact)


def _read_number(value: int | Decimal, units: Units) -> Fraction:
    number = Decimal(value)
    if not number.is_finite():
        raise LengthError("not a finite number")
    if number < 0:
        raise LengthError("a length cannot be negative")
    if number.adjusted() > 9:
        raise LengthError(say("longer than the {longest} m that can be read", longest=LONGEST // (1000 * MM)))
    if number.adjusted() < -30:
        return Fraction(0)
    return Fraction(number) * UNIT_NM[units]


@lru_cache(maxsize=_KEPT)
def millimetres(length: Nm) -> float:
    """The length in millimetres, rounded to 0.001 (half away from zero)."""
    micrometres = (abs(length) + 500) // 1000
    return (micrometres if length >= 0 else -micrometres) / 1000


@lru_cache(maxsize=_KEPT)
def reading(length: Nm, units: Units) -> str:
    """What a person reads off a ruler: `4 1/2 in` (nearest 1/64) or `114.3 mm` (nearest 0.1).

    A reading that is not exact begins with `≈`.
    """
    step = SIXTY_FOURTH if units == "in" else MM // 10
    count = (2 * abs(length) + step) // (2 * step)
    number = _mixed_number(count) if units == "in" else _one_decimal(count)
    sign = "-" if length < 0 and count else ""
    about = "" if count * step == abs(length) else "≈ "
    return f"{about}{sign}{number} {units}"


def tape_reading(length: Nm, units: Units) -> str:
    """A made-up strap or a girth as a tape is read (common practice): to 1/16 in or 1 mm, with `≈` where between."""
    step = 4 * SIXTY_FOURTH if units == "in" else MM
    near = (2 * length + step) // (2 * step) * step
    return reading(near, units) if near == length else f"≈ {reading(near, units)}"


def readings(found: Nm, limit: Nm, units: Units) -> tuple[str, str]:
    """Two unequal lengths as a person tells them apart: where a ruler reads both alike, or nothing, in millimetres too.

    `≈ 3/32 in (2.39 mm)` and `≈ 3/32 in (2.5 mm)`: in as many decimals, up to the 0.001 mm of answers, as it takes.
    """
    texts = reading(found, units), reading(limit, units)
    one, other = (text.removeprefix("≈ ") for text in texts)
    if found == limit or (one != other and not texts[0].startswith("≈ 0 ")):
        return texts
    finer = next((each for each in _FINER if _rounded(found, each) != _rounded(limit, each)), _FINER[-1])
    if _rounded(found, finer) == 0 != found:
        finer = _FINER[-1]
    told = tuple(say("{length:g} mm", length=_rounded(length, finer) / 1000) for length in (found, limit))
    if units == "mm":
        return told[0], told[1]
    return f"{texts[0]} ({told[0]})", f"{texts[1]} ({told[1]})"


def _rounded(length: Nm, step: int) -> int:
    """Micrometres, to the nearest `step` of them, half away from zero."""
    count = (2 * abs(length) + 1000 * step) // (2000 * step) * step
    return count if length >= 0 else -count


def _mixed_number(sixty_fourths: int) -> str:
    whole, rest = divmod(sixty_fourths, 64)
    if rest == 0:
        return str(whole)
    return f"{whole} {_PARTS[rest]}" if whole else _PARTS[rest]


def _one_decimal(tenths: int) -> str:
    whole, rest = divmod(tenths, 10)
    return f"{whole}.{rest}" if rest else str(whole)


@lru_cache(maxsize=_KEPT)
def exact_text(length: Nm, units: Units) -> str:
    """A text that `parse_length` reads back as exactly this length: in `units` if they can say it, else in mm."""
    if units == "in" and length % SIXTY_FOURTH == 0:
        return reading(length, "in")
    return say("{length:f} mm", length=Decimal(length) / MM)
