"""Reading a length that a person wrote: a number, a mixed number or feet and inches, with a unit or without.

Each run of characters in the forms is possessive, so that a text is gone through once, whatever it says. No group is:
where a possessive one fails half-way, Python 3.11.2, which Debian 12 has, goes on from there (cpython, gh-101955).
"""

import re
from collections.abc import Iterator
from fractions import Fraction

from service.shop.goods import Nm
from service.shop.shop import Units
from service.strap.errors import LengthError
from service.words import say

UNIT_NM: dict[str, Nm] = {
    "in": 25_400_000,
    "ft": 12 * 25_400_000,
    "mm": 1_000_000,
    "cm": 10_000_000,
    "m": 1_000_000_000,
}

_LONGEST_TEXT = 40
_UNIT_NAMES = {
    **dict.fromkeys(("in", "inch", "inches", '"', "″", "”", "''", "′′", "’’"), "in"),
    **dict.fromkeys(("ft", "foot", "feet", "'", "′", "’"), "ft"),
    **dict.fromkeys(("mm", "millimetre", "millimetres", "millimeter", "millimeters"), "mm"),
    **dict.fromkeys(("cm", "centimetre", "centimetres", "centimeter", "centimeters"), "cm"),
    **dict.fromkeys(("m", "metre", "metres", "meter", "meters"), "m"),
}
_VULGAR = {
    "½": "1/2", "¼": "1/4", "¾": "3/4", "⅓": "1/3", "⅔": "2/3", "⅕": "1/5", "⅖": "2/5", "⅗": "3/5", "⅘": "4/5",
    "⅙": "1/6", "⅚": "5/6", "⅛": "1/8", "⅜": "3/8", "⅝": "5/8", "⅞": "7/8",
}  # fmt: skip
_MARKS = r"""''|′′|’’|["″”'′’]"""
_UNIT = re.compile(rf"[a-zA-Z]|{_MARKS}")
_SIGN = re.compile(r"([-+−])?\s*+")
_FIGURE = re.compile(
    rf"""(?: (?P<decimal>[0-9]++(?:[.,][0-9]++)?|[.,][0-9]++) (?!\s*+[/⁄]|[ \t-]++[0-9]|[.,][0-9])
           | (?:(?P<whole>[0-9]++)[ \t-]++(?=[0-9]))?(?P<top>[0-9]++)\s*+[/⁄]\s*+(?P<bottom>[0-9]++) )
         \s*+(?P<unit>[a-zA-Z]++\.?+|{_MARKS})?\s*+""",
    re.VERBOSE,
)
_RULERS = 16
"""Finer parts than sixteenths nobody writes by hand: a program may send `141/64 in`."""
_READABLE = "not a length: write 24 1/2 in, 2 ft 3 in, 24.5 in, 622.3 mm or 62.23 cm"


def has_unit(text: str) -> bool:
    """Whether a text names a unit, known or not."""
    return _UNIT.search(text) is not None


def read_text(text: str, units: Units) -> Fraction:
    """The length in nanometres, exactly. A text without a unit is read in `units`.

    Raises `LengthError` for what is no length, is negative, or could mean two lengths.
    """
    if len(text) > _LONGEST_TEXT:
        raise LengthError(say("a length has at most {longest_text} characters", longest_text=_LONGEST_TEXT))
    for vulgar, fraction in _VULGAR.items():
        text = text.replace(vulgar, f" {fraction}")
    text = text.strip()
    sign = _SIGN.match(text)
    figures = list(_figures(text, sign.end() if sign else 0))
    if sign and sign[1] in ("-", "−"):
        raise LengthError("a length cannot be negative")
    if len(figures) == 1:
        return _number(figures[0], units) * UNIT_NM[_unit(figures[0], units)]
    return _feet_and_inches(*figures, units=units)


def _figures(text: str, start: int) -> Iterator[re.Match[str]]:
    """The one number of the text with its unit, or two of them."""
    for _ in range(2):
        figure = _FIGURE.match(text, start)
        if figure is None:
            break
        yield figure
        start = figure.end()
        if start == len(text):
            return
    raise LengthError(_READABLE)


def _feet_and_inches(feet: re.Match[str], inches: re.Match[str], *, units: Units) -> Fraction:
    """Whole feet, and inches that are less than one more."""
    if feet["unit"] is None or (_unit(feet, units), inches["unit"] and _unit(inches, units)) != ("ft", "in"):
        raise LengthError("two numbers with a unit each are feet and inches only: write 2 ft 3 in")
    whole, rest = _number(feet, "in"), _number(inches, "in")
    if whole.denominator != 1:
        raise LengthError("feet with inches behind them have to be whole: write 2 ft 3 in")
    if rest >= 12:
        raise LengthError("inches behind feet stay below 12: write 2 ft 3 in, or inches alone")
    return whole * UNIT_NM["ft"] + rest * UNIT_NM["in"]


def _number(figure: re.Match[str], units: Units) -> Fraction:
    decimal = figure["decimal"]
    if decimal:
        whole, comma, behind = decimal.partition(",")
        if comma and len(behind) == 3:
            raise LengthError(_two_readings(whole, behind, _unit(figure, units)))
        return Fraction(decimal.replace(",", "."))
    return _mixed(figure["whole"], figure["top"], figure["bottom"], _unit(figure, units))


def _mixed(whole: str | None, top: str, bottom: str, unit: str) -> Fraction:
    """A mixed number. Raises `LengthError` for one that a slip of the pen may have made."""
    if int(bottom) == 0:
        raise LengthError("a fraction cannot have 0 below its line")
    fraction = Fraction(int(top), int(bottom))
    if whole and fraction >= 1:
        raise LengthError(say("{top}/{bottom} behind a whole number has to be less than one", top=top, bottom=bottom))
    if not whole and fraction > 1 and int(bottom) <= _RULERS:
        _refuse_lost_blank(top, bottom, unit)
    return int(whole or 0) + fraction


def _refuse_lost_blank(top: str, bottom: str, unit: str) -> None:
    """Refuse `141/2`, which is 70 1/2, or 14 1/2 whose blank was forgotten; not `49/2`, which can only be 24 1/2."""
    for at in range(1, len(top)):
        if top[at] != "0" and int(top[at:]) < int(bottom):
            whole, rest = divmod(int(top), int(bottom))
            raise LengthError(
                say(
                    "could mean {apart} {unit} or {together} {unit}: write the one that is meant",
                    apart=f"{top[:at]} {top[at:]}/{bottom}",
                    together=f"{whole} {rest}/{bottom}",
                    unit=unit,
                )
            )


def _two_readings(whole: str, behind: str, unit: str) -> str:
    grouped, parted = int(whole + behind), f"{int(whole or 0)}.{behind}".rstrip("0").rstrip(".")
    return say(
        "could mean {grouped} {unit} or {parted} {unit}: write it without the comma",
        grouped=grouped,
        unit=unit,
        parted=parted,
    )


def _unit(figure: re.Match[str], units: Units) -> str:
    name = figure["unit"]
    if name is None:
        return units
    unit = _UNIT_NAMES.get(name.lower().removesuffix("."))
    if unit is None:
        raise LengthError(say("unknown unit {name!r}: use in, ft, mm, cm or m", name=name))
    return unit
