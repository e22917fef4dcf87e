"""Small specimens of the sheet's symbols and lines, for tables and the legend."""

from typing import Literal

from service.drawing import lines, palette
from service.drawing.model import Circle, Colour, Item, LineTo, MoveTo, Path, Pen
from service.drawing.parts.symbols import cross, holes_and_cuts, stadium
from service.strap.model.pattern import Feature
from service.strap.plane.lengths import MM

Symbol = Literal[
    "outline",
    "hole",
    "slot",
    "holes_and_cuts",
    "mark",
    "fold",
    "stitch",
    "lap",
    "edging",
    "centre",
    "footprint",
    "datum",
]
_PENS: dict[Symbol, Pen] = {
    "outline": lines.OUTLINE,
    "fold": lines.FOLD,
    "stitch": lines.STITCH,
    "lap": lines.LAP,
    "edging": lines.EDGING,
    "centre": lines.CENTRE,
}


_RINGS: dict[Symbol, tuple[float, Pen, Colour | None]] = {
    "hole": (0.36, lines.PUNCH, palette.HOLE),
    "footprint": (0.45, lines.FOOTPRINT, None),
    "datum": (0.22, lines.DIMENSION, palette.PAPER),
}


def symbol_of(feature: Feature) -> Symbol:
    """The symbol that stands for a feature."""
    if feature.action == "fold":
        return "fold"
    if feature.action == "mark":
        return "mark"
    if feature.kind == "slot" and feature.method == "holes_and_cuts":
        return "holes_and_cuts"
    return "hole" if feature.kind == "hole" else "slot"


def specimen(symbol: Symbol, x: float, y: float, width: float, height: float) -> Item:
    """The symbol drawn about (`x`, `y`) in a space `width` × `height`."""
    if symbol in _PENS:
        return Path((MoveTo(x - width / 2, y), LineTo(x + width / 2, y)), _PENS[symbol])
    if symbol == "slot":
        return Path(stadium(x, y, height * 1.7, height * 0.5, 0), lines.PUNCH, palette.HOLE)
    if symbol == "holes_and_cuts":
        return holes_and_cuts(x, y, height * 1.9, height * 0.5, 0)
    if symbol == "mark":
        return cross(x, y, arm=height * 0.45)
    share, pen, fill = _RINGS[symbol]
    return Circle(x, y, height * share, pen, fill)


def feature_specimen(feature: Feature, x: float, y: float, em: float) -> Item:
    """A feature's symbol for a table: slots lie the way they lie on the piece, holes keep their size."""
    if feature.kind == "slot" and feature.method == "one_punch":
        length, width = (feature.length or 0) / MM, (feature.width or 0) / MM
        scale = min(1.0, 1.1 * em / length, 0.5 * em / width)
        segments = stadium(x, y, length * scale, width * scale, feature.angle)
        return Path(segments, lines.PUNCH, palette.HOLE)
    if feature.kind == "hole":
        radius = min((feature.diameter or 0) / MM / 2, 0.5 * em)
        return Circle(x, y, radius, lines.PUNCH, palette.HOLE)
    return specimen(symbol_of(feature), x, y, 2.4 * em, em)
