"""One dimension line for a row at equal steps: `21 × 1 in (= 21 in)`, as ISO 129-1 writes it."""

from collections.abc import Sequence
from itertools import pairwise

from service.drawing import lines, palette
from service.drawing.font import text_width
from service.drawing.model import Item, LineTo, MoveTo, Path, Segment, Text
from service.drawing.parts.callouts import EvenRow
from service.drawing.parts.ruler import Side, arrowhead
from service.drawing.sizes import Sizes
from service.shop.shop import Units
from service.strap.plane.lengths import MM


def even_line(
    row: EvenRow, units: Units, edge: float, depth: float, crossed: Sequence[float], sizes: Sizes
) -> tuple[Item, ...]:
    """The line under a piece's lower edge at `edge`, below what already takes `depth` there.

    Its text stands between the extension lines at `crossed`, near the middle. Where there is no room for it
    nothing is drawn: the table of tools says the same.
    """
    text, em = row.text(units), sizes.em
    first, last = row.first / MM, row.last / MM
    walls = sorted({first, last, *(at for at in crossed if first < at < last)})
    middle = _room(walls, text_width(text, em) + 0.8 * em)
    if middle is None:
        return ()
    side = Side("bottom", edge)
    line = depth + 1.9 * em
    strokes: list[Segment] = []
    for u in (first, last):
        strokes += [MoveTo(*side.point(u, 1.0)), LineTo(*side.point(u, line + 0.3 * em))]
    across = (MoveTo(*side.point(first, line)), LineTo(*side.point(last, line)))
    heads = (*arrowhead(side, first, line, 0.6 * em), *arrowhead(side, last, line, -0.6 * em))
    return (
        Path(tuple(strokes), lines.EXTENSION),
        Path(across, lines.DIMENSION),
        Path(heads, fill=lines.DIMENSION.colour),
        Text(*side.point(middle, line - 0.35 * em), text, em, "middle", colour=palette.INK),
    )


def _room(walls: Sequence[float], width: float) -> float | None:
    """The middle of the most central gap between neighbouring walls that is at least `width` wide."""
    centre = (walls[0] + walls[-1]) / 2
    gaps = [(a + b) / 2 for a, b in pairwise(walls) if b - a >= width]
    return min(gaps, key=lambda middle: abs(middle - centre), default=None)
