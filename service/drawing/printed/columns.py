"""A long list in columns: it fills what is left of a page, then pages of its own, the last of them evenly."""

from collections.abc import Callable, Sequence
from itertools import count

from service.drawing.model import Group, Item
from service.drawing.printed.flow import SMALLER, Block, Pages, all_strips, dealt, least_height
from service.drawing.sizes import Sizes

_GAP = 6.0
"""Between two columns."""
_LEAST_FILLED = 0.4
"""Of a page's height: a last page with less on it is saved, or filled so far."""


def in_columns_well(
    blocks: Sequence[Block], columns: int, width: float, height: float, sizes: Sizes, *, first: float | None = None
) -> Pages:
    """The pages of `in_columns`, but no last one is nearly empty.

    The lettering is made a little smaller where that saves such a page; else the pages before it leave it more.
    """
    tall = height if first is None else first
    pages, low = in_columns(blocks, columns, (width, height), sizes, tall)
    if len(pages) == 1 or low >= _LEAST_FILLED * height:
        return pages
    for share in SMALLER:
        fewer, _ = in_columns(blocks, columns, (width, height), Sizes(sizes.em * share), tall)
        if len(fewer) < len(pages):
            return fewer
    more = (_LEAST_FILLED * height - low + 2 * sizes.line) / (len(pages) - 1)
    return in_columns(blocks, columns, (width, height - more), sizes, tall - more)[0] if more < tall / 2 else pages


def in_columns(
    blocks: Sequence[Block], columns: int, room: tuple[float, float], sizes: Sizes, first: float
) -> tuple[Pages, float]:
    """The blocks on pages with `room` (width, height) in so many columns each, and how far down the last one reaches.

    The `first` page may be lower. Columns of the last page are alike high.
    """
    width, height = room
    wide = (width - (columns - 1) * _GAP) / columns
    strips = all_strips(blocks, wide, sizes)

    def whole(number: int) -> float:
        return first if number < columns else height

    found, _ = dealt(strips, whole)
    last = (len(found) - 1) // columns * columns
    most = last + columns
    low = least_height(lambda high: len(dealt(strips, _lowered(whole, last, high))[0]) <= most, whole(last))
    found, _ = dealt(strips, _lowered(whole, last, low))
    return tuple(_beside(found[at : at + columns], wide) for at in range(0, len(found), columns)), low


def _lowered(whole: Callable[[int], float], last: int, high: float) -> Callable[[int], float]:
    """Columns of the last page are only so high."""
    return lambda number: min(whole(number), high) if number >= last else whole(number)


def _beside(columns: Sequence[tuple[Item, ...]], wide: float) -> tuple[Item, ...]:
    return tuple(Group(column, x, 0.0) for x, column in zip(count(0.0, wide + _GAP), columns, strict=False))
