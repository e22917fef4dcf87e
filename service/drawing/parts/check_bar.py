"""Two bars to lay a ruler on: 100 mm and 4 in, so that a wrong scale is seen before leather is cut."""

from service.drawing import lines, palette
from service.drawing.font import CAP_HEIGHT
from service.drawing.model import Close, Item, LineTo, MoveTo, Path, Segment, Text
from service.drawing.parts.panel import Panel
from service.drawing.sizes import Sizes
from service.words import say

METRIC = 100.0
INCHES = 4 * 25.4


def check_bar(sizes: Sizes) -> Panel:
    """Both bars, one above the other, beginning at one line."""
    em = sizes.em
    thick = 0.55 * em
    caption = Text(0.0, CAP_HEIGHT * em, say("Check with a ruler before use"), em, colour=palette.INK)
    first = 1.1 * em + CAP_HEIGHT * em
    second = first + thick + 0.8 * em
    items: list[Item] = [caption]
    items += _bar(METRIC, 10, first, thick, "100 mm", sizes)
    items += _bar(INCHES, 4, second, thick, "4 in", sizes)
    width = INCHES + 4.6 * em
    return Panel(tuple(items), width, second + thick)


def _bar(length: float, parts: int, y: float, thick: float, name: str, sizes: Sizes) -> tuple[Item, ...]:
    step = length / parts
    filled: list[Segment] = []
    for index in range(0, parts, 2):
        filled += rectangle(index * step, y, step, thick)
    baseline = y + thick / 2 + CAP_HEIGHT / 2 * sizes.em
    return (
        Path(tuple(filled), fill=palette.INK),
        Path(rectangle(0.0, y, length, thick), lines.pen("continuous", lines.NARROW, palette.INK)),
        Text(INCHES + 0.8 * sizes.em, baseline, name, sizes.em, weight="bold", colour=palette.INK),
    )


def rectangle(x: float, y: float, width: float, height: float) -> tuple[Segment, ...]:
    """A closed rectangle from its upper left corner."""
    return (
        MoveTo(x, y),
        LineTo(x + width, y),
        LineTo(x + width, y + height),
        LineTo(x, y + height),
        Close(),
    )
