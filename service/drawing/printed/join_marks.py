"""What is printed at a joint on both pages, so that a mistake of half a millimetre is seen before the glue dries.

Above the piece three hairlines cross on the joint: at 45° each way and level. Where the pages lie half a
millimetre apart, or sideways, every one of them is broken. Below it stands a vernier: strokes 1 mm apart before the
joint, 0.8 mm apart behind it; the pair that is in line tells by how many fifths of a millimetre the pages lie
sideways. Beside the joint two short lines, half a millimetre before and behind it, show how far a cut edge is out.
Drawn alike on both pages, so that they also match when held against the light.
"""

from service.drawing import lines, palette
from service.drawing.font import CAP_HEIGHT
from service.drawing.model import Item, LineTo, MoveTo, Path, Pen, Segment, Text

DEPTH = 10.0
"""Millimetres that the marks take above and below a piece."""
HALF_MILLIMETRE = 0.5
COARSE, FINE = 1.0, 0.8
"""Steps of the vernier before and behind the joint."""
STROKES = 3
"""Of the vernier to either side of its long middle stroke: it tells up to 0.6 mm."""

HAIRLINE: Pen = lines.pen("continuous", 0.13, palette.BLACK)
_ARM = 3.2
_CENTRE = 6.5
_SHORT, _LONG = 1.8, 3.2
_LETTERING = 2.6
_BESIDE = 4.2


def join_marks(x: float, half: float, name: str) -> tuple[Item, ...]:
    """The marks of the joint at `x` of a piece `2 · half` wide, in the piece's own frame."""
    strokes: list[Segment] = [MoveTo(x, -half - DEPTH), LineTo(x, half + DEPTH)]
    for side in (-1.0, 1.0):
        strokes += _comb(x, side, half)
    strokes += _crossing(x, -half - _CENTRE)
    strokes += _vernier(x, half + _CENTRE)
    return (Path(tuple(strokes), HAIRLINE), *_names(x, half, name))


def _comb(x: float, side: float, half: float) -> list[Segment]:
    found: list[Segment] = []
    for off in (-HALF_MILLIMETRE, HALF_MILLIMETRE):
        found += [MoveTo(x + off, side * (half + 0.7)), LineTo(x + off, side * (half + 2.7))]
    return found


def _crossing(x: float, y: float) -> list[Segment]:
    found: list[Segment] = []
    for dx, dy in ((_ARM, 0.0), (_ARM, _ARM), (_ARM, -_ARM)):
        found += [MoveTo(x - dx, y - dy), LineTo(x + dx, y + dy)]
    return found


def _vernier(x: float, y: float) -> list[Segment]:
    found: list[Segment] = []
    for number in range(-STROKES, STROKES + 1):
        reach = _LONG if number == 0 else _SHORT
        found += [MoveTo(x - reach, y + number * COARSE), LineTo(x, y + number * COARSE)]
        found += [MoveTo(x, y + number * FINE), LineTo(x + reach, y + number * FINE)]
    return found


def _names(x: float, half: float, name: str) -> tuple[Text, ...]:
    """The joint's name on either side of it, above and below: the same name has to meet the same name."""
    down = CAP_HEIGHT * _LETTERING / 2
    return tuple(
        Text(
            x + side * _BESIDE, y + down, name, _LETTERING,
            "start" if side > 0 else "end", weight="bold", colour=palette.INK,
        )
        for y in (-half - _CENTRE, half + _CENTRE)
        for side in (-1, 1)
    )  # fmt: skip
