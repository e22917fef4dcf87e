"""Lengths: reading what people write, and writing what people read off a ruler.

A length is a whole number of nanometres (1 in = 25.4 mm exactly, so 1/64 in = 396 875 nm).
`Fraction` appears only while an input is read.
"""

import re
from decimal import Decimal
from fractions import Fraction

from service.shop.goods import Nm
from service.shop.shop import Units
from service.strap.errors import LengthError

MM: Nm = 1_000_000
INCH: Nm = 25_400_000
SIXTY_FOURTH: Nm = 396_875
LONGEST: Nm = 100_000 * MM
"""No input may be longer than 100 m: beyond it a slip of the pen is certain."""

_LONGEST_TEXT = 40
_UNIT_NM = {"in": INCH, "mm": MM, "cm": 10 * MM, "m": 1000 * MM}
_UNIT_NAMES = {
    "in": "in", "in.": "in", "inch": "in", "inches": "in", '"': "in", "″": "in", "”": "in",
    "mm": "mm", "cm": "cm", "m": "m",
}  # fmt: skip
_PARTS = tuple(str(Fraction(part, 64)) for part in range(64))
_VULGAR = {
    "½": "1/2", "¼": "1/4", "¾": "3/4", "⅓": "1/3", "⅔": "2/3", "⅕": "1/5", "⅖": "2/5", "⅗": "3/5", "⅘": "4/5",
    "⅙": "1/6", "⅚": "5/6", "⅛": "1/8", "⅜": "3/8", "⅝": "5/8", "⅞": "7/8",
}  # fmt: skip
_FORM = re.compile(
    r"""\s*+(?P<sign>[-+−])?+\s*+
        (?: (?:(?P<whole>[0-9]++)[ \t-]++)?(?P<top>[0-9]++)\s*+[/⁄]\s*+(?P<bottom>[0-9]++)
          | (?P<decimal>[0-9]++(?:\.[0-9]++)?+|\.[0-9]++) )
        \s*+(?P<unit>[a-zA-Z]++\.?+|["″”])?+\s*+""",
    re.VERBOSE,
)


def parse_length(value: str | int | Decimal, units: Units) -> Nm:
    """Read a length: a text such as `24 1/2 in`, `24.5"`, `24½ in`, `622.3 mm`, or a bare number in `units`.

    Returns whole nanometres, rounded to the nearest where the input falls between (1/3 in).
    Raises `LengthError` for anything else, for a negative length and for one above `LONGEST`.
    """
    exact = _read_text(value, units) if isinstance(value, str) else _read_number(value, units)
    if exact > LONGEST:
        raise LengthError(f"longer than the {LONGEST // (1000 * MM)} m that can be read")
    return round(exact)


def _read_number(value: int | Decimal, units: Units) -> Fraction:
    number = Decimal(value)
    if not number.is_finite():
        raise LengthError("not a finite number")
    if number < 0:
        raise LengthError("a length cannot be negative")
    if number.adjusted() > 9:
        raise LengthError(f"longer than the {LONGEST // (1000 * MM)} m that can be read")
    if number.adjusted() < -30:
        return Fraction(0)
    return Fraction(number) * _UNIT_NM[units]


def _read_text(text: str, units: Units) -> Fraction:
    if len(text) > _LONGEST_TEXT:
        raise LengthError(f"a length has at most {_LONGEST_TEXT} characters")
    for sign, fraction in _VULGAR.items():
        text = text.replace(sign, f" {fraction}")
    form = _FORM.fullmatch(text)
    if form is None:
        raise LengthError("not a length: write 24 1/2 in, 24.5 in, 622.3 mm or 62.23 cm")
    if form["sign"] in ("-", "−"):
        raise LengthError("a length cannot be negative")
    return _number_of(form) * _UNIT_NM[_unit_of(form["unit"], units)]


def _number_of(form: re.Match[str]) -> Fraction:
    if form["decimal"]:
        return Fraction(form["decimal"])
    if int(form["bottom"]) == 0:
        raise LengthError("a fraction cannot have 0 below its line")
    return Fraction(int(form["whole"] or 0)) + Fraction(int(form["top"]), int(form["bottom"]))


def _unit_of(name: str | None, units: Units) -> str:
    if name is None:
        return units
    unit = _UNIT_NAMES.get(name.lower())
    if unit is None:
        raise LengthError(f"unknown unit {name!r}: use in, mm or cm")
    return unit


def millimetres(length: Nm) -> float:
    """The length in millimetres, rounded to 0.001 (half away from zero)."""
    micrometres = (abs(length) + 500) // 1000
    return (micrometres if length >= 0 else -micrometres) / 1000


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


def _mixed_number(sixty_fourths: int) -> str:
    whole, rest = divmod(sixty_fourths, 64)
    if rest == 0:
        return str(whole)
    return f"{whole} {_PARTS[rest]}" if whole else _PARTS[rest]


def _one_decimal(tenths: int) -> str:
    whole, rest = divmod(tenths, 10)
    return f"{whole}.{rest}" if rest else str(whole)


def exact_text(length: Nm, units: Units) -> str:
    """A text that `parse_length` reads back as exactly this length: in `units` if they can say it, else in mm."""
    if units == "in" and length % SIXTY_FOURTH == 0:
        return reading(length, "in")
    return f"{Decimal(length) / MM:f} mm"
