"""Line types and widths after ISO 128-2: what each kind of line on the sheet looks like.

Line group 0.5: wide lines 0.5 mm, narrow lines half as wide (ISO 128-2; the ratio 2 : 1 and the series 0.25,
0.35, 0.5, 0.7 mm as in the *Manual of Engineering Drawing*). Dashes are multiples of the line's width: dot
0.5, gap 3, dash 12, long dash 24 (from memory).
"""

from typing import Literal

from service.drawing import palette
from service.drawing.model import Colour, Pen

LineType = Literal["continuous", "dashed", "long_dashed_dotted", "dashed_double_dotted"]

WIDE = 0.5
NARROW = WIDE / 2

_DOT, _GAP, _DASH, _LONG_DASH = 0.5, 3.0, 12.0, 24.0
_ELEMENTS: dict[LineType, tuple[float, ...]] = {
    "continuous": (),
    "dashed": (_DASH, _GAP),
    "long_dashed_dotted": (_LONG_DASH, _GAP, _DOT, _GAP),
    "dashed_double_dotted": (_DASH, _GAP, _DOT, _GAP, _DOT, _GAP),
}


def pen(line: LineType, width: float, colour: Colour) -> Pen:
    """A pen of that ISO 128-2 line type, its dashes in proportion to its width."""
    return Pen(width, colour, tuple(part * width for part in _ELEMENTS[line]))


OUTLINE = pen("continuous", WIDE, palette.BLACK)
PUNCH = pen("continuous", WIDE, palette.BLUE)
MARK = pen("continuous", NARROW, palette.VERMILLION)
FOLD = pen("dashed_double_dotted", NARROW, palette.BLUISH_GREEN)
CENTRE = pen("long_dashed_dotted", NARROW, palette.GREY)
LAP = pen("dashed", NARROW, palette.INK)
EDGING = pen("dashed", NARROW, palette.GREY)
FOOTPRINT = pen("dashed", NARROW, palette.PALE)
STITCH_HOLE = pen("continuous", NARROW, palette.INK)
STITCH = Pen(NARROW, palette.INK, (1.5, 1.0))
"""No line type of the standard: it looks like what it means."""
DIMENSION = pen("continuous", NARROW, palette.GREY)
EXTENSION = pen("continuous", NARROW, palette.PALE)
FRAME = pen("continuous", WIDE, palette.INK)
RULE = pen("continuous", NARROW, palette.PALE)
