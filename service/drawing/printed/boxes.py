"""Boxes to tick off, large enough for a pencil, with what is ticked off beside them."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from service.drawing import lines, palette
from service.drawing.font import CAP_HEIGHT, text_width
from service.drawing.model import Group, Item, LineTo, MoveTo, Path, Text
from service.drawing.parts.check_bar import rectangle
from service.drawing.parts.wrap import wrap
from service.drawing.printed.flow import Strip
from service.drawing.sizes import Sizes

SIDE = 4.4
"""Millimetres of a box's side: a pencil hits it, also with a glove's tip beside it."""
BESIDE = SIDE + 1.6
_PEN = lines.pen("continuous", lines.NARROW, palette.BLACK)
_RULE = lines.pen("continuous", 0.13, palette.PALE)
_MOST_COLUMNS = 3
_BETWEEN = 4.0
_HANGING = 0.3
"""Of the width: behind a mark that takes no more, all lines hang beside it."""


def box(x: float = 0.0, y: float = 0.0) -> Path:
    """One box from its upper left corner."""
    return Path(rectangle(x, y, SIDE, SIDE), _PEN)


@dataclass(frozen=True, slots=True)
class Entry:
    """What is ticked off: whose it is, in bold, and lines of what is done."""

    mark: str
    lines: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Ticked:
    """A list of entries, one below the other, under a head that comes again on every page."""

    head: str
    entries: tuple[Entry, ...]

    def strips(self, width: float, sizes: Sizes) -> Iterator[Strip]:
        """One for each entry."""
        em = sizes.em
        told = Text(0.0, CAP_HEIGHT * em, self.head, em, weight="bold", colour=palette.INK)
        head = Strip((told,), sizes.line + 1.0, keep=True)
        yield head
        yield from _one_by_one(self.entries, width, sizes, head)


def entries_strips(entries: Sequence[Entry], width: float, sizes: Sizes, head: Strip) -> Iterator[Strip]:
    """Entries as rows of strips, several in a row where all of them are short."""
    natural = max((_natural(each, sizes) for each in entries), default=0.0)
    columns = next((n for n in range(_MOST_COLUMNS, 1, -1) if natural <= _room(width, n)), 1)
    if columns == 1:
        yield from _one_by_one(entries, width, sizes, head)
        return
    wide = _room(width, columns)
    rows = -(-len(entries) // columns)
    for row in range(rows):
        cells = [_entry(each, wide, sizes) for each in entries[row::rows]]
        items = tuple(Group(cell, n * (wide + _BETWEEN), 0.0) for n, (cell, _) in enumerate(cells))
        yield _ruled(items, max(height for _, height in cells), width, head)


def _one_by_one(entries: Sequence[Entry], width: float, sizes: Sizes, head: Strip) -> Iterator[Strip]:
    for each in entries:
        items, height = _entry(each, width, sizes)
        yield _ruled(items, height, width, head)


def _room(width: float, columns: int) -> float:
    return (width - (columns - 1) * _BETWEEN) / columns


def _natural(entry: Entry, sizes: Sizes) -> float:
    """How wide an entry is on one line; one with several lines takes the whole width."""
    if len(entry.lines) > 1:
        return float("inf")
    told = sum(text_width(line, sizes.em) for line in entry.lines)
    return BESIDE + text_width(entry.mark + "  ", sizes.em, "bold") + told


def _entry(entry: Entry, width: float, sizes: Sizes) -> tuple[tuple[Item, ...], float]:
    """The box, the mark beside it, and the lines behind or below that."""
    em = sizes.em
    first = SIDE / 2 + CAP_HEIGHT * em / 2
    marks = wrap(entry.mark, width - BESIDE, em, "bold")
    items: list[Item] = [box()]
    items += [
        Text(BESIDE, first + n * sizes.line, line, em, weight="bold", colour=palette.INK)
        for n, line in enumerate(marks)
    ]
    beside = BESIDE + text_width(marks[-1] + "  ", em, "bold")
    at = len(marks) - 1
    on_same = beside <= _HANGING * width or (len(entry.lines) == 1 and beside + text_width(entry.lines[0], em) <= width)
    left = beside if on_same else BESIDE
    told = [line for part in entry.lines for line in wrap(part, width - left, em)]
    at += not on_same and bool(told)
    items += [Text(left, first + (at + n) * sizes.line, line, em, colour=palette.INK) for n, line in enumerate(told)]
    rows = max(at + len(told), len(marks))
    return tuple(items), max(SIDE, first + (rows - 1) * sizes.line + 0.3 * em)


def _ruled(items: tuple[Item, ...], height: float, width: float, head: Strip) -> Strip:
    rule = Path((MoveTo(BESIDE, height + 0.7), LineTo(width, height + 0.7)), _RULE)
    return Strip((*items, rule), height + 1.4, head=head)
